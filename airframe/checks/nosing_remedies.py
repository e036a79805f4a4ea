"""Remedies for nosing over and tipping back: axle stations, gear heights, balance."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from airframe import units
from airframe.axes import Array, Point
from airframe.checks import changes, remedies, rounding
from airframe.checks.finding import Limit, Remedy, Verdict, verdict
from airframe.checks.standing import Standing
from airframe.checks.thrust import Thrust
from airframe.schema.design import Design

STEP_MM = 1.0
REACH_MM = 150.0
"""Axle stations that are tried as a remedy: every step, so far each way."""
RESERVE_DEG, RESERVE_PERCENT, RESERVE_N = 0.4, 0.4, 0.05
"""How far within its limit a remedy must bring a value: what else the change does is left out of the sums."""


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

    def judged(self, standing: Standing) -> Verdict:
        """The verdict on a standing."""
        found = verdict(self.value(standing), self.limit(standing), self.caution)
        return self.when_outside if found == "fail" else found

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


def mended(asked: Fore, every: list[Fore], standing: Standing, nose: Nose, is_failing: bool) -> tuple[Remedy, ...]:
    """What mends one question: the nearest axle station that spoils no other, or, where it fails, that mends it."""
    design = nose.design
    if asked.code == "ground.full-throttle":
        return _throttle(asked, standing, nose)
    is_nose_wheel = design.gear.arrangement == "nose wheel"
    if asked.code == "ground.nose-over" and is_nose_wheel:
        return _nose_wheel_forward(asked, standing, nose)
    others = [one for one in every if one is not asked and one.passes(standing)]
    result = [_axle(lambda one: all(other.passes(one) for other in (asked, *others)), standing, design)]
    if result[0] is None and is_failing:
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
    typed = rounding.near(station, design.units)
    return Remedy(f"move the main axle to station {typed}", (changes.setting("gear.axle_station", typed),))


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
    typed = rounding.less(height, nose.design.units)
    settings = remedies.height_settings(nose.design, typed, now - height, rounding.less)
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
    typed = rounding.less(nose.design.gear.nose_wheel.axle_station_mm + shift, nose.design.units)
    setting = changes.setting("gear.nose_wheel.axle_station", typed)
    return (Remedy(f"move the nose wheel forward to station {typed}", (setting,)),)
