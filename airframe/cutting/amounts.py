"""How much of a material a part takes, straight from its drawing: no solid is built for it."""

from __future__ import annotations

from math import hypot, pi, tan
from typing import TYPE_CHECKING

import numpy as np

from airframe.bends import centre_line
from airframe.drawing import Bead, Block, Film, Panel, Part, Point2, Revolved, Rod, Shape, Wire
from airframe.folding import fold

if TYPE_CHECKING:
    import shapely


def drawn_mass_g(part: Part) -> float:
    """What a part weighs by its drawing, or as the design states it."""
    return part.mass_g if part.mass_g is not None else amount(part.shape) * part.material.weight


def amount(shape: Shape) -> float:
    """mm^3 of a solid, mm of a bead, mm^2 of a film: exact but for the corners of bent and bevelled panels."""
    if isinstance(shape, Panel):
        return panel_volume_mm3(shape)
    if isinstance(shape, Wire):
        return centre_line(shape).length() * pi * shape.diameter_mm**2 / 4.0
    if isinstance(shape, Block):
        return float(np.prod(shape.size))
    if isinstance(shape, Rod):
        return shape.length_mm * pi * (shape.diameter_mm**2 - shape.bore_mm**2) / 4.0
    if isinstance(shape, Bead):
        steps = (np.diff(np.array(path), axis=0) for path in shape.paths)
        return float(sum(np.linalg.norm(step, axis=1).sum() for step in steps))
    if isinstance(shape, Film):
        return fold(shape.panel).area(shape.face)
    return _turned_volume_mm3(shape)


def panel_volume_mm3(panel: Panel) -> float:
    """Developed area times thickness, less what bevels and grooves take.

    A bevel takes a wedge t^2 tan(b) / 2 along its edge. A score by a takes two such wedges of a / 2, for
    the groove closes: t^2 tan(a / 2) along it. Where two cuts meet, the wedges' ends are not
    mitred: at most two ten-thousandths of any panel of the demo designs.
    """
    t, edges = panel.thickness_mm, panel.outline.edges()
    bevels = sum(tan(bevel.angle_rad) / 2.0 * _distance(*edges[bevel.edge][:2]) for bevel in panel.bevels)
    grooves = sum(tan(one.angle_rad / 2.0) * length for one, length in zip(panel.scores, _lengths(panel), strict=True))
    return panel.area() * t - t * t * (bevels + grooves)


def _distance(a: Point2, b: Point2) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])


def _lengths(panel: Panel) -> list[float]:
    """How long each score is inside the panel, holes left out."""
    return [sum(_distance(*run) for run in runs) for runs in score_runs(panel)]


def score_runs(panel: Panel) -> list[list[tuple[Point2, Point2]]]:
    """For each score the stretches that lie inside the panel: a hole parts it."""
    if not panel.scores or not panel.holes:
        return [[(one.start, one.end)] for one in panel.scores]
    import shapely

    area = shapely.Polygon(panel.outline.flattened(), [hole.flattened() for hole in panel.holes])
    result = []
    for one in panel.scores:
        inside = shapely.LineString([one.start, one.end]).intersection(area)
        runs = [run for run in getattr(inside, "geoms", [inside]) if isinstance(run, shapely.LineString) and run.length]
        result.append([(_end(run, 0), _end(run, -1)) for run in runs])
    return result


def _end(run: shapely.LineString, index: int) -> Point2:
    x, y = run.coords[index][:2]
    return float(x), float(y)


def _turned_volume_mm3(shape: Revolved) -> float:
    """Area of the profile times the way of its centroid (Pappus)."""
    x, r = np.array(shape.profile).T
    x1, r1 = np.roll(x, -1), np.roll(r, -1)
    return float(abs(((r + r1) * (x * r1 - x1 * r)).sum()) * pi / 3.0)
