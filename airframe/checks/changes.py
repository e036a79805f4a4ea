"""Changes of a design that a remedy proposes: tried on the design at hand, and written as --set lines."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, degrees, floor
from typing import Any

from pydantic import BaseModel

from airframe.schema.base import key_in_file
from airframe.schema.design import Design
from airframe.units import MM_PER_INCH, System

STEP_IN = 0.05
"""Remedies are rounded to whole millimetres, or to this."""
_EPSILON = 1e-6


@dataclass(frozen=True)
class Change:
    """One value of the design replaced."""

    path: tuple[str | int, ...]
    """Fields as the code calls them, names of equipment, rows of lists: ("equipment", "camera", "station_mm")."""
    value: float | str
    """mm or radians by the last field's suffix; a count; a word; true or false."""

    def written(self, system: System) -> str:
        """The new value as a person writes it."""
        field = str(self.path[-1])
        if isinstance(self.value, str | bool):
            return str(self.value) if isinstance(self.value, str) else str(self.value).lower()
        if field.endswith("_mm"):
            return length_text(self.value, system)
        return f"{_short(degrees(self.value), 1)} deg" if field.endswith("_rad") else f"{self.value:g}"

    def setting(self, system: System) -> str:
        """The same as a --set line."""
        text = self.written(system)
        is_bare = not isinstance(self.value, str) and (text.isdigit() or isinstance(self.value, bool))
        value = text if is_bare else f'"{text}"'
        return f"{'.'.join(_key(step) for step in self.path)}={value}"


def settings(changes: Sequence[Change], system: System) -> tuple[str, ...]:
    """All changes as --set lines."""
    return tuple(change.setting(system) for change in changes)


def altered(design: Design, *changes: Change) -> Design:
    """The design with changes made; whether it still makes sense is not asked."""
    result: Any = design
    for change in changes:
        result = _altered(result, change.path, change.value)
    assert isinstance(result, Design)
    return result


def _altered(table: Any, path: tuple[str | int, ...], value: object) -> Any:
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(table, BaseModel):
        return table.model_copy(update={str(step): _altered(getattr(table, str(step)), rest, value)})
    if isinstance(table, dict):
        return {**table, step: _altered(table[step], rest, value)}
    rows = list(table)
    rows[int(step)] = _altered(rows[int(step)], rest, value)
    return tuple(rows)


def _key(step: str | int) -> str:
    key = key_in_file(str(step))
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else f'"{key}"'


def length_text(value_mm: float, system: System) -> str:
    """A length that reads back as the same value, to a hundredth of a millimetre."""
    if system == "imperial":
        return f"{_short(value_mm / MM_PER_INCH, 4)} in"
    return f"{_short(value_mm, 2)} mm"


def _short(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".") if decimals else f"{value:.0f}"
    return "0" if float(text) == 0.0 else text


def round_up(value_mm: float, system: System) -> float:
    """The next whole millimetre, or twentieth of an inch, that is not less."""
    step = STEP_IN * MM_PER_INCH if system == "imperial" else 1.0
    return ceil(value_mm / step - _EPSILON) * step


def round_down(value_mm: float, system: System) -> float:
    """The next whole millimetre, or twentieth of an inch, that is not more."""
    step = STEP_IN * MM_PER_INCH if system == "imperial" else 1.0
    return floor(value_mm / step + _EPSILON) * step
