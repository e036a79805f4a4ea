"""Draws the pictures of a study in a process beside this one, which meanwhile goes on with the numbers."""

from __future__ import annotations

import multiprocessing
import signal
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection
from threading import Thread
from types import TracebackType
from typing import TYPE_CHECKING

from viewers.gallery import Gallery, Sitter
from viewers.studio import PictureError, check_graphics

if TYPE_CHECKING:
    from airframe.checks.finding import Finding


PROCESS = "airframe pictures"
"""The name of the process that draws."""


class Beside:
    """Begins to draw at once; a context manager, at whose end the process is gone, whatever happened.

    Spawned, never forked, and with Ctrl-C left to this process. A script that uses it must do so under
    `if __name__ == "__main__":`, because the process reads the script anew. Raises PictureError, before anything
    is begun, where the graphics library is missing.
    """

    def __init__(self, new: Sitter, old: Sitter | None = None) -> None:
        check_graphics()
        self.new, self.old = new, old
        context = multiprocessing.get_context("spawn")
        self._pipe, theirs = context.Pipe()
        self._process = context.Process(target=_draw, name=PROCESS, args=(theirs,), daemon=True)
        with _deaf_to_ctrl_c():
            self._process.start()
        theirs.close()
        # Scenes are more than a pipe holds: sending them takes until the process has loaded what it needs.
        self._sending = Thread(target=self._send, args=((new, old),), daemon=True)
        self._sending.start()

    def __enter__(self) -> Beside:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if kind is not None:
            self._process.terminate()
        self._sending.join()
        self._pipe.close()
        self._process.join()

    def tell(self, findings: Sequence[Finding]) -> None:
        """What the checks found, as soon as it is known: it is told on one of the pictures."""
        self._sending.join()
        self._send(findings)

    def pictures(self) -> dict[str, bytes]:
        """All PNGs by name, waited for, once the findings have been told. Raises PictureError."""
        try:
            answer: dict[str, bytes] | PictureError = self._pipe.recv()
        except EOFError:
            self._process.join()
            message = (
                f"the process that draws the pictures ended by itself (exit code {self._process.exitcode}): the "
                "graphics library of this machine may be at fault, or its memory too small"
            )
            raise PictureError(message) from None
        if isinstance(answer, PictureError):
            raise answer
        return answer

    def _send(self, what: object) -> None:
        with suppress(OSError):  # it has ended, and `pictures` says why
            self._pipe.send(what)


def _draw(pipe: Connection) -> None:
    """What the process does: draw what can be drawn, wait for the findings, draw the rest, answer."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with suppress(EOFError, OSError):  # nobody waits for it any more
        new, old = pipe.recv()
        answer: dict[str, bytes] | PictureError
        try:
            with Gallery(new, old) as gallery:
                gallery.begin()
                answer = gallery.finished(pipe.recv())
        except PictureError as error:
            answer = error
        pipe.send(answer)


@contextmanager
def _deaf_to_ctrl_c() -> Iterator[None]:
    """A process started in here never hears Ctrl-C, not even while it loads; this one hears it afterwards."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows, where the process stops listening when it has loaded
        yield
        return
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # which would open our ears again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
