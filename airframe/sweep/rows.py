"""What came of each variant: one row, and all of them as a table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from airframe.config import ConfigError
from airframe.drawing import PartError
from airframe.sweep.keys import Axis
from airframe.sweep.measures import Measure, Value
from airframe.units import System

TYPED_DIGITS = 15
"""A decimal number of so many figures survives being turned into another unit and back."""


@dataclass(frozen=True)
class Row:
    """One variant."""

    number: int
    """Its place in the order of the plan, from 0."""
    values: tuple[float | str, ...]
    """What its keys are, in the units inside."""
    answers: Mapping[str, Value]
    """By the code of the measure, in its unit inside; empty for a variant that cannot be built."""
    verdict: str | None = None
    """The worst of the findings that were asked for; None where none was."""
    message: str = ""
    """Why it cannot be built; empty where it can."""


def reason(error: Exception) -> str:
    """Why a variant cannot be built, in one line; an error that we did not foresee is named."""
    if isinstance(error, ConfigError):
        return "; ".join(f"{p.key}: {p.message}" if p.key else p.message for p in error.problems)
    text = " ".join(str(error).split())
    return text if isinstance(error, PartError) else f"{type(error).__name__}: {text}"


@dataclass(frozen=True)
class Table:
    """Every variant that is done, in the order of the plan."""

    name: str
    """Of the design."""
    system: System
    """The units that the design shows its results in."""
    axes: tuple[Axis, ...]
    measures: tuple[Measure, ...]
    rows: tuple[Row, ...]
    count: int
    """How many variants there are when all are done."""
    is_paired: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether every variant is done."""
        return len(self.rows) == self.count

    def column(self, name: str) -> list[Value]:
        """One column by its key or code, values in the units inside; None where a variant cannot be built.

        Raises KeyError, with the names that there are, for what is no column.
        """
        for index, axis in enumerate(self.axes):
            if axis.key == name:
                return [row.values[index] for row in self.rows]
        known = [axis.key for axis in self.axes] + [one.code for one in self.measures]
        if name not in known:
            message = f"{name} is no column; there are {', '.join(known)}"
            raise KeyError(message)
        return [row.answers.get(name) for row in self.rows]

    def headings(self) -> list[str]:
        """Every column with its unit as the design shows it: "gear.track (mm)"; verdict and message last."""
        units = [(axis.key, axis.unit) for axis in self.axes] + [(one.code, one.unit) for one in self.measures]
        named = [(name, unit.name(self.system)) for name, unit in units]
        return [f"{name} ({unit})" if unit else name for name, unit in named] + ["verdict", "message"]

    def cells(self, row: Row) -> list[Value]:
        """One row under the headings, numbers in their units."""
        values = [_as_typed(_shown(v, a, self.system)) for v, a in zip(row.values, self.axes, strict=True)]
        values += [_shown(row.answers.get(one.code), one, self.system) for one in self.measures]
        return [*values, row.verdict, row.message or None]


def _as_typed(value: Value) -> Value:
    """6 in, not 6.000000000000001 in, which is what comes back from millimetres."""
    return float(f"{value:.{TYPED_DIGITS}g}") if isinstance(value, float) else value


def _shown(value: Value, column: Axis | Measure, system: System) -> Value:
    return column.unit.shown(value, system) if isinstance(value, (int, float)) else value
