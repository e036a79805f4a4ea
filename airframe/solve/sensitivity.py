"""What moves a result most: every key moved a little to both sides of what it is, all else as the design has it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from airframe import units
from airframe.config import ConfigError, Loaded, Problem
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from airframe.solve.keys import Key, key, numbers
from airframe.solve.slopes import Amount, Sensitivity, Slope, amount, slope
from airframe.sweep.arrays import FIELDS, Reckoner, are_enough
from airframe.sweep.keys import Axis
from airframe.sweep.measures import MASS, Measure, MeasureError, measure
from airframe.sweep.plan import Plan
from airframe.sweep.rows import Row
from airframe.sweep.whole import build
from airframe.sweep.work import Job

DEFAULT = ("ground.overturn", "mass", "cg.behind_leading_edge")
OFFSETS = (-1.0, -0.5, 0.0, 0.5, 1.0)
"""Of a step: the five variants of each key."""
MIDDLE = 2
"""Which of them is the design as it is."""
STEP = {"mm": 2.0, "g": 1.0, "rad": units.parse("0.5 deg", units.ANGLE), "1": 0.005}
"""By the unit inside: the step where the key is large, or may be negative."""
STEP_SHARE = 0.02
"""Of a size: no step is larger."""
FINDINGS_ROUNDED, SUMS_ROUNDED = 1e-4, 1e-9
"""Findings have four decimals; sums are good to this share of themselves."""
TABLES = ("fuselage", "wing", "tail", "gear", "equipment")
"""What is looked at unless keys are named: the aeroplane itself."""
LISTS = ("panels",)
"""Lists of which rows are looked at too; rows of the others move little and are many."""
KINDS = ("mm", "g", "rad")
NO_NUMBER = "has no number there"

Told = Callable[[int, int], None]
"""Called with how many variants are built and how many there are to build."""
Rows = dict[int, list[Row]]
"""By the number of the key: its five rows."""


@dataclass(frozen=True)
class OneByOne(Plan):
    """Variants in which one key alone is moved, key after key."""

    def indices(self, number: int) -> tuple[int, ...]:
        """Which key, and which of its values."""
        return divmod(number, len(OFFSETS))

    @property
    def count(self) -> int:
        """How many variants there are."""
        return len(self.axes) * len(OFFSETS)

    def settings(self, number: int) -> tuple[str, ...]:
        """The one --set line."""
        which, index = self.indices(number)
        return (self.axes[which].setting(index),)

    def values(self, number: int) -> tuple[float | str, ...]:
        """The one value."""
        which, index = self.indices(number)
        return (self.axes[which].values[index],)


def sensitivity(
    base: Loaded,
    aeroplane: Aeroplane,
    codes: Sequence[str],
    names: Sequence[str],
    told: Told | None = None,
    workers: int | None = None,
    is_cached: bool = True,
) -> Sensitivity:
    """Slopes of every result over every key; the aeroplane's main sizes, angles, masses and places unless named.

    Without a number of workers, as many as there are processors if it is worth it; `is_cached` says whether they keep
    shapes on the disk. Raises ConfigError for codes and keys that name nothing, PartError where the design itself
    cannot be built, and what `airframe.sweep.whole.build` raises.
    """
    measures = _measures(codes or DEFAULT, aeroplane)
    keys = _keys(base, names)
    system = base.design.units
    axes = tuple(_axis(one, _step(one)) for one in keys)
    found = _worked(OneByOne(base, axes, measures), aeroplane, told, workers, is_cached)
    slopes = [
        _slope(one, asked, amount(one, system), _step(one), found[index])
        for index, one in enumerate(keys)
        for asked in measures
    ]
    values = found[0][2].answers if found else {}
    now = tuple(_plain(values.get(one.code)) for one in measures)
    return Sensitivity(base.design.name, system, measures, now, tuple(slopes), aeroplane.has_learned)


def _slope(key: Key, asked: Measure, per: Amount, step: float, rows: Sequence[Row]) -> Slope:
    problem = next((row.message for row in rows if row.message), "")
    values = [_plain(row.answers.get(asked.code)) for row in rows]
    known = [value for value in values if value is not None]
    if problem or len(known) < len(values):
        return Slope(key, asked, per, None, problem or NO_NUMBER)
    rounded = SUMS_ROUNDED * max(map(abs, known)) if asked.needs == MASS else FINDINGS_ROUNDED
    found = slope(known, step, rounded)
    return (
        Slope(key, asked, per, None, "not smooth here") if found is None else Slope(key, asked, per, found * per.inside)
    )


def _worked(plan: OneByOne, aeroplane: Aeroplane, told: Told | None, workers: int | None, is_cached: bool) -> Rows:
    """The five rows of each key; keys that only move equipment on arrays where only sums are asked for."""
    found: Rows = {}
    numbers: list[int] = []
    for which, axis in enumerate(plan.axes):
        alone = Plan(plan.base, (axis,), plan.measures)
        probe = are_enough(alone, aeroplane)
        if probe is not None:
            found[which] = list(Reckoner(alone, probe).rows(range(len(OFFSETS))))
        else:
            numbers += [which * len(OFFSETS) + index for index in range(len(OFFSETS))]
    # The design as it is, whatever the key: built once.
    middles = [number for number in numbers if number % len(OFFSETS) == MIDDLE]
    numbers = [number for number in numbers if number not in middles[1:]]
    built: dict[int, Row] = {}

    def keep(rows: Sequence[Row]) -> None:
        built.update((row.number, row) for row in rows)
        if told is not None:
            told(len(built), len(numbers))

    if numbers:
        build(Job(plan, is_cached), numbers, keep, workers)
    for number in middles:
        around = range(number - MIDDLE, number - MIDDLE + len(OFFSETS))
        found[number // len(OFFSETS)] = [built[middles[0] if one == number else one] for one in around]
    return found


def _step(key: Key) -> float:
    """In the unit inside."""
    largest = STEP.get(key.unit.inside, float("inf"))
    if key.least < 0.0 and key.unit.inside in STEP:
        return largest
    return min(largest, STEP_SHARE * abs(key.now or 0.0))


def _axis(key: Key, step: float) -> Axis:
    """The key with its five values."""
    values = tuple((key.now or 0.0) + offset * step for offset in OFFSETS)
    texts = tuple(key.exactly(value).removeprefix(f"{key.name}=") for value in values)
    return Axis(key.name, key.path, texts, values, key.unit)


def _measures(codes: Sequence[str], aeroplane: Aeroplane) -> tuple[Measure, ...]:
    found, problems = [], []
    for code in dict.fromkeys(codes):
        try:
            one = measure(code, aeroplane)
        except MeasureError as error:
            problems.append(Problem("--of", None, "", None, str(error)))
            continue
        if one.is_verdict:
            problems.append(Problem("--of", None, "", None, f"{code}: a verdict is no number; leave .verdict out"))
        found.append(one)
    if problems:
        raise ConfigError(problems)
    return tuple(found)


def _keys(base: Loaded, names: Sequence[str]) -> list[Key]:
    if not names:
        return [one for one in numbers(base) if _is_main(one, base) and _step(one) > 0.0]
    found: list[Key] = []
    problems: list[Problem] = []
    for name in dict.fromkeys(names):
        try:
            one = key(base, name)
        except ConfigError as error:
            problems += error.problems
            continue
        if not one.now or one.is_whole:
            message = "is a count, which has no slope" if one.is_whole else "has no value here to move it from"
            if one.is_whole or _step(one) == 0.0:
                problems.append(Problem(name, None, "", None, message))
        found.append(one)
    if problems:
        raise ConfigError(problems)
    return found


def _is_main(one: Key, base: Loaded) -> bool:
    """Whether a key is looked at though nobody named it: it is written in the config, and says where or how heavy."""
    if one.path[0] not in TABLES or one.unit.inside not in KINDS or not _is_written(base.data, one.path):
        return False
    if one.path[0] != "equipment":
        return all(not step.isdecimal() or one.path[index - 1] in LISTS for index, step in enumerate(one.path))
    item = base.design.equipment[one.path[1]]
    if not item.fitted:
        return False
    if isinstance(item, Battery) and item.options:
        return (one.path[2] in FIELDS and one.path[2] != "mass") or one.path[2:] == ("options", item.use, "mass")
    return len(one.path) == 3 and one.path[2] in FIELDS


def _is_written(data: Any, path: Sequence[str]) -> bool:
    for step in path:
        if isinstance(data, list):
            data = data[int(step)]
        elif isinstance(data, dict) and step in data:
            data = data[step]
        else:
            return False
    return not isinstance(data, (dict, list))


def _plain(value: object) -> float | None:
    return float(value) if isinstance(value, (int, float)) else None
