"""Numbers for remedies: the least change that passes, rounded to the safe side and written as a builder types it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from math import ceil, floor

from airframe.schema.design import Design
from airframe.units import MM_PER_INCH, System

RESERVE_MM = 1.5
"""Added before rounding: what a change does to mass and balance, and the equations leave out."""
_INCH_STEP = 0.05
_ROUNDS = 24
"""Halvings of the interval: to a ten-thousandth of a millimetre of any length."""
_PLAIN_KEY = re.compile(r"[A-Za-z0-9_-]+")


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


def more(value_mm: float, system: System) -> str:
    """The next whole millimetre, or twentieth of an inch, above a length and a reserve: "214 mm", "8.45 in"."""
    if system == "imperial":
        return _inches(ceil((value_mm + RESERVE_MM) / MM_PER_INCH / _INCH_STEP))
    return f"{ceil(value_mm + RESERVE_MM)} mm"


def less(value_mm: float, system: System) -> str:
    """The next whole millimetre, or twentieth of an inch, below a length less a reserve."""
    if system == "imperial":
        return _inches(floor((value_mm - RESERVE_MM) / MM_PER_INCH / _INCH_STEP))
    return f"{floor(value_mm - RESERVE_MM)} mm"


def near(value_mm: float, system: System) -> str:
    """The nearest whole millimetre, or twentieth of an inch."""
    if system == "imperial":
        return _inches(round(value_mm / MM_PER_INCH / _INCH_STEP))
    return f"{round(value_mm)} mm"


def thicker(value_mm: float, system: System) -> str:
    """The next size of wire: half millimetres, or thirty-seconds of an inch."""
    if system == "imperial":
        return f"{ceil(value_mm / MM_PER_INCH * 32.0)}/32 in"
    return f"{ceil(value_mm * 2.0) / 2.0:g} mm"


def _inches(steps: int) -> str:
    return f"{steps * _INCH_STEP:.2f}".rstrip("0").rstrip(".") + " in"


def setting(key: str, quantity: str) -> str:
    """A --set line."""
    return f'{key}="{quantity}"'


def item_key(name: str, field: str) -> str:
    """The key of an item of equipment; a name that is no bare word is quoted."""
    part = name if _PLAIN_KEY.fullmatch(name) else json.dumps(name, ensure_ascii=False)
    return f"equipment.{part}.{field}"


def height_settings(
    design: Design, typed: str, less_mm: float, rounded: Callable[[float, System], str]
) -> tuple[str, ...]:
    """The --set lines of another gear height; a nose wheel goes down or up as much as the main wheels do."""
    nose = design.gear.nose_wheel
    main = setting("gear.height", typed)
    if design.gear.arrangement != "nose wheel" or nose is None:
        return (main,)
    return main, setting("gear.nose_wheel.height", rounded(nose.height_mm - less_mm, design.units))
