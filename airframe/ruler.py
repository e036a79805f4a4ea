"""Lengths in the words for what cannot be built: in the design's own unit, limits rounded to the safe side.

Such words arise deep in geometry, which knows no design; whoever asks it says how a person reads lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from math import ceil

from airframe.units import MM_PER_INCH, System

_SLACK_MM = 5e-6
"""A limit that is so little beyond a mark of the ruler is that mark: it may follow from sums that are rounded."""
_MARK_MM: dict[System, float] = {"metric": 0.1, "imperial": 0.01 * MM_PER_INCH}
_system: ContextVar[System] = ContextVar("system", default="metric")


@contextmanager
def reading(system: System) -> Iterator[None]:
    """Within it lengths are told in a system."""
    token = _system.set(system)
    try:
        yield
    finally:
        _system.reset(token)


def about(value_mm: float) -> str:
    """A length to the nearest mark: "617.2 mm" or "24.30 in"."""
    return f"{_number(value_mm)} {_unit()}"


def exact(value_mm: float) -> str:
    """A length as a person may have typed it: "3 mm" or "0.0625 in"."""
    return f"{value_mm / MM_PER_INCH:.4g} in" if _is_imperial() else f"{value_mm:g} mm"


def fine(value_mm: float) -> str:
    """A small length, ten times as closely: "0.42 mm" or "0.017 in"."""
    return f"{value_mm / MM_PER_INCH:.3f} in" if _is_imperial() else f"{value_mm:.2f} mm"


def place(point_mm: Iterable[float]) -> str:
    """A point in space: "(121.0, 0.0, -138.0) mm"."""
    return f"({', '.join(_number(value) for value in point_mm)}) {_unit()}"


def least(value_mm: float) -> str:
    """A lower limit, upwards to the next mark, so that it does when it is followed."""
    return about(_up(value_mm))


def most(value_mm: float) -> str:
    """An upper limit, downwards to the next mark."""
    return about(-_up(-value_mm))


def span(low_mm: float, high_mm: float) -> str:
    """From one length to another: "46.0 to 50.8 mm"."""
    return f"{_number(low_mm)} to {about(high_mm)}"


def room(low_mm: float, high_mm: float) -> str:
    """From a lower limit to an upper one: "12.3 to 40.1 mm"."""
    return f"{_number(_up(low_mm))} to {most(high_mm)}"


def ends(low_mm: float, high_mm: float) -> str:
    """A lower limit and an upper one: "12.3 and 40.1 mm"."""
    return f"{_number(_up(low_mm))} and {most(high_mm)}"


def sides(one_mm: float, other_mm: float) -> str:
    """The sides of a rectangle: "56.0 by 12.3 mm"."""
    return f"{_number(one_mm)} by {about(other_mm)}"


def _is_imperial() -> bool:
    return _system.get() == "imperial"


def _unit() -> str:
    return "in" if _is_imperial() else "mm"


def _up(value_mm: float) -> float:
    mark = _MARK_MM[_system.get()]
    return ceil((value_mm - _SLACK_MM) / mark) * mark


def _number(value_mm: float) -> str:
    text = f"{value_mm / MM_PER_INCH:.2f}" if _is_imperial() else f"{value_mm:.1f}"
    return text.lstrip("-") if float(text) == 0.0 else text
