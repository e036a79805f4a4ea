"""Findings on how the aeroplane sits: nose up on a tail wheel, and how far a nose wheel may lift."""

from __future__ import annotations

from collections.abc import Callable
from math import degrees, inf, isfinite

from airframe.axes import Array
from airframe.checks import changes, remedies, rounding
from airframe.checks.contact import pitch_at_touch
from airframe.checks.finding import Finding, Remedy, Verdict, verdict
from airframe.checks.standing import RIGHT, Standing
from airframe.schema.design import Design

TALLEST = 2.0
"""Tallest gear that is tried, in present heights; the lowest is one over it."""


def strike_deg(standing: Standing, points: Array) -> float:
    """The pitch, from level, at which the first point behind the main wheels touches; infinite if none does."""
    return degrees(float(pitch_at_touch(points, standing.feet[RIGHT], behind=True).min(initial=inf)))


def strike(standing: Standing, design: Design, points: Array) -> Finding:
    """How far a nose-wheel aeroplane's nose lifts before something behind the main wheels touches."""
    low = degrees(design.limits.ground.tail_strike_rad)
    value = strike_deg(standing, points)
    passes = value >= low
    message = (
        f"The tail touches the ground when the nose is lifted {value:.1f} deg from level; {low:.0f} deg is wanted."
    )
    if not isfinite(value):
        message = "Nothing behind the main wheels can touch the ground."
    return Finding(
        "ground.tail-strike",
        "pass" if passes else "caution",
        round(value, 4) if isfinite(value) else None,
        "deg",
        (low, None),
        message,
        "the model's own points behind the main wheels; limits.ground.tail_strike is our choice",
        () if passes else _taller(standing, design, lambda one: strike_deg(one, points) >= low),
    )


def attitude(standing: Standing, design: Design) -> Finding:
    """How a tail-wheel aeroplane sits."""
    limits = design.limits.ground
    limit = (degrees(limits.tail_down_low_rad), degrees(limits.tail_down_high_rad))
    value = degrees(standing.stance.pitch_rad)
    found: Verdict = "caution" if verdict(value, limit) == "fail" else "pass"
    message = (
        f"It sits {value:.1f} deg nose up on its wheels; {limit[0]:.0f} to {limit[1]:.0f} deg lets it lift off and "
        "land near the stall."
    )
    return Finding(
        "ground.attitude",
        found,
        round(value, 4),
        "deg",
        limit,
        message,
        "Raymer, Aircraft Design, ch. 11 (secondary): 10 to 15 deg; limits.ground.tail_down_low and tail_down_high are "
        "two degrees wider: our choice",
        () if found == "pass" else _sit(standing, design, limit),
    )


def _sit(standing: Standing, design: Design, limit: tuple[float, float]) -> tuple[Remedy, ...]:
    """Main wheels further down or up until it sits within the limits."""

    def pitch(one: Standing) -> float:
        return degrees(one.stance.pitch_rad)

    if pitch(standing) < limit[0]:
        return _taller(standing, design, lambda one: pitch(one) >= limit[0])
    height = remedies.least_change(
        lambda value: pitch(standing.with_height(value, False)) <= limit[1],
        standing.main_height_mm,
        standing.main_height_mm / TALLEST,
    )
    if height is None:
        return ()
    typed = rounding.less(height, design.units)
    return (Remedy(f"shorten the gear to a height of {typed}", (changes.setting("gear.height", typed),)),)


def _taller(standing: Standing, design: Design, passes: Callable[[Standing], bool]) -> tuple[Remedy, ...]:
    is_nose_wheel = design.gear.arrangement == "nose wheel"
    now = standing.main_height_mm
    height = remedies.least_change(lambda value: passes(standing.with_height(value, is_nose_wheel)), now, TALLEST * now)
    if height is None:
        return ()
    typed = rounding.more(height, design.units)
    settings = remedies.height_settings(design, typed, now - height, rounding.more)
    return (Remedy(f"lengthen the gear to a height of {typed}", settings),)
