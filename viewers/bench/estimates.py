"""The numbers of flight beside the model: estimates all, each with its band."""

from __future__ import annotations

from airframe import units
from airframe.flight.bands import Band
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import NEUTRAL_POINT_SHARE, Flight
from airframe.model import Aeroplane
from airframe.units import System
from viewers.bench.numbers import Figure, Words


def estimates(aeroplane: Aeroplane) -> tuple[Figure, ...]:
    """How slowly it may fly, how steadily, and what its power does; None where the design does not state enough."""
    flight = aeroplane.flight
    return (
        _banded("stall", "stall speed", flight.stall_m_s, "m/s", units.speed),
        Figure("slow-cruise", "slow cruise, 1.3 times that: estimate", flight.cruise_m_s, "m/s", units.speed),
        _margin(flight),
        Figure("spiral", "spiral rule, above 5 a bank dies away: rule of thumb", _spiral(flight), "", _plain),
        *_power(flight),
    )


def _banded(code: str, label: str, band: Band | None, unit: str, words: Words) -> Figure:
    ends = None if band is None else (band.low, band.high)
    return Figure(code, f"{label}: estimate", None if band is None else band.middle, unit, words, band=ends)


def _margin(flight: Flight) -> Figure:
    try:
        margin = flight.static_margin()
    except NoTrimError:
        return _banded("static-margin", "static margin", None, "%", _percent)
    spread = NEUTRAL_POINT_SHARE
    return _banded(
        "static-margin", "static margin", Band(margin - spread, margin, margin + spread).times(100.0), "%", _percent
    )


def _spiral(flight: Flight) -> float | None:
    try:
        return flight.spiral_rule
    except NoTrimError:
        return None


def _power(flight: Flight) -> tuple[Figure, ...]:
    figures = flight.power()
    thrust = None if isinstance(figures, str) else figures.thrust_to_weight
    time = None if isinstance(figures, str) else figures.cruise_time_s
    return (
        _banded("thrust-to-weight", "thrust over weight, standing", thrust, "", _plain),
        _banded("endurance", "time in the air at slow cruise", time, "s", _minutes),
    )


def _percent(value: float, system: System) -> str:
    return f"{value:.0f} %"


def _plain(value: float, system: System) -> str:
    return f"{value:.1f}"


def _minutes(value_s: float, system: System) -> str:
    return f"{value_s / 60.0:.0f} min"
