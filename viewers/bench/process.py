"""A command in a process group of its own, so that it can be ended with everything it started."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import IO

IS_WINDOWS = sys.platform == "win32"
ENVIRONMENT = {"AIRFRAME_PROGRESS": "lines", "PYTHONUTF8": "1"}


def started(command: list[str], folder: Path) -> tuple[subprocess.Popen[str], IO[bytes]]:
    """The running command, messages on a pipe, and the nameless file that it prints to. Raises OSError."""
    printed = tempfile.TemporaryFile()  # noqa: SIM115 - closed by who reads it
    try:
        process = subprocess.Popen(
            command,
            cwd=folder,
            env={**os.environ, **ENVIRONMENT},
            stdin=subprocess.DEVNULL,
            stdout=printed,
            stderr=subprocess.PIPE,
            encoding="utf-8",
            errors="replace",
            start_new_session=not IS_WINDOWS,
            creationflags=getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 0),
        )
    except BaseException:
        printed.close()
        raise
    return process, printed


def interrupted(process: subprocess.Popen[str]) -> None:
    """Ask the command to end, as Ctrl-C does: it then leaves nothing half written."""
    if sys.platform == "win32":
        with suppress(OSError):
            process.send_signal(signal.CTRL_BREAK_EVENT)
    else:
        _to_group(process, signal.SIGINT)


def killed(process: subprocess.Popen[str]) -> None:
    """End the command and everything it started, at once."""
    if sys.platform == "win32":
        # Windows knows no groups that could be killed; its own tool follows the tree.
        subprocess.run(["taskkill", "/PID", str(process.pid), "/T", "/F"], capture_output=True, check=False)
    else:
        _to_group(process, signal.SIGKILL)


def ended(process: subprocess.Popen[str]) -> int:
    """Wait for the command's end and kill what it left running. The exit code."""
    if sys.platform == "win32":
        return process.wait()
    # The number of the group stays ours until its leader is collected: first look, kill the rest, then collect.
    os.waitid(os.P_PID, process.pid, os.WEXITED | os.WNOWAIT)
    _to_group(process, signal.SIGKILL)
    return process.wait()


if sys.platform != "win32":

    def _to_group(process: subprocess.Popen[str], number: int) -> None:
        # The command leads its group, which bears its number.
        with suppress(OSError):
            os.killpg(process.pid, number)
