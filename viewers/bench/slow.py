"""What takes a second or more: findings with their remedies, flight estimates, and where the batteries may sit."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from threading import Lock
from typing import Any

from airframe.balance.answers import Answer
from airframe.balance.intervals import Intervals
from airframe.balance.whole import Balances, balances
from airframe.checks import whole
from airframe.checks.changes import item_key
from airframe.checks.finding import WORST_FIRST, Finding
from airframe.checks.pairs import PairCache
from airframe.config import from_dict
from airframe.drawing import PartError, Shape
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from airframe.units import System
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
        self._results: OrderedDict[tuple[Variant, System], Results] = OrderedDict()

    def known(self, variant: Variant, system: System) -> Results | None:
        """What was worked out before."""
        return self._results.get((variant, system))

    def results(self, source: Source, variant: Variant, system: System, is_wanted: IsWanted) -> Results:
        """What was worked out before, or is now. Raises Superseded once it is not wanted any more."""
        with self._lock:
            known = self._results.get((variant, system))
            if known is None:
                self._pairs.is_wanted = is_wanted
                known = self._worked_out(source, variant, system)
                self._results[variant, system] = known
                while len(self._results) > RESULTS_KEPT:
                    self._results.popitem(last=False)
        return known

    def _worked_out(self, source: Source, variant: Variant, system: System) -> Results:
        is_own = system == variant.design.units
        aeroplane = (
            variant.aeroplane if is_own else source.aeroplane(variant.design.model_copy(update={"units": system}))
        )
        units = () if is_own else (f'units="{system}"',)

        def tick(*_: object) -> None:
            if not self._pairs.is_wanted():
                raise Superseded

        def rebuild(settings: Sequence[str]) -> Aeroplane:
            # As `changed` makes it, but it asks at every part that it weighs whether it is still wanted.
            return Aeroplane(from_dict(variant.data, [*units, *settings]), source.store, tick, aeroplane)

        tick()
        findings = whole.run(aeroplane, rebuild, tick, self._pairs)
        tick()
        figures = estimates(aeroplane)
        tick()
        return Results(findings, figures, bands(aeroplane, self._pairs))


def findings_as_json(name: str, findings: Sequence[Finding]) -> list[dict[str, Any]]:
    """The findings as `check --json` prints them, each with its remedies and the settings that apply them."""
    ordered = sorted(findings, key=lambda finding: WORST_FIRST.index(finding.verdict))
    remedies = [
        [{"text": remedy.text, "settings": list(remedy.settings)} for remedy in finding.remedies] for finding in ordered
    ]
    plain = findings_json(name, findings)["findings"]
    return [one | {"remedies": mends} for one, mends in zip(plain, remedies, strict=True)]


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
