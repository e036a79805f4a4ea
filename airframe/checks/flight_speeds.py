"""Findings on speed: the stall, and how light it flies for its size."""

from __future__ import annotations

from airframe import units
from airframe.checks.finding import PRACTICE, Finding, Remedy, Verdict
from airframe.flight.bands import Band
from airframe.flight.whole import Flight
from airframe.model import Aeroplane

_STALL = "largest lift of thin plates at low speed, published tests (low confidence): an estimate"


def findings(aeroplane: Aeroplane, flight: Flight) -> list[Finding]:
    """Both."""
    return [_stall(aeroplane, flight), _loading(aeroplane, flight)]


def spread(band: Band, system: units.System) -> str:
    """A speed with its band: "7.5 m/s (7.2 m/s to 7.9 m/s)"."""
    return f"{units.speed(band.middle, system)} ({units.speed(band.low, system)} to {units.speed(band.high, system)})"


def _stall(aeroplane: Aeroplane, flight: Flight) -> Finding:
    """Against the builder's own limit; only told where there is none."""
    limit, system, stall = aeroplane.design.limits.flight.stall_speed_m_s, aeroplane.design.units, flight.stall_m_s
    judged: Verdict = "info" if limit is None else "pass" if stall.middle <= limit else "caution"
    message = f"Estimate: it stalls at {spread(stall, system)}, in level flight."
    mends: tuple[Remedy, ...] = ()
    if judged == "caution" and limit is not None:
        mass_g = flight.whole.mass * (limit / stall.middle) ** 2
        mends = (Remedy(f"bring it down to about {units.mass(mass_g, system)}, or give it a larger wing"),)
    return Finding("flight.stall", judged, round(stall.middle, 4), "m/s", (None, limit), message, _STALL, mends)


def _loading(aeroplane: Aeroplane, flight: Flight) -> Finding:
    polar = flight.drags.likely
    value = polar.cubic_loading_kg_m3
    message = (
        f"Wing loading {aeroplane.wing_loading_g_dm2:.0f} g/dm²; mass over area to the power of 1.5, which compares "
        f"large and small, is {value:.1f} kg/m³: below 5 floats, 5 to 8 is gentle, above 10 is fast."
    )
    return Finding("flight.loading", "info", round(value, 4), "kg/m³", (None, None), message, PRACTICE)
