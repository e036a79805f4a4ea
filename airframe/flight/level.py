"""Level flight from the stall up, speed by speed: what the wing lifts, the elevator holds and the motor pulls."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from airframe.flight.air import Air
from airframe.flight.bands import Band, around
from airframe.flight.power_figures import Drags
from airframe.flight.trim import NoTrimError, ThrustLine, Trim, elevator_left, level

TIMES_STALL = (1.0, 1.1, 1.3, 1.6, 2.0, 2.5)
"""Speeds told, as multiples of the stall speed; 1.3 is slow cruise."""


@dataclass(frozen=True)
class LevelPoint:
    """Level flight at one speed; SI units, estimates."""

    speed_m_s: float
    times_stall: float
    lift_coefficient: float
    incidence_rad: float | None
    """Of the aeroplane's x axis to the path; None, as for the elevator, where nothing holds it level."""
    elevator_rad: float | None
    """Trailing edge down."""
    elevator_left_rad: float | None
    """Up elevator still to be had; negative where the throw does not do."""
    drag_n: Band
    power_w: Band
    """To overcome the drag, before what propeller and motor lose."""
    sink_m_s: Band
    """With the motor stopped and no more drag for it."""
    glide: Band
    """Metres forward for each metre down."""


def level_flight(
    air: Air, mass_kg: float, thrust: ThrustLine, drags: Drags, speeds_m_s: Iterable[float], throw_up_rad: float
) -> tuple[LevelPoint, ...]:
    """Level flight at each speed; drag by the polars, trim by the lattice."""
    polars = (drags.likely, drags.slippery, drags.draggy)
    points = []
    for speed in speeds_m_s:
        held = _held(air, mass_kg, speed, thrust)
        drag = _band(polar.drag_n(speed) for polar in polars)
        points.append(
            LevelPoint(
                speed,
                speed / drags.likely.stall_speed_m_s,
                drags.likely.lift_coefficient(speed),
                None if held is None else held.incidence_rad,
                None if held is None else held.elevator_rad,
                None if held is None else elevator_left(held, throw_up_rad),
                drag,
                drag.times(speed),
                _band(polar.sink_m_s(speed) for polar in polars),
                _band(polar.glide_ratio(speed) for polar in polars),
            )
        )
    return tuple(points)


def _held(air: Air, mass_kg: float, speed_m_s: float, thrust: ThrustLine) -> Trim | None:
    try:
        return level(air, mass_kg, speed_m_s, thrust)
    except NoTrimError:
        return None


def _band(values: Iterable[float]) -> Band:
    likely, *others = values
    return around(likely, others)
