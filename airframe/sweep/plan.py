"""What a sweep is to do, checked before anything runs: its variants in their order, and what is asked of each."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import prod

from airframe.config import ConfigError, Loaded, Problem, from_dict
from airframe.config.problems import dotted
from airframe.measured import version
from airframe.model import Aeroplane
from airframe.sweep.keys import Axis, Read
from airframe.sweep.measures import Measure, MeasureError, measure

DEFAULT = ("mass", "cg.behind_leading_edge", "cg.percent_mac", "ground.overturn")
"""What is asked for where nothing is said: what a change of the gear, the wing or the battery is made for."""
MOST_VARIANTS = 1_000_000
FEW = 3
"""Numbers of values that would do are proposed, the nearest ones."""


@dataclass(frozen=True)
class Plan:
    """The variants of one design; plain data, so that it can be sent to another process."""

    base: Loaded
    axes: tuple[Axis, ...]
    measures: tuple[Measure, ...]
    is_paired: bool = False
    """Whether the axes go together, first value with first value; else every value meets every other."""

    @property
    def count(self) -> int:
        """How many variants there are."""
        lengths = [len(axis.texts) for axis in self.axes]
        return lengths[0] if self.is_paired else prod(lengths)

    def indices(self, number: int) -> tuple[int, ...]:
        """Which value of each axis the variant takes; in a grid the last axis changes fastest."""
        if self.is_paired:
            return (number,) * len(self.axes)
        found: list[int] = []
        for axis in reversed(self.axes):
            number, index = divmod(number, len(axis.texts))
            found.append(index)
        return tuple(reversed(found))

    def settings(self, number: int) -> tuple[str, ...]:
        """The variant as --set lines."""
        return tuple(axis.setting(index) for axis, index in zip(self.axes, self.indices(number), strict=True))

    def values(self, number: int) -> tuple[float | str, ...]:
        """What the variant's keys are, in the units inside."""
        return tuple(axis.values[index] for axis, index in zip(self.axes, self.indices(number), strict=True))

    @cached_property
    def digest(self) -> str:
        """Changes with the design, what it is based on, the keys and values, the measures, and our own code."""
        told: list[object] = [version(), self.is_paired, [one.code for one in self.measures]]
        told += [[axis.key, axis.texts] for axis in self.axes]
        one: Loaded | None = self.base
        while one is not None:
            told += [one.data, None if one.as_filed is None else one.as_filed.model_dump()]
            one = one.base
        return hashlib.sha256(json.dumps(told, default=str, sort_keys=True).encode()).hexdigest()


def planned(base: Loaded, aeroplane: Aeroplane, keys: Read, codes: Sequence[str], is_paired: bool = False) -> Plan:
    """The plan, every value and every code known to make sense. Raises ConfigError with all the problems.

    What only goes wrong in some combinations, or further down in the geometry, is left to the rows.
    """
    axes, unread = keys
    problems = [*unread, *_shape_problems(axes, is_paired, bool(unread))]
    for axis in axes:
        problems += _value_problems(base, axis)
    measures = []
    for code in dict.fromkeys(codes or DEFAULT):
        try:
            measures.append(measure(code, aeroplane))
        except MeasureError as error:
            joint = " " if str(error).endswith("?") else "; "
            problems.append(Problem("--measure", None, "", None, f"{error}{joint}--measure help lists them all"))
    if problems:
        raise ConfigError(problems)
    return Plan(base, tuple(axes), tuple(measures), is_paired)


def _shape_problems(axes: Sequence[Axis], is_paired: bool, are_some_unread: bool) -> list[Problem]:
    """Of the axes as such: none, one key twice, unequal lengths of a pairing, too many variants."""
    if not axes:
        return (
            [] if are_some_unread else [_problem("sweep", "no key to change; write one as KEY=FROM:TO:N or KEY=a,b,c")]
        )
    paths = [axis.path for axis in axes]
    found = [_problem(axis.key, "is given twice") for number, axis in enumerate(axes) if axis.path in paths[:number]]
    lengths = [len(axis.texts) for axis in axes]
    if is_paired and len(set(lengths)) > 1:
        words = ", ".join(f"{axis.key} has {length}" for axis, length in zip(axes, lengths, strict=True))
        found.append(_problem("--zip", f"pairs values one to one, so each key needs as many: {words}"))
    elif not is_paired and prod(lengths) > MOST_VARIANTS:
        words = " x ".join(str(length) for length in lengths)
        found.append(_problem("sweep", f"{words} variants are too many; at most {MOST_VARIANTS}"))
    return found


def _value_problems(base: Loaded, axis: Axis) -> list[Problem]:
    """What is wrong at the key itself; and what is wrong elsewhere, where no value at all makes a design."""
    own: list[Problem] = []
    elsewhere: list[Problem] = []
    telling = axis.telling()
    if _wants_whole(base, axis):
        return [_problem(axis.key, f"must be a whole number; {_whole_steps(axis)}")]
    for index in telling:
        try:
            from_dict(base.data, [axis.setting(index)])
        except ConfigError as error:
            is_own = any(problem.key == dotted(axis.path) for problem in error.problems)
            told = [_problem(axis.setting(index), _without_place(problem, axis)) for problem in error.problems]
            (own if is_own else elsewhere).extend(told)
    return own or (elsewhere if _count(elsewhere) == len(telling) else [])


def _wants_whole(base: Loaded, axis: Axis) -> bool:
    """Whether the key takes its first value as a whole number only, and the values are not all whole."""
    if not axis.is_numeric or axis.unit.inside or all("." not in text for text in axis.texts):
        return False
    first = axis.values[0]
    assert isinstance(first, float)
    return _is_taken(base, f"{axis.key}={round(first)}") and not _is_taken(base, f"{axis.key}={round(first) + 0.5}")


def _is_taken(base: Loaded, line: str) -> bool:
    try:
        from_dict(base.data, [line])
    except ConfigError:
        return False
    return True


def _whole_steps(axis: Axis) -> str:
    """Which value is none, and how many values from the first to the last would all be whole."""
    numbers = [value for value in axis.values if isinstance(value, float)]
    low, high, count = numbers[0], numbers[-1], len(numbers)
    odd = next((value for value in numbers if not value.is_integer()), low)
    told = f"{count} values from {low:g} to {high:g} have {odd:g} among them"
    if not (low.is_integer() and high.is_integer()) or low == high:
        return told
    span = round(abs(high - low))
    fitting = sorted((steps + 1 for steps in range(1, span + 1) if span % steps == 0), key=lambda n: abs(n - count))
    return f"{told}: write {' or '.join(f'{low:g}:{high:g}:{n}' for n in sorted(fitting[:FEW]))}"


def _count(problems: Sequence[Problem]) -> int:
    return len({problem.file for problem in problems})


def _without_place(problem: Problem, axis: Axis) -> str:
    is_at_key = problem.key in ("", dotted(axis.path))
    return problem.message if is_at_key else f"{problem.key}: {problem.message}"


def _problem(place: str, message: str) -> Problem:
    return Problem(place, None, "", None, message)
