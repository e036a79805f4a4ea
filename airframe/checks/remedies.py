"""Numbers for remedies: the least change that passes."""

from __future__ import annotations

from collections.abc import Callable

from airframe.checks.changes import setting
from airframe.schema.design import Design
from airframe.units import System

_ROUNDS = 24
"""Halvings of the interval: to a ten-thousandth of a millimetre of any length."""


def least_change(passes: Callable[[float], bool], start: float, end: float) -> float | None:
    """The value nearest to `start` that passes, on the way to `end`; None if not even `end` does.

    By bisection: what passes once on the way must pass from there on.
    """
    if not passes(end):
        return None
    for _ in range(_ROUNDS):
        middle = (start + end) / 2.0
        start, end = (start, middle) if passes(middle) else (middle, end)
    return end


def first_that_passes(passes: Callable[[float], bool], start: float, step: float, reach: float) -> float | None:
    """The nearest of start +- step, start +- 2 step, ... that passes, up to `reach` away; None if none does."""
    for count in range(1, int(reach / step) + 1):
        for value in (start + count * step, start - count * step):
            if passes(value):
                return value
    return None


def height_settings(
    design: Design, typed: str, less_mm: float, rounded: Callable[[float, System], str]
) -> tuple[str, ...]:
    """The --set lines of another gear height; a nose wheel goes down or up as much as the main wheels do."""
    nose = design.gear.nose_wheel
    main = setting("gear.height", typed)
    if design.gear.arrangement != "nose wheel" or nose is None:
        return (main,)
    return main, setting("gear.nose_wheel.height", rounded(nose.height_mm - less_mm, design.units))
