"""Findings on the room between propeller and ground: every attitude, gear unloaded, loaded, deflected, tyre flat."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import degrees, pi, sqrt

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.checks import changes, remedies, rounding
from airframe.checks.attitude import TALLEST
from airframe.checks.contact import Stance, cross, pitch_at_touch
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.propeller_structure import smaller_propeller
from airframe.checks.sag import LARGE_SHARE, Springs, sagged, sagged_level, springs
from airframe.checks.standing import LEFT, RIGHT, THIRD, Standing, standing
from airframe.checks.surface import placed_meshes
from airframe.model import Aeroplane
from airframe.parts.equipment import PropellerDisk
from airframe.parts.main_gear import WHEEL
from airframe.parts.third_point import NOSE_WHEEL
from airframe.schema.design import Design
from airframe.schema.equipment import Propeller

HARD = 1.5
"""Load factor of a hard landing on sprung legs: 14 CFR 23.925(a) (pre-2017), "deflection corresponding to 1.5 g"."""
RIM_POINTS = 720
"""Of the disk's rim, for the first contact nose down: they stray from it by a hundred-thousandth of the radius."""
EXTRA_MM = 1.0
"""Asked beyond a limit of every remedy: for what its sums leave out."""
LEAST_LEG_MM = 10.0
"""Legs count as no shorter than this: a taller gear's give is scaled by their length."""
THICKEST = 3.0
"""Thickest wire that is tried, in present diameters."""
_RULE = "14 CFR 23.925(a) (pre-2017)"


@dataclass(frozen=True, eq=False)
class Room:
    """What the clearance above the ground follows from."""

    standing: Standing
    give: Springs
    """No give at all where the wires' stiffness is not known."""
    disk: PropellerDisk
    is_tail_wheel: bool
    leg_mm: float
    """From the fuselage's bottom down to the main axle."""

    def clearances(self, load_factor: float) -> dict[str, float]:
        """Least distance of the disk from the ground (mm) in each attitude, by the attitude's name."""
        result = {"on all its wheels": clearance_mm(sagged(self.standing, self.give, load_factor).stance, self.disk)}
        if self.is_tail_wheel:
            result["tail up, level"] = clearance_mm(
                sagged_level(self.standing, self.give, load_factor).level, self.disk
            )
        return result

    def least(self, load_factor: float) -> float:
        """The smallest of them."""
        return min(self.clearances(load_factor).values())

    def taller(self, height_mm: float) -> Room:
        """With the main wheels lower, and a nose wheel with them; wires give more by the cube of the legs' length."""
        longer = height_mm - self.standing.main_height_mm
        right, left, third = (matrix * (1.0 + longer / self.leg_mm) ** 3 for matrix in self.give.matrices)
        lower = self.standing.with_height(height_mm, not self.is_tail_wheel)
        return replace(self, standing=lower, give=Springs((right, left, third)), leg_mm=self.leg_mm + longer)

    def flat(self, feet: Iterable[int], share: float) -> Room:
        """With the tyres of some feet flat."""
        chosen = set(feet)
        right, left, third = (
            foot.shrunk(share) if number in chosen and foot.axle is not None else foot
            for number, foot in enumerate(self.standing.feet)
        )
        return replace(self, standing=replace(self.standing, feet=(right, left, third)))

    def stiffer(self, thickness: float) -> Room:
        """With all wires thicker by a factor: they give less by its fourth power."""
        right, left, third = (matrix / thickness**4 for matrix in self.give.matrices)
        return replace(self, give=Springs((right, left, third)))


def clearance_mm(stance: Stance, disk: PropellerDisk) -> float:
    """Height of the disk's lowest point: that of its middle less R sqrt(1 - (up . axis)^2)."""
    upright = float(np.array(disk.axis) @ stance.up)
    return stance.height_mm(disk.centre) - disk.diameter_mm / 2.0 * sqrt(max(1.0 - upright**2, 0.0))


def ground_findings(aeroplane: Aeroplane, disk: PropellerDisk) -> list[Finding]:
    """Of an aeroplane with a propeller; one that says so where it has no landing gear, or cannot stand on it."""
    stands = standing(aeroplane)
    if stands is None or not _has_triangle(stands):
        why = "there is no landing gear" if stands is None else "it cannot stand on its gear"
        message = f"The propeller's room above the ground does not apply: {why}."
        return [Finding("propeller.ground", "info", None, "mm", (None, None), message, "gear.arrangement")]
    give = springs(aeroplane, stands.feet)
    no_give = (np.zeros((3, 3)), np.zeros((3, 3)), np.zeros((3, 3)))
    design = aeroplane.design
    leg = aeroplane.layout.water_line_mm("bottom", stands.axle_mm) - float(stands.feet[RIGHT].centre[2])
    room = Room(stands, give or Springs(no_give), disk, design.gear.arrangement == "tail wheel", max(leg, LEAST_LEG_MM))
    return [
        _loaded(room, design),
        _hard(room, design) if give is not None else _not_known(design),
        _flat(room, design),
        _nose_down(aeroplane, room),
    ]


def _has_triangle(stands: Standing) -> bool:
    try:
        return bool(stands.stance.ground_mm < np.inf)
    except ValueError:
        return False


# --- the findings ---------------------------------------------------------------------------------------


def _loaded(room: Room, design: Design) -> Finding:
    low, system = design.limits.propeller.ground_clearance_mm, design.units
    loaded, free = room.clearances(1.0), room.clearances(0.0)
    told = ", ".join(
        f"{units.length(value, system)} {name} ({units.length(free[name], system)} unloaded, before the legs give)"
        for name, value in loaded.items()
    )
    message = f"The propeller clears the ground by {told}; {units.length(low, system)} is wanted."
    source = (
        f"{_RULE} asks 7 in (nose wheel) or 9 in (tail wheel) at full size; limits.propeller.ground_clearance is ours"
    )
    return _finding("propeller.ground", room, lambda one: one.least(1.0), low, message, source, design)


def _hard(room: Room, design: Design) -> Finding:
    value, system = room.least(HARD), design.units
    sunk = float((room.give.matrices[RIGHT] @ np.array([0.0, 0.0, room.standing.weight_n * HARD / 2.0]))[2])
    message = (
        f"With {HARD:g} times its weight on the legs the main wheels give {units.length(sunk, system)} and the "
        f"propeller clears the ground by {units.length(value, system)}"
    )
    is_large = sunk > LARGE_SHARE * room.standing.main_height_mm
    message += "; they give more than these sums for small deflections are good for." if is_large else "."
    source = f"{_RULE}: clear of the ground at {HARD:g} g; bent wires as a 3D frame, held at the plate's edge"
    return _finding("propeller.deflected", room, lambda one: one.least(HARD), 0.0, message, source, design)


def _not_known(design: Design) -> Finding:
    message = f"How far the legs give is not known: the stiffness of {design.gear.wire_material} is not in the table."
    return Finding("propeller.deflected", "info", None, "mm", (0.0, None), message, "gear.wire_material")


def _flat(room: Room, design: Design) -> Finding:
    """The worse of both main tyres, and the third."""
    share = design.limits.propeller.flat_tyre_share

    def least(one: Room) -> float:
        return min(one.flat(feet, share).least(1.0) for feet in ((RIGHT, LEFT), (THIRD,)))

    message = (
        f"With the worst tyre flat (a wheel's radius less by {share:.0%}) the propeller clears the ground by "
        f"{units.length(least(room), design.units)}."
    )
    source = f"{_RULE}: clear of the ground with the critical tyre flat; limits.propeller.flat_tyre is our choice"
    return _finding("propeller.flat-tyre", room, least, 0.0, message, source, design)


def _finding(
    code: str, room: Room, value: Callable[[Room], float], low: float, message: str, source: str, design: Design
) -> Finding:
    now = value(room)
    passes = now >= low
    found = () if passes else _remedies(room, lambda one: value(one) >= low + EXTRA_MM, design)
    names = tuple(foot.name for foot in room.standing.feet)
    verdict: Verdict = "pass" if passes else "fail"
    return Finding(code, verdict, round(now, 4), "mm", (low, None), message, source, found, names)


def _remedies(room: Room, passes: Callable[[Room], bool], design: Design) -> tuple[Remedy, ...]:
    """Longer legs, a smaller propeller, thicker wire: each the least that passes by the same equations."""
    now, result = room.standing.main_height_mm, []
    height = remedies.least_change(lambda value: passes(room.taller(value)), now, TALLEST * now)
    if height is not None:
        typed = rounding.more(height, design.units)
        settings = remedies.height_settings(design, typed, now - height, rounding.more)
        result.append(Remedy(f"lengthen the gear to a height of {typed}", settings))
    diameter = remedies.least_change(
        lambda value: passes(replace(room, disk=room.disk._replace(diameter_mm=value))), room.disk.diameter_mm, 0.0
    )
    if diameter is not None:
        result += smaller_propeller(diameter, design)
    thickness = remedies.least_change(lambda value: passes(room.stiffer(value)), 1.0, THICKEST)
    if thickness is not None:
        typed = rounding.thicker(thickness * design.gear.wire_diameter_mm, design.units)
        result.append(Remedy(f"bend the legs from wire of {typed}", (changes.setting("gear.wire_diameter", typed),)))
    return tuple(result)


def _nose_down(aeroplane: Aeroplane, room: Room) -> Finding:
    """On the main wheels, nose lowered from level: what touches first, and when."""
    meshes = [
        (part.name, vertices) for part, vertices, _ in placed_meshes(aeroplane) if not part.name.startswith(WHEEL)
    ]
    name = next(key for key, item in aeroplane.design.equipment.items() if isinstance(item, Propeller) and item.fitted)
    meshes.append((name, rim(room.disk)))
    wheel = room.standing.feet[RIGHT]
    touches = [(float(pitch_at_touch(vertices, wheel, behind=False).max()), one) for one, vertices in meshes]
    pitch, first = max(touches)
    source = "the model's own points ahead of the main wheels, and the disk's rim"
    if not np.isfinite(pitch):
        message = "Nothing ahead of the main wheels can touch the ground."
        return Finding("propeller.nose-down", "info", None, "deg", (None, None), message, source)
    value = round(-degrees(pitch), 4) + 0.0
    where = f"{units.angle(abs(pitch))} {'above' if value < 0.0 else 'below'} level"
    message = f"Nose down on its main wheels, {first} touches the ground first, {where}."
    verdict: Verdict = "info"
    if not room.is_tail_wheel:
        verdict = "pass" if first.startswith(NOSE_WHEEL) else "fail"
    return Finding("propeller.nose-down", verdict, value, "deg", (None, None), message, source, (), (first,))


def rim(disk: PropellerDisk) -> Array:
    """Points (n, 3) round the disk's edge."""
    axis = np.array(disk.axis)
    right = cross(axis, np.array([0.0, 0.0, 1.0]))
    right = right / np.linalg.norm(right)
    up = cross(right, axis)
    angles = np.linspace(0.0, 2.0 * pi, RIM_POINTS, endpoint=False)[:, None]
    points: Array = np.array(disk.centre) + disk.diameter_mm / 2.0 * (np.cos(angles) * right + np.sin(angles) * up)
    return points
