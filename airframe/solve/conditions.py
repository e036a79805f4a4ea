"""What an answer must keep, as a person types it: "ground.overturn <= 55 deg", "balance.range passes"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees
from typing import Literal

from airframe import units
from airframe.checks.finding import PASSES, Finding, rank
from airframe.config import ConfigError, Problem
from airframe.model import Aeroplane
from airframe.sweep.measures import MASS, Measure, MeasureError, measure

Op = Literal["<=", ">=", "=", "passes"]
_FORM = re.compile(r"\s*(?P<code>.+?)\s*(?:(?P<op><=|>=|==|=|<|>)\s*(?P<value>.+?)|\s(?P<passes>pass(?:es)?))\s*")
_OPS: dict[str, Op] = {"<=": "<=", ">=": ">=", "<": "<=", ">": ">=", "=": "=", "==": "="}
MM_PER_M = 1000.0
AT_LIMIT = 1e-9
"""A slack that is so little below nothing is nothing: rounding of sums."""
UNKNOWN_SLACK = 1.0
"""Of a finding whose number does not say how far it is from passing: one whole limit."""


@dataclass(frozen=True)
class Condition:
    """One question to a variant that is answered by yes or no, and by how far from the other answer it is."""

    text: str
    measure: Measure
    op: Op
    value: float = 0.0
    """In the measure's unit inside; nothing for `passes`."""

    @property
    def code(self) -> str:
        """What it is asked of."""
        return self.measure.code

    @property
    def scale(self) -> float:
        """What a slack is a share of."""
        return abs(self.value) or 1.0

    def slack(self, value: float) -> float:
        """How far a number keeps within the condition, as a share of its limit; negative where it does not.

        Of `=`: how far the number lies above, negative below.
        """
        over = (value - self.value) / self.scale
        return -over if self.op == "<=" else over

    def slack_of(self, finding: Finding) -> float:
        """Of `passes`: how far the finding is within its own limit, as a share of it."""
        passes = rank(finding) >= PASSES
        inside = _inside(finding)
        if inside is None or (inside >= 0.0) != passes:
            return UNKNOWN_SLACK if passes else -UNKNOWN_SLACK
        return inside

    def is_kept(self, slack: float) -> bool:
        """Whether a slack is enough; `=` is a matter of rounding, and of who asks."""
        return slack >= -AT_LIMIT


def _inside(finding: Finding) -> float | None:
    """How far a finding's value is within its nearest limit, as a share of that; None where it has no numbers."""
    if finding.value is None or finding.limit == (None, None):
        return None
    low, high = finding.limit
    found = [] if low is None else [(finding.value - low) / (abs(low) or 1.0)]
    found += [] if high is None else [(high - finding.value) / (abs(high) or 1.0)]
    return min(found)


def conditions(option: str, texts: Sequence[str], aeroplane: Aeroplane) -> tuple[Condition, ...]:
    """All of them. Raises ConfigError with everything that is wrong; `option` is what asked for them."""
    found, problems = [], []
    for text in texts:
        try:
            found.append(_condition(text, aeroplane))
        except (MeasureError, ValueError) as error:
            problems.append(Problem(f"{option} '{text}'", None, "", None, str(error)))
    if sum(one.op == "=" for one in found) > 1:
        problems.append(Problem(option, None, "", None, "only one of the conditions may be an exact value (=)"))
    if problems:
        raise ConfigError(problems)
    return tuple(found)


def _condition(text: str, aeroplane: Aeroplane) -> Condition:
    match = _FORM.fullmatch(text)
    if match is None:
        message = "must be CODE <= VALUE, CODE >= VALUE, CODE = VALUE or CODE passes, e.g. 'ground.overturn <= 55 deg'"
        raise ValueError(message)
    asked = measure(match["code"], aeroplane)
    if asked.is_verdict:
        message = f"write '{asked.code.removesuffix('.verdict')} passes' to ask for a verdict"
        raise ValueError(message)
    if match["passes"]:
        if asked.needs == MASS:
            message = f"{asked.code} is a number, which neither passes nor fails; write {asked.code} <= VALUE"
            raise ValueError(message)
        return Condition(f"{asked.code} passes", asked, "passes")
    op, value = _OPS[match["op"]], number(match["value"], asked)
    return Condition(f"{asked.code} {op} {match['value']}", asked, op, value)


def number(text: str, asked: Measure) -> float:
    """A value in the measure's unit inside. Raises ValueError for another kind of quantity."""
    inside = asked.unit.inside
    match inside:
        case "mm" | "g" | "mm^3" | "m/s" | "N" | "N m" | "A" | "s":
            kind = next(one for one in units.DIMENSIONS if one.internal == inside)
            return units.parse(text, kind)
        case "deg":
            return degrees(units.parse(text, units.ANGLE))
        case "%":
            return 100.0 * units.parse(text, units.FRACTION)
        case "m":
            return units.parse(text, units.LENGTH) / MM_PER_M
        case _:
            return _plain(text, asked)


_INERTIA = {"g mm^2": 1.0, "g m^2": 1e6, "kg m^2": 1e9, "oz in^2": units.G_PER_OUNCE * units.MM_PER_INCH**2}


def _plain(text: str, asked: Measure) -> float:
    """A number with the unit that its table shows, or bare where there is none."""
    factors = _INERTIA if asked.unit.inside == "g mm^2" else {asked.unit.inside: 1.0, "": 1.0}
    match = re.fullmatch(r"([+-]?[0-9.]+(?:[eE][+-]?[0-9]+)?)\s*(.*)", text)
    if match is None or match[2] not in factors:
        named = ", ".join(unit for unit in factors if unit)
        message = f"'{text}' must be a number{f' with its unit ({named})' if named else ' without a unit'}"
        raise ValueError(message)
    return float(match[1]) * factors[match[2]]
