"""Motor and propeller, drawn on the thrust axis."""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, cos, pi, sin, tan

from airframe import ruler
from airframe.axes import FRONT_VIEW, Place, at
from airframe.drawing import Loop, Panel, Part, PartError, Point2, Revolved, circle, loop
from airframe.layout import Layout
from airframe.schema.equipment import Motor, Propeller

BLADE_THICKNESS_MM = 3.0
"""Of the flat blades that stand for the real, twisted ones; never more than the hub is long."""
BLADE_CHORD_SHARE = 0.11
"""Largest chord over the propeller's diameter: common practice for slow-flying propellers, no source."""
ROOT_SHARE = 0.55
"""Chord at the hub over the largest chord."""
WIDEST_SHARE = 0.4
"""Where the chord is largest, from hub to tip; beyond it the outline is a quarter of an ellipse on each side."""
BLADE_STEPS = 8
"""Straight steps on each side of a blade, as many from hub to widest as from there to the tip."""
PLAIN_SHAFT_MM = 3.0
"""Hole in the hub where the design names no motor."""


def motor_part(name: str, motor: Motor, layout: Layout) -> Part:
    """Case and shaft as one turned body; the case's rear end lies on the firewall's front face."""
    radius, shaft = motor.diameter_mm / 2.0, motor.shaft_diameter_mm / 2.0
    front = -motor.length_mm
    tip = front - motor.shaft_length_mm
    profile = [(tip, 0.0), (0.0, 0.0), (0.0, radius), (front, radius), (front, shaft), (tip, shaft)]
    shape = Revolved(tuple((round(x, 6), round(r, 6)) for x, r in profile))
    material = layout.design.material("bought item")
    return Part(name, motor.group, shape, layout.thrust_place, material, motor.mass_g, motor.basis)


def fitted_motor(layout: Layout) -> Motor | None:
    """The first motor that is in the aeroplane."""
    items = layout.design.equipment.values()
    return next((item for item in items if isinstance(item, Motor) and item.fitted), None)


def hub_middle_mm(propeller: Propeller, motor: Motor | None) -> float:
    """Own x on the thrust axis (negative: ahead of the firewall) of the propeller's middle.

    The hub's front end lies at the shaft's tip, unless the shaft is too short to keep the hub clear of the case.
    """
    half = propeller.hub_length_mm / 2.0
    if motor is None:
        return -half
    return -motor.length_mm - max(motor.shaft_length_mm - half, half)


def propeller_part(name: str, propeller: Propeller, layout: Layout) -> Part:
    """Hub and blades as one flat piece across the thrust axis, first blade to the left."""
    motor = fitted_motor(layout)
    bore = motor.shaft_diameter_mm if motor is not None else PLAIN_SHAFT_MM
    if bore >= propeller.hub_diameter_mm:
        hub = f"a hub of {ruler.exact(propeller.hub_diameter_mm)}"
        raise PartError(name, f"{hub} does not go over a shaft of {ruler.exact(bore)}")
    thickness = min(BLADE_THICKNESS_MM, propeller.hub_length_mm)
    panel = Panel(_outline(propeller), thickness, (circle(0.0, 0.0, bore),))
    front = hub_middle_mm(propeller, motor) - thickness / 2.0
    place: Place = layout.thrust_place.after(at(front)).after(FRONT_VIEW)
    material = layout.design.material("bought item")
    return Part(name, propeller.group, panel, place, material, propeller.mass_g, propeller.basis)


def _outline(propeller: Propeller) -> Loop:
    """Blades joined by arcs of the hub, counter-clockwise; the tips touch the swept disk's edge."""
    hub = propeller.hub_diameter_mm / 2.0
    step = 2.0 * pi / propeller.blades
    widest = BLADE_CHORD_SHARE * propeller.diameter_mm / 2.0
    # Neighbouring blades must leave a little of the hub's round between them.
    root = min(asin(min(ROOT_SHARE * widest / hub, 1.0)), 0.4 * step)
    arc = tan((step - 2.0 * root) / 4.0)
    points: list[Point2] = []
    bulges: list[float] = []
    for blade in range(propeller.blades):
        right = list(_blade_edge(hub, root, propeller.diameter_mm / 2.0, widest))
        edge = [*right, (propeller.diameter_mm / 2.0, 0.0), *((r, -y) for r, y in reversed(right))]
        turn = blade * step
        points += [(r * cos(turn) - y * sin(turn), r * sin(turn) + y * cos(turn)) for r, y in edge]
        bulges += [0.0] * (len(edge) - 1) + [arc]
    return loop(points, bulges)


def _blade_edge(hub_mm: float, root_rad: float, tip_mm: float, widest_mm: float) -> Iterator[Point2]:
    """(radius, offset) along the right edge of a blade that points along x, from the hub to just short of the tip."""
    start, low = hub_mm * cos(root_rad), hub_mm * sin(root_rad)
    widest_at = start + (tip_mm - start) * WIDEST_SHARE
    for k in range(BLADE_STEPS):
        turn = pi / 2.0 * k / BLADE_STEPS
        yield start + (widest_at - start) * k / BLADE_STEPS, -low - (widest_mm - low) * sin(turn)
    for k in range(BLADE_STEPS):
        turn = pi / 2.0 * k / BLADE_STEPS
        yield widest_at + (tip_mm - widest_at) * sin(turn), -widest_mm * cos(turn)
