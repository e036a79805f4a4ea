"""Findings on nosing over and tipping back: where the wheels stand fore and aft of the balance point.

Geometry with a handbook's limit may fail; our own ranges, and whatever rests on an estimate, only caution.
"""

from __future__ import annotations

from math import degrees, isfinite

from airframe import units
from airframe.checks.attitude import strike_deg
from airframe.checks.finding import Finding, Limit
from airframe.checks.nosing_remedies import RESERVE_DEG, RESERVE_N, RESERVE_PERCENT, Fore, Nose, mended
from airframe.checks.standing import THIRD, Standing
from airframe.checks.tipping import drag_to_nose_over, line_angle_deg, thrust_to_nose_over_n

BEST_NOSE_PERCENT = (8.0, 15.0)
"""Share of the weight on a nose wheel that steers best: Raymer, ch. 11 (secondary)."""
_RAYMER = "Raymer, Aircraft Design, ch. 11 (secondary)"


def findings(standing: Standing, nose: Nose) -> list[Finding]:
    """Of an aeroplane that stands on its gear."""
    is_nose_wheel = nose.design.gear.arrangement == "nose wheel"
    asked = [_tip_back(standing, nose), _nose_load(standing, nose)] if is_nose_wheel else _tail_wheel(standing, nose)
    asked += [_nose_over(standing, nose), *_full_throttle(standing, nose)]
    return [_answered(one, asked, standing, nose) for one in asked]


# --- the questions --------------------------------------------------------------------------------------


def _tail_wheel(standing: Standing, nose: Nose) -> list[Fore]:
    limits = nose.design.limits.ground
    low, high = degrees(limits.wheel_line_low_rad), degrees(limits.wheel_line_high_rad)
    ahead = standing.cg[0] - standing.axle_mm
    message = (
        f"The main wheels stand {units.length(ahead, nose.design.units)} ahead of the balance point, "
        f"{line_angle_deg(standing):.1f} deg from the upright with the fuselage level; "
        f"{low:.0f} to {high:.0f} deg is right: less noses over, more swerves."
    )
    line = Fore(
        "ground.wheel-line", line_angle_deg, "deg", lambda _: (low, None), "fail", message, _RAYMER, (low, high)
    )
    share_low, share_high = 100.0 * limits.tail_load_low_share, 100.0 * limits.tail_load_high_share
    load = Fore(
        "ground.third-load",
        _third_percent,
        "%",
        lambda _: (share_low, share_high),
        "caution",
        _load_message(standing, nose, f"{share_low:.0f} to {share_high:.0f} % is wanted"),
        "limits.ground.tail_load_low and tail_load_high are our choice",
        reserve=RESERVE_PERCENT,
    )
    return [line, load]


def _tip_back(standing: Standing, nose: Nose) -> Fore:
    limits = nose.design.limits.ground
    least, high = degrees(limits.tip_back_low_rad), degrees(limits.tip_back_high_rad)

    def limit(one: Standing) -> Limit:
        strike = strike_deg(one, nose.points)
        return (max(least, strike) if isfinite(strike) else least, None)

    low = limit(standing)[0] or least
    behind = standing.axle_mm - standing.cg[0]
    message = (
        f"The main wheels stand {units.length(behind, nose.design.units)} behind the balance point, "
        f"{-line_angle_deg(standing):.1f} deg from the upright with the fuselage level; at least {low:.1f} deg keeps "
        f"it off its tail, more than {max(high, low):.0f} deg makes the nose hard to lift."
    )
    caution = (None, max(high, low + 4.0 * RESERVE_DEG))
    return Fore("ground.tip-back", _back_deg, "deg", limit, "fail", message, _RAYMER, caution)


def _back_deg(standing: Standing) -> float:
    return -line_angle_deg(standing)


def _nose_load(standing: Standing, nose: Nose) -> Fore:
    limits = nose.design.limits.ground
    low, high = 100.0 * limits.nose_load_low_share, 100.0 * limits.nose_load_high_share
    best = (max(BEST_NOSE_PERCENT[0], low), min(BEST_NOSE_PERCENT[1], high))
    message = _load_message(
        standing, nose, f"{best[0]:.0f} to {best[1]:.0f} % is best, {low:.0f} to {high:.0f} % the limits"
    )
    return Fore(
        "ground.third-load", _third_percent, "%", lambda _: (low, high), "fail", message, _RAYMER, best, RESERVE_PERCENT
    )


def _third_percent(standing: Standing) -> float:
    return 100.0 * standing.shares[THIRD]


def _load_message(standing: Standing, nose: Nose, wanted: str) -> str:
    share = standing.shares[THIRD]
    load = units.force(share * standing.weight_n, nose.design.units)
    return f"The {standing.feet[THIRD].name} carries {load}, {share:.1%} of the weight; {wanted}."


def _nose_over(standing: Standing, nose: Nose) -> Fore:
    low = 100.0 * nose.design.limits.ground.grass_drag_share
    is_nose_wheel = nose.design.gear.arrangement == "nose wheel"

    def percent(one: Standing) -> float:
        return 100.0 * drag_to_nose_over(one, is_nose_wheel)

    how = "it tips over its nose wheel" if is_nose_wheel else "with the tail up, it noses over"
    message = (
        f"Estimate: when grass or brakes drag at the wheels with {percent(standing):.0f} % of the weight, {how}; "
        f"soft grass may drag with {low:.0f} %."
    )
    source = "moments about the wheels' contact; limits.ground.grass_drag is an estimate, no source"
    return Fore(
        "ground.nose-over", percent, "%", lambda _: (low, None), "caution", message, source, reserve=RESERVE_PERCENT
    )


def _full_throttle(standing: Standing, nose: Nose) -> list[Fore]:
    pulls = nose.thrust
    if pulls is None:
        return []

    def newtons(one: Standing) -> float:
        return thrust_to_nose_over_n(one, nose.hub, nose.pull)

    system, low = nose.design.units, pulls.newtons
    needed = newtons(standing)
    holds = (
        f"a thrust of {units.force(needed, system)} noses it over" if isfinite(needed) else "no thrust noses it over"
    )
    message = f"Estimate: with the wheels held, {holds}; full throttle gives {units.force(low, system)} ({pulls.how})."
    source = "moments about the wheels' contact, no help from the elevator; thrust is an estimate"
    return [
        Fore("ground.full-throttle", newtons, "N", lambda _: (low, None), "caution", message, source, reserve=RESERVE_N)
    ]


def _answered(asked: Fore, every: list[Fore], standing: Standing, nose: Nose) -> Finding:
    value, limit, found = asked.value(standing), asked.limit(standing), asked.judged(standing)
    ends = [own if own is not None else other for own, other in zip(limit, asked.caution, strict=True)]
    shown = [round(end, 4) if end is not None else None for end in ends]
    return Finding(
        asked.code,
        found,
        round(value, 4) if isfinite(value) else None,
        asked.unit,
        (shown[0], shown[1]),
        asked.message,
        asked.source,
        () if found == "pass" else mended(asked, every, standing, nose, found == "fail"),
        tuple(foot.name for foot in standing.feet),
    )
