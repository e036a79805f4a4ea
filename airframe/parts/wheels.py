"""Bought wheels on their axles, and the collars that hold them."""

from __future__ import annotations

from math import cos, pi, sin

from airframe.axes import Place, Point, frame
from airframe.drawing import Part, Point2, Revolved, Rod
from airframe.parts.common import GEAR
from airframe.schema.design import Design
from airframe.schema.gear import Wheel

COLLAR_LENGTH_MM = 4.0
COLLAR_WALL_MM = 1.5
"""A collar's size; with a 3 mm bore it is 0.7 g of brass."""
CLEARANCE_MM = 0.5
"""Play between wheel and collar, at each side."""
AXLE_END_MM = 3.0
"""How far an axle stands out of its outer collar."""

TYRE_STEPS = 16
"""Straight steps of a tyre's round; even, so that one corner lies at the full diameter."""


def shoulder_mm(wheel: Wheel) -> float:
    """From the wheel's middle along the axle to the far side of a collar: here the axle must be straight."""
    return wheel.width_mm / 2.0 + CLEARANCE_MM + COLLAR_LENGTH_MM


def wheel_parts(
    name: str, wheel: Wheel, axle_mm: float, centre: Point, design: Design, collars: tuple[str, str]
) -> list[Part]:
    """A wheel with its axle along y and a collar at each side.

    `centre` is the wheel's middle in the aeroplane's frame; `collars` names the collars towards -y and +y.
    """
    x, y, z = centre
    shape = Revolved(_profile(wheel, axle_mm))
    tyre, brass = design.material("foam rubber"), design.material("brass")
    parts = [Part(name, GEAR, shape, _along_y(centre), tyre, wheel.mass_g, wheel.basis)]
    collar = Rod(COLLAR_LENGTH_MM, axle_mm + 2.0 * COLLAR_WALL_MM, axle_mm)
    offset = shoulder_mm(wheel) - COLLAR_LENGTH_MM / 2.0
    for called, dy in zip(collars, (-offset, offset), strict=True):
        place = _along_y((x, y + dy, z))
        parts.append(Part(f"{name} {called} collar", GEAR, collar, place, brass, wheel.collar_mass_g, "estimated"))
    return parts


_Y_AXIS, _Z_AXIS = (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def _along_y(centre: Point) -> Place:
    return frame(_Y_AXIS, _Z_AXIS, centre)


def _profile(wheel: Wheel, bore_mm: float) -> tuple[Point2, ...]:
    """Half the wheel's section, counter-clockwise: hub, web, rim, and a tyre with a round of half an ellipse."""
    radius, half = wheel.diameter_mm / 2.0, wheel.width_mm / 2.0
    bore = bore_mm / 2.0
    hub = max(0.25 * radius, bore + 1.0)
    rim = 0.55 * radius
    web = 0.5 * half
    height = min(half, 0.35 * radius)
    angles = [pi * k / TYRE_STEPS for k in range(TYRE_STEPS + 1)]
    tread = [(half * cos(a), radius - height + height * sin(a)) for a in angles]
    right = [(half, bore), (half, hub), (web, hub), (web, rim), (half, rim)]
    left = [(-x, r) for x, r in reversed(right)]
    return tuple((round(x, 6) + 0.0, round(r, 6)) for x, r in (*right, *tread, *left))
