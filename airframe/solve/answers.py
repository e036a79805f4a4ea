"""The value of one key that keeps every condition, nearest to what it is now; or how near it comes to that."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from airframe.checks.finding import Finding
from airframe.solve import line, steps
from airframe.solve.keys import Key, Range
from airframe.solve.line import Edge, Stretch
from airframe.solve.trials import Trials, Tried

SCANNED = 25
"""Values that the line is looked over at first: narrower stretches than between two of them may be missed."""
FURTHER = 3
"""Round values that are tried one after another on the way in from an edge."""
MOST_ROOTS = 4
"""Places with an exact value that are looked at, the nearest to the present first."""


@dataclass(frozen=True)
class Choice:
    """One value as it would be typed, and what came of it."""

    value: float
    setting: str
    text: str
    tried: Tried
    is_round: bool = True
    """Whether it lies on a step that a knife can cut."""


@dataclass(frozen=True)
class Unbuilt:
    """Values at which nothing can be built."""

    low: float
    high: float
    problem: str


@dataclass(frozen=True)
class Answer:
    """What came of looking for one value."""

    key: Key
    ends: Range
    now: Tried
    holds_now: bool
    choice: Choice | None
    """The answer, built and found to keep everything; None where there is none, or none is needed."""
    edge: Edge | None
    """Where exactly the conditions begin to hold; None at an end of the line."""
    stretches: tuple[Stretch, ...]
    """Where the conditions hold, as far as was tried."""
    nearest: Choice | None
    """Where there is no answer: where it comes nearest to one."""
    unbuilt: tuple[Unbuilt, ...]
    costs: tuple[Finding, ...] = ()
    """Findings that the answer makes worse."""
    count: int = 0
    """Variants that were built."""


class Line:
    """One key of the design with its conditions, as a line of values."""

    def __init__(self, trials: Trials, key: Key, ends: Range) -> None:
        self.trials = trials
        self.key = key
        self.ends = ends
        self.system = trials.base.design.units
        self.exact = next((i for i, one in enumerate(trials.conditions) if one.op == "="), None)
        self.tolerance = line.EDGE_SHARE * (ends[1] - ends[0])
        self.values = line.points(*ends, SCANNED, key.now)

    def tried(self, value: float) -> Tried:
        """What came of a value."""
        return self.trials.at((self.key.exactly(value),))

    def slack(self, value: float) -> float | None:
        """How far everything is kept there: the least of all slacks, but of an exact value how far it is above."""
        slacks = self.tried(value).slacks
        if self.exact is not None:
            return slacks[self.exact] if slacks else None
        return min(slacks, default=None)

    def from_now(self, stretch: Stretch) -> float:
        """How far a stretch is from the present value, or from the middle where there is none."""
        now = self.key.now if self.key.now is not None else sum(self.ends) / 2.0
        return max(stretch.low - now, now - stretch.high, 0.0)

    @property
    def unbuilt(self) -> tuple[Unbuilt, ...]:
        """Runs of the values that were looked over at which nothing can be built."""
        found: list[Unbuilt] = []
        is_open = False
        for value in self.values:
            problem = self.tried(value).problem
            if problem and is_open:
                found[-1] = Unbuilt(found[-1].low, value, found[-1].problem)
            elif problem:
                found.append(Unbuilt(value, value, problem))
            is_open = bool(problem)
        return tuple(found)


def solve(trials: Trials, key: Key, ends: Range) -> Answer:
    """The answer for one key between two ends, checked by building it."""
    now = trials.at(())
    one = Line(trials, key, ends)
    found = _exact(one, now) if one.exact is not None else _within(one, now)
    if found.choice is None or now.problem:
        return found
    return replace(found, costs=trials.costs((found.choice.setting,)))


def _within(one: Line, now: Tried) -> Answer:
    """For conditions that leave room."""
    slacks = [one.slack(value) for value in one.values]
    found = line.stretches(one.values, slacks)
    holds_now = one.trials.keeps(now)
    if not found and not holds_now:
        miss = line.nearest_miss(one.slack, one.values, slacks)
        if miss is None or (one.slack(miss) or -1.0) < 0.0:
            return _answer(one, now, nearest=None if miss is None else _as_typed(one, miss))
        one.values = sorted({*one.values, miss})
        found = [Stretch(miss, miss)]
    found.sort(key=one.from_now)
    if holds_now:
        kept = [_refined(one, stretch) if one.from_now(stretch) == 0.0 else stretch for stretch in found]
        return _answer(one, now, holds_now=True, stretches=kept)
    first = found[0]
    is_below = one.key.now is not None and first.high < one.key.now
    edge = _edge(one, first.high if is_below else first.low, upward=is_below)
    at = edge.at if edge is not None else (first.high if is_below else first.low)
    kept = [Stretch(first.low, at) if is_below else Stretch(at, first.high), *found[1:]]
    choice = _rounded(one, at, -1 if is_below else 1) or _as_typed(one, first.high if is_below else first.low)
    return _answer(one, now, choice=choice, edge=edge, stretches=kept)


def _exact(one: Line, now: Tried) -> Answer:
    """For an exact value, beside which others may leave room."""
    slacks = [one.slack(value) for value in one.values]
    assert one.exact is not None
    if now.slacks and one.trials.keeps(now) and one.trials.conditions[one.exact].is_kept(-abs(now.slacks[one.exact])):
        return _answer(one, now, holds_now=True)
    near = sorted(line.crossings(one.values, slacks), key=lambda pair: one.from_now(Stretch(*pair)))
    edges = [line.edge(one.slack, *pair, one.tolerance) for pair in near[:MOST_ROOTS]]
    roots = [edge for edge in edges if not edge.is_jump]
    kept = [Stretch(edge.at, edge.at) for edge in roots]
    typed = [(edge, choice) for edge in roots if (choice := _on_step(one, edge.at)) is not None]
    for edge, choice in typed:
        if one.trials.keeps(choice.tried):
            return _answer(one, now, choice=choice, edge=edge, stretches=kept)
    if typed:
        return _answer(one, now, nearest=typed[0][1], stretches=kept)
    miss = line.nearest_miss(
        lambda value: None if (slack := one.slack(value)) is None else -abs(slack),
        one.values,
        [None if slack is None else -abs(slack) for slack in slacks],
    )
    return _answer(one, now, nearest=None if miss is None else _as_typed(one, miss))


def _answer(
    one: Line,
    now: Tried,
    *,
    holds_now: bool = False,
    choice: Choice | None = None,
    edge: Edge | None = None,
    stretches: Sequence[Stretch] = (),
    nearest: Choice | None = None,
) -> Answer:
    count = one.trials.count
    return Answer(one.key, one.ends, now, holds_now, choice, edge, tuple(stretches), nearest, one.unbuilt, (), count)


def _edge(one: Line, end: float, upward: bool) -> Edge | None:
    """Where beyond an end of a stretch the conditions stop holding; None where the line ends too."""
    index = one.values.index(end) + (1 if upward else -1)
    if not 0 <= index < len(one.values):
        return None
    return line.edge(one.slack, end, one.values[index], one.tolerance)


def _refined(one: Line, stretch: Stretch) -> Stretch:
    low, high = _edge(one, stretch.low, upward=False), _edge(one, stretch.high, upward=True)
    return Stretch(low.at if low is not None else stretch.low, high.at if high is not None else stretch.high)


def _rounded(one: Line, at: float, inward: int) -> Choice | None:
    """The first value on a step, from an edge inwards, that is built and keeps everything; the coarsest step first."""
    for step in steps.steps(one.key, at, one.system):
        low, high = steps.counts(one.key, at, step, one.system)
        first = high if inward > 0 else low
        for many in range(FURTHER):
            choice = _choice(one, first + inward * many, step)
            if choice is not None and one.trials.keeps(choice.tried):
                return choice
    return None


def _on_step(one: Line, at: float) -> Choice | None:
    """The value on a step beside a root that comes nearer to the exact value."""
    step = steps.steps(one.key, at, one.system)[0]
    assert one.exact is not None
    found = [_choice(one, count, step) for count in dict.fromkeys(steps.counts(one.key, at, step, one.system))]
    known = [choice for choice in found if choice is not None and choice.tried.slacks]
    return min(known, key=lambda choice: abs(choice.tried.slacks[one.exact or 0]), default=None)


def _choice(one: Line, count: int, step: Fraction) -> Choice | None:
    """A round value; None where it is no longer between the ends."""
    value = steps.value(one.key, count, step, one.system)
    if not one.ends[0] - one.tolerance <= value <= one.ends[1] + one.tolerance:
        return None
    text = steps.text(one.key, count, step, one.system)
    setting = one.key.setting(text)
    return Choice(value, setting, text, one.trials.at((setting,)))


def _as_typed(one: Line, value: float) -> Choice:
    """A value as it is, where no round one will do."""
    setting = one.key.exactly(value)
    return Choice(value, setting, setting.partition("=")[2].strip('"'), one.trials.at((setting,)), is_round=False)
