"""One aeroplane on the ground, as the checks need it: feet, balance point, what moves with the gear."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from airframe.axes import Array, Point
from airframe.checks.contact import Foot, Stance, TippingLine, held, resting, triangle_lines
from airframe.checks.gear_frame import path_of
from airframe.drawing import Wire
from airframe.model import Aeroplane
from airframe.parts.main_gear import FAIRING, LEG, STRUT, WHEEL
from airframe.schema.design import Design
from airframe.units import STANDARD_GRAVITY_M_S2

RIGHT, LEFT, THIRD = 0, 1, 2
"""Numbers of the feet."""
_HALF_MOVING = (LEG, STRUT, FAIRING)
"""Parts held fast at one end: half of their mass goes with the wheels."""


@dataclass(frozen=True, eq=False)
class Standing:
    """Feet on level ground, and the balance point; lengths in mm in the aeroplane's frame.

    The methods that change something give a new one; the balance point goes with the mass that they move.
    """

    feet: tuple[Foot, Foot, Foot]
    """Main right, main left, third point."""
    cg: Point
    mass_g: float
    main_share: float = 0.0
    """Of the mass, what moves when the main wheels do: wheels, and half of what holds them."""
    bumps_mm: tuple[float, float, float] = (0.0, 0.0, 0.0)
    """Under each foot."""

    @cached_property
    def stance(self) -> Stance:
        """On all three feet. ValueError where they stand in one line."""
        return resting(self.feet, self.bumps_mm)

    @cached_property
    def level(self) -> Stance:
        """On the main wheels alone, thrust line's stations level."""
        return held(self.feet[:THIRD], 0.0)

    @property
    def weight_n(self) -> float:
        """Weight of the whole aeroplane."""
        return self.mass_g * 1e-3 * STANDARD_GRAVITY_M_S2

    @cached_property
    def shares(self) -> tuple[float, float, float]:
        """Share of the weight on each foot."""
        right, left, third = self.stance.shares(self.cg)
        return float(right), float(left), float(third)

    @cached_property
    def lines(self) -> dict[tuple[int, int], TippingLine]:
        """The lines of the support triangle, by the numbers of the feet at their ends."""
        return triangle_lines(self.stance, self.cg)

    @property
    def side_lines(self) -> dict[tuple[int, int], TippingLine]:
        """Those two of them that end at the third point."""
        return {ends: line for ends, line in self.lines.items() if THIRD in ends}

    @property
    def track_mm(self) -> float:
        """Between the middles of the main wheels."""
        return float(self.feet[RIGHT].centre[1] - self.feet[LEFT].centre[1])

    @property
    def axle_mm(self) -> float:
        """Station of the main axle."""
        return float(self.feet[RIGHT].centre[0])

    @property
    def main_height_mm(self) -> float:
        """From the thrust line down to the bottom of the main wheels, as the design states it."""
        return float(self.feet[RIGHT].radius_mm - self.feet[RIGHT].centre[2])

    def with_cg(self, cg: Array) -> Standing:
        """The balance point elsewhere."""
        x, y, z = (float(v) for v in cg)
        return replace(self, cg=(x, y, z))

    def lowered(self, by_mm: float) -> Standing:
        """The balance point lower."""
        return self.with_cg(np.array(self.cg) - (0.0, 0.0, by_mm))

    def with_track(self, track_mm: float) -> Standing:
        """The main wheels further apart, or nearer."""
        return self._shifted(0.0, 0.0, (track_mm - self.track_mm) / 2.0)

    def with_axle(self, station_mm: float) -> Standing:
        """The main wheels further aft, or forward."""
        return self._shifted(station_mm - self.axle_mm, 0.0)

    def with_height(self, height_mm: float, third_too: bool) -> Standing:
        """The main wheels lower, or higher; the third point with them if asked."""
        dz = self.main_height_mm - height_mm
        changed = self._shifted(0.0, dz)
        if not third_too:
            return changed
        right, left, third = changed.feet
        return replace(changed, feet=(right, left, third.moved((0.0, 0.0, dz))))

    def with_third(self, shift_mm: float) -> Standing:
        """The third point further aft, or forward."""
        right, left, third = self.feet
        return replace(self, feet=(right, left, third.moved((shift_mm, 0.0, 0.0))))

    def with_bump(self, height_mm: float, foot: int = RIGHT) -> Standing:
        """A bump under one foot."""
        bumps = [0.0, 0.0, 0.0]
        bumps[foot] = height_mm
        return replace(self, bumps_mm=(bumps[0], bumps[1], bumps[2]))

    def _shifted(self, dx_mm: float, dz_mm: float, out_mm: float = 0.0) -> Standing:
        right, left, third = self.feet
        feet = (right.moved((dx_mm, out_mm, dz_mm)), left.moved((dx_mm, -out_mm, dz_mm)), third)
        x, y, z = self.cg
        return replace(self, feet=feet, cg=(x + self.main_share * dx_mm, y, z + self.main_share * dz_mm))


def standing(aeroplane: Aeroplane) -> Standing | None:
    """The aeroplane on its gear; None for one that lands on its belly."""
    contacts = aeroplane.contacts
    if not contacts:
        return None
    right, left, third = (_foot(aeroplane, name, point) for name, point in contacts.items())
    total = aeroplane.statement.whole.mass
    return Standing((right, left, third), aeroplane.cg_mm, total, _main_share(aeroplane))


def _foot(aeroplane: Aeroplane, name: str, contact: Point) -> Foot:
    radius = wheel_radius_mm(aeroplane.design, name)
    if radius is not None:
        x, y, z = contact
        return Foot(name, ((x, y, z + radius),), radius)
    skid = next(part for part in aeroplane.parts if part.name == name)
    assert isinstance(skid.shape, Wire)
    path = skid.place.apply(path_of(skid.shape, arc_beams=16))
    points = tuple((float(x), float(y), float(z)) for x, y, z in path)
    return Foot(name, points, skid.shape.diameter_mm / 2.0, axle=None)


def wheel_radius_mm(design: Design, name: str) -> float | None:
    """Of the wheel with a contact point's name; None for a skid."""
    gear = design.gear
    if name.startswith(WHEEL):
        wheel = gear.wheel
    elif gear.arrangement == "nose wheel":
        wheel = gear.nose_wheel.wheel if gear.nose_wheel is not None else None
    else:
        wheel = gear.tail_wheel.wheel if gear.tail_wheel is not None else None
    return wheel.diameter_mm / 2.0 if wheel is not None else None


def _main_share(aeroplane: Aeroplane) -> float:
    moving = 0.0
    for entry in aeroplane.statement.entries:
        if entry.part.name.startswith(WHEEL):
            moving += entry.mass_g
        elif entry.part.name.startswith(_HALF_MOVING):
            moving += entry.mass_g / 2.0
    return moving / aeroplane.statement.whole.mass
