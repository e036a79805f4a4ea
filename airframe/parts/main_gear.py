"""The main legs: bent wires under the gear plate, their wheels, bracing struts and fairings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from airframe import ruler
from airframe.axes import Array, Place, Point, frame
from airframe.bends import centre_line
from airframe.drawing import Panel, Part, PartError, Wire, bead, rectangle
from airframe.layout import Layout
from airframe.parts.common import GEAR, SLACK_MM, adhesive, both_sides, joint
from airframe.parts.gear_plate import PlateLie, mirrored, plate_lie, plate_parts
from airframe.parts.wheels import AXLE_END_MM, CLEARANCE_MM, shoulder_mm, wheel_parts
from airframe.parts.wires import bent_wire, corner_before
from airframe.schema.gear import Fairing, Gear, Strut, Wheel

LEG = "main leg"
STRUT = "main gear strut"
FAIRING = "leg fairing"
WHEEL = "main wheel"

INBOARD_END_MM = 6.0
"""Butt line where a leg's wire ends under the plate: left and right do not touch."""
BOUND_LENGTH_MM = 12.0
"""How far a strut runs alongside its leg, bound and soldered."""
FAIRING_TRIM_MM = 2.0
"""How far a fairing stays clear of the bends at each end."""
SHORTEST_FAIRING_MM = 10.0
THREAD_G = 0.4
"""Estimate, no source: thread that binds both legs to the plate, before the epoxy."""
BINDING_G = 1.0
"""Estimate, no source: binding wire and solder of one strut."""

_OUTBOARD = (0.0, 1.0, 0.0)


@dataclass(frozen=True)
class Leg:
    """The right leg, in the aeroplane's frame."""

    wire: Wire
    """From under the plate to the axle's outer end."""

    @property
    def knee(self) -> Point:
        """Corner where it leaves the fuselage."""
        return self.wire.points[1]

    @cached_property
    def straight(self) -> tuple[Array, Array]:
        """First and last point of the slanting part between its bends."""
        return centre_line(self.wire).legs()[1]

    @cached_property
    def heading(self) -> Array:
        """Direction of the slanting part, downwards."""
        slant = self.straight[1] - self.straight[0]
        unit: Array = slant / np.linalg.norm(slant)
        return unit


def parts(layout: Layout) -> list[Part]:
    """Plate, legs, wheels, struts and fairings of a design that has a landing gear."""
    design, gear = layout.design, layout.design.gear
    assert gear.wheel is not None
    lie = plate_lie(layout)
    leg = right_leg(lie)
    wire = design.material(gear.wire_material)
    result = [*plate_parts(lie), *both_sides(Part(LEG, GEAR, leg.wire, Place(), wire)), *_fixing(lie, leg)]
    centre = (gear.axle_station_mm, gear.track_mm / 2.0, axle_mm(gear, gear.wheel))
    for part in wheel_parts(WHEEL, gear.wheel, gear.wire_diameter_mm, centre, design, ("inner", "outer")):
        result += both_sides(part)
    if gear.strut is not None:
        result += _strut(lie, leg, gear.strut)
    if gear.fairing is not None:
        result += _fairing(lie, leg, gear.fairing)
    return result


def axle_mm(gear: Gear, wheel: Wheel) -> float:
    """Water line of the main axle."""
    return -gear.height_mm + wheel.diameter_mm / 2.0


def right_leg(lie: PlateLie) -> Leg:
    """The right leg's corners. PartError where plate, track and height leave no such leg."""
    gear, layout = lie.layout.design.gear, lie.layout
    assert gear.wheel is not None
    name, d = f"{LEG} right", gear.wire_diameter_mm
    x = gear.leg_station_mm
    if x is None:
        x = (lie.table.from_station_mm + lie.table.to_station_mm) / 2.0
    lie.check_wire(name, x, d)
    level, radius = lie.wire_mm(x, d), gear.bend_radius_mm + d / 2.0
    axle = axle_mm(gear, gear.wheel)
    if axle > level - 2.0 * radius + SLACK_MM:
        least = gear.wheel.diameter_mm / 2.0 - level + 2.0 * radius
        problem = f"has no height to bend in: gear.height is {ruler.exact(gear.height_mm)}"
        raise PartError(name, f"{problem}; {ruler.least(least)} or more would do")
    knee = (x, layout.half_width_mm(x), level)
    middle = gear.track_mm / 2.0
    run = (gear.axle_station_mm, middle - shoulder_mm(gear.wheel), axle)
    ankle = corner_before(name, knee, run, _OUTBOARD, radius)
    end = middle + shoulder_mm(gear.wheel) + AXLE_END_MM
    _check_track(knee, ankle, gear, gear.wheel)
    corners = ((x, INBOARD_END_MM, level), knee, ankle, (gear.axle_station_mm, end, axle))
    return Leg(bent_wire(name, corners, d, gear.bend_radius_mm))


def _check_track(knee: Point, ankle: Point, gear: Gear, wheel: Wheel) -> None:
    """A leg that leans in must still pass inside its own wheel, and outside the other leg."""
    share = min(wheel.diameter_mm / 2.0 / (knee[2] - ankle[2]), 1.0)
    at_top = ankle[1] + share * (knee[1] - ankle[1])
    inner_face = gear.track_mm / 2.0 - wheel.width_mm / 2.0
    if at_top + gear.wire_diameter_mm / 2.0 + CLEARANCE_MM > inner_face or ankle[1] < INBOARD_END_MM:
        least = 2.0 * (knee[1] + gear.bend_radius_mm + gear.wire_diameter_mm / 2.0 + shoulder_mm(wheel))
        raise PartError(
            f"{LEG} right", f"leans in too far for its wheel; a track of {ruler.least(least)} or more would do"
        )


def _fixing(lie: PlateLie, leg: Leg) -> list[Part]:
    """Thread round both legs under the plate, and epoxy along each side of the wires."""
    design, gear = lie.layout.design, lie.layout.design.gear
    assert gear.plate is not None
    run = [(leg.knee[0], y, leg.knee[2]) for y in (INBOARD_END_MM, lie.layout.inner_half_width_mm(leg.knee[0]))]
    thread = bead(run, mirrored(run))
    binding = Part(f"thread, {LEG}s", GEAR, thread, Place(), design.material("nylon"), THREAD_G, "estimated")
    step = gear.wire_diameter_mm / 2.0
    fillets = [[(x + dx, y, lie.lower_mm(x + dx)) for x, y, _ in run] for dx in (-step, step)]
    paths = [*fillets, *(mirrored(path) for path in fillets)]
    materials = (design.material(gear.wire_material), design.material(gear.plate.material))
    return [binding, joint(f"{LEG}s to plate", paths, adhesive(design, *materials))]


def _strut(lie: PlateLie, leg: Leg, strut: Strut) -> list[Part]:
    """A thinner wire to the leg's lower end, in the plane of the leg and its own knee; it touches the leg there."""
    design, gear, name = lie.layout.design, lie.layout.design.gear, f"{STRUT} right"
    x, d = strut.station_mm, strut.wire_diameter_mm
    lie.check_wire(name, x, d)
    level = lie.wire_mm(x, d)
    knee = np.array([x, lie.layout.half_width_mm(x), level])
    foot = leg.straight[1]
    beside = knee - foot - float((knee - foot) @ leg.heading) * leg.heading
    apart, has = (gear.wire_diameter_mm + d) / 2.0, float(np.linalg.norm(beside))
    if has < apart:
        problem = f"starts inside the leg: {ruler.about(has)} from its middle"
        raise PartError(name, f"{problem}, {ruler.least(apart)} would do")
    end = foot + beside / has * apart
    bound = end - BOUND_LENGTH_MM * leg.heading
    bend = corner_before(name, knee, bound, leg.heading, gear.bend_radius_mm + d / 2.0)
    shape = bent_wire(name, ((x, INBOARD_END_MM, level), knee, bend, end), d, gear.bend_radius_mm)
    wire = Part(STRUT, GEAR, shape, Place(), design.material(gear.wire_material))
    lashing = bead([bound, end])
    binding = Part("strut binding and solder", GEAR, lashing, Place(), design.material("brass"), BINDING_G, "estimated")
    return [*both_sides(wire), *both_sides(binding)]


def _fairing(lie: PlateLie, leg: Leg, fairing: Fairing) -> list[Part]:
    """A strip with its chord fore and aft, its inner face along the leg's outer side.

    Wire at its front edge; or at its rear edge where a strut runs behind the leg.
    """
    design, gear = lie.layout.design, lie.layout.design.gear
    material, d = design.material(fairing.material), gear.wire_diameter_mm
    top, foot = leg.straight
    length = float((foot - top) @ leg.heading) - 2.0 * FAIRING_TRIM_MM
    if length < SHORTEST_FAIRING_MM:
        needs = SHORTEST_FAIRING_MM + 2.0 * FAIRING_TRIM_MM
        has = ruler.about(length + 2.0 * FAIRING_TRIM_MM)
        raise PartError(FAIRING, f"needs {ruler.about(needs)} of straight leg, has {has}")
    axes = frame(leg.heading, (1.0, 0.0, 0.0))
    aft, outward = axes.turn((0.0, 1.0, 0.0)), -axes.turn((0.0, 0.0, 1.0))
    start = top + FAIRING_TRIM_MM * leg.heading + outward * (d / 2.0 + material.thickness_mm)
    is_strut_behind = gear.strut is not None and gear.strut.station_mm > leg.knee[0]
    front = d / 2.0 - fairing.chord_mm if is_strut_behind else -d / 2.0
    panel = Panel(rectangle(front, 0.0, front + fairing.chord_mm, length), material.thickness_mm)
    strip = Part(FAIRING, GEAR, panel, frame(aft, leg.heading, start), material)
    seam = start - outward * material.thickness_mm
    lines = [[seam + aft * side, seam + aft * side + leg.heading * length] for side in (-d / 2.0, d / 2.0)]
    right = [[(float(x), float(y), float(z)) for x, y, z in line] for line in lines]
    glue = adhesive(design, design.material(gear.wire_material), material)
    return [*both_sides(strip), joint(f"{FAIRING}s", [*right, *(mirrored(line) for line in right)], glue)]
