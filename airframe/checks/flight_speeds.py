"""Findings on speed: the stall, and how light it flies for its size."""

from __future__ import annotations

from airframe import units
from airframe.balance.target import target
from airframe.checks.finding import PRACTICE, Finding, Remedy, Verdict
from airframe.drawing import PartError
from airframe.flight.bands import Band
from airframe.flight.loading import Slowest
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.model import Aeroplane

_STALL = "largest lift of thin plates at low speed, published tests (low confidence): an estimate"


def findings(aeroplane: Aeroplane, flight: Flight, with_ends: bool = True) -> list[Finding]:
    """Both. Without the ends of the balance range, which cost a search each, where the stall is only told."""
    return [_stall(aeroplane, flight, with_ends), _loading(aeroplane, flight)]


def spread(band: Band, system: units.System) -> str:
    """A speed with its band: "7.5 m/s (7.2 m/s to 7.9 m/s)"."""
    return f"{units.speed(band.middle, system)} ({units.speed(band.low, system)} to {units.speed(band.high, system)})"


def _stall(aeroplane: Aeroplane, flight: Flight, with_ends: bool) -> Finding:
    """Against the builder's own limit; only told where there is none.

    Judged by the wing's stall, or by where the elevator gives out before it at an end of the balance range.
    """
    limit, system, stall = aeroplane.design.limits.flight.stall_speed_m_s, aeroplane.design.units, flight.stall_m_s
    ends = _ends(aeroplane, flight) if with_ends or limit is not None else {}
    value = max([stall.middle, *(one.trim.speed_m_s for one in ends.values() if one.limit == "elevator")])
    judged: Verdict = "info" if limit is None else "pass" if value <= limit else "caution"
    message = f"Estimate: it stalls at {spread(stall, system)}, in level flight{_told(ends, system)}."
    mends: tuple[Remedy, ...] = ()
    if judged == "caution" and limit is not None:
        mass_g = flight.whole.mass * (limit / value) ** 2
        mends = (Remedy(f"bring it down to about {units.mass(mass_g, system)}, or give it a larger wing"),)
    return Finding("flight.stall", judged, round(value, 4), "m/s", (None, limit), message, _STALL, mends)


def _ends(aeroplane: Aeroplane, flight: Flight) -> dict[str, Slowest]:
    """The slowest level flight with the balance point at either end of its range; nothing where it is not held."""
    try:
        found = target(aeroplane.layout, lambda: flight.neutral_point_mm)
        return {"forward": flight.slowest(found.forward_mm), "aft": flight.slowest(found.aft_mm)}
    except (NoTrimError, PartError):
        return {}


def _told(ends: dict[str, Slowest], system: units.System) -> str:
    """Both ends in words: where a part of the wing lets go, or the elevator is fully up."""
    words = []
    for name, one in ends.items():
        what = "the elevator is fully up" if one.limit == "elevator" else "some part of the wing lets go"
        words.append(f"balanced at the {name} end of its range {what} at {units.speed(one.trim.speed_m_s, system)}")
    return "".join(f"; {one}" for one in words)


def _loading(aeroplane: Aeroplane, flight: Flight) -> Finding:
    polar, system = flight.drags.likely, aeroplane.design.units
    value = polar.cubic_loading_kg_m3
    message = (
        f"Wing loading {units.wing_loading(polar.wing_loading_kg_m2, system)}; mass over area to the power of 1.5, "
        f"which compares large and small, is {units.cubic_loading(value, system)}: below 5 floats, 5 to 8 is gentle, "
        "above 10 is fast."
    )
    return Finding("flight.loading", "info", round(value, 4), "kg/m³", (None, None), message, PRACTICE)
