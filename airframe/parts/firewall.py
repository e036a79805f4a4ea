"""The plywood firewall: its plate with the holes, and what ties it to the sides."""

from __future__ import annotations

from itertools import combinations
from math import cos, hypot, pi, sin

from airframe import ruler
from airframe.axes import Array
from airframe.drawing import Loop, Panel, Part, PartError, circle, rectangle
from airframe.layout import Edge, Layout
from airframe.parts import firewall_ties, inside
from airframe.parts.common import FUSELAGE, SLACK_MM, across, adhesive, joint
from airframe.parts.firewall_plate import FirewallPlate, firewall_plate

HOLE_EDGE_MM = 1.0
"""The least left of the plate between a hole and an edge, or another hole."""


def parts(layout: Layout) -> list[Part]:
    """Firewall, doublers, gussets and the epoxy. Raises PartError for what has no room."""
    plate = firewall_plate(layout)
    return [*_plate(layout, plate), *firewall_ties.parts(layout, plate)]


def _plate(layout: Layout, plate: FirewallPlate) -> list[Part]:
    material = layout.design.material(layout.design.fuselage.firewall.material)
    half, low, high = plate.half_width_mm, plate.low_mm, plate.high_mm
    panel = Panel(rectangle(-half, low, half, high), plate.thickness_mm, _holes(layout, plate))
    part = Part("firewall", FUSELAGE, panel, plate.place.after(across(0.0)), material)
    side = layout.design.material(layout.design.fuselage.material)
    return [part, joint("firewall", _fillets(layout, plate), adhesive(layout.design, side, material))]


def _fillets(layout: Layout, plate: FirewallPlate) -> list[Array]:
    """Round the rear face: along both sides, and along floor and deck where there are any."""
    x, y, low, high = plate.thickness_mm, plate.half_width_mm, plate.low_mm, plate.high_mm
    lines = [[(x, y, low), (x, y, high)], [(x, -y, low), (x, -y, high)]]
    closed: tuple[tuple[Edge, float], ...] = (("bottom", low), ("top", high))
    for edge, z in closed:
        if inside.is_covered(layout, edge, plate.stretch_mm()[1]):
            lines.append([(x, -y, z), (x, y, z)])
    return [plate.place.apply(line) for line in lines]


def _holes(layout: Layout, plate: FirewallPlate) -> tuple[Loop, ...]:
    """Bolt holes, shaft hole and named holes; own x runs to the left wing."""
    firewall = layout.design.fuselage.firewall
    wanted: list[tuple[str, float, float, float]] = []
    if firewall.bolt_circle_mm is not None:
        r = firewall.bolt_circle_mm / 2.0
        turns = [pi / 4.0 + k * pi / 2.0 for k in range(4)]
        wanted += [("a bolt hole", r * cos(turn), r * sin(turn), firewall.bolt_diameter_mm) for turn in turns]
    if firewall.shaft_hole_mm is not None:
        wanted.append(("the shaft hole", 0.0, 0.0, firewall.shaft_hole_mm))
    wanted += [
        (f"hole {hole.name}", hole.butt_line_mm, hole.water_line_mm, hole.diameter_mm) for hole in firewall.holes
    ]
    for name, y, z, diameter in wanted:
        spare = diameter / 2.0 + HOLE_EDGE_MM
        if abs(y) + spare > plate.half_width_mm or z - spare < plate.low_mm or z + spare > plate.high_mm:
            size = f"{ruler.about(2 * plate.half_width_mm)} wide, water line {ruler.span(plate.low_mm, plate.high_mm)}"
            left = f"leaves under {ruler.exact(HOLE_EDGE_MM)}"
            raise PartError("firewall", f"{name} breaks out of the plate ({size}) or {left}")
    for (name, y, z, d), (other, y2, z2, d2) in combinations(wanted, 2):
        apart, least = hypot(y - y2, z - z2), (d + d2) / 2.0 + HOLE_EDGE_MM
        if apart < least - SLACK_MM:
            cure = f"{ruler.least(least)} is the least"
            raise PartError("firewall", f"{name} and {other} are {ruler.most(apart)} apart; {cure}")
    return tuple(circle(-y, z, diameter) for _, y, z, diameter in wanted)
