"""Findings on nosing over and tipping back: where the wheels stand fore and aft of the balance point.

Geometry with a handbook's limit may fail; our own ranges, and whatever rests on an estimate, only caution.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees, isfinite

import numpy as np

from airframe import units
from airframe.axes import Array, Point
from airframe.checks import remedies
from airframe.checks.attitude import strike_deg
from airframe.checks.contact import level_forward, tipping_line, wheel_line_rad
from airframe.checks.finding import Finding, Limit, Remedy, Verdict, verdict
from airframe.checks.standing import LEFT, RIGHT, THIRD, Standing
from airframe.checks.thrust import Thrust
from airframe.schema.design import Design

STEP_MM = 1.0
REACH_MM = 150.0
"""Axle stations that are tried as a remedy: every step, so far each way."""
RESERVE_DEG, RESERVE_PERCENT, RESERVE_N = 0.4, 0.4, 0.05
"""How far within its limit a remedy must bring a value: what else the change does is left out of the sums."""
BEST_NOSE_PERCENT = (8.0, 15.0)
"""Share of the weight on a nose wheel that steers best: Raymer, ch. 11 (secondary)."""
_RAYMER = "Raymer, Aircraft Design, ch. 11 (secondary)"


@dataclass(frozen=True, eq=False)
class Fore:
    """One question on the fore-and-aft place of the wheels."""

    code: str
    value: Callable[[Standing], float]
    unit: str
    limit: Callable[[Standing], Limit]
    """Of a standing: a tail strike moves with the wheels."""
    when_outside: Verdict
    message: str
    source: str
    caution: Limit = (None, None)
    reserve: float = RESERVE_DEG

    def passes(self, standing: Standing) -> bool:
        """Whether another standing keeps the limits, with the reserve to spare."""
        value = self.value(standing)
        bounds = (self.limit(standing), self.caution)
        return all(
            (low is None or value >= low + self.reserve) and (high is None or value <= high - self.reserve)
            for low, high in bounds
        )


@dataclass(frozen=True, eq=False)
class Nose:
    """What the questions need to know besides the standing."""

    design: Design
    points: Array
    """Of everything but the main wheels, (n, 3): what may strike the ground."""
    thrust: Thrust | None
    hub: Point
    """Middle of the propeller."""
    pull: Point
    """Unit vector of its thrust."""
    least_height_mm: float
    """No remedy asks for a lower gear."""


def findings(standing: Standing, nose: Nose) -> list[Finding]:
    """Of an aeroplane that stands on its gear."""
    is_nose_wheel = nose.design.gear.arrangement == "nose wheel"
    asked = [_tip_back(standing, nose), _nose_load(standing, nose)] if is_nose_wheel else _tail_wheel(standing, nose)
    asked += [_nose_over(standing, nose), *_full_throttle(standing, nose)]
    return [_answered(one, asked, standing, nose) for one in asked]


# --- sums -----------------------------------------------------------------------------------------------


def line_angle_deg(standing: Standing) -> float:
    """From the upright at the main wheels' contact back to the balance point, thrust line level."""
    level = standing.level
    return degrees(wheel_line_rad((level.points[RIGHT] + level.points[LEFT]) / 2.0, standing.cg, level.up))


def drag_to_nose_over(standing: Standing, is_nose_wheel: bool) -> float:
    """Drag on the wheels, in weights, that tips it forward.

    Tail wheel: over the main wheels with the tail up, thrust line level. Nose wheel: over the nose wheel, as it stands.
    """
    if is_nose_wheel:
        forward = level_forward(standing.stance.up)
        return max(line.force_to_tip(forward) for line in standing.side_lines.values())
    level = standing.level
    line = tipping_line(level.points[RIGHT], level.points[LEFT], standing.cg, level.up)
    return line.force_to_tip(level_forward(level.up))


def thrust_to_nose_over_n(standing: Standing, hub: Point, pull: Point) -> float:
    """Thrust that tips it forward from where it stands, wheels held."""
    weights = min(line.force_to_tip(pull, hub) for line in standing.lines.values())
    return weights * standing.weight_n


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
        _load_message(standing, nose, f"{share_low:.0f} to {share_high:.0f} %"),
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
    message = _load_message(standing, nose, f"{low:.0f} to {high:.0f} %")
    return Fore(
        "ground.third-load", _third_percent, "%", lambda _: (low, high), "fail", message, _RAYMER, best, RESERVE_PERCENT
    )


def _third_percent(standing: Standing) -> float:
    return 100.0 * standing.shares[THIRD]


def _load_message(standing: Standing, nose: Nose, wanted: str) -> str:
    share = standing.shares[THIRD]
    load = units.force(share * standing.weight_n, nose.design.units)
    return f"The {standing.feet[THIRD].name} carries {load}, {share:.1%} of the weight; {wanted} is wanted."


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
    value, limit = asked.value(standing), asked.limit(standing)
    found = verdict(value, limit, asked.caution)
    if found == "fail":
        found = asked.when_outside
    shown = tuple(own if own is not None else other for own, other in zip(limit, asked.caution, strict=True))
    return Finding(
        asked.code,
        found,
        round(value, 4) if isfinite(value) else None,
        asked.unit,
        (shown[0], shown[1]),
        asked.message,
        asked.source,
        () if found == "pass" else _remedies(asked, every, standing, nose),
        tuple(foot.name for foot in standing.feet),
    )


# --- remedies -------------------------------------------------------------------------------------------


def _remedies(asked: Fore, every: list[Fore], standing: Standing, nose: Nose) -> tuple[Remedy, ...]:
    """What mends one question: the nearest axle station that spoils no other, or, where it fails, that mends it."""
    design = nose.design
    if asked.code == "ground.full-throttle":
        return _throttle(asked, standing, nose)
    is_nose_wheel = design.gear.arrangement == "nose wheel"
    if asked.code == "ground.nose-over" and is_nose_wheel:
        return _nose_wheel_forward(asked, standing, nose)
    others = [one for one in every if one is not asked and one.passes(standing)]
    result = [_axle(lambda one: all(other.passes(one) for other in (asked, *others)), standing, design)]
    if result[0] is None and asked.when_outside == "fail":
        result = [_axle(asked.passes, standing, design)]
    if asked.code == "ground.tip-back":
        result.append(_lower_gear(asked, standing, nose))
    result.append(_move_balance(asked, standing, design))
    return tuple(remedy for remedy in result if remedy is not None)


def _axle(passes: Callable[[Standing], bool], standing: Standing, design: Design) -> Remedy | None:
    station = remedies.first_that_passes(
        lambda value: passes(standing.with_axle(value)), standing.axle_mm, STEP_MM, REACH_MM
    )
    if station is None:
        return None
    typed = remedies.near(station, design.units)
    return Remedy(f"move the main axle to station {typed}", (remedies.setting("gear.axle_station", typed),))


def _throttle(asked: Fore, standing: Standing, nose: Nose) -> tuple[Remedy, ...]:
    """No key makes it right: the pilot opens the throttle gently."""
    assert nose.thrust is not None
    share = asked.value(standing) / nose.thrust.newtons
    return (Remedy(f"open the throttle to no more than {share:.0%} of full thrust until it rolls, elevator up"),)


def _lower_gear(asked: Fore, standing: Standing, nose: Nose) -> Remedy | None:
    now = standing.main_height_mm
    if nose.least_height_mm >= now:
        return None
    height = remedies.least_change(
        lambda value: asked.passes(standing.with_height(value, True)), now, nose.least_height_mm
    )
    if height is None:
        return None
    typed = remedies.less(height, nose.design.units)
    settings = remedies.height_settings(nose.design, typed, now - height, remedies.less)
    return Remedy(f"shorten the gear to a height of {typed}", settings)


def _move_balance(asked: Fore, standing: Standing, design: Design) -> Remedy | None:
    """How far the balance point itself would have to move."""
    x, y, z = standing.cg
    station = remedies.first_that_passes(
        lambda value: asked.passes(standing.with_cg(np.array([value, y, z]))), x, STEP_MM, REACH_MM
    )
    if station is None:
        return None
    way = "aft" if station > x else "forward"
    return Remedy(f"move the balance point {way} by {units.length(abs(station - x), design.units)}")


def _nose_wheel_forward(asked: Fore, standing: Standing, nose: Nose) -> tuple[Remedy, ...]:
    shift = remedies.least_change(lambda value: asked.passes(standing.with_third(value)), 0.0, -REACH_MM)
    if shift is None or nose.design.gear.nose_wheel is None:
        return ()
    typed = remedies.less(nose.design.gear.nose_wheel.axle_station_mm + shift, nose.design.units)
    setting = remedies.setting("gear.nose_wheel.axle_station", typed)
    return (Remedy(f"move the nose wheel forward to station {typed}", (setting,)),)
