"""Lattices already solved, kept by their geometry: another mass, balance point or speed never solves one again.

A lattice is solved for unit motions of the frame's origin, whatever its density; forces and slopes about a balance
point follow exactly. A store is bounded: the longest unused lattice is dropped first.
"""

from __future__ import annotations

import hashlib

from airframe.flight.lattice import Lattice
from airframe.flight.panels import Panels
from airframe.kept import Kept

MOST = 8
"""Lattices kept: wing with tail and the tail alone, of four geometries; each takes one to two megabytes."""


class Lattices:
    """A bounded store of lattices that several variants of one aeroplane, and several threads, may share."""

    def __init__(self, most: int = MOST) -> None:
        self._kept: Kept[bytes, Lattice] = Kept(most)

    @property
    def count(self) -> int:
        """How many are kept."""
        return len(self._kept)

    def lattice(self, panels: Panels, ground_z_m: float | None = None) -> Lattice:
        """The lattice of these panels, with what is solved of it; a new one if it was never asked for."""
        return self._kept.get_or_make(geometry_key(panels, ground_z_m), lambda: Lattice(panels, ground_z_m))


def geometry_key(panels: Panels, ground_z_m: float | None = None) -> bytes:
    """Digest of all that a lattice's solution depends on, to the last bit."""
    digest = hashlib.sha256(repr((panels.names, tuple(panels.tips), ground_z_m)).encode())
    arrays = (panels.start, panels.end, panels.middle, panels.control, panels.normal, *panels.tips.values())
    for array in (*arrays, panels.surface, panels.strip, panels.chord):
        digest.update(array.tobytes())
    return digest.digest()
