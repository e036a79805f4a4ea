"""Whether two drawings are the same, but for where on the paper they are drawn."""

from __future__ import annotations

import numpy as np

from airframe.axes import Array
from airframe.bends import centre_line
from airframe.drawing import Bead, Film, Loop, Panel, Rod, Shape, Wire
from airframe.mass import Entry

SAME_DRAWING_MM = 1e-4
"""A tenth of a micrometre: some drawings are worked out from stations far away, and come out a few nanometres off."""
SAME_DECIMALS = 6
"""Of angles and bulges."""

Structure = tuple[object, ...]


def is_same_drawing(old: Shape, new: Shape) -> bool:
    """Whether one drawing is the other, shifted in its own frame at most.

    A former's outline is drawn by water lines, a bead by the aeroplane's own coordinates: when the wing is raised,
    they are drawn elsewhere, but there is nothing new to cut.
    """
    if old == new:
        return True
    before, after = _drawn(old), _drawn(new)
    if before is None or after is None or before[0] != after[0]:
        return False
    shapes = [points - points[0] for _, points in (before, after)]
    return bool(np.allclose(shapes[0], shapes[1], rtol=0.0, atol=SAME_DRAWING_MM))


def wire_length_mm(wire: Wire) -> float:
    """Length of wire to cut."""
    return centre_line(wire).length()


def size(entry: Entry) -> dict[str, float]:
    """What a builder would measure of a part: mm, mm^2 or mm^3 by name, the most telling first."""
    shape = entry.part.shape
    if isinstance(shape, Panel):
        return {"thickness": shape.thickness_mm, "area": shape.area()}
    if isinstance(shape, Wire):
        return {"diameter": shape.diameter_mm, "length": wire_length_mm(shape)}
    if isinstance(shape, Rod):
        return {"diameter": shape.diameter_mm, "length": shape.length_mm}
    if isinstance(shape, Bead):
        return {"length": entry.amount}
    return {"area": entry.amount} if isinstance(shape, Film) else {"volume": entry.amount}


def _drawn(shape: Shape) -> tuple[Structure, Array] | None:
    """How a shape is made up, and its points one after the other; None for one that is all sizes and no points."""
    if isinstance(shape, Panel):
        return _panel(shape)
    if isinstance(shape, Film):
        structure, points = _panel(shape.panel)
        return (shape.face, *structure), points
    if isinstance(shape, Bead):
        return ("bead", *map(len, shape.paths)), np.array([point for path in shape.paths for point in path])
    if isinstance(shape, Wire):
        return ("wire", shape.diameter_mm, shape.bend_radius_mm, len(shape.points)), np.array(shape.points)
    return None


def _panel(panel: Panel) -> tuple[Structure, Array]:
    loops = (panel.outline, *panel.holes)
    scores = [round(score.angle_rad, SAME_DECIMALS) for score in panel.scores]
    bevels = [(bevel.edge, round(bevel.angle_rad, SAME_DECIMALS)) for bevel in panel.bevels]
    structure = ("panel", panel.thickness_mm, *map(_loop, loops), tuple(scores), tuple(bevels))
    points = [point for loop in loops for point in loop.points]
    points += [point for score in panel.scores for point in (score.start, score.end)]
    return structure, np.array(points)


def _loop(loop: Loop) -> Structure:
    return tuple(round(bulge, SAME_DECIMALS) for bulge in loop.bulges)
