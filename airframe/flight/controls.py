"""Servo, push-rod and control surface of a design, end to end: throws reached, torque and buckling; SI units inside.

What is driven by what is read from the push-rods: each ends in the horn that is nearest, and starts at the servo that
is nearest. Servo and horn are taken to be set up square to the rod, which is what the rod's two points say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, dist, pi, radians, sin, sqrt

from airframe.flight import throws
from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band
from airframe.flight.linkage import Linkage, LinkageLocks, straight_linkage
from airframe.flight.panels import Sheet
from airframe.flight.parasite import M2_PER_MM2
from airframe.flight.plan import plan
from airframe.flight.roots import NoRoot, bracketed_root
from airframe.flight.surfaces import sheets
from airframe.flight.throws import Control
from airframe.layout import Layout
from airframe.parts.tail_horns import horn_points
from airframe.parts.tail_lines import Surface, tail_lines
from airframe.schema.equipment import Item, PushRod, Servo

INCIDENCE_RAD = radians(5.0)
"""At the tail in a pull-out at top speed (our choice, no source)."""
USUAL_TRAVEL_RAD = radians(45.0)
"""To either side, of a servo that is not described (common practice, no source)."""
FIN_GAIN = 1.55
"""A fin on a fuselage has about 55 % more aspect ratio than it looks (Raymer ch. 16, secondary)."""
NEAR_MM = 15.0
"""A push-rod that ends this near to a horn's hole is hooked into it."""
WHOLE = {"elevator": "stabiliser", "rudder": "fin"}
"""The surface that each control is part of."""


@dataclass(frozen=True)
class ControlRun:
    """One control from servo to surface; estimates."""

    surface: str
    push_rod: str
    servo: str | None
    throw_wanted_rad: float
    """The larger of up and down, or to one side."""
    throw_reached_rad: float | None
    """With the servo's arm at full travel; None where no arm is stated, or where the linkage locks on the way."""
    arm_needed_mm: float
    """The arm that gives the throw wanted at full travel, rod square to both."""
    hinge_moment_n_m: Band
    """At the speed asked about, full throw."""
    torque_needed_n_m: Band
    """At the servo, with the arm stated or the one needed."""
    torque_margin: Band | None
    """Servo's torque over that; None where no torque is stated."""
    rod_force_n: Band
    guides: int
    """Of the push-rod, evenly spaced."""
    buckling_n: float
    """What the rod bears, pinned at both ends and at its guides."""

    @property
    def buckling_margin(self) -> float:
        """What the rod bears over the most that the surface may ask."""
        return self.buckling_n / self.rod_force_n.high


def control_runs(layout: Layout, speed_m_s: float, density_kg_m3: float) -> list[ControlRun]:
    """Every push-rod that ends in a horn of the tail, at a speed such as the top of level flight.

    Raises PartError for a tail that cannot be drawn.
    """
    surfaces = sheets(layout)
    return [_run(layout, surfaces, name, rod, horn, speed_m_s, density_kg_m3) for name, rod, horn in _rods(layout)]


def control(layout: Layout, surfaces: tuple[Sheet, ...], name: str) -> Control:
    """The elevator or the rudder as the air sees it."""
    lines = tail_lines(layout)
    moving = {"elevator": lines.elevator, "rudder": lines.rudder}[name]
    halves = 2.0 if name == "elevator" else 1.0
    whole = plan(surfaces, WHOLE[name])
    root, tip = moving.chord_mm(moving.from_mm), moving.tip_chord_mm
    area = halves * (moving.to_mm - moving.from_mm) * (root + tip) / 2.0 * M2_PER_MM2
    aspect = whole.aspect * (FIN_GAIN if name == "rudder" else 1.0)
    return Control(area, _mean_chord_m(moving), min(area / whole.area_m2, 1.0), aspect)


def _run(
    layout: Layout,
    surfaces: tuple[Sheet, ...],
    name: str,
    rod: PushRod,
    horn: str,
    speed_m_s: float,
    density_kg_m3: float,
) -> ControlRun:
    surface = horn.removesuffix(" horn")
    wanted = _throw_rad(layout, surface)
    servo_name, servo = _servo(layout, rod)
    travel = USUAL_TRAVEL_RAD if servo is None else servo.travel_rad
    height, length = layout.design.tail.horns.height_mm, dist(rod.from_point, rod.to_point)
    needed = _arm_for(wanted, travel, height, length)
    stated = servo.arm_mm if servo is not None else None
    arm = stated or needed
    linkage = straight_linkage(arm, height, length)
    moment = control(layout, surfaces, surface).moment_n_m(speed_m_s, density_kg_m3, wanted, INCIDENCE_RAD)
    turned = _servo_angle(arm, height, length, wanted, travel)
    torque = throws.servo_torque_n_m(moment, linkage.gain(turned))
    strength = servo.torque_n_m if servo is not None else None
    return ControlRun(
        surface,
        name,
        servo_name,
        wanted,
        None if stated is None else _reached(linkage, travel),
        needed,
        moment,
        torque,
        None if strength is None else throws.torque_margin(strength, torque),
        moment.times(1.0 / (linkage.rod_arm(turned) * M_PER_MM)),
        rod.guides,
        throws.buckling_force_n(rod.diameter_mm * M_PER_MM, free_length_mm(rod) * M_PER_MM),
    )


def guides_needed(run: ControlRun, margin: float) -> int:
    """How many evenly spaced guides make a push-rod bear so many times what is asked: n equal lengths bear n^2."""
    return ceil((run.guides + 1) * sqrt(margin / run.buckling_margin)) - 1


def free_length_mm(rod: PushRod) -> float:
    """The longest stretch of a push-rod that nothing holds: guides are evenly spaced."""
    return dist(rod.from_point, rod.to_point) / (rod.guides + 1)


def _throw_rad(layout: Layout, surface: str) -> float:
    tail = layout.design.tail
    return (
        tail.rudder.throw_rad if surface == "rudder" else max(tail.elevator.throw_up_rad, tail.elevator.throw_down_rad)
    )


def _reached(linkage: Linkage, travel_rad: float) -> float | None:
    """The lesser of both ways."""
    try:
        return min(linkage.surface_rad(travel_rad), -linkage.surface_rad(-travel_rad))
    except LinkageLocks:
        return None


def _arm_for(wanted_rad: float, travel_rad: float, horn: float, rod: float) -> float:
    """The arm that gives a throw at full travel; a rod much longer than the arms: arm sin(travel) = horn sin(throw)."""
    usual = horn * sin(wanted_rad) / sin(travel_rad)

    def spare(arm: float) -> float:
        try:
            return straight_linkage(arm, horn, rod).surface_rad(travel_rad) - wanted_rad
        except LinkageLocks:
            return pi

    try:
        return bracketed_root(spare, 0.6 * usual, 1.6 * usual)
    except NoRoot:
        return usual


def _servo_angle(arm: float, horn: float, rod: float, surface_rad: float, travel_rad: float) -> float:
    """Where the servo stands when the surface is turned so far: the same linkage seen from its other end."""
    try:
        return min(-straight_linkage(horn, arm, rod).surface_rad(-surface_rad), travel_rad)
    except LinkageLocks:
        return travel_rad


def _mean_chord_m(surface: Surface) -> float:
    """Integral of the chord squared over the area, straight edges."""
    a, b = surface.chord_mm(surface.from_mm), surface.tip_chord_mm
    return 2.0 / 3.0 * (a * a + a * b + b * b) / (a + b) * M_PER_MM


def _rods(layout: Layout) -> Iterator[tuple[str, PushRod, str]]:
    """The fitted push-rods that end near a horn, with the horn's name."""
    horns = horn_points(layout)
    for name, item in layout.design.equipment.items():
        if isinstance(item, PushRod) and item.fitted:
            gaps = {horn: min(dist(point, end) for end in _ends(item)) for horn, point in horns.items()}
            nearest = min(gaps, key=gaps.__getitem__)
            if gaps[nearest] <= NEAR_MM:
                yield name, item, nearest


def _servo(layout: Layout, rod: PushRod) -> tuple[str | None, Servo | None]:
    """The nearest item of the controls, and what it says of itself if it is described as a servo."""
    items = layout.design.equipment.items()
    boxes = {name: item for name, item in items if isinstance(item, Item) and item.group == "controls" and item.fitted}
    servos = {name: item for name, item in items if isinstance(item, Servo) and item.fitted}

    def gap(name: str) -> float:
        item = (boxes | servos)[name]
        return min(dist((item.station_mm, item.butt_line_mm, item.water_line_mm), end) for end in _ends(rod))

    name = min(servos or boxes, key=gap, default=None)
    return name, servos.get(name) if name is not None else None


def _ends(rod: PushRod) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    return rod.from_point, rod.to_point
