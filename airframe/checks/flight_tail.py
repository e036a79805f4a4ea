"""Findings on the tail in flight: how much of it there is, and how much elevator is left."""

from __future__ import annotations

from math import ceil, degrees, radians

from airframe import units
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.flight_remedies import LATTICE, Remedies
from airframe.flight.bands import Band
from airframe.flight.performance import SLOW_CRUISE
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.model import Aeroplane

_VOLUMES = "areas times arms, Raymer eqs 6.26 to 6.29 (secondary); ranges: Drela (from memory), Raymer Table 6.4"
_ELEVATOR = f"{LATTICE}; limits.flight.elevator_left is our choice"
MOST_THROW_RAD = radians(35.0)
"""No elevator is proposed that moves more: beyond it the air does not follow (common practice, no source)."""


def findings(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> list[Finding]:
    """Tail volumes, and elevator left at slow cruise and at the stall."""
    stall = flight.stall_m_s
    return [
        _horizontal(aeroplane, flight, mends),
        _vertical(aeroplane, flight, mends),
        _elevator(aeroplane, flight, "slow cruise", stall.times(SLOW_CRUISE)),
        _elevator(aeroplane, flight, "stall", stall),
    ]


def _horizontal(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> Finding:
    limits, value = aeroplane.design.limits.flight, flight.air.volumes.horizontal
    low, high = limits.tail_volume_low, limits.tail_volume_high
    mended = mends.larger_tail(lambda trial: trial.volumes.horizontal >= low) if value < low else ()
    return _volume("horizontal", f"{value:.2f}", value, (low, high), mended)


def _vertical(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> Finding:
    limits, value = aeroplane.design.limits.flight, flight.air.volumes.vertical
    low, high = limits.fin_volume_low, limits.fin_volume_high
    mended = mends.higher_fin(lambda trial: trial.volumes.vertical >= low) if value < low else ()
    return _volume("vertical", f"{value:.3f}", value, (low, high), mended)


def _volume(which: str, shown: str, value: float, limit: tuple[float, float], mends: tuple[Remedy, ...]) -> Finding:
    """Too little cautions; more than usual is weight and drag, and only told."""
    low, high = limit
    judged: Verdict = "caution" if value < low else "info" if value > high else "pass"
    words = {"caution": "little: it wanders", "info": "more than usual: steady, but weight and drag", "pass": "usual"}
    name = "stabiliser" if which == "horizontal" else "fin"
    message = f"The {which} tail volume, area times arm of the {name} for such a wing, is {shown}: {words[judged]}."
    return Finding(f"flight.tail-volume: {which}", judged, round(value, 4), "", limit, message, _VOLUMES, mends)


def _elevator(aeroplane: Aeroplane, flight: Flight, when: str, speed_m_s: Band) -> Finding:
    """What is left, the lesser of up and down, over the band of the stall speed."""
    design = aeroplane.design
    tail, limit = design.tail.elevator, design.limits.flight.elevator_left_rad
    angles = [_angle(flight, speed) for speed in (speed_m_s.middle, speed_m_s.low, speed_m_s.high)]
    code, bounds = f"flight.elevator: {when}", (round(degrees(limit), 4), None)
    spoken = f"at {'the stall' if when == 'stall' else when} ({units.speed(speed_m_s.middle, design.units)})"
    if any(angle is None for angle in angles):
        message = f"Estimate: no elevator holds it level {spoken}."
        return Finding(code, "caution", None, "deg", bounds, message, _ELEVATOR, (), ("elevator",))
    found = [angle for angle in angles if angle is not None]
    left = [min(tail.throw_up_rad + angle, tail.throw_down_rad - angle) for angle in found]
    band = f"{degrees(min(left)):.0f} to {degrees(max(left)):.0f}"
    way = "down" if found[0] > 0.0 else "up"
    message = (
        f"Estimate: level flight {spoken} takes {abs(degrees(found[0])):.1f} deg of {way} elevator; "
        f"{degrees(left[0]):.0f} deg ({band}) is left to the nearer end of its throw."
    )
    judged: Verdict = "pass" if left[0] >= limit else "caution"
    mends = () if judged == "pass" else _more_throw(aeroplane, found[0], limit)
    return Finding(code, judged, round(degrees(left[0]), 4), "deg", bounds, message, _ELEVATOR, mends, ("elevator",))


def _angle(flight: Flight, speed_m_s: float) -> float | None:
    """Elevator that holds it level, down positive; None where none does."""
    try:
        return (flight.cruise if speed_m_s == flight.cruise_m_s else flight.trimmed(speed_m_s)).elevator_rad
    except NoTrimError:
        return None


def _more_throw(aeroplane: Aeroplane, angle: float, limit: float) -> tuple[Remedy, ...]:
    """Whole degrees of throw, both ways where both lack; nothing beyond what the air follows."""
    tail, system = aeroplane.design.tail.elevator, aeroplane.design.units
    wanted = {"throw_up_rad": limit - angle, "throw_down_rad": limit + angle}
    changes = [
        Change(("tail", "elevator", field), radians(ceil(degrees(value))))
        for field, value in wanted.items()
        if getattr(tail, field) < value
    ]
    if not changes or max(float(change.value) for change in changes) > MOST_THROW_RAD:
        return ()
    words = " and ".join(
        f"{change.written(system)} {'up' if 'up' in str(change.path[-1]) else 'down'}" for change in changes
    )
    return (Remedy(f"let the elevator move {words}", settings(changes, system)),)
