"""Steady straight flight: incidence, elevator and thrust that hold it; SI units, body axes; estimates.

The lattice knows no stall: whoever asks for a speed must ask the section's data whether the lift is to be had.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin, sqrt

import numpy as np

from airframe.axes import Array
from airframe.flight.air import Air
from airframe.flight.axes import M_PER_MM, BodyMass, to_body_axes
from airframe.flight.derivatives import Derivatives, derivatives
from airframe.flight.lattice import Loads
from airframe.flight.motion import LinearModel, linear_model
from airframe.layout import Layout
from airframe.units import STANDARD_GRAVITY_M_S2

MOST_STEPS = 30
CLOSE = 1e-10
"""What may be left of a force, as a share of the weight."""
GUESSED_SLOPE = 4.5
"""Lift slope a radian for the first guess of the incidence; any will do."""


class NoTrimError(ValueError):
    """No incidence, elevator and thrust hold the flight that was asked for."""


@dataclass(frozen=True, eq=False)
class ThrustLine:
    """Where the propeller pulls: a point (m, aeroplane's frame) and a unit vector forward (body axes)."""

    point_m: Array
    direction: Array

    def unit_wrench(self, about_m: Array) -> Array:
        """(6,) force and moment of one newton about a point of the aeroplane's frame; body axes."""
        arm = to_body_axes(self.point_m - about_m)
        return np.concatenate([self.direction, np.cross(arm, self.direction)])


def thrust_line(layout: Layout) -> ThrustLine:
    """As the firewall's side and down thrust point it."""
    place = layout.thrust_place
    return ThrustLine(np.array(place.origin) * M_PER_MM, to_body_axes(place.turn((-1.0, 0.0, 0.0))))


@dataclass(frozen=True, eq=False)
class Trim:
    """One state of steady straight flight, wings level."""

    speed_m_s: float
    incidence_rad: float
    """Of the aeroplane's x axis to the path, nose up."""
    elevator_rad: float
    """Trailing edge down."""
    thrust_n: float
    """Negative where it would have to brake."""
    climb_rad: float
    loads: Loads
    derivatives: Derivatives

    @property
    def motion(self) -> Array:
        """(6,) velocities and rates, body axes."""
        return _motion(self.speed_m_s, self.incidence_rad)

    @property
    def lift_coefficient(self) -> float:
        """C_L by the lattice."""
        return self.derivatives.value("C_L")


def level(air: Air, mass_kg: float, speed_m_s: float, thrust: ThrustLine, climb_rad: float = 0.0) -> Trim:
    """Steady flight at a speed along a path that climbs by an angle, by Newton's rule on the exact slopes.

    What side thrust does is left out. Raises NoTrimError where nothing is found.
    """
    weight = mass_kg * STANDARD_GRAVITY_M_S2
    pulls = thrust.unit_wrench(air.about_m)
    dynamic = 0.5 * air.density_kg_m3 * speed_m_s**2 * air.wing.area_m2
    x = np.array([weight / (dynamic * GUESSED_SLOPE), 0.0, 0.0])
    place = 6 + air.lattice.controls.index("elevator")
    for _ in range(MOST_STEPS):
        loads = air.loads(_motion(speed_m_s, x[0]), air.deflections(x[1]))
        pitch = x[0] + climb_rad
        left = (loads.wrench + x[2] * pulls)[[0, 2, 4]] + weight * np.array([-sin(pitch), cos(pitch), 0.0])
        if np.abs(left).max() < CLOSE * weight:
            return _trim(air, speed_m_s, x, climb_rad, loads)
        nosing = speed_m_s * np.array([-sin(x[0]), 0.0, cos(x[0])])
        by_incidence = loads.slopes[:, [0, 1, 2]] @ nosing
        by_incidence[[0, 2]] += weight * np.array([-cos(pitch), -sin(pitch)])
        slopes = np.column_stack([by_incidence, loads.slopes[:, place], pulls])[[0, 2, 4]]
        x = x - np.linalg.solve(slopes, left)
        if not np.all(np.isfinite(x)) or abs(x[0]) > 1.0:
            break
    raise NoTrimError("no incidence and elevator hold it at that speed")


def _trim(air: Air, speed_m_s: float, x: Array, climb_rad: float, loads: Loads) -> Trim:
    velocity = _motion(speed_m_s, x[0])[:3]
    found = derivatives(loads, velocity, air.density_kg_m3, air.wing, air.lattice.controls)
    return Trim(speed_m_s, float(x[0]), float(x[1]), float(x[2]), climb_rad, loads, found)


def speed_for_lift(air: Air, mass_kg: float, lift_coefficient: float) -> float:
    """Speed at which the weight asks for a lift coefficient on the wing's area, in level flight at small incidence."""
    return sqrt(2.0 * mass_kg * STANDARD_GRAVITY_M_S2 / (air.density_kg_m3 * air.wing.area_m2 * lift_coefficient))


def elevator_left(trim: Trim, throw_up_rad: float) -> float:
    """Up elevator still to be had, radians; negative where the trim asks for more than the throw."""
    return throw_up_rad + trim.elevator_rad


def neutral_point_mm(air: Air, trim: Trim) -> float:
    """Station of the neutral point, stick fixed, at a trim: balanced there the incidence makes no moment."""
    margin_m = trim.derivatives.static_margin * air.wing.mean_chord_m
    return float((air.about_m[0] + margin_m * cos(trim.incidence_rad)) / M_PER_MM)


def linear(air: Air, mass: BodyMass, trim: Trim, thrust: ThrustLine, thrust_slope_n_s_m: float = 0.0) -> LinearModel:
    """The linear model about a trim, with the full inertia tensor.

    `thrust_slope_n_s_m` is how thrust changes with speed along its line, negative for a propeller; 0 is a steady pull.
    """
    slopes = trim.loads.slopes.copy()
    slopes[:, :3] += thrust_slope_n_s_m * np.outer(thrust.unit_wrench(air.about_m), thrust.direction)
    lag = air.lag(trim.motion, air.deflections(trim.elevator_rad))
    pitch = trim.incidence_rad + trim.climb_rad
    return linear_model(mass.mass_kg, mass.inertia_kg_m2, slopes, trim.motion[:3], pitch, lag)


def _motion(speed_m_s: float, incidence_rad: float) -> Array:
    return speed_m_s * np.array([cos(incidence_rad), 0.0, sin(incidence_rad), 0.0, 0.0, 0.0])
