"""The dowels that pass through the fuselage for the wing's rubber bands, with the plywood that stiffens their holes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from airframe import ruler
from airframe.axes import Array, Place, frame
from airframe.drawing import Panel, Part, PartError, Rod, rectangle
from airframe.layout import Layout
from airframe.parts import inside
from airframe.parts.common import FUSELAGE, adhesive, both_sides, both_sides_paths, joint
from airframe.parts.inside import Box
from airframe.parts.side_openings import dowel_hole
from airframe.parts.side_planes import along_mm, right_plane, taper_station_mm
from airframe.parts.side_splices import splice_box
from airframe.schema.wing import Mounting

RIM_MM = 3.0
"""The least plywood left round a dowel's hole."""
RING_CORNERS = 16
"""Straight steps of the bead round a dowel."""


def parts(layout: Layout) -> list[Part]:
    """Dowels, reinforcement and glue. Raises PartError for a dowel that runs into something."""
    mounting = layout.design.wing.mounting
    if mounting is None:
        return []
    result: list[Part] = []
    plates: list[Box] = []
    standing = [*inside.cross_pieces(layout), *inside.braces(layout), *inside.shelves(layout)]
    standing += inside.firewall_doublers(layout) or ()
    for box in inside.dowels(layout):
        inside.refuse_height(layout, box)
        inside.refuse_meeting(box, standing)
        result += _dowel(layout, mounting, box)
        if mounting.reinforcement is not None:
            plates.append(_plate_box(layout, mounting, box, plates))
            inside.refuse_twin(layout, plates[-1], layout.design.material(mounting.reinforcement).thickness_mm)
            result += _plates(layout, mounting.reinforcement, box, plates[-1])
    return result


def _dowel(layout: Layout, mounting: Mounting, box: Box) -> list[Part]:
    x, z = _middle(box)
    wood = layout.design.material(mounting.dowel_material)
    length = 2.0 * (layout.half_width_mm(x) + mounting.projection_mm)
    place = frame((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (x, 0.0, z))
    turns = np.linspace(0.0, 2.0 * np.pi, RING_CORNERS + 1)
    r, y = mounting.dowel_diameter_mm / 2.0, layout.inner_half_width_mm(x)
    ring = np.column_stack([x + r * np.cos(turns), np.full(len(turns), y), z + r * np.sin(turns)])
    side = layout.design.material(layout.design.fuselage.material)
    return [
        Part(box.name, FUSELAGE, Rod(round(length, 6), mounting.dowel_diameter_mm), place, wood),
        joint(box.name, both_sides_paths([ring]), adhesive(layout.design, side, wood)),
    ]


def _middle(box: Box) -> tuple[float, float]:
    return (box.from_mm + box.to_mm) / 2.0, (box.low_mm + box.high_mm) / 2.0


def _plate_box(layout: Layout, mounting: Mounting, dowel: Box, earlier: list[Box]) -> Box:
    """The square plate round a dowel, cut back from everything that already stands against the side."""
    x, z = _middle(dowel)
    half = mounting.reinforcement_size_mm / 2.0
    name = f"{dowel.name.removesuffix(' wing dowel')} dowel reinforcement"
    keep = Box(name, dowel.from_mm - RIM_MM, dowel.to_mm + RIM_MM, dowel.low_mm - RIM_MM, dowel.high_mm + RIM_MM)
    wanted = Box(name, x - half, x + half, z - half, z + half)
    if half < x - keep.from_mm:
        needed = ruler.least(keep.to_mm - keep.from_mm)
        raise PartError(name, f"is {ruler.exact(2 * half)} wide; round this dowel it must be {needed}")
    taper = taper_station_mm(layout)
    others = [*inside.against_the_sides(layout), *splice_box(layout), *earlier]
    free = inside.free_box(wanted, keep, [*others, Box("the sides' taper", taper - 0.5, taper + 0.5)])
    low, high = layout.clear_height_mm(free.from_mm, free.to_mm)
    if low > keep.low_mm or high < keep.high_mm:
        text = f"has no room: floor and deck leave water line {ruler.span(low, high)} at station {ruler.about(x)}"
        raise PartError(name, f"{text}, it needs {ruler.span(keep.low_mm, keep.high_mm)}")
    return replace(free, low_mm=max(free.low_mm, low), high_mm=min(free.high_mm, high))


def _plates(layout: Layout, reinforcement: str, dowel: Box, box: Box) -> list[Part]:
    plywood = layout.design.material(reinforcement)
    depth, thickness = layout.side_thickness_mm, plywood.thickness_mm
    u0 = along_mm(layout, box.from_mm, depth + thickness)
    u1 = along_mm(layout, box.to_mm, depth)
    hole = dowel_hole(layout, dowel, depth + thickness / 2.0)
    panel = Panel(rectangle(u0, box.low_mm, u1, box.high_mm), thickness, (hole,))
    place = right_plane(layout, _middle(dowel)[0], depth)
    outline = _outline(place, (u0, box.low_mm, u1, box.high_mm))
    side = layout.design.material(layout.design.fuselage.material)
    return [
        *both_sides(Part(box.name, FUSELAGE, panel, place, plywood)),
        joint(box.name, both_sides_paths([outline]), adhesive(layout.design, side, plywood)),
    ]


def _outline(place: Place, rectangle_mm: tuple[float, float, float, float]) -> Array:
    """A closed path round a rectangle of a side's drawing, in the aeroplane's frame."""
    u0, low, u1, high = rectangle_mm
    return place.apply([(u0, low, 0.0), (u1, low, 0.0), (u1, high, 0.0), (u0, high, 0.0), (u0, low, 0.0)])
