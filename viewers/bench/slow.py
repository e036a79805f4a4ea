"""What takes a second or more: findings with their remedies, flight estimates, and where the batteries may sit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from threading import Lock
from typing import Any

from airframe.balance.answers import Answer
from airframe.balance.intervals import Intervals
from airframe.balance.whole import Balances, balances
from airframe.checks import whole
from airframe.checks.changes import item_key
from airframe.checks.finding import Finding, rank
from airframe.checks.pairs import PairCache
from airframe.config import from_dict
from airframe.drawing import PartError, Shape
from airframe.kept import Kept
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from airframe.units import System
from viewers.bench import numbers
from viewers.bench.estimates import estimates
from viewers.bench.numbers import Figure
from viewers.bench.refusals import Superseded
from viewers.bench.source import Source, Variant
from viewers.finding_tables import as_json as findings_json

RESULTS_KEPT = 4
"""Variants whose results are remembered: going one step back and forth asks nothing again."""
POINT_DECIMALS = 2
"""Of a station in mm; what is finer nobody sets."""

IsWanted = Callable[[], bool]


@dataclass(frozen=True, eq=False)
class Results:
    """All that was worked out of one variant, in the words of one system of units."""

    aeroplane: Aeroplane
    is_tried: bool
    """Whether the remedies were tried; those that were not are not offered."""
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    bands: list[dict[str, Any]]


@dataclass
class WatchedPairs(PairCache):
    """What is known of pairs of parts; who asks on for a design that nobody waits for any more is stopped."""

    is_wanted: IsWanted = field(default=lambda: True)

    def number(self, shape: Shape) -> int:
        """The shape's short name in this cache. Raises Superseded."""
        if not self.is_wanted():
            raise Superseded
        return super().number(shape)


class SlowWork:
    """One run at a time; each stops as soon as it is no longer wanted."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._pairs = WatchedPairs()
        self._results: Kept[tuple[Variant, System], Results] = Kept(RESULTS_KEPT)

    def known(self, variant: Variant, system: System, is_tried: bool = True) -> Results | None:
        """What was worked out before; with remedies tried, if they are wanted so."""
        found = self._results.get((variant, system))
        return found if found is not None and (found.is_tried or not is_tried) else None

    def results(
        self, source: Source, variant: Variant, system: System, is_wanted: IsWanted, is_tried: bool = True
    ) -> Results:
        """What was worked out before, or is now. Raises Superseded once it is not wanted any more."""
        with self._lock:
            known = self.known(variant, system, is_tried)
            if known is None:
                self._pairs.is_wanted = is_wanted
                known = self._worked_out(source, variant, system, is_tried)
                self._results.put((variant, system), known)
        return known

    def _worked_out(self, source: Source, variant: Variant, system: System, is_tried: bool) -> Results:
        before = self._results.get((variant, system))
        aeroplane = before.aeroplane if before is not None else _in_words(source, variant, system)
        units = () if system == variant.design.units else (f'units="{system}"',)

        def tick(*_: object) -> None:
            if not self._pairs.is_wanted():
                raise Superseded

        def rebuild(settings: Sequence[str]) -> Aeroplane:
            # As `changed` makes it, but it asks at every part that it weighs whether it is still wanted.
            return Aeroplane(from_dict(variant.data, [*units, *settings]), source.store, tick, aeroplane)

        tick()
        findings = whole.run(aeroplane, rebuild if is_tried else None, tick, self._pairs)
        if before is not None:
            return replace(before, findings=findings, is_tried=is_tried)
        tick()
        figures = estimates(aeroplane)
        tick()
        return Results(aeroplane, is_tried, findings, figures, bands(aeroplane, self._pairs))


def _in_words(source: Source, variant: Variant, system: System) -> Aeroplane:
    """The variant's aeroplane, speaking in a system of units."""
    if system == variant.design.units:
        return variant.aeroplane
    return source.aeroplane(variant.design.model_copy(update={"units": system}))


def as_json(results: Results, name: str, old: Sequence[Figure], system: System) -> dict[str, Any]:
    """The results for the page, under the name of the design, beside the figures of its prototype."""
    return {
        "is_tried": results.is_tried,
        "findings": _findings_as_json(name, results),
        "numbers": numbers.as_json(results.figures, old, system),
        "bands": results.bands,
    }


def _findings_as_json(name: str, results: Results) -> list[dict[str, Any]]:
    """The findings as `check --json` prints them, each with its remedies and the settings that apply them.

    Where the remedies were not tried yet, those that set something are only counted.
    """
    findings = results.findings
    if not results.is_tried:
        findings = tuple(replace(one, remedies=tuple(r for r in one.remedies if not r.settings)) for one in findings)
    ordered = sorted(zip(findings, results.findings, strict=True), key=lambda pair: rank(pair[0]))
    more = [
        {
            "remedies": [{"text": remedy.text, "settings": list(remedy.settings)} for remedy in finding.remedies],
            "on_trial": len(found.remedies) - len(finding.remedies),
        }
        for finding, found in ordered
    ]
    plain = findings_json(name, findings)["findings"]
    return [one | two for one, two in zip(plain, more, strict=True)]


def bands(aeroplane: Aeroplane, cache: PairCache) -> list[dict[str, Any]]:
    """Where each battery may sit in each case: the free stretch of its tray, and what of it keeps the balance."""
    try:
        found: Balances = balances(aeroplane, cache=cache)
    except PartError:
        return []  # the findings say what is wrong with the range
    return [_band(answer, aeroplane) for answer in found.answers]


def _band(answer: Answer, aeroplane: Aeroplane) -> dict[str, Any]:
    case, now = answer.case, answer.now.station_mm
    battery = aeroplane.design.equipment[case.battery]
    assert isinstance(battery, Battery)
    return {
        "item": case.battery,
        "key": item_key(case.battery, "station"),
        "case": case.name,
        "is_current": case.is_current,
        "free": _nearest(answer.usable, now),
        "usable": _nearest(answer.in_range, now),
        "now": round(now, POINT_DECIMALS),
        "unit": "mm",
    }


def _nearest(stretches: Intervals, station_mm: float) -> list[float] | None:
    """The stretch that a station lies in, or the nearest one; None where there is none."""
    if not stretches:
        return None
    low, high = min(stretches, key=lambda one: max(one[0] - station_mm, station_mm - one[1], 0.0))
    return [round(low, POINT_DECIMALS), round(high, POINT_DECIMALS)]
