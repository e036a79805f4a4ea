"""The desk: one design under way, its edits, and what the page shows of it; nothing here knows of HTTP."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from airframe.store import ShapeStore
from airframe.units import System

State = dict[str, Any]
"""What the page shows, ready for JSON."""


class Desk:
    """One config, read once, with the edits laid over it. May be asked from several threads at once.

    A method that takes a revision raises StaleRevision unless it is the current one. Whatever is refused leaves
    the desk as it was. `system` is the one that the page shows; None: the design's own.
    """

    @classmethod
    def opened(cls, config: Path, against: Path | None = None, store: ShapeStore | None = None) -> Desk:
        """The desk with a config on it, and beside it the prototype, if any. Raises ConfigError and PartError."""
        raise NotImplementedError

    @property
    def folder(self) -> Path:
        """The project's folder: nothing outside is ever written."""
        raise NotImplementedError

    @property
    def file(self) -> Path:
        """The config that the edits are laid over."""
        raise NotImplementedError

    @property
    def revision(self) -> int:
        """Grows with everything that changes the state."""
        raise NotImplementedError

    @property
    def settings(self) -> tuple[str, ...]:
        """The edits as --set lines over the file."""
        raise NotImplementedError

    @property
    def is_as_on_disk(self) -> bool:
        """Whether the files on disk are still those that were read."""
        raise NotImplementedError

    def state(self, system: System | None = None) -> State:
        """Everything there is to show."""
        raise NotImplementedError

    def change(
        self,
        revision: int,
        settings: Sequence[str],
        stroke: str | None = None,
        words: str = "",
        system: System | None = None,
    ) -> State:
        """Lay KEY=VALUE settings over the design; those of one stroke are undone in one step.

        Raises Refused where that is no design, or one that cannot be built.
        """
        raise NotImplementedError

    def undo(self, revision: int, system: System | None = None) -> State:
        """Take the last step back, if there is one."""
        raise NotImplementedError

    def redo(self, revision: int, system: System | None = None) -> State:
        """Take the last undone step again, if there is one."""
        raise NotImplementedError

    def reload(self, revision: int, system: System | None = None) -> State:
        """Read the file again and drop the edits and their history. Raises Refused if it is no design any more."""
        raise NotImplementedError

    def keep(self, revision: int, name: str, system: System | None = None) -> State:
        """Keep the edits under a name, in place of what was kept under it. Raises Refused for a name that will not do."""
        raise NotImplementedError

    def open_variant(self, revision: int, name: str, system: System | None = None) -> State:
        """Put a kept variant on the desk; can be undone. Raises NotFound."""
        raise NotImplementedError

    def forget(self, revision: int, name: str, system: System | None = None) -> State:
        """Drop a kept variant. Raises NotFound."""
        raise NotImplementedError

    def save(self, revision: int, as_: str | None = None, replace: bool = False, system: System | None = None) -> State:
        """Write the edits into the file, or into another one beside it, which is then the one on the desk.

        Raises Conflict where that would overwrite a file nobody has looked at, unless `replace`; Refused for a
        name that will not do, and where the file would not give the design on the desk; WriteError.
        """
        raise NotImplementedError

    def slow(self, revision: int, system: System | None = None) -> State:
        """Findings, flight estimates and battery bands; waits for them. Raises Superseded once the design changes."""
        raise NotImplementedError

    def shapes(self, digests: Sequence[str]) -> bytes:
        """Meshes and edges of the shapes, packed one after another. Raises NotFound for one that was never shown."""
        raise NotImplementedError

    def template_svg(self, part: str) -> str:
        """The cutting outline of a part as SVG. Raises NotFound for a part that has none."""
        raise NotImplementedError
