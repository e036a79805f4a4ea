"""A finding: one answer to one question about the design, as data; reports sort and print them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Verdict = Literal["fail", "caution", "pass", "info"]
WORST_FIRST: tuple[Verdict, ...] = ("fail", "caution", "pass", "info")
PASSES = WORST_FIRST.index("pass")
"""The rank from which on nothing is asked of the builder."""
PRACTICE = "common practice, no source"
"""What a finding's source says of a rule of the bench that no book is known for."""
HALF = 0.5
"""Of the least width that a sheet should keep, what it must keep: our choice."""
ROUNDING = 1e-6
"""A ratio that is so little short of its least is it."""
Limit = tuple[float | None, float | None]
"""Lowest and highest value that passes; None where there is no such bound."""


@dataclass(frozen=True)
class Remedy:
    """One change that would turn the finding to pass, with its number."""

    text: str
    """In words: "widen the track to 214 mm"."""
    settings: tuple[str, ...] = ()
    """The same as --set lines (KEY=VALUE), where a config key does it; empty where none does."""


@dataclass(frozen=True)
class Finding:
    """A value, its limit, a verdict, a source, and what would mend it."""

    code: str
    """Stable name, subject first: "ground.overturn"; a pair or an item may follow: "fit.overlap: camera, former F3"."""
    verdict: Verdict
    value: float | None
    unit: str
    """Of value and limit, for people: deg, mm, g (grams), %, N, m/s, m; "" for a bare number."""
    limit: Limit
    message: str
    """One sentence a builder understands, with numbers and units."""
    source: str
    """Where the limit is from: author, title, table; "common practice, no source"; "geometry"."""
    remedies: tuple[Remedy, ...] = ()
    """Proposed by the same equations as the value; the first is the least change."""
    parts: tuple[str, ...] = ()
    """Names of the parts concerned, for pictures."""

    @property
    def remedy(self) -> str | None:
        """All remedies in one sentence, or None."""
        return " or ".join(remedy.text for remedy in self.remedies) or None


def verdict(value: float, limit: Limit, caution: Limit = (None, None)) -> Verdict:
    """fail outside `limit`, caution outside the narrower `caution`, else pass; bounds themselves pass."""
    if _outside(value, limit):
        return "fail"
    return "caution" if _outside(value, caution) else "pass"


def rank(finding: Finding) -> int:
    """Its place when the worst come first."""
    return WORST_FIRST.index(finding.verdict)


def by_thickness(ratio: float, least: float) -> Verdict:
    """Of a width in sheet thicknesses: caution below the least, fail below half of it, where the sheet tears."""
    return verdict(ratio, (HALF * least, None), (least - ROUNDING, None))


def _outside(value: float, limit: Limit) -> bool:
    low, high = limit
    return (low is not None and value < low) or (high is not None and value > high)


def worst(findings: list[Finding] | tuple[Finding, ...]) -> Verdict:
    """The worst verdict of all; "info" when there is none."""
    return min((finding.verdict for finding in findings), key=WORST_FIRST.index, default="info")
