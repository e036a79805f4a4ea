"""What one drawing weighs and looks like: its mass properties at unit density, and a coarse mesh to show."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from airframe import inertia
from airframe.bends import centre_line
from airframe.drawing import Bead, Block, Film, Panel, Revolved, Rod, Shape, Wire
from airframe.folding import fold
from airframe.inertia import Body
from airframe.meshes import COARSE_RAD, FINE_RAD, Mesh, swept, turned, weighed
from airframe.skins import board, box
from airframe.solids import profile


@dataclass(frozen=True, eq=False)
class Record:
    """All that is kept of a shape, in its own frame."""

    body: Body
    """At unit weight per amount: mass is the volume, area or length."""
    vertices: NDArray[np.float32]
    """Of the display mesh, mm, shape (n, 3); none for a bead or film."""
    faces: NDArray[np.int32]
    """Of the display mesh, shape (m, 3)."""


def measure(shape: Shape, angle_rad: float = FINE_RAD) -> Record:
    """Build the shape and weigh it: solids by a closed mesh as fine as the angle, beads and films by closed form.

    Raises ValueError with the reason for a shape that cannot be built or encloses no volume.
    """
    if isinstance(shape, Bead):
        return _unmeshed(inertia.combined([inertia.polyline(path) for path in shape.paths]))
    if isinstance(shape, Film):
        rings = fold(shape.panel).rings(shape.face)
        return _unmeshed(inertia.combined([inertia.lamina(facet) for facet in rings]))
    shown, fine = _meshes(shape, angle_rad)
    return Record(weighed(fine), shown.vertices.astype(np.float32), shown.faces.astype(np.int32))


def _unmeshed(body: Body) -> Record:
    return Record(body, np.zeros((0, 3), np.float32), np.zeros((0, 3), np.int32))


def _meshes(shape: Shape, angle_rad: float) -> tuple[Mesh, Mesh]:
    """The display mesh and the weighing mesh, coarse first."""
    if isinstance(shape, Wire):
        line = centre_line(shape)
        return swept(line, shape.diameter_mm, COARSE_RAD), swept(line, shape.diameter_mm, angle_rad)
    if isinstance(shape, Rod | Revolved):
        corners = profile(shape)
        return turned(corners, COARSE_RAD), turned(corners, angle_rad)
    if isinstance(shape, Block):
        return (box(shape),) * 2
    assert isinstance(shape, Panel)
    shown = board(shape, COARSE_RAD)
    is_flat_faced = bool(shape.scores or shape.bevels) or all(
        loop.is_straight for loop in (shape.outline, *shape.holes)
    )
    return shown, shown if is_flat_faced else board(shape, angle_rad)
