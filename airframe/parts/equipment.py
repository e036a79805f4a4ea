"""What is bought and carried, each item as a simple body in its place."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from airframe import ruler
from airframe.axes import IDENTITY, Array, Place, Point, at, frame, place
from airframe.drawing import Block, Part, PartError, Revolved, Rod, bead, points3
from airframe.layout import Layout
from airframe.parts.propulsion import fitted_motor, hub_middle_mm, motor_part, propeller_part
from airframe.parts.wires import bent_wire
from airframe.schema.design import Design
from airframe.schema.equipment import AnyItem, Battery, Item, Lead, Motor, Propeller, PushRod, RoundItem, Screws

PUSH_ROD_BEND = 1.0
"""Inside radius of a push-rod's bent ends, in wire diameters: bent with pliers (common practice, no source)."""
GUIDE_LENGTH_MM, GUIDE_PLAY_MM, GUIDE_WALL_MM = 12.0, 0.3, 0.5
"""A piece of thin tube round the wire; play all round (common practice, no source)."""
GUIDE_G = 0.3
"""Tube, a strip of board of some 40 mm by 8 mm that holds it, and a spot of glue (our estimate)."""

_AXES = {
    "station": place(IDENTITY, (0.0, 0.0, 0.0)),
    "butt line": frame((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
    "water line": frame((0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
}
_POINTING = {
    "aft": frame((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
    "forward": frame((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
    "right": frame((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
    "left": frame((0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
    "up": frame((0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
    "down": frame((0.0, 0.0, -1.0), (0.0, -1.0, 0.0)),
}


class PropellerDisk(NamedTuple):
    """What the propeller sweeps."""

    centre: Point
    axis: Point
    """Unit vector along the thrust axis, forwards: the way the propeller pulls."""
    diameter_mm: float


def parts(layout: Layout) -> list[Part]:
    """Every item that is fitted, under its name in the design."""
    return [part for name, item in layout.design.equipment.items() if item.fitted for part in drawn(name, item, layout)]


def propeller_disk(layout: Layout) -> PropellerDisk | None:
    """The disk of the first fitted propeller; None without one."""
    items = layout.design.equipment.values()
    propeller = next((item for item in items if isinstance(item, Propeller) and item.fitted), None)
    if propeller is None:
        return None
    thrust = layout.thrust_place
    centre = thrust.apply((hub_middle_mm(propeller, fitted_motor(layout)), 0.0, 0.0))
    axis = thrust.turn((-1.0, 0.0, 0.0))
    return PropellerDisk(_point(centre), _point(axis), propeller.diameter_mm)


def drawn(name: str, item: AnyItem, layout: Layout) -> list[Part]:
    """One item, whether it is fitted or not. Raises PartError for what cannot be drawn or lies outside."""
    design = layout.design
    match item:
        case Motor():
            return [motor_part(name, item, layout)]
        case Propeller():
            return [propeller_part(name, item, layout)]
        case PushRod():
            return [_push_rod(name, item, design), *_guides(name, item, design)]
        case Lead():
            return [_lead(name, item, design)]
        case Screws():
            return _screws(name, item, design)
    _check_inside(name, item, layout)
    if isinstance(item, Battery):
        return [_battery(name, item, design)]
    return [_box(name, item, design) if isinstance(item, Item) else _cylinder(name, item, design)]


def _box(name: str, item: Item, design: Design) -> Part:
    where = at(item.station_mm, item.butt_line_mm, item.water_line_mm)
    material = design.material("bought item")
    return Part(name, item.group, Block(item.size), where, material, item.mass_g, item.basis)


def _cylinder(name: str, item: RoundItem, design: Design) -> Part:
    where = at(item.station_mm, item.butt_line_mm, item.water_line_mm).after(_AXES[item.axis])
    material = design.material("bought item")
    return Part(name, item.group, Rod(item.length_mm, item.diameter_mm), where, material, item.mass_g, item.basis)


def _battery(name: str, battery: Battery, design: Design) -> Part:
    """The option in use, standing on the tray."""
    option = battery.chosen()
    where = at(battery.station_mm, battery.butt_line_mm, battery.water_line_mm + option.size[2] / 2.0)
    cells = design.material("battery cells")
    return Part(name, battery.group, Block(option.size), where, cells, option.mass_g, option.basis)


def _push_rod(name: str, rod: PushRod, design: Design) -> Part:
    """Straight from point to point; the end at the servo is bent over to the right, the one at the horn to the left."""
    start, end = np.array(rod.from_point), np.array(rod.to_point)
    over = np.array([0.0, rod.end_length_mm, 0.0])
    points = (start + over, start, end, end - over)
    shape = bent_wire(name, points, rod.diameter_mm, PUSH_ROD_BEND * rod.diameter_mm)
    return Part(name, rod.group, shape, Place(), design.material(rod.material))


def guide_names(name: str, rod: PushRod) -> tuple[str, ...]:
    """The names of a push-rod's guides, from the servo on."""
    return tuple(f"{name} guide {number}" for number in range(1, rod.guides + 1))


def _guides(name: str, rod: PushRod, design: Design) -> list[Part]:
    """Tubes round the wire that cut it into equal lengths; the mass of each is with what holds it."""
    start, end = np.array(rod.from_point), np.array(rod.to_point)
    length = float(np.linalg.norm(end - start))
    if rod.guides * GUIDE_LENGTH_MM > length / 2.0:
        raise PartError(name, f"is too short for {rod.guides} guides: give it fewer")
    along = _point((end - start) / length)
    across = (0.0, 1.0, 0.0) if abs(along[1]) < 0.9 else (1.0, 0.0, 0.0)
    tube, material = _tube(rod.diameter_mm), design.material("plastic")
    parts = []
    for number, own_name in enumerate(guide_names(name, rod), 1):
        where = frame(along, across, start + (end - start) * number / (rod.guides + 1))
        parts.append(Part(own_name, rod.group, tube, where, material, GUIDE_G, "estimated"))
    return parts


def _tube(wire_mm: float) -> Revolved:
    half, inner = GUIDE_LENGTH_MM / 2.0, wire_mm / 2.0 + GUIDE_PLAY_MM
    outer = inner + GUIDE_WALL_MM
    corners = ((-half, inner), (half, inner), (half, outer), (-half, outer))
    return Revolved(tuple((round(x, 6), round(r, 6)) for x, r in corners))


def _lead(name: str, lead: Lead, design: Design) -> Part:
    """A cable: its slack weighs as if it were spread evenly along the path."""
    length = float(np.linalg.norm(np.diff(np.array(lead.path), axis=0), axis=1).sum())
    if length <= 0.0:
        raise PartError(name, "its path has no length: the corners all lie at one point")
    material = design.material(lead.material)
    mass = (length + lead.slack_mm) * material.weight
    return Part(name, lead.group, bead(lead.path), Place(), material, mass, "estimated")


def _screws(name: str, screws: Screws, design: Design) -> list[Part]:
    """One turned body for all: the head's underside at its own origin, the shank along its own x."""
    head, shank = screws.head_diameter_mm / 2.0, screws.diameter_mm / 2.0
    top, tip = -screws.head_height_mm, screws.length_mm
    profile = [(top, 0.0), (tip, 0.0), (tip, shank), (0.0, shank), (0.0, head), (top, head)]
    shape = Revolved(tuple((round(x, 6), round(r, 6)) for x, r in profile))
    material = design.material(screws.material)
    many = len(screws.points) > 1
    return [
        Part(
            f"{name} {i}" if many else name, screws.group, shape, at(*point).after(_POINTING[screws.pointing]), material
        )
        for i, point in enumerate(points3(screws.points), start=1)
    ]


def _check_inside(name: str, item: Item | RoundItem | Battery, layout: Layout) -> None:
    """An item inside the fuselage has its middle between nose and tail and between the sides.

    Cowls and belly pans count. Whether all of it fits, up and down too, is a matter for the checks.
    """
    if item.place == "outside":
        return
    fuselage = layout.design.fuselage
    stations = [layout.nose_mm, layout.tail_mm]
    stations += [end.station_mm for shell in fuselage.shells for end in (shell.front, shell.rear)]
    front, rear = min(stations), max(stations)
    if not front <= item.station_mm <= rear:
        reach = f"the fuselage reaches from {ruler.span(front, rear)}"
        where = f"its middle is at station {ruler.about(item.station_mm)}, {reach}"
        raise PartError(name, f'is an item outside the fuselage: {where}; move it or say place = "outside"')
    half = max(layout.inner_half_width_mm(item.station_mm), *_shell_half_widths(layout, item.station_mm), 0.0)
    if abs(item.butt_line_mm) > half:
        reach = f"the sides are {ruler.about(half)} from the centre plane"
        where = f"its middle is at butt line {ruler.about(item.butt_line_mm)}, {reach}"
        raise PartError(name, f'is an item outside the fuselage: {where}; move it or say place = "outside"')


def _shell_half_widths(layout: Layout, x_mm: float) -> list[float]:
    return [
        max(shell.front.width_mm, shell.rear.width_mm) / 2.0
        for shell in layout.design.fuselage.shells
        if shell.front.station_mm <= x_mm <= shell.rear.station_mm
    ]


def _point(values: Array) -> Point:
    x, y, z = (float(v) for v in values)
    return x, y, z
