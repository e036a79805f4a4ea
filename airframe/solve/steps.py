"""Values that a knife, a ruler and a kitchen scale can keep, and how a person types them."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, log10

from airframe.checks.rounding import short
from airframe.solve.keys import Key
from airframe.units import System

Steps = tuple[Fraction, ...]
_TENTH, _HUNDREDTH = Fraction(1, 10), Fraction(1, 100)
_FINE: dict[str, tuple[float, Steps]] = {
    "mm": (10.0, (_TENTH,)),
    "in": (0.4, (Fraction(1, 64),)),
    "g": (10.0, (_TENTH, _HUNDREDTH)),
    "oz": (0.5, (_HUNDREDTH,)),
}
"""By the unit: below which value the steps are finer, and these: thicknesses, diameters, small masses."""
_COARSE: dict[str, Steps] = {
    "mm": (Fraction(1), Fraction(1, 2), _TENTH),
    "in": (Fraction(1, 16), Fraction(1, 32), Fraction(1, 64)),
    "g": (Fraction(1), Fraction(1, 2), _TENTH),
    "oz": (Fraction(1, 20), _HUNDREDTH),
    "deg": (Fraction(1, 2), _TENTH),
    "%": (Fraction(1), Fraction(1, 2), _TENTH),
}
"""The first is what a knife can cut; the finer ones are tried where no such value will do."""
FIGURES = 3
"""Significant figures of anything else."""
_EPSILON = 1e-9
"""Of a step: a value this near to a round one is meant to be it."""


def steps(key: Key, near: float, system: System) -> Steps:
    """What values of a key are rounded to, near a value, in the unit that the design shows; the coarsest first."""
    if key.is_whole:
        return (Fraction(1),)
    unit, size = key.unit.name(system), abs(key.unit.shown(near, system))
    if unit in _FINE and size < _FINE[unit][0]:
        return _FINE[unit][1]
    if unit in _COARSE:
        return _COARSE[unit]
    exponent = floor(log10(size)) if size > 0.0 else 0
    first = Fraction(10) ** (exponent - FIGURES + 1)
    return first, first / 10


def counts(key: Key, value: float, step: Fraction, system: System) -> tuple[int, int]:
    """How many steps the round values below and above are; one and the same for a value that is round."""
    many = key.unit.shown(value, system) / float(step)
    return floor(many + _EPSILON), ceil(many - _EPSILON)


def text(key: Key, count: int, step: Fraction, system: System) -> str:
    """So many steps as a person types them: "214 mm", "8 7/16 in", "3"."""
    value, unit = count * step, key.unit.name(system)
    if unit == "in" and value.denominator > 1 and value.denominator & (value.denominator - 1) == 0:
        whole, rest = divmod(abs(value), 1)
        number = ("-" if value < 0 else "") + (f"{whole} {rest}" if whole else f"{rest}")
    else:
        number = short(float(value), max(0, -floor(log10(float(step)))) if step < 1 else 0)
    return f"{number} {unit}".rstrip()


def value(key: Key, count: int, step: Fraction, system: System) -> float:
    """So many steps in the unit inside."""
    return float(count * step) / key.unit.shown(1.0, system)
