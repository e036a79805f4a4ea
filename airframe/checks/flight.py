"""Findings in flight: balance, tail, course, speed, power, controls; every one of them an estimate.

Few of them fail: what a tail-heavy aeroplane, a motion that runs away or a current far beyond its limit would do is
sure enough; the rest cautions.
"""

from __future__ import annotations

from airframe.checks import flight_balance, flight_controls, flight_course, flight_power, flight_speeds, flight_tail
from airframe.checks.finding import Finding
from airframe.checks.flight_remedies import LATTICE, Remedies
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.model import Aeroplane


def findings(aeroplane: Aeroplane, with_remedies: bool = True) -> list[Finding]:
    """Every finding in flight, in the order a builder asks; what the design does not state is told, not asked.

    Without remedies those of wing and tail, which cost a lattice each, are left out.
    """
    flight = aeroplane.flight
    return [
        *_held(aeroplane, flight, Remedies(aeroplane, with_remedies)),
        *flight_speeds.findings(aeroplane, flight, with_remedies),
        *flight_power.findings(aeroplane, flight),
        *flight_controls.findings(aeroplane, flight),
    ]


def _held(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> list[Finding]:
    """What stands on level flight at slow cruise, if there is any."""
    try:
        _ = flight.cruise
    except NoTrimError as error:
        message = f"Estimate: at slow cruise it does not stay level: {error}."
        return [Finding("flight.level", "fail", None, "", (None, None), message, LATTICE)]
    asked = (flight_balance, flight_tail, flight_course)
    return [finding for module in asked for finding in module.findings(aeroplane, flight, mends)]
