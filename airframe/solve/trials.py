"""Variants of one design as they are tried: built, asked, remembered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from airframe.checks import mending, whole
from airframe.checks.finding import Finding, worst
from airframe.checks.pairs import PairCache
from airframe.config import ConfigError, Loaded
from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.solve.conditions import Condition
from airframe.sweep.measures import MASS, Measure, Sums, summed
from airframe.sweep.rows import reason
from airframe.sweep.variants import variant

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Tried:
    """What came of one variant."""

    values: tuple[float | None, ...] = ()
    """What each condition asks of; None where there is no number."""
    slacks: tuple[float, ...] = ()
    """How far each condition is kept; empty where that cannot be said."""
    goal: float | None = None
    """What is to be the least or the most, where something is."""
    problem: str = ""
    """Why it cannot be built, or not be judged."""


class Trials:
    """Asks the same of one variant after another; what was asked once is not built again."""

    def __init__(
        self,
        base: Loaded,
        aeroplane: Aeroplane,
        conditions: Sequence[Condition],
        goal: Measure | None = None,
        progress: Progress | None = None,
    ) -> None:
        self.base = base
        self.aeroplane = aeroplane
        self.conditions = tuple(conditions)
        self.goal = goal
        self.pairs = PairCache()
        self._progress = progress
        self._known: dict[tuple[str, ...], Tried] = {}

    @property
    def count(self) -> int:
        """How many variants were built."""
        return len(self._known)

    def at(self, settings: Sequence[str]) -> Tried:
        """What the design with --set lines is like."""
        asked = tuple(settings)
        if asked not in self._known:
            if self._progress is not None:
                self._progress(f"variant {self.count + 1}: {' '.join(asked)}")
            self._known[asked] = self._tried(asked)
        return self._known[asked]

    def keeps(self, tried: Tried) -> bool:
        """Whether a variant can be built and keeps every condition but an exact one."""
        pairs = zip(self.conditions, tried.slacks, strict=False)
        return not tried.problem and all(one.op == "=" or one.is_kept(slack) for one, slack in pairs)

    def built(self, settings: Sequence[str]) -> Aeroplane:
        """The variant itself. Raises ConfigError."""
        return variant(self.base, self.aeroplane, settings) if settings else self.aeroplane

    def costs(self, settings: Sequence[str]) -> tuple[Finding, ...]:
        """Findings of the variant that ask for more attention than they do now, by all checks."""
        if self._progress is not None:
            self._progress("all checks, before and after")
        old = whole.run(self.aeroplane, cache=self.pairs)
        new = whole.run(self.built(settings), cache=self.pairs)
        codes = set(mending.worse(old, new))
        return tuple(one for one in new if one.code in codes)

    def judged(self, aeroplane: Aeroplane) -> Tried:
        """What an aeroplane is like. Raises PartError for what cannot be built."""
        goals = () if self.goal is None else (self.goal,)
        needed = {one.needs for one in (*(one.measure for one in self.conditions), *goals)}
        asked = ((name, mending.on_trial(check)) for name, check in whole.checks(self.pairs) if name in needed)
        found = {name: tuple(check(aeroplane)) for name, check in asked}
        sums = Sums.of(aeroplane)
        values, slacks, missing = [], [], ""
        for one in self.conditions:
            judged = _judged(one, found, sums)
            values.append(None if judged is None else judged[0])
            slacks.append(0.0 if judged is None else judged[1])
            missing = missing or (f"{one.code} has no number here" if judged is None else "")
        goal = None if self.goal is None else _number(self.goal, found, sums)
        if self.goal is not None and goal is None:
            missing = missing or f"{self.goal.code} has no number here"
        return Tried(tuple(values), () if missing else tuple(slacks), goal, missing)

    def _tried(self, settings: tuple[str, ...]) -> Tried:
        try:
            return self.judged(self.built(settings))
        except (ConfigError, PartError) as error:
            return Tried(problem=reason(error))


Found = dict[str, tuple[Finding, ...]]


def _judged(one: Condition, found: Found, sums: Sums) -> tuple[float | None, float] | None:
    """The number that keeps a condition least, and its slack; None where there is none to judge by."""
    if one.measure.needs == MASS:
        value = float(summed(one.code, sums))
        return value, one.slack(value)
    own = _of(one.measure, found)
    if one.op == "passes":
        judged = [(finding.value, one.slack_of(finding)) for finding in own]
        return min(judged, key=lambda pair: pair[1], default=(None, 0.0))
    numbers = [(finding.value, one.slack(finding.value)) for finding in own if finding.value is not None]
    if not numbers or len(numbers) < len(own):
        return None
    return min(numbers, key=lambda pair: abs(pair[1]) if one.op == "=" else pair[1])


def _number(asked: Measure, found: Found, sums: Sums) -> float | None:
    """The number of a measure: of several findings the worst one's."""
    if asked.needs == MASS:
        return float(summed(asked.code, sums))
    own = _of(asked, found)
    return next((one.value for one in own if one.verdict == worst(own)), None)


def _of(asked: Measure, found: Found) -> tuple[Finding, ...]:
    code = asked.code
    return tuple(one for one in found[asked.needs] if one.code == code or one.code.startswith(f"{code}: "))
