"""What is asked of every variant: a number or a verdict by its code."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from airframe.checks import whole
from airframe.checks.finding import Finding, worst
from airframe.checks.pairs import PairCache
from airframe.config.problems import meant
from airframe.model import Aeroplane
from airframe.parts.common import GROUPS
from airframe.sweep.codes import FINDINGS, SUMS
from airframe.sweep.quantities import Unit

MASS = "mass"
"""What a measure needs that only sums up the weight statement."""
VERDICT = ".verdict"
Value = float | str | None
"""A number in the measure's unit; the word of a verdict; None where the question does not arise."""


class MeasureError(ValueError):
    """A code that names nothing; the message says what it may have meant."""


@dataclass(frozen=True)
class Measure:
    """One question to a variant; plain data, so that it can be sent to another process."""

    code: str
    unit: Unit
    """"" for a verdict."""
    needs: str
    """MASS, or the name of a check in `airframe.checks.whole`."""

    @property
    def is_verdict(self) -> bool:
        """Whether the answer is a word: pass, caution, fail or info."""
        return self.needs != MASS and self.code.endswith(VERDICT)

    def of(self, aeroplane: Aeroplane) -> Value:
        """The answer of one aeroplane. Raises PartError for what cannot be built."""
        return take(aeroplane, [self], PairCache())[self.code]


def measure(code: str, aeroplane: Aeroplane | None = None) -> Measure:
    """The measure of a code. Raises MeasureError, with the nearest name, for a code that names nothing.

    `ground.overturn` is a finding's value and `ground.overturn.verdict` its verdict; where several items have the
    finding, `fit.room: camera` is that of one, `fit.room` the worst. With an aeroplane, findings of checks that
    are not ours are known by asking it.
    """
    if code in SUMS:
        return Measure(code, Unit(SUMS[code]), MASS)
    group = _group(code)
    if group is not None:
        return Measure(code, Unit("g"), MASS)
    stem, is_verdict = _stem(code)
    known = FINDINGS.get(stem.split(":")[0])
    if known is None and aeroplane is not None:
        known = _asked(stem, aeroplane)
    if known is None:
        message = f"{code}: nothing of this name can be measured{_near(code)}"
        raise MeasureError(message)
    return Measure(code, Unit("" if is_verdict else known[1]), known[0])


def codes() -> tuple[str, ...]:
    """Every code that is known without an aeroplane; findings may be followed by an item, and by `.verdict`."""
    return (*SUMS, *(f"parts.{group}.mass" for group in GROUPS), *FINDINGS)


def take(aeroplane: Aeroplane, measures: Sequence[Measure], cache: PairCache) -> dict[str, Value]:
    """The answers by code; each check is asked once. Raises PartError for what cannot be built."""
    found = {name: tuple(check(aeroplane)) for name, check in whole.checks(cache) if _is_needed(name, measures)}
    return {one.code: _answer(one, aeroplane, found) for one in measures}


def _is_needed(check: str, measures: Sequence[Measure]) -> bool:
    return any(one.needs == check for one in measures)


def _answer(one: Measure, aeroplane: Aeroplane, found: Mapping[str, Sequence[Finding]]) -> Value:
    if one.needs == MASS:
        return summed(one.code, aeroplane)
    stem, is_verdict = _stem(one.code)
    named = [finding for finding in found[one.needs] if finding.code == stem or finding.code.startswith(f"{stem}: ")]
    if not named:
        return None
    judged = worst(named)
    return judged if is_verdict else next(finding.value for finding in named if finding.verdict == judged)


def summed(code: str, aeroplane: Aeroplane) -> float:
    """A sum of the weight statement, in its unit inside; a group that the aeroplane has not weighs nothing."""
    group = _group(code)
    if group is not None:
        body = aeroplane.statement.groups.get(group)
        return body.mass if body is not None else 0.0
    return _SUMS[code](aeroplane)


_SUMS: dict[str, Callable[[Aeroplane], float]] = {
    "mass": lambda one: one.statement.whole.mass,
    "cg.station": lambda one: one.cg_mm[0],
    "cg.behind_leading_edge": lambda one: one.cg_behind_leading_edge_mm,
    "cg.percent_mac": lambda one: 100.0 * one.cg_share_of_mean_chord,
    "cg.butt_line": lambda one: one.cg_mm[1],
    "cg.water_line": lambda one: one.cg_mm[2],
    "inertia.roll": lambda one: float(one.statement.whole.inertia[0, 0]),
    "inertia.pitch": lambda one: float(one.statement.whole.inertia[1, 1]),
    "inertia.yaw": lambda one: float(one.statement.whole.inertia[2, 2]),
    "inertia.product": lambda one: float(one.statement.whole.inertia[0, 2]),
}


def _group(code: str) -> str | None:
    """The group whose mass the code asks for."""
    name = code.removeprefix("parts.").removesuffix(".mass")
    return name if code == f"parts.{name}.mass" and name in GROUPS else None


def _stem(code: str) -> tuple[str, bool]:
    return code.removesuffix(VERDICT), code.endswith(VERDICT)


def _asked(stem: str, aeroplane: Aeroplane) -> tuple[str, str] | None:
    """The check that has a finding of this code, and its unit, by asking all of them."""
    for name, check in whole.checks(PairCache()):
        for finding in check(aeroplane):
            if finding.code == stem or finding.code.startswith(f"{stem}: "):
                return name, finding.unit
    return None


def _near(code: str) -> str:
    stem, _ = _stem(code)
    return meant(stem, codes()) or f" (e.g. {', '.join(list(SUMS)[:3])}, ground.overturn)"
