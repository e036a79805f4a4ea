"""Findings on holding a course: weathercock, turning by rudder, the spiral rule, and every motion left to itself."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import degrees, inf, log

from airframe import units
from airframe.checks.finding import Finding, Remedy, Verdict, verdict
from airframe.checks.flight_remedies import LATTICE, Remedies
from airframe.checks.flight_trial import Trial
from airframe.checks.rounding import short
from airframe.flight.modes import Mode
from airframe.flight.responses import KICK_RAD, QUICK_S
from airframe.flight.trim import Trim
from airframe.flight.whole import Flight
from airframe.model import Aeroplane
from airframe.schema.limits_flight import FlightLimits

WEATHERCOCK_SPREAD = 0.015
"""How far off the yawing slope may be, per radian: what the fuselage does to the fin is rough (our choice)."""
RATE_SPREAD_PER_S = 0.1
"""How far off a slow root may be: a spiral's is a small difference of large terms (our choice, no source)."""
RATE_SPREAD_SHARE = 0.2
"""How far off a quick one may be, as a share (our choice, no source)."""
RESERVE = 1.02
"""Times the limit, for what a remedy does to mass and balance."""
_RULE = "spiral rule and rudder rule (Drela, from memory, not found); dihedral by Beron-Rawdon's formula (from memory)"
_MOTIONS = f"{LATTICE}; linear model with the full inertia tensor"
_LIMITS = "4 s: MIL-F-8785C level 3 spiral (from memory); the rest is our choice"


def findings(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> list[Finding]:
    """All of them. Raises NoTrimError where nothing holds it level at slow cruise."""
    return [
        _weathercock(aeroplane, flight, mends),
        _spiral_rule(aeroplane, flight, mends),
        _rudder_roll(aeroplane, flight, mends),
        *(_motion(aeroplane, mode, mends) for mode in _worst_of_each(flight.modes)),
    ]


def weathercock(trim: Trim) -> float:
    """Slope of the yawing moment coefficient with the slip angle, per radian: positive turns the nose into the wind."""
    return trim.derivatives.slope("C_n", "beta")


def _weathercock(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> Finding:
    low, value = aeroplane.design.limits.flight.weathercock_low, weathercock(flight.cruise)
    judged = verdict(value, (0.0, None), (low, None))
    does = "turns its nose into the wind" if value > 0.0 else "turns its tail into the wind"
    how = ", but weakly" if judged == "caution" else ""
    message = (
        f"Estimate: in a slip it {does}{how} (slope {value:.3f} per radian, "
        f"{value - WEATHERCOCK_SPREAD:.3f} to {value + WEATHERCOCK_SPREAD:.3f})."
    )
    mended = () if judged == "pass" else mends.higher_fin(lambda trial: weathercock(trial.cruise) >= low * RESERVE)
    source = f"{LATTICE}; limits.flight.weathercock_low is our choice"
    return Finding("flight.weathercock", judged, round(value, 5), "", (low, None), message, source, mended, ("fin",))


def _spiral_rule(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> Finding:
    """For an aeroplane without ailerons: whether its dihedral is enough for its fin and span.

    The band is that of the stall speed, on which slow cruise stands, and of two loadings of the dihedral.
    """
    low, value = aeroplane.design.limits.flight.spiral_low, flight.spiral_rule
    even, ellipse = degrees(flight.dihedral.uniform_rad), degrees(flight.dihedral.elliptic_rad)
    speeds = [speed / flight.stall_m_s.middle for speed in (flight.stall_m_s.low, flight.stall_m_s.high)]
    loadings = (1.0, even / ellipse) if ellipse else (1.0,)
    found = sorted(value * speed**2 * loading for speed in speeds for loading in loadings)
    band = f"{short(found[0], 1)} to {short(found[-1], 1)}"
    does = "a bank dies away" if value >= low else "a bank grows: keep steering"
    message = (
        f"Estimate: its wing does as much as a plain V of {short(ellipse, 1)} deg to each side; arm times that "
        f"over span and lift is {short(value, 1)} ({band}): by the rule of thumb {does}."
    )
    judged, mended = _ruled(value, low, mends, lambda trial: trial.spiral_rule)
    return Finding("flight.spiral-rule", judged, round(value, 4), "", (low, None), message, _RULE, mended)


def _rudder_roll(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> Finding:
    """Whether the rudder, by way of the dihedral, can bank it: there are no ailerons."""
    low, value = aeroplane.design.limits.flight.rudder_roll_low, flight.rudder_figure
    does = "the rudder banks it well" if value >= low else "the rudder banks it poorly"
    message = (
        f"Estimate: it turns by rudder and dihedral; tail volume times spiral rule is {short(value, 2)}: {does}; "
        f"{_kicked(flight)}."
    )
    judged, mended = _ruled(value, low, mends, lambda trial: trial.volumes.vertical * trial.spiral_rule)
    return Finding("flight.rudder-roll", judged, round(value, 4), "", (low, None), message, _RULE, mended)


def _ruled(
    value: float, low: float, mends: Remedies, figure: Callable[[Trial], float]
) -> tuple[Verdict, tuple[Remedy, ...]]:
    """The verdict by a rule of thumb; below the limit, the dihedral that lifts the figure of a trial over it."""
    if value >= low:
        return "pass", ()
    return "caution", mends.more_dihedral(lambda trial: figure(trial) >= low * RESERVE)


def _kicked(flight: Flight) -> str:
    """What the linear model does with the rudder held to one side."""
    angle = degrees(min(KICK_RAD, flight.layout.design.tail.rudder.throw_rad))
    reached = flight.rudder_kick.bank_30_s
    banks = f"does not bank 30 deg within {QUICK_S:.0f} s" if reached is None else f"banks 30 deg in {reached:.1f} s"
    return f"with {angle:.0f} deg of rudder held it {banks}"


# --- motions ----------------------------------------------------------------------------------------------------


def _worst_of_each(found: Sequence[Mode]) -> list[Mode]:
    """One of each name: a motion that does not swing stands twice under its own."""
    worst: dict[str, Mode] = {}
    for mode in found:
        if mode.name not in worst or mode.root.real > worst[mode.name].root.real:
            worst[mode.name] = mode
    return list(worst.values())


def _motion(aeroplane: Aeroplane, mode: Mode, mends: Remedies) -> Finding:
    """The value is the time to double of a motion that grows; none of one that dies away."""
    limits = aeroplane.design.limits.flight
    judged = motion_verdict(mode, limits)
    value = round(mode.double_s, 4) if mode.double_s < inf else None
    message = f"Estimate, at slow cruise: it {motion_words(mode)}."
    mended = () if judged == "pass" else _calmer(aeroplane, mode, mends)
    bounds = (None, None) if value is None else (limits.doubling_s, None)
    return Finding(f"flight.motion: {mode.name}", judged, value, "s", bounds, message, f"{_MOTIONS}; {_LIMITS}", mended)


def motion_verdict(mode: Mode, limits: FlightLimits) -> Verdict:
    """Fails only where even the slow end of the band doubles too fast."""
    growth = mode.root.real
    if growth - spread_per_s(mode) > log(2.0) / limits.doubling_fail_s:
        return "fail"
    return "caution" if growth > log(2.0) / limits.doubling_s else "pass"


def spread_per_s(mode: Mode) -> float:
    """How far off its rate of growth or decay may be."""
    return max(RATE_SPREAD_PER_S, RATE_SPREAD_SHARE * abs(mode.root.real))


def motion_words(mode: Mode) -> str:
    """What there is to see, with the band where it matters."""
    return mode.words + _doubtful(mode)


def _doubtful(mode: Mode) -> str:
    """The band, where it reaches from dying away to growing or the motion grows."""
    slow, fast = (mode.root.real + way * spread_per_s(mode) for way in (-1.0, 1.0))
    if fast <= 0.0:
        return ""
    quickest = f"doubled in {units.duration(log(2.0) / fast)}"
    slowest = f"doubled in {units.duration(log(2.0) / slow)}" if slow > 0.0 else "dying away"
    return f" (by the band anything from {quickest} to {slowest})"


def _calmer(aeroplane: Aeroplane, mode: Mode, mends: Remedies) -> tuple[Remedy, ...]:
    """More dihedral for a spiral, more fin for a Dutch roll, where the linear model then lets it pass."""
    limits = aeroplane.design.limits.flight

    def passes(trial: Trial) -> bool:
        return all(motion_verdict(one, limits) == "pass" for one in trial.modes if one.name == mode.name)

    if mode.name in ("spiral", "roll and spiral"):
        return mends.more_dihedral(passes)
    return mends.higher_fin(passes) if mode.name == "Dutch roll" else ()
