"""A desk that only remembers what it was asked, for the tests of what stands before it."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from tests.waiting import PATIENCE_S
from viewers.bench.desk import Desk
from viewers.bench.guard import LOOPBACK, Guard
from viewers.bench.jobs import Jobs
from viewers.bench.refusals import Conflict, NotFound, Refused, StaleRevision, Superseded
from viewers.bench.server import Site
from viewers.bench.serving import listening, server

PORT, TOKEN = 8765, "the-token"
OWN = f"http://{LOOPBACK}:{PORT}"


class FakeDesk(Desk):
    """Revision 7; every change makes a new one."""

    def __init__(self, folder: Path) -> None:
        # Not the real desk's beginning: that reads a file.
        self.calls: list[tuple[Any, ...]] = []
        self.number = 7
        self.is_same = True
        self.is_slow_done = threading.Event()
        self._folder = folder

    @property
    def folder(self) -> Path:
        """The folder given."""
        return self._folder

    @property
    def file(self) -> Path:
        """A plane in it."""
        return self._folder / "plane.toml"

    @property
    def revision(self) -> int:
        """The count."""
        return self.number

    @property
    def settings(self) -> tuple[str, ...]:
        """One edit."""
        return ('gear.track="240 mm"',)

    @property
    def is_as_on_disk(self) -> bool:
        """What the test says."""
        return self.is_same

    def state(self, system: Any = None) -> Any:
        """The least state."""
        return {"revision": self.number, "system": system or "metric"}

    def _changed(self, revision: int, system: Any, *call: Any) -> Any:
        if revision != self.number:
            raise StaleRevision(self.number)
        self.calls.append(call)
        self.number += 1
        return self.state(system)

    def change(self, revision: int, settings: Any, stroke: Any = None, words: str = "", system: Any = None) -> Any:
        """Remember it; refuse what the tests need refused."""
        if "fuselage.width=" in settings:
            raise Refused.values([{"key": "fuselage.width", "given": "", "message": "must be a length"}])
        if "fault=1" in settings:
            raise ZeroDivisionError("an inner secret")
        return self._changed(revision, system, "change", tuple(settings), stroke, words)

    def undo(self, revision: int, system: Any = None) -> Any:
        """Remember it."""
        return self._changed(revision, system, "undo")

    def redo(self, revision: int, system: Any = None) -> Any:
        """Remember it."""
        return self._changed(revision, system, "redo")

    def reload(self, revision: int, system: Any = None) -> Any:
        """Remember it."""
        return self._changed(revision, system, "reload")

    def keep(self, revision: int, name: str, system: Any = None) -> Any:
        """Remember it."""
        return self._changed(revision, system, "keep", name)

    def open_variant(self, revision: int, name: str, system: Any = None) -> Any:
        """There is none."""
        raise NotFound(f"there is no variant {name}")

    def forget(self, revision: int, name: str, system: Any = None) -> Any:
        """Remember it."""
        return self._changed(revision, system, "forget", name)

    def save(
        self,
        revision: int,
        as_: str | None = None,
        replace: bool = False,
        system: Any = None,
        redesign: str | None = None,
    ) -> Any:
        """Remember it, or refuse it."""
        if not self.is_same and not replace:
            raise Conflict("the file has been changed", "changed on disk")
        return self._changed(revision, system, "save", as_, replace, redesign)

    def close(self) -> None:
        """Let go who waits."""
        self.is_slow_done.set()

    def slow(self, revision: int, system: Any = None, is_tried: bool = True) -> Any:
        """Wait until the test lets it go."""
        if revision != self.number:
            raise Superseded
        assert self.is_slow_done.wait(PATIENCE_S)
        return {"revision": revision, "is_tried": is_tried, "findings": []}

    def shapes(self, digests: Any) -> bytes:
        """The names of the shapes."""
        return "+".join(digests).encode()

    def template_svg(self, part: str, system: Any = None) -> str:
        """The name of the part."""
        return f"<svg>{part}</svg>"


def client(desk: Desk, jobs: Jobs | None = None) -> TestClient:
    """A browser's page of its own: right host, right origin, the token in every address."""
    site = Site(desk, jobs or Jobs(desk.folder))
    guarded = Guard(site.application(), TOKEN, PORT)
    return TestClient(
        guarded,
        base_url=f"{OWN}/{TOKEN}/",
        headers={"origin": OWN},
        follow_redirects=False,
    )


@contextmanager
def running(desk: Desk, jobs: Jobs | None = None) -> Iterator[str]:
    """A real server of the desk, at the address given."""
    found: list[str] = []
    is_ready = threading.Event()

    def ready(address: str) -> None:
        found.append(address)
        is_ready.set()

    with listening(0) as listener:
        served = server(Site(desk, jobs or Jobs(desk.folder)), listener, ready)
        thread = threading.Thread(target=served.run, args=([listener],))
        thread.start()
        try:
            assert is_ready.wait(PATIENCE_S)
            yield found[0]
        finally:
            served.should_exit = True
            thread.join(PATIENCE_S)
    assert not thread.is_alive()
