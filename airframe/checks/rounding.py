"""Lengths of remedies: rounded to the safe side, and written as a builder types them."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from airframe.units import MM_PER_INCH, System

STEP_IN = 0.05
"""Remedies are rounded to whole millimetres, or to this."""
RESERVE_MM = 1.5
"""Added before rounding: what a change does to mass and balance, and the equations leave out."""
_EPSILON = 1e-6
"""Of a step: a number this near to a round one is meant to be it."""


def round_up(value_mm: float, system: System) -> float:
    """The next whole millimetre, or twentieth of an inch, that is not less."""
    step = _step_mm(system)
    return ceil(value_mm / step - _EPSILON) * step


def round_down(value_mm: float, system: System) -> float:
    """The next whole millimetre, or twentieth of an inch, that is not more."""
    step = _step_mm(system)
    return floor(value_mm / step + _EPSILON) * step


def spread(low_mm: float, high_mm: float, system: System) -> tuple[float, float]:
    """Both edges of an opening on the next mark of a ruler outwards: half a millimetre, or a twentieth of an inch."""
    if system == "imperial":
        return round_down(low_mm, system), round_up(high_mm, system)
    return floor(2.0 * low_mm + _EPSILON) / 2.0, ceil(2.0 * high_mm - _EPSILON) / 2.0


def more(value_mm: float, system: System) -> str:
    """The next whole millimetre, or twentieth of an inch, above a length and a reserve: "214 mm", "8.45 in"."""
    return length_text(round_up(value_mm + RESERVE_MM, system), system)


def less(value_mm: float, system: System) -> str:
    """The next whole millimetre, or twentieth of an inch, below a length less a reserve."""
    return length_text(round_down(value_mm - RESERVE_MM, system), system)


def near(value_mm: float, system: System) -> str:
    """The nearest whole millimetre, or twentieth of an inch."""
    step = _step_mm(system)
    return length_text(round(value_mm / step) * step, system)


def thicker(value_mm: float, system: System) -> str:
    """The next size of wire: half millimetres, or thirty-seconds of an inch."""
    if system == "imperial":
        return f"{Fraction(ceil(value_mm / MM_PER_INCH * 32.0), 32)} in"
    return f"{ceil(value_mm * 2.0) / 2.0:g} mm"


def length_text(value_mm: float, system: System) -> str:
    """A length that reads back as the same value, to a hundredth of a millimetre."""
    if system == "imperial":
        return f"{short(value_mm / MM_PER_INCH, 4)} in"
    return f"{short(value_mm, 2)} mm"


def short(value: float, decimals: int) -> str:
    """A number without noughts at its end."""
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".") if decimals else f"{value:.0f}"
    return "0" if float(text) == 0.0 else text


def _step_mm(system: System) -> float:
    return STEP_IN * MM_PER_INCH if system == "imperial" else 1.0
