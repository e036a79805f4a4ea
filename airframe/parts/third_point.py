"""The landing gear's third point on the ground: tail wheel, skid or nose wheel."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, radians, sin, tan
from typing import Literal

from airframe import ruler
from airframe.axes import Place, Point, about_y, at
from airframe.drawing import Block, Part, PartError
from airframe.layout import Layout
from airframe.parts.common import GEAR, SLACK_MM, adhesive, joint
from airframe.parts.wheels import AXLE_END_MM, CLEARANCE_MM, shoulder_mm, wheel_parts
from airframe.parts.wires import bent_wire, corner_before
from airframe.schema.gear import NoseWheel, Skid, TailWheel, Wheel

TAIL_WHEEL = "tail wheel"
NOSE_WHEEL = "nose wheel"
SKID = "skid"

BRACKET_LENGTH_MM = 16.0
BRACKET_WIDTH_MM = 24.0
"""At most: no wider than the fuselage."""
BRACKET_HEIGHT_MM = 6.0
BRACKET_G = 2.0
"""Estimate, no source: a small nylon bracket, drilled."""
TILLER_MM = 15.0
"""Length of a tiller arm from its pivot; the same goes for a wire's fixed end along its bracket."""
SKID_FLAT_MM = 2.0
"""What a skid has straight and level on the ground, its middle at the contact station."""
SKID_RISE_RAD = radians(30.0)
SKID_TAIL_MM = 10.0
"""How far the up-turned end reaches behind its bend."""


@dataclass(frozen=True)
class Bracket:
    """A small block under the fuselage where a wire leaves it."""

    part: Part
    glue: Part
    slope_rad: float
    exit: Point
    """On the block's underside, on the centre plane, at the wire's station."""

    def level_mm(self, x_mm: float, diameter_mm: float) -> float:
        """Water line of the middle of a wire that runs along under the block, touching it."""
        return self.exit[2] - (x_mm - self.exit[0]) * tan(self.slope_rad) - diameter_mm / 2.0 / cos(self.slope_rad)


def parts(layout: Layout) -> list[Part]:
    """Whatever third point the arrangement has."""
    gear = layout.design.gear
    if gear.arrangement == "nose wheel":
        assert gear.nose_wheel is not None
        return _nose_wheel(layout, gear.nose_wheel)
    if gear.tail_wheel is not None:
        return _tail_wheel(layout, gear.tail_wheel)
    assert gear.skid is not None
    return _skid(layout, gear.skid)


def contact(layout: Layout) -> tuple[str, Point]:
    """Name of the third point and where it touches the ground, fuselage level."""
    gear = layout.design.gear
    if gear.arrangement == "nose wheel":
        assert gear.nose_wheel is not None
        return NOSE_WHEEL, (gear.nose_wheel.axle_station_mm, 0.0, -gear.nose_wheel.height_mm)
    if gear.tail_wheel is not None:
        return TAIL_WHEEL, (gear.tail_wheel.axle_station_mm, 0.0, -gear.tail_wheel.height_mm)
    assert gear.skid is not None
    return SKID, (gear.skid.contact_station_mm, 0.0, -gear.skid.height_mm)


def _tail_wheel(layout: Layout, table: TailWheel) -> list[Part]:
    """The wire starts as a tiller arm to the right, under its bracket, or fixed along it going forward."""
    x, d = table.pivot_station_mm, table.wire_diameter_mm
    bracket = _bracket(layout, TAIL_WHEEL, x)
    axle = (table.axle_station_mm, 0.0, -table.height_mm + table.wheel.diameter_mm / 2.0)
    start: Literal["right", "forward"] = "right" if table.steerable else "forward"
    return _one_sided(layout, TAIL_WHEEL, bracket, table.wheel, axle, d, start)


def _nose_wheel(layout: Layout, table: NoseWheel) -> list[Part]:
    """Straight under its bracket, steered by a tiller arm to the right."""
    bracket = _bracket(layout, NOSE_WHEEL, table.axle_station_mm)
    axle = (table.axle_station_mm, 0.0, -table.height_mm + table.wheel.diameter_mm / 2.0)
    return _one_sided(layout, NOSE_WHEEL, bracket, table.wheel, axle, table.wire_diameter_mm, "right")


def _one_sided(
    layout: Layout,
    name: str,
    bracket: Bracket,
    wheel: Wheel,
    axle: Point,
    diameter_mm: float,
    start: Literal["right", "forward"],
) -> list[Part]:
    """A wheel on the centre plane; its wire slants down to the left of it and turns into the axle, to the right."""
    design, gear = layout.design, layout.design.gear
    x, _, _ = bracket.exit
    pivot = (x, 0.0, bracket.level_mm(x, diameter_mm))
    ahead = x - TILLER_MM
    first = (x, TILLER_MM, pivot[2]) if start == "right" else (ahead, 0.0, bracket.level_mm(ahead, diameter_mm))
    if axle[2] >= pivot[2]:
        problem = f"the axle lies {ruler.about(axle[2] - pivot[2])} above the wire's pivot"
        raise PartError(f"{name} wire", f"{problem}: more height would do")
    run = (axle[0], -shoulder_mm(wheel), axle[2])
    radius = gear.bend_radius_mm + diameter_mm / 2.0
    ankle = corner_before(f"{name} wire", pivot, run, (0.0, 1.0, 0.0), radius)
    _check_clear(name, pivot, ankle, wheel, diameter_mm)
    end = (axle[0], shoulder_mm(wheel) + AXLE_END_MM, axle[2])
    shape = bent_wire(f"{name} wire", (first, pivot, ankle, end), diameter_mm, gear.bend_radius_mm)
    wire = Part(f"{name} wire", GEAR, shape, Place(), design.material(gear.wire_material))
    rolling = wheel_parts(name, wheel, diameter_mm, axle, design, ("left", "right"))
    return [bracket.part, wire, *rolling, bracket.glue]


def _check_clear(name: str, pivot: Point, ankle: Point, wheel: Wheel, diameter_mm: float) -> None:
    """The slanting wire must be beside the wheel before it reaches the wheel's rim."""
    reach = hypot(pivot[0] - ankle[0], pivot[2] - ankle[2])
    rim = wheel.diameter_mm / 2.0 + CLEARANCE_MM
    beside = wheel.width_mm / 2.0 + diameter_mm / 2.0 + CLEARANCE_MM
    if -ankle[1] * (1.0 - rim / reach) < beside:
        least = rim / (1.0 - beside / -ankle[1])
        problem = f"rubs on its wheel: from pivot to axle are {ruler.about(reach)}, about {ruler.least(least)} would do"
        raise PartError(f"{name} wire", problem)


def _skid(layout: Layout, table: Skid) -> list[Part]:
    """In the centre plane: along its bracket, down and aft, a short flat on the ground, and up again."""
    gear, design, name, d = layout.design.gear, layout.design, SKID, table.wire_diameter_mm
    bracket = _bracket(layout, name, table.front_station_mm)
    x, low = table.front_station_mm, -table.height_mm + d / 2.0
    top = (x, 0.0, bracket.level_mm(x, d))
    ahead = x - TILLER_MM
    radius = gear.bend_radius_mm + d / 2.0
    if low > top[2] - 2.0 * radius + SLACK_MM:
        least = d / 2.0 - top[2] + 2.0 * radius
        problem = f"has no height to bend in: its height is {ruler.exact(table.height_mm)}"
        raise PartError(name, f"{problem}; {ruler.least(least)} or more would do")
    flat = table.contact_station_mm - SKID_FLAT_MM / 2.0
    if flat < x:
        where = f"station {ruler.exact(table.contact_station_mm)}, but its wire leaves the fuselage at {ruler.exact(x)}"
        raise PartError(name, f"touches the ground at {where}; move the contact_station aft of that")
    heel = corner_before(name, top, (flat, 0.0, low), (1.0, 0.0, 0.0), radius)
    bend = radius * tan(SKID_RISE_RAD / 2.0)
    toe = flat + SKID_FLAT_MM + bend
    reach = bend + SKID_TAIL_MM
    end = (toe + reach * cos(SKID_RISE_RAD), 0.0, low + reach * sin(SKID_RISE_RAD))
    points = ((ahead, 0.0, bracket.level_mm(ahead, d)), top, heel, (toe, 0.0, low), end)
    shape = bent_wire(name, points, d, gear.bend_radius_mm)
    return [bracket.part, Part(name, GEAR, shape, Place(), design.material(gear.wire_material)), bracket.glue]


def _bracket(layout: Layout, name: str, x_mm: float) -> Bracket:
    """A nylon block glued under the fuselage; it keeps within the sides' length, the wire may leave at its end."""
    if not layout.nose_mm <= x_mm <= layout.tail_mm:
        reach = f"the fuselage reaches from {ruler.span(layout.nose_mm, layout.tail_mm)}"
        where = f"station {ruler.about(x_mm)}, and {reach}"
        raise PartError(f"{name} bracket", f"has no fuselage above it: it is at {where}")
    half = BRACKET_LENGTH_MM / 2.0
    middle = min(max(x_mm, layout.nose_mm + half), layout.tail_mm - half)
    front, rear = middle - half, middle + half
    slope = layout.slope_rad("bottom", front, rear)
    under = min(layout.underside_mm(front), layout.underside_mm(rear) + BRACKET_LENGTH_MM * tan(slope))
    width = min(BRACKET_WIDTH_MM, 2.0 * layout.half_width_mm(rear))
    lie = at(front, 0.0, under).after(about_y(slope))
    length = BRACKET_LENGTH_MM / cos(slope)
    design = layout.design
    nylon, side = design.material("nylon"), design.material(design.fuselage.material)
    block = Block((round(length, 6), round(width, 6), BRACKET_HEIGHT_MM))
    place = lie.after(at(length / 2.0, 0.0, -BRACKET_HEIGHT_MM / 2.0))
    part = Part(f"{name} bracket", GEAR, block, place, nylon, BRACKET_G, "estimated")
    edges = [[_point(lie, x, side_of * width / 2.0) for side_of in (-1.0, 1.0)] for x in (0.0, length)]
    glue = joint(f"{name} bracket", edges, adhesive(design, nylon, side))
    lower = under - (x_mm - front) * tan(slope) - BRACKET_HEIGHT_MM / cos(slope)
    return Bracket(part, glue, slope, (x_mm, 0.0, lower))


def _point(lie: Place, x_mm: float, y_mm: float) -> Point:
    x, y, z = (float(v) for v in lie.apply((x_mm, y_mm, 0.0)))
    return x, y, z
