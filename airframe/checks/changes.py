"""Changes of a design that a remedy proposes: tried on the design at hand, and written as --set lines."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees
from typing import Any

from pydantic import BaseModel

from airframe.checks.rounding import length_text, short
from airframe.schema.base import key_in_file
from airframe.schema.design import Design
from airframe.units import System

_PLAIN_KEY = re.compile(r"[A-Za-z0-9_-]+")


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
        return f"{short(degrees(self.value), 1)} deg" if field.endswith("_rad") else f"{self.value:g}"

    def setting(self, system: System) -> str:
        """The same as a --set line."""
        text = self.written(system)
        is_bare = not isinstance(self.value, str) and (text.isdigit() or isinstance(self.value, bool))
        value = text if is_bare else f'"{text}"'
        *tables, field = self.path
        return f"{_dotted(*tables, key_in_file(str(field)))}={value}"


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


def setting(key: str, quantity: str) -> str:
    """A --set line of a quantity, or of a word."""
    return f'{key}="{quantity}"'


def item_key(name: str, field: str) -> str:
    """The key of an item of equipment; a name that is no bare word is quoted."""
    return _dotted("equipment", name, field)


def _dotted(*steps: str | int) -> str:
    words = (str(step) for step in steps)
    return ".".join(word if _PLAIN_KEY.fullmatch(word) else json.dumps(word, ensure_ascii=False) for word in words)
