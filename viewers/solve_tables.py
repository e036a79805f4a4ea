"""Answers and slopes as a person reads them: lines and tables, units everywhere, what stands in the way told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, log10

from airframe import units
from airframe.checks.finding import Finding
from airframe.checks.rounding import short
from airframe.solve.answers import Answer
from airframe.solve.conditions import Condition
from airframe.solve.keys import Key
from airframe.solve.optimum import Best
from airframe.solve.slopes import Sensitivity, Slope
from airframe.solve.trials import Trials, Tried
from airframe.sweep.measures import Measure
from airframe.units import System
from viewers import tables
from viewers.sweep_tables import number, setting_text

MOST_SLOPES = 12
"""Keys of one kind in a table: what moves a result less can be asked for by name."""
SLOPE_FIGURES, MOST_DECIMALS = 3, 5
"""Of a slope: it is good for no more."""
PLACE_FIGURES = 4
"""Of a place that is not rounded to what a knife can cut."""
NEAR = 0.01
"""Of its limit: what comes so near to an exact value is not what stands in the way."""
AT_END = 0.01
"""Of a range: a value so near to its end was stopped by it."""
MOST_NAMED = 6
"""Keys that a note names."""


def answer_lines(found: Answer, trials: Trials) -> list[str]:
    """What came of looking for one value."""
    key, system = found.key, trials.base.design.units
    place = f"between {about(key, found.ends[0], system)} and {about(key, found.ends[1], system)}"
    if found.holds_now:
        lines = [f"It holds already with {key.name} as it is: {_value(key, key.now, system)}. Nothing need change."]
        lines += _conditions(trials, found.now, None)
    elif found.choice is not None:
        exact = "" if found.choice.is_round else " (no round value will do)"
        lines = [f"{key.name}: {found.choice.text}{exact}, now {_value(key, key.now, system)}"]
        lines += _conditions(trials, found.choice.tried, found.now)
        lines += ["", f"  --set {found.choice.setting}", ""]
    else:
        lines = [f"There is no answer: no value of {key.name} {place} will do."]
        lines += _nearest(found, trials)
    lines += _where(found, system, place) + _unbuilt(found, system)
    return [*lines, *(_costs(found.costs) if found.choice is not None and not found.now.problem else ())]


def best_lines(found: Best, trials: Trials) -> list[str]:
    """What came of looking for the least or the most."""
    assert trials.goal is not None
    if found.tried is None:
        return ["There is no answer: nothing that was tried between the ends can be built.", *_problem(trials)]
    word = "most" if found.is_most else "least"
    if found.is_kept:
        what = _measured(trials.goal, found.tried.goal, trials)
        lines = [f"{trials.goal.code}: {what}, now {_measured(trials.goal, found.now.goal, trials)}"]
        lines[0] += f"; the {word} that was found"
    else:
        lines = ["There is no answer: nothing that was tried keeps every condition. Nearest to it comes:"]
    lines += _conditions(trials, found.tried, found.now if found.is_kept else None)
    system = trials.base.design.units
    for key, setting in zip(found.keys, found.settings, strict=True):
        lines.append(f"  {key.name}: {_typed(setting)}, now {_value(key, key.now, system)}")
    if found.is_kept:
        lines += ["", *(f"  --set {setting}" for setting in found.settings), ""]
        lines += _ends(found, system) + (_costs(found.costs) if not found.now.problem else [])
    return [*lines, f"{found.count} variants were built; a search like this may miss a better one."]


def slope_tables(found: Sensitivity) -> Iterator[tables.Table]:
    """One table for each result: by centimetre, by gram, by degree, the greatest first."""
    for one in found.measures:
        unit = one.unit.name(found.system)
        rows = [
            tables.Row((slope.key.name, _value(slope.key, slope.key.now, found.system), moved(slope, found), f"{per}"))
            for per in found.amounts()
            for slope in found.ranked(one.code, per)[:MOST_SLOPES]
        ]
        columns = (
            tables.Column("key"),
            tables.Column("now", "right"),
            tables.Column(f"moves it, {unit}" if unit else "moves it", "right"),
            tables.Column("for"),
        )
        yield tables.Table(f"What moves {one.code} most", columns, tuple(rows))


def slope_notes(found: Sensitivity) -> list[str]:
    """What the tables leave out, for each result."""
    lines = []
    for one in found.measures:
        left = sum(max(0, len(found.ranked(one.code, per)) - MOST_SLOPES) for per in found.amounts())
        told = [f"{left} more move it less"] if left else []
        told += [f"{found.idle(one.code)} do not move it"] if found.idle(one.code) else []
        rough = found.rough(one.code)
        told += [f"no slope can be given for {_named(rough)}"] if rough else []
        lines += [f"{one.code}: {'; '.join(told)}."] if told else []
    if found.is_taught:
        lines.append("Some parts were weighed: a changed one counts as drawn, with what its material was weighed at.")
    return lines


def moved(slope: Slope, found: Sensitivity) -> str:
    """The change with its sign, in the unit that the design shows."""
    assert slope.change is not None
    shown = slope.measure.unit.shown(slope.change, found.system)
    decimals = min(max(SLOPE_FIGURES - 1 - floor(log10(abs(shown))), 0), MOST_DECIMALS) if shown else 0
    return f"{shown:+.{decimals}f}"


def _named(rough: Sequence[Slope]) -> str:
    names = [f"{one.key.name} ({one.why_not})" for one in rough[:MOST_NAMED]]
    more = len(rough) - MOST_NAMED
    return ", ".join(names) + (f" and {more} more" if more > 0 else "")


def _conditions(trials: Trials, tried: Tried, before: Tried | None) -> list[str]:
    """Every condition with what it comes to, and what it was before."""
    if tried.problem:
        return [f"  cannot be judged: {tried.problem}"]
    lines = []
    for index, one in enumerate(trials.conditions):
        mark = "" if one.op == "=" or one.is_kept(tried.slacks[index]) else "  NOT KEPT"
        was = ""
        if before is not None and before.values and before.values[index] is not None:
            was = f", was {_measured(one.measure, before.values[index], trials)}"
        lines.append(f"  {one.text}: {_said(one, tried, index, trials)}{was}{mark}")
    return lines


def _said(one: Condition, tried: Tried, index: int, trials: Trials) -> str:
    value = tried.values[index]
    if value is None:
        return "yes" if one.is_kept(tried.slacks[index]) else "no"
    return _measured(one.measure, value, trials)


def _nearest(found: Answer, trials: Trials) -> list[str]:
    if found.nearest is None:
        return ["Nothing that was tried can be built."]
    missed = [
        one.text
        for one, slack in zip(trials.conditions, found.nearest.tried.slacks, strict=False)
        if (abs(slack) > NEAR if one.op == "=" else not one.is_kept(slack))
    ]
    at = about(found.key, found.nearest.value, trials.base.design.units)
    lines = [f"It comes nearest at {at}:", *_conditions(trials, found.nearest.tried, found.now)]
    lines += [f"In the way: {' and '.join(missed)}."] if missed else []
    if _is_at_end(found.nearest.value, found.ends):
        lines.append("That is the end of what was looked at; --between FROM TO looks further.")
    return lines


def _is_at_end(value: float, ends: tuple[float, float]) -> bool:
    """Whether a value was stopped by the end of its range."""
    return min(abs(value - end) for end in ends) <= AT_END * (ends[1] - ends[0])


def _where(found: Answer, system: System, place: str) -> list[str]:
    """Where the conditions hold, as far as was tried."""
    if not found.stretches:
        return [f"Looked for {place}."]
    told = [_stretch(found, one.low, one.high, system) for one in found.stretches]
    lines = [f"It holds {'; '.join(told)}. Looked for {place}, narrower stretches may be missed."]
    if found.edge is not None and found.edge.is_jump:
        lines.append("It does not pass through its limit there: it jumps, or cannot be built beyond.")
    return lines


def _stretch(found: Answer, low: float, high: float, system: System) -> str:
    if high - low <= 1e-9 * abs(high):
        return f"at {about(found.key, low, system)}"
    return f"from {about(found.key, low, system)} to {about(found.key, high, system)}"


def _unbuilt(found: Answer, system: System) -> list[str]:
    return [
        f"Cannot be built {_stretch(found, one.low, one.high, system)}: {one.problem}" for one in found.unbuilt
    ]  # fmt: skip


def _costs(costs: Sequence[Finding]) -> list[str]:
    if not costs:
        return ["No finding of 'check' turns worse."]
    return ["At the cost of:", *(f"  {one.verdict}: {one.code}: {one.message}" for one in costs)]


def _ends(found: Best, system: System) -> list[str]:
    """Which keys were stopped by the end of their range."""
    told = []
    for key, ends, setting in zip(found.keys, found.ends, found.settings, strict=True):
        value = key_value(key, setting)
        if _is_at_end(value, ends):
            told.append(f"{key.name} is at the end of what was looked at ({about(key, ends[0], system)} to "
                        f"{about(key, ends[1], system)}).")  # fmt: skip
    return told


def key_value(key: Key, setting: str) -> float:
    """The value of a --set line in the unit inside."""
    text = _typed(setting)
    return float(text) if key.kind is None else units.parse(text, key.kind)


def _typed(setting: str) -> str:
    """What stands behind the sign, without its quotes."""
    return setting.rpartition("=")[2].strip('"')


def _problem(trials: Trials) -> list[str]:
    problem = trials.at(()).problem
    return [f"As it is: {problem}"] if problem else []


def _value(key: Key, value: float | None, system: System) -> str:
    return "not given" if value is None else setting_text(value, key.unit, system)


def about(key: Key, value: float, system: System) -> str:
    """A place to a few figures, never in powers of ten."""
    shown = float(f"{key.unit.shown(value, system):.{PLACE_FIGURES}g}")
    return f"{short(shown, MOST_DECIMALS)} {key.unit.name(system)}".rstrip()


def _measured(asked: Measure, value: float | None, trials: Trials) -> str:
    if value is None:
        return "no number"
    system = trials.base.design.units
    return f"{number(value, asked.unit, system)} {asked.unit.name(system)}".rstrip()
