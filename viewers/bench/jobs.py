"""Long work that the page asks for: each job is one of our own commands, in a process that can be stopped."""

from __future__ import annotations

import itertools
import os
import shlex
import sys
import threading
import time
from collections import deque
from contextlib import suppress
from pathlib import Path
from typing import IO, Any, Literal
from urllib.parse import quote

from viewers.bench.names import WrongNameError, inside
from viewers.bench.orders import Order
from viewers.bench.process import ended, interrupted, killed, started
from viewers.shell import FAILING, PROGRESS

State = Literal["running", "done", "failed", "stopped"]

MOST_AT_ONCE = 2
GRACE_S = 3.0
"""How long a command gets to end by itself, before it is killed: it removes half-written files."""
GONE_S = 30.0
"""How long one that is killed may take to be gone, and its last words to be read, on a busy machine."""
LINES_KEPT = 30
"""Lines of a command's messages that are kept: a config may have many problems."""
COMMAND = (sys.executable, "-P", "-m", "viewers.cli")
"""Our own command line; -P, so that nothing is imported from the project's folder."""


class BusyError(Exception):
    """As many jobs are running as may; one sentence."""


class NoSuchJobError(Exception):
    """A job, or a file of one, that is not there; one sentence."""


class Job:
    """One command, from its start to its end."""

    def __init__(self, identity: str, order: Order, project: Path, command: tuple[str, ...]) -> None:
        self.identity = identity
        self.order = order
        self.state: State = "running"
        self.line = "starting"
        self.error: str | None = None
        self.files: dict[str, int] = {}
        """Size in bytes of each file it wrote, by name."""
        self.folder = project / order.output
        self._before = _listing(self.folder)
        self._is_stopped = self._has_trace = False
        self._told: deque[str] = deque(maxlen=LINES_KEPT)
        self._began_s = time.monotonic()
        self._took_s: float | None = None
        self._process, self._printed = started([*command, *order.words], project)
        self._threads = [threading.Thread(target=work, daemon=True) for work in (self._listen, self._follow)]
        for thread in self._threads:
            thread.start()

    def told(self) -> dict[str, Any]:
        """The job as the page lists it."""
        took_s = self._took_s if self._took_s is not None else time.monotonic() - self._began_s
        address = f"./api/jobs/{self.identity}/files/"
        return {
            "id": self.identity,
            "what": self.order.what,
            "command": shlex.join(["airframe", *self.order.words]),
            "state": self.state,
            "line": self.line,
            "seconds": round(took_s, 1),
            "files": [{"name": n, "bytes": size, "url": address + quote(n)} for n, size in self.files.items()],
            "error": self.error,
        }

    def stop(self) -> None:
        """End it, with every process it started, and wait until it is gone."""
        if self.state == "running":
            self._is_stopped = True
            interrupted(self._process)
            self._threads[1].join(GRACE_S)
            if self._threads[1].is_alive():
                killed(self._process)
                self._threads[1].join(GONE_S)

    def _listen(self) -> None:
        """Keep the last line of progress, and apart from it what else is said."""
        messages: IO[str] | None = self._process.stderr
        for line in messages or ():
            text = line.strip("\r\n")
            if text.startswith(PROGRESS):
                self.line = text.removeprefix(PROGRESS)[:200]
            elif text.strip():
                self._has_trace = self._has_trace or text.startswith("Traceback")
                self._told.append(text[:2000])

    def _follow(self) -> None:
        """Wait for the end, sweep up, and say how it went."""
        code = ended(self._process)
        self._threads[0].join(GONE_S)
        self._took_s = time.monotonic() - self._began_s
        state = self._outcome(code)
        if state == "done":
            try:
                self._keep_printed()
            except OSError as error:
                state, self.error = "failed", str(error)
        self._printed.close()
        self.files = {name: size for name, (size, when) in _listing(self.folder).items() if self._is_new(name, when)}
        self.line = _words(state, len(self.files))
        self.state = state

    def _outcome(self, code: int) -> State:
        if code == 0 or (code == FAILING and self.order.may_fail and not self._has_trace):
            return "done"
        if self._is_stopped:
            return "stopped"
        self.error = self._complaint()
        return "failed"

    def _complaint(self) -> str:
        if self._has_trace:
            sys.stderr.write("\n".join([shlex.join(self.order.words), *self._told, ""]))
            return "the program has a fault: details are on the terminal that the bench was started from"
        if not self._told:
            return "it was ended from outside"
        return "\n".join(self._told).removeprefix("airframe: ")

    def _keep_printed(self) -> None:
        if self.order.keeps is not None:
            from airframe.writing import write_whole

            self._printed.seek(0)
            write_whole(self.folder / self.order.keeps, self._printed.read())

    def _is_new(self, name: str, when: int) -> bool:
        return name not in self._before or self._before[name][1] != when


class Jobs:
    """The jobs of one visit: the newest of each kind, a few at once. May be asked from several threads."""

    def __init__(self, project: Path, command: tuple[str, ...] = COMMAND) -> None:
        self._project = project
        self._command = command
        self._jobs: dict[str, Job] = {}
        self._lock = threading.Lock()
        self._numbers = itertools.count(1)
        self._is_closed = False

    def start(self, order: Order) -> str:
        """Start the command and return the job's name. Raises BusyError, WrongNameError and WriteError."""
        from airframe.writing import make_folder

        with self._lock:
            running = [job for job in self._jobs.values() if job.state == "running"]
            if self._is_closed:
                raise BusyError("The bench is being closed.")
            if any(job.order.what == order.what for job in running):
                raise BusyError(f"This is being made already ({order.what}): wait for it, or stop it.")
            if len(running) >= MOST_AT_ONCE:
                raise BusyError(f"{MOST_AT_ONCE} things are being made already: wait for one, or stop it.")
            folder = self._project / order.output
            if folder.resolve() != self._project.resolve() / order.output:
                raise WrongNameError(f"{order.output} is a link to somewhere else")
            make_folder(folder)
            identity = str(next(self._numbers))
            # What is made anew lies in the same folder, so of each kind there is only the newest to tell of.
            self._jobs = {name: job for name, job in self._jobs.items() if job.order.what != order.what}
            self._jobs[identity] = Job(identity, order, self._project, self._command)
            return identity

    def listing(self) -> list[dict[str, Any]]:
        """Every job, oldest first, as the page lists them."""
        with self._lock:
            jobs = list(self._jobs.values())
        return [job.told() for job in jobs]

    def stop(self, identity: str) -> None:
        """Stop a job, and wait until it is gone. Raises NoSuchJobError."""
        self._job(identity).stop()

    def file(self, identity: str, name: str) -> Path:
        """A file that a job wrote. Raises NoSuchJobError."""
        job = self._job(identity)
        with suppress(WrongNameError):
            if name in job.files and (path := inside(job.folder, name)).is_file():
                return path
        raise NoSuchJobError(f"There is no file {name} of this job.")

    def close(self) -> None:
        """Stop everything; no job can be started any more."""
        with self._lock:
            self._is_closed = True
            running = [job for job in self._jobs.values() if job.state == "running"]
        stopping = [threading.Thread(target=job.stop) for job in running]
        for thread in stopping:
            thread.start()
        for thread in stopping:
            thread.join()

    def _job(self, identity: str) -> Job:
        with self._lock:
            if identity in self._jobs:
                return self._jobs[identity]
        raise NoSuchJobError("There is no such job any more.")


def _listing(folder: Path) -> dict[str, tuple[int, int]]:
    """Size and time of change of every file in the folder that is not hidden, in the order they were written.

    Our commands write first what is to be looked at first.
    """
    found = []
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_file(follow_symlinks=False) and not entry.name.startswith("."):
                state = entry.stat(follow_symlinks=False)
                found.append((state.st_mtime_ns, entry.name, state.st_size))
    return {name: (size, when) for when, name, size in sorted(found)}


def _words(state: State, count: int) -> str:
    if state == "done":
        return "1 file" if count == 1 else f"{count} files"
    return {"failed": "this did not work", "stopped": "stopped"}[state]
