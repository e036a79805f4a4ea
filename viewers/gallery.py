"""Every picture of a study, of scenes that may have come from another process."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from typing import TYPE_CHECKING

from viewers import compare_picture, stand_picture, stills
from viewers.compare_picture import Side
from viewers.posture import posture
from viewers.staging import stage
from viewers.studio import Studio

if TYPE_CHECKING:
    from airframe.checks.finding import Finding
    from airframe.model import Aeroplane
    from viewers.posture import Posture
    from viewers.scene import Scene

NAMES = (*stills.PICTURES, "stand", "ghost", "fronts")
"""Of all that there may be, in the order in which they are kept."""


@dataclass(frozen=True, eq=False)
class Sitter:
    """What pictures need of an aeroplane."""

    scene: Scene
    posture: Posture | None
    """None for one that stands on no gear."""


def sitter(aeroplane: Aeroplane) -> Sitter:
    """Raises PartError for what cannot be built."""
    return Sitter(stage(aeroplane), posture(aeroplane))


class Gallery:
    """Draws an aeroplane, and with its prototype both together; a context manager, since studios hold windows."""

    def __init__(self, new: Sitter, old: Sitter | None = None) -> None:
        self.new, self.old = new, old
        self._open = ExitStack()
        self._drawn: dict[str, bytes] = {}

    def __enter__(self) -> Gallery:
        return self

    def __exit__(self, *_: object) -> None:
        self._open.close()

    def begin(self) -> None:
        """Draw what no finding is written on. Raises PictureError."""
        self._studio = self._open.enter_context(Studio(self.new.scene))
        self._drawn |= stills.pictures(self._studio)
        if self.old is not None:
            before = self._open.enter_context(Studio(self.old.scene))
            self._drawn["ghost"] = compare_picture.ghost_sheet(before, self._studio)
            if self.old.posture is not None and self.new.posture is not None:
                sides = Side(before, self.old.posture), Side(self._studio, self.new.posture)
                self._drawn["fronts"] = compare_picture.fronts_sheet(*sides)

    def finished(self, findings: Sequence[Finding]) -> dict[str, bytes]:
        """All PNGs by name, once `begin` is through; what the checks found is told on one of them."""
        if self.new.posture is not None:
            self._drawn["stand"] = stand_picture.standing_sheet(self._studio, self.new.posture, findings)
        return {name: self._drawn[name] for name in NAMES if name in self._drawn}
