"""Pictures drawn in a process beside the numbers: the same pictures, and a process that never outlives its purpose."""

from __future__ import annotations

import multiprocessing
import os
import subprocess
import sys
from multiprocessing.process import BaseProcess
from pathlib import Path

import pytest

from airframe.checks import ground
from airframe.model import Aeroplane
from tests.plane import PLANE
from viewers.beside import PROCESS, Beside
from viewers.gallery import NAMES, Gallery, Sitter, sitter
from viewers.studio import PictureError

STOPPED_IN_THE_CHECKS = """
import os, signal
from airframe.checks import balance
from viewers.cli import main

def stopping(*_, **__):
    os.killpg(0, signal.SIGINT)
    raise AssertionError("Ctrl-C was not heard")

balance.findings = stopping
main()
"""
"""The command line, to which Ctrl-C comes, as to the process that draws, when the first check begins."""


def drawing_processes() -> list[BaseProcess]:
    """Those that draw and have not ended; other tests may have processes of their own."""
    return [one for one in multiprocessing.active_children() if one.name == PROCESS]


@pytest.fixture(scope="module")
def seen(aeroplane: Aeroplane) -> Sitter:
    return sitter(aeroplane)


def test_a_process_that_dies_is_told(seen: Sitter) -> None:
    """A graphics library that ends its process ends no study without a word: the message has the exit code."""
    with Beside(seen) as drawing:
        (process,) = drawing_processes()
        process.terminate()
        drawing.tell(())
        with pytest.raises(PictureError, match=r"ended by itself \(exit code -?\d+\)"):
            drawing.pictures()
    assert not drawing_processes()


def test_whatever_goes_wrong_here_ends_the_drawing(seen: Sitter) -> None:
    """A check that cannot be made leaves no process behind."""

    def wrong() -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError), Beside(seen):
        wrong()
    assert not drawing_processes()


def test_missing_graphics_are_told_before_anything_begins(seen: Sitter, monkeypatch: pytest.MonkeyPatch) -> None:
    """No process is started where no picture could come of it."""

    def missing() -> None:
        raise PictureError("no graphics")

    monkeypatch.setattr("viewers.beside.check_graphics", missing)
    with pytest.raises(PictureError, match="no graphics"):
        Beside(seen)
    assert not drawing_processes()


@pytest.mark.skipif(sys.platform == "win32", reason="no such signal")
def test_ctrl_c_ends_both_and_leaves_nothing(tmp_path: Path) -> None:
    """Exit code 130, one word, no folder; standard error is closed only when the last process has gone."""
    config, folder = tmp_path / "plane.toml", tmp_path / "study"
    config.write_text(PLANE, encoding="utf-8")
    stopped = subprocess.run(
        [sys.executable, "-c", STOPPED_IN_THE_CHECKS, "study", str(config), "-o", str(folder)],
        env={**os.environ, "AIRFRAME_PROGRESS": "lines", "AIRFRAME_CACHE": str(tmp_path / "cache")},
        capture_output=True,
        text=True,
        start_new_session=True,
    )
    assert stopped.returncode == 130, stopped.stderr
    lines = stopped.stderr.splitlines()
    assert lines[-1] == "stopped" and "Traceback" not in stopped.stderr
    assert "progress: setting the scene" in lines
    assert not folder.exists()


@pytest.mark.slow
def test_pictures_are_the_same_as_those_drawn_here(aeroplane: Aeroplane, seen: Sitter) -> None:
    """To the last byte, and in their order, with the prototype's beside."""
    findings = ground.findings(aeroplane)
    with Beside(seen, seen) as drawing:
        drawing.tell(findings)
        with Gallery(seen, seen) as gallery:
            gallery.begin()
            expected = gallery.finished(findings)
        found = drawing.pictures()
    assert found == expected
    assert tuple(found) == NAMES
