"""The two sides of the fuselage, each of one piece or two, with their openings and taper score."""

from __future__ import annotations

import numpy as np

from airframe import ruler
from airframe.drawing import Loop, Panel, Part, PartError, Score, loop, score
from airframe.layout import Layout
from airframe.parts import inside
from airframe.parts.common import FUSELAGE
from airframe.parts.side_openings import Hole, holes_in, lids
from airframe.parts.side_planes import along_mm, right_plane, taper_station_mm
from airframe.parts.side_splices import EDGES, splice_parts, splice_station_mm


def parts(layout: Layout) -> list[Part]:
    """Both sides with lids, splice doublers and their glue. Raises PartError for sides that cannot be cut."""
    _refuse_narrow(layout)
    splice = splice_station_mm(layout)
    holes = {side: holes_in(layout, side) for side in ("right", "left")}
    stretches = [(layout.nose_mm, layout.tail_mm)]
    if splice is not None:
        stretches = [(layout.nose_mm, splice), (splice, layout.tail_mm)]
    result: list[Part] = []
    for (a, b), where in zip(stretches, ("",) if splice is None else (" front", " rear"), strict=True):
        result += _side_pair(layout, f"fuselage side{where}", a, b, holes)
    for opening in layout.design.fuselage.openings:
        if opening.cover:
            result += lids(layout, opening)
    return result + ([] if splice is None else splice_parts(layout, splice))


def _refuse_narrow(layout: Layout) -> None:
    thickness = layout.side_thickness_mm
    if layout.inner_half_width_mm(layout.nose_mm) < inside.LEAST_MM:
        least = 2.0 * (thickness + inside.LEAST_MM)
        text = f"width leaves no room between sides of {ruler.exact(thickness)}"
        raise PartError("fuselage side", f"{text}; {ruler.least(least)} would")
    if layout.inner_half_width_mm(layout.tail_mm) < -inside.TOUCH_MM:
        least = 2.0 * (layout.half_width_mm(layout.tail_mm) - layout.inner_half_width_mm(layout.tail_mm))
        raise PartError(
            "fuselage side", f"tail_width is less than two sides thick; {ruler.least(least)} or more would do"
        )


def _side_pair(layout: Layout, name: str, a: float, b: float, holes: dict[str, tuple[Hole, ...]]) -> list[Part]:
    """One stretch of both sides; the two differ only by openings in one of them."""
    material = layout.design.material(layout.design.fuselage.material)
    longest, widest = layout.design.stock.usable_mm(layout.design.fuselage.material)
    length = along_mm(layout, b) - along_mm(layout, a)
    if length > longest + inside.TOUCH_MM:
        raise PartError(name, f"is {ruler.about(length)} long; inside its margins the sheet has {ruler.most(longest)}")
    outline = _outline(layout, a, b)
    heights = [z for _, z in outline.points]
    height = max(heights) - min(heights)
    if height > widest:
        raise PartError(name, f"is {ruler.about(height)} high; inside its margins the sheet has {ruler.most(widest)}")
    taper = taper_station_mm(layout)
    scores: tuple[Score, ...] = ()
    if a < taper < b:
        low, high = ((along_mm(layout, taper), layout.water_line_mm(edge, taper)) for edge in EDGES)
        scores = (score(low, high, layout.taper_rad),)
    right = right_plane(layout, a)
    both = []
    for side, place in (("right", right), ("left", right.mirrored())):
        cut = tuple(drawing for box, drawing in holes[side] if a <= box.from_mm < b)
        both.append(
            Part(f"{name} {side}", FUSELAGE, Panel(outline, material.thickness_mm, cut, scores), place, material)
        )
    return both


def _outline(layout: Layout, a: float, b: float) -> Loop:
    """Side view of a stretch, drawn along the side."""
    taper = taper_station_mm(layout)
    rows = []
    for edge in EDGES:
        points = layout.edge_points(edge, a, b)
        if a < taper < b and not np.isclose(points[:, 0], taper).any():
            points = np.vstack([points, [taper, layout.water_line_mm(edge, taper)]])
            points = points[np.argsort(points[:, 0])]
        rows.append([(along_mm(layout, x), z) for x, z in points])
    return loop([*rows[0], *reversed(rows[1])])
