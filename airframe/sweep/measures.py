"""What is asked of every variant: a number or a verdict by its code."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from math import inf
from typing import Any

from airframe.axes import Array
from airframe.checks import ground, mending, whole
from airframe.checks.finding import Finding, Verdict, worst
from airframe.checks.pairs import PairCache
from airframe.config.problems import meant
from airframe.drawing import PartError
from airframe.layout import Layout
from airframe.model import Aeroplane
from airframe.parts.common import GROUPS
from airframe.sweep.codes import FINDINGS, GROUND, SUMS
from airframe.sweep.quantities import Unit

MASS = "mass"
"""What a measure needs that only sums up the weight statement."""
VERDICT = ".verdict"
Value = float | str | None
"""A number in the measure's unit; the word of a verdict; None where the question does not arise."""


@dataclass(frozen=True, eq=False)
class Sums:
    """What a weight statement adds up to: of one aeroplane, or of n variants of one layout."""

    layout: Layout
    mass_g: Any
    """A number, or (n,)."""
    centre_mm: Array
    """(3,) or (n, 3)."""
    inertia_g_mm2: Array
    """(3, 3) or (n, 3, 3)."""
    groups: Mapping[str, Any]
    """Mass of each group: a number, or (n,)."""

    @classmethod
    def of(cls, aeroplane: Aeroplane) -> Sums:
        """Of one aeroplane. Raises PartError for what cannot be built."""
        statement = aeroplane.statement
        groups = {name: body.mass for name, body in statement.groups.items()}
        whole = statement.whole
        return cls(aeroplane.layout, whole.mass, whole.centre, whole.inertia, groups)


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
        known = _found_by(stem, aeroplane)
    if known is None:
        message = f"{code}: nothing of this name can be measured{_near(code)}"
        raise MeasureError(message)
    return Measure(code, Unit("" if is_verdict else known[1]), known[0])


def codes() -> tuple[str, ...]:
    """Every code that is known without an aeroplane; findings may be followed by an item, and by `.verdict`."""
    return (*SUMS, *(f"parts.{group}.mass" for group in GROUPS), *FINDINGS)


def take(aeroplane: Aeroplane, measures: Sequence[Measure], cache: PairCache) -> dict[str, Value]:
    """The answers by code; each check is asked once. Raises PartError for what cannot be built."""
    return asked(aeroplane, measures, cache)[0]


def asked(
    aeroplane: Aeroplane, measures: Sequence[Measure], cache: PairCache
) -> tuple[dict[str, Value], tuple[Verdict, ...]]:
    """The answers by code, and the verdicts of all findings that they are of; no remedy is looked for."""
    needed = {one.needs for one in measures}
    found = {
        name: tuple(_on_trial(check, measures)(aeroplane)) for name, check in whole.checks(cache) if name in needed
    }
    named = {one.code: _named(one, found) for one in measures if one.needs != MASS}
    sums = Sums.of(aeroplane) if MASS in needed else None
    answers: dict[str, Value] = {
        one.code: _answer(one, named[one.code]) if sums is None or one.code in named else float(summed(one.code, sums))
        for one in measures
    }
    return answers, tuple(worst(findings) for findings in named.values() if findings)


def _on_trial(check: mending.Check, measures: Sequence[Measure]) -> mending.Check:
    """The check without remedies; that of the ground without the outline too, where no measure needs it."""
    if check is not ground.findings:
        return mending.on_trial(check)
    codes = {_stem(one.code)[0].split(":")[0] for one in measures if one.needs == GROUND}
    return partial(ground.findings, with_remedies=False, with_outline=not codes <= set(ground.OF_FEET))


def _named(one: Measure, found: Mapping[str, Sequence[Finding]]) -> list[Finding]:
    """The findings that a code speaks of: its own, or those of every item that has it."""
    stem, _ = _stem(one.code)
    return [finding for finding in found[one.needs] if _is_of(finding, stem)]


def _is_of(finding: Finding, stem: str) -> bool:
    return finding.code == stem or finding.code.startswith(f"{stem}: ")


def _answer(one: Measure, findings: list[Finding]) -> Value:
    if not findings:
        return None
    judged = worst(findings)
    if one.is_verdict:
        return judged
    return min((finding for finding in findings if finding.verdict == judged), key=_room).value


def _room(finding: Finding) -> float:
    """How far a value is inside its limits, negative outside: of findings with one verdict the least is the worst.

    What has no value, because nothing is near, or no limit is never the worst of several.
    """
    if finding.value is None:
        return inf
    low, high = finding.limit
    return min(inf if low is None else finding.value - low, inf if high is None else high - finding.value)


def summed(code: str, sums: Sums) -> Any:
    """A sum in its unit inside, of one aeroplane or of many; a group that the aeroplane has not weighs nothing."""
    group = _group(code)
    return sums.groups.get(group, 0.0) if group is not None else _SUMS[code](sums)


def _of_mean_chord(sums: Sums) -> Any:
    chord = sums.layout.mean_chord
    return 100.0 * ((sums.centre_mm[..., 0] - chord.leading_edge_mm) / chord.length_mm)


_SUMS: dict[str, Callable[[Sums], Any]] = {
    "mass": lambda sums: sums.mass_g,
    "cg.station": lambda sums: sums.centre_mm[..., 0],
    "cg.behind_leading_edge": lambda sums: sums.centre_mm[..., 0] - sums.layout.design.wing.station_mm,
    "cg.percent_mac": _of_mean_chord,
    "cg.butt_line": lambda sums: sums.centre_mm[..., 1],
    "cg.water_line": lambda sums: sums.centre_mm[..., 2],
    "inertia.roll": lambda sums: sums.inertia_g_mm2[..., 0, 0],
    "inertia.pitch": lambda sums: sums.inertia_g_mm2[..., 1, 1],
    "inertia.yaw": lambda sums: sums.inertia_g_mm2[..., 2, 2],
    "inertia.product": lambda sums: sums.inertia_g_mm2[..., 0, 2],
}


def _group(code: str) -> str | None:
    """The group whose mass the code asks for."""
    name = code.removeprefix("parts.").removesuffix(".mass")
    return name if code == f"parts.{name}.mass" and name in GROUPS else None


def _stem(code: str) -> tuple[str, bool]:
    return code.removesuffix(VERDICT), code.endswith(VERDICT)


def _found_by(stem: str, aeroplane: Aeroplane) -> tuple[str, str] | None:
    """The check from outside that has a finding of this code, and its unit; those of ours all stand in FINDINGS."""
    for name, check in whole.added():
        with suppress(PartError):
            for finding in check(aeroplane):
                if _is_of(finding, stem):
                    return name, finding.unit
    return None


def _near(code: str) -> str:
    stem, _ = _stem(code)
    return meant(stem, codes()) or f" (e.g. {', '.join(list(SUMS)[:3])}, ground.overturn)"
