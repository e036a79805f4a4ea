"""What stands or lies across the fuselage from side to side: formers and braces."""

from __future__ import annotations

from airframe import ruler
from airframe.axes import Point
from airframe.drawing import Loop, Panel, Part, PartError, rectangle
from airframe.layout import Layout
from airframe.parts import inside
from airframe.parts.common import FUSELAGE, SLACK_MM, across, adhesive, joint, level
from airframe.schema.fuselage import Brace, Former

WINDOW_RADIUS_MM = 6.0
"""Corners of a former's window: a sharp one tears."""


def parts(layout: Layout) -> list[Part]:
    """Formers and braces with their glue. Raises PartError where one has no room."""
    result: list[Part] = []
    fuselage = layout.design.fuselage
    standing = inside.cross_pieces(layout)
    for former in fuselage.formers:
        name = inside.former_name(former.name)
        own = next(box for box in standing if box.name == name and box.from_mm == former.station_mm)
        inside.refuse_meeting(own, [box for box in standing if box is not own])
        result += _former(layout, former, own)
    lying = inside.braces(layout)
    for i, brace in enumerate(fuselage.braces):
        inside.refuse_meeting(lying[i], [*standing, *lying[:i]])
        result += _brace(layout, brace, lying[i])
    return result


def _former(layout: Layout, former: Former, box: inside.Box) -> list[Part]:
    material = layout.design.material(former.material or layout.design.fuselage.material)
    inside.refuse_outside(layout, box)
    half = min(layout.inner_half_width_mm(x) for x in (box.from_mm, box.to_mm))
    low, high = layout.clear_height_mm(box.from_mm, box.to_mm)
    if half < inside.LEAST_MM or high - low < inside.LEAST_MM:
        text = f"has only {ruler.sides(2 * half, high - low)} between sides, floor and deck"
        enough = f"more than {ruler.exact(inside.LEAST_MM)}"
        raise PartError(box.name, f"{text}; leave it out or move it to where there is {enough}")
    holes: tuple[Loop, ...] = ()
    if former.rim_mm is not None:
        rim = former.rim_mm
        most = min(half, (high - low) / 2.0) - 1.0
        if rim > most + SLACK_MM:
            cure = f"{ruler.most(most)} or less would" if most > 0.0 else "leave rim out"
            raise PartError(box.name, f"a rim of {ruler.exact(rim)} leaves no window; {cure}")
        holes = (rectangle(-half + rim, low + rim, half - rim, high - rim, min(WINDOW_RADIUS_MM, rim / 2.0)),)
    panel = Panel(rectangle(-half, low, half, high), material.thickness_mm, holes)
    lines = [line for x in (box.from_mm, box.to_mm) for line in _seams(layout, box, x, half, low, high)]
    glue = joint(
        box.name, lines, adhesive(layout.design, layout.design.material(layout.design.fuselage.material), material)
    )
    return [Part(box.name, FUSELAGE, panel, across(box.from_mm), material), glue]


def _seams(layout: Layout, box: inside.Box, x: float, half: float, low: float, high: float) -> list[list[Point]]:
    """The joint lines round one face of a former: both sides, and floor and deck where there are any."""
    middle = (box.from_mm + box.to_mm) / 2.0
    lines: list[list[Point]] = [[(x, y, low), (x, y, high)] for y in (half, -half)]
    if inside.is_covered(layout, "bottom", middle):
        lines.append([(x, -half, low), (x, half, low)])
    if inside.is_covered(layout, "top", middle):
        lines.append([(x, -half, high), (x, half, high)])
    return lines


def _brace(layout: Layout, brace: Brace, box: inside.Box) -> list[Part]:
    material = layout.design.material(brace.material or layout.design.fuselage.material)
    inside.refuse_outside(layout, box)
    half = min(inside.clear_half_width_mm(layout, x) for x in (box.from_mm, box.to_mm))
    if half < inside.LEAST_MM:
        text = f"has only {ruler.about(2 * half)} between the sides"
        raise PartError(box.name, f"{text} at station {ruler.about(box.to_mm)}")
    inside.refuse_height(layout, box)
    panel = Panel(rectangle(box.from_mm, -half, box.to_mm, half), material.thickness_mm)
    lines = [[(box.from_mm, y, z), (box.to_mm, y, z)] for y in (half, -half) for z in (box.low_mm, box.high_mm)]
    sides = layout.design.material(layout.design.fuselage.material)
    return [
        Part(box.name, FUSELAGE, panel, level(brace.water_line_mm), material),
        joint(box.name, lines, adhesive(layout.design, sides, material)),
    ]
