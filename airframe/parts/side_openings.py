"""Holes in the fuselage's sides, for openings and dowels, with the lids that close them."""

from __future__ import annotations

from functools import lru_cache

from airframe import ruler
from airframe.drawing import Loop, Panel, Part, PartError, Score, circle, rectangle, score
from airframe.layout import Layout
from airframe.parts import inside
from airframe.parts.common import FUSELAGE, SLACK_MM, both_sides
from airframe.parts.inside import Box
from airframe.parts.side_planes import along_mm, right_plane, taper_station_mm
from airframe.schema.fuselage import Opening

LID_GAP_MM = 0.5
"""A lid is this much smaller than its hole, all round."""
EDGE_MM = 2.0
"""The least left of a side between a hole and an edge, or another hole."""

Hole = tuple[Box, Loop]
"""What a hole takes of the side, in stations, and its drawing."""


@lru_cache(maxsize=16)
def holes_in(layout: Layout, side: str) -> tuple[Hole, ...]:
    """Openings and dowel holes of one side. Raises PartError where one breaks out or two run together."""
    found = [
        (box, _rectangle(layout, box, opening.corner_radius_mm))
        for opening in layout.design.fuselage.openings
        if opening.face in (side, "sides")
        for box in (opening_box(opening),)
    ]
    for dowel in inside.dowels(layout):
        found.append((dowel, dowel_hole(layout, dowel, layout.side_thickness_mm / 2.0)))
    dowels = len(inside.dowels(layout))
    for i, (box, _) in enumerate(found):
        _refuse_break_out(layout, box, is_dowel=i >= len(found) - dowels)
        spread = Box(box.name, box.from_mm - EDGE_MM, box.to_mm + EDGE_MM, box.low_mm - EDGE_MM, box.high_mm + EDGE_MM)
        inside.refuse_meeting(spread, [other for other, _ in found[:i]])
    return tuple(found)


def dowel_hole(layout: Layout, dowel: Box, depth_mm: float) -> Loop:
    """The hole for a dowel in sheet that is this deep inside the side's outer face, to the sheet's middle."""
    x, z = (dowel.from_mm + dowel.to_mm) / 2.0, (dowel.low_mm + dowel.high_mm) / 2.0
    return circle(along_mm(layout, x, depth_mm), z, dowel.to_mm - dowel.from_mm)


def opening_box(opening: Opening) -> Box:
    """What an opening in a side takes of it."""
    a, b, low, high = opening.from_station_mm, opening.to_station_mm, opening.low_mm, opening.high_mm
    return Box(f"opening {opening.name}", a, b, low, high)


def _rectangle(layout: Layout, box: Box, radius: float, less: float = 0.0) -> Loop:
    u0, u1 = along_mm(layout, box.from_mm) + less, along_mm(layout, box.to_mm) - less
    return rectangle(u0, box.low_mm + less, u1, box.high_mm - less, radius)


def _refuse_break_out(layout: Layout, hole: Box, is_dowel: bool) -> None:
    """Raise PartError unless there is sheet all round a hole, and room to fold beside it."""
    a, b = hole.from_mm, hole.to_mm
    # A dowel is stated by its middle, an opening by its edges.
    what, r = ("its middle", (b - a) / 2.0) if is_dowel else ("it", 0.0)
    nose, tail = layout.nose_mm + EDGE_MM, layout.tail_mm - EDGE_MM
    if a < nose - SLACK_MM or b > tail + SLACK_MM:
        between = f"keep {what} between station {ruler.ends(nose + r, tail - r)}"
        raise PartError(hole.name, f"reaches past the side's end; {between}")
    low = max(z for _, z in layout.edge_points("bottom", a, b)) + EDGE_MM
    high = min(z for _, z in layout.edge_points("top", a, b)) - EDGE_MM
    if hole.low_mm < low - SLACK_MM or hole.high_mm > high + SLACK_MM:
        between = f"keep {what} between water line {ruler.ends(low + r, high - r)}"
        if high - low < 2.0 * r:
            between = f"there are only {ruler.most(max(high - low, 0.0))} of height for it"
        raise PartError(hole.name, f"breaks through the side's edge; {between}")
    taper, room = taper_station_mm(layout), layout.side_thickness_mm
    if any(abs(x - taper) < room for x in (a, b)):
        clear = f"keep {ruler.least(room)} from station {ruler.about(taper)}"
        raise PartError(hole.name, f"ends on the sides' taper score; {clear}")


def lids(layout: Layout, opening: Opening) -> list[Part]:
    """What was cut out, put back as a lid: one for each side that has the opening."""
    if opening.face not in ("left", "right", "sides"):
        return []
    material = layout.design.material(layout.design.fuselage.material)
    box = opening_box(opening)
    if min(box.to_mm - box.from_mm, box.high_mm - box.low_mm) < 4.0 * LID_GAP_MM:
        raise PartError(f"{opening.name} lid", f"is too small; {ruler.least(4.0 * LID_GAP_MM)} each way is the least")
    taper = taper_station_mm(layout)
    radius = max(opening.corner_radius_mm - LID_GAP_MM, 0.0)
    scores: tuple[Score, ...] = ()
    if box.from_mm < taper < box.to_mm:
        # The drawing starts after its first corner, and must do so ahead of the score.
        radius = min(radius, (taper - box.from_mm) / 2.0)
        low, high = (taper, box.low_mm + LID_GAP_MM), (taper, box.high_mm - LID_GAP_MM)
        scores = (score(low, high, layout.taper_rad),)
    panel = Panel(_rectangle(layout, box, radius, LID_GAP_MM), material.thickness_mm, (), scores)
    lid = Part(f"{opening.name} lid", FUSELAGE, panel, right_plane(layout, box.from_mm), material)
    if opening.face == "sides":
        return both_sides(lid)
    return [lid if opening.face == "right" else lid.mirrored(lid.name)]
