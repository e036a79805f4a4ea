"""Splices: where the fuselage's sides are longer than the sheet they are cut from."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import inf

import numpy as np

from airframe import ruler
from airframe.drawing import Panel, Part, PartError, rectangle
from airframe.layout import Edge, Layout
from airframe.parts import inside
from airframe.parts.common import FUSELAGE, adhesive, both_sides, both_sides_paths, joint
from airframe.parts.inside import Box
from airframe.parts.side_openings import holes_in
from airframe.parts.side_planes import along_mm, right_plane, taper_station_mm

SPLICE_CLEARANCE_MM = 10.0
"""A splice keeps this far from formers, holes and the taper; its doubler reaches at least as far either way."""
_SPLICE_STEP_MM = 1.0
EDGES: tuple[Edge, Edge] = ("bottom", "top")


def splice_station_mm(layout: Layout) -> float | None:
    """Where each side is joined from two pieces, or None if the sheet is long enough inside its margins.

    As stated in the design; otherwise as far aft as the sheet reaches, clear of formers, openings, dowels and taper.
    """
    sheet, _ = layout.design.stock.usable_mm(layout.design.fuselage.material)
    length = along_mm(layout, layout.tail_mm) - layout.nose_mm
    if length <= sheet:
        return None
    if length > 2.0 * sheet:
        given = f"two sheets give {ruler.exact(max(2.0 * sheet, 0.0))} inside their margins"
        problem = f"is {ruler.about(length)} long; {given}; longer sheets in [stock] would do"
        raise PartError("fuselage side", problem)
    stated = layout.design.fuselage.splice_station_mm
    if stated is not None:
        if not layout.nose_mm < stated < layout.tail_mm:
            ends = ruler.ends(layout.nose_mm, layout.tail_mm)
            raise PartError("side splice", f"station {ruler.exact(stated)} is off the side; put it between {ends}")
        return stated
    return _free_splice(layout, sheet)


def _free_splice(layout: Layout, sheet: float) -> float:
    taken = [(box.from_mm, box.to_mm) for box in _splice_obstacles(layout)]
    end = along_mm(layout, layout.tail_mm)
    stations = np.arange(layout.tail_mm, layout.nose_mm, -_SPLICE_STEP_MM)
    for x in stations:
        u = along_mm(layout, float(x))
        fits = u - layout.nose_mm <= sheet and end - u <= sheet
        if fits and all(x <= a - SPLICE_CLEARANCE_MM or x >= b + SPLICE_CLEARANCE_MM for a, b in taken):
            return float(x)
    text = f"no station is {ruler.exact(SPLICE_CLEARANCE_MM)} clear of formers, openings, dowels and taper"
    raise PartError("side splice", f"{text} with both pieces within the sheet's {ruler.exact(sheet)}")


def _splice_obstacles(layout: Layout) -> list[Box]:
    """What no splice and no splice doubler may cross."""
    holes = [box for side in ("right", "left") for box, _ in holes_in(layout, side)]
    doublers = inside.firewall_doublers(layout) or ()
    taper = taper_station_mm(layout)
    score_line = [Box("the sides' taper", taper - 0.5, taper + 0.5)] if taper < inf else []
    through = [Box(box.name, box.from_mm, box.to_mm) for box in (*inside.cross_pieces(layout), *holes)]
    return [*through, *doublers, *score_line]


@lru_cache(maxsize=8)
def splice_box(layout: Layout) -> tuple[Box, ...]:
    """What the doublers inside the splice take, in what is free between formers, decks and shelves; () if unspliced."""
    x = splice_station_mm(layout)
    if x is None:
        return ()
    half = layout.design.fuselage.splice_doubler_mm / 2.0
    wanted = Box("side doubler", x - half, x + half)
    reach = min(half, SPLICE_CLEARANCE_MM)
    keep = Box("side doubler", x - reach, x + reach, inf, -inf)
    wanted = inside.free_box(wanted, keep, _splice_obstacles(layout))
    low, high = layout.clear_height_mm(wanted.from_mm, wanted.to_mm)
    if high - low >= inside.LEAST_MM:
        wanted = inside.free_box(replace(wanted, low_mm=low, high_mm=high), keep, inside.against_the_sides(layout))
    if wanted.high_mm - wanted.low_mm < inside.LEAST_MM or high - low < inside.LEAST_MM:
        height = min(high - low, wanted.high_mm - wanted.low_mm)
        text = f"has only {ruler.about(height)} of height at station {ruler.about(x)}"
        raise PartError(wanted.name, f"{text}; splice elsewhere")
    inside.refuse_twin(layout, wanted, layout.side_thickness_mm)
    return (wanted,)


def splice_parts(layout: Layout, x: float) -> list[Part]:
    """The doublers inside a splice, and its glue: the butt joint and all round the doubler."""
    material = layout.design.material(layout.design.fuselage.material)
    (box,) = splice_box(layout)
    thickness = layout.side_thickness_mm
    u0 = along_mm(layout, box.from_mm, 2.0 * thickness)
    u1 = along_mm(layout, box.to_mm, thickness)
    panel = Panel(rectangle(u0, box.low_mm, u1, box.high_mm), material.thickness_mm)
    place = right_plane(layout, x, thickness)
    corners = [(u0, box.low_mm), (u1, box.low_mm), (u1, box.high_mm), (u0, box.high_mm), (u0, box.low_mm)]
    seam = [(along_mm(layout, x), layout.water_line_mm(edge, x)) for edge in EDGES]
    paths = [place.apply([(u, z, 0.0) for u, z in path]) for path in (corners, seam)]
    return [
        *both_sides(Part("side doubler", FUSELAGE, panel, place, material)),
        joint("side splice", both_sides_paths(paths), adhesive(layout.design, material)),
    ]
