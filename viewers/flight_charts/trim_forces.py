"""What pulls, lifts and drags in steady level flight, piece by piece, and how their moments come to nothing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from airframe.axes import Array
from airframe.flight.air import Air
from airframe.flight.axes import M_PER_MM, to_body_axes
from airframe.flight.lattice import Loads
from airframe.flight.trim import Trim
from airframe.flight.whole import Flight
from airframe.units import STANDARD_GRAVITY_M_S2


@dataclass(frozen=True, eq=False)
class Push:
    """One force in the plane of symmetry; aeroplane's frame, fuselage as drawn."""

    name: str
    force_n: Array
    """(2,) aft and up."""
    at_mm: Array
    """(2,) station and water line where it acts."""
    moment_n_m: float
    """About the balance point, nose up."""


def pushes(flight: Flight, trim: Trim) -> tuple[Push, ...]:
    """Wing and tail (each square to the path: the lift), weight, drag, thrust, and the fuselage's bare moment last.

    They add up to nothing, force and moment, as far as the trim itself does.
    """
    air, about = flight.air, flight.air.about_m
    deflections = air.deflections(trim.elevator_rad)
    path = _path(trim)
    drag = air.loads(trim.motion, deflections).wrench
    found = []
    along = _plane(drag) @ path * path
    for name, surface in (("wing lift", "wing"), ("tail lift", "stabiliser")):
        loads = air.lattice.loads(trim.motion, deflections, air.density_kg_m3, about, air.lattice.panels.of(surface))
        found.append(_lift(air, surface, name, loads, path))
    weight = flight.mass_kg * STANDARD_GRAVITY_M_S2
    pitch = trim.incidence_rad + trim.climb_rad
    down = -weight * np.array([-np.sin(pitch), np.cos(pitch)])
    pull = trim.thrust_n * flight.thrust.unit_wrench(about)
    centre = about[[0, 2]] / M_PER_MM
    rest = drag[4] - sum(push.moment_n_m for push in found)
    return (
        *found,
        Push("weight", down, centre, 0.0),
        Push("drag", along, centre, 0.0),
        Push("thrust", _plane(pull), flight.thrust.point_m[[0, 2]] / M_PER_MM, float(pull[4])),
        Push("fuselage", _plane(drag) - along - np.sum([push.force_n for push in found], axis=0), centre, float(rest)),
    )


def _path(trim: Trim) -> Array:
    """(2,) unit vector aft along the path, in the aeroplane's frame."""
    velocity = to_body_axes(trim.motion[:3])[[0, 2]]
    against: Array = -velocity / np.linalg.norm(velocity)
    return against


def _plane(wrench: Array) -> Array:
    """(2,) force aft and up of a wrench in body axes."""
    flat: Array = to_body_axes(wrench[:3])[[0, 2]]
    return flat


def _lift(air: Air, surface: str, name: str, loads: Loads, path: Array) -> Push:
    """The part of a surface's force that is square to the path, where its line of action meets the surface's height."""
    force, moment = _plane(loads.wrench), float(loads.wrench[4])
    lift = force - force @ path * path
    mine = air.lattice.panels.of(surface)
    middle = air.lattice.panels.middle[mine]
    height = float(middle[:, 2].mean())
    arm_up = height - air.about_m[2]
    station = air.about_m[0] + (arm_up * lift[0] - moment) / lift[1]
    station = float(np.clip(station, middle[:, 0].min(), middle[:, 0].max()))
    return Push(name, lift, np.array([station, height]) / M_PER_MM, moment)
