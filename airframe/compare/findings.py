"""The findings of two aeroplanes side by side: what got worse, what was mended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from airframe.checks.finding import Finding, Verdict

Trend = Literal["worse", "better", "same", "new", "gone"]

SEVERITY: dict[Verdict, int] = {"fail": 2, "caution": 1, "pass": 0, "info": 0}
SAME_SHARE = 1e-3
"""A distance to the limit that changes by less than this share of the limit has not changed."""


@dataclass(frozen=True)
class FindingPair:
    """One question asked of both aeroplanes."""

    code: str
    old: Finding | None
    """None where the question did not arise."""
    new: Finding | None

    @property
    def trend(self) -> Trend:
        """By verdict first, then by how far the value lies inside its limit; "same" too where that cannot be told."""
        if self.old is None:
            return "new"
        if self.new is None:
            return "gone"
        step = SEVERITY[self.new.verdict] - SEVERITY[self.old.verdict]
        if step == 0:
            step = _sign(self.old, self.new)
        return "same" if step == 0 else ("worse" if step > 0 else "better")

    @property
    def is_mended(self) -> bool:
        """Whether the new aeroplane's verdict is better, or a complaint about the old one no longer arises."""
        before = SEVERITY[self.old.verdict] if self.old else 0
        return before > (SEVERITY[self.new.verdict] if self.new else 0)

    @property
    def is_spoilt(self) -> bool:
        """Whether the new aeroplane's verdict is worse, or a complaint has come up."""
        before = SEVERITY[self.old.verdict] if self.old else 0
        return before < (SEVERITY[self.new.verdict] if self.new else 0)


def side_by_side(old: Sequence[Finding], new: Sequence[Finding]) -> tuple[FindingPair, ...]:
    """Every finding of either aeroplane once, by its code, in the order of what a builder should look at first:

    spoilt, still complained of, mended, nearer its limit, farther from it, and the rest; failing before cautioning.
    """
    before, after = _by_code(old), _by_code(new)
    codes = dict.fromkeys([*after, *before])
    pairs = [FindingPair(code, before.get((code, n)), after.get((code, n))) for code, n in codes]
    return tuple(sorted(pairs, key=_order))


def _by_code(findings: Sequence[Finding]) -> dict[tuple[str, int], Finding]:
    """Findings by their code and, should one code come twice, by which of them it is."""
    result: dict[tuple[str, int], Finding] = {}
    for finding in findings:
        number = sum(code == finding.code for code, _ in result)
        result[finding.code, number] = finding
    return result


def margin(finding: Finding) -> float | None:
    """How far the value lies inside its nearest limit, negative outside; None without a value or a limit."""
    low, high = finding.limit
    if finding.value is None:
        return None
    rooms = [bound for bound in (_minus(finding.value, low), _minus(high, finding.value)) if bound is not None]
    return min(rooms, default=None)


def _minus(a: float | None, b: float | None) -> float | None:
    return None if a is None or b is None else a - b


def _sign(old: Finding, new: Finding) -> int:
    """1 where the new value is nearer to its limit or farther outside, -1 the other way, 0 where neither."""
    before, after = margin(old), margin(new)
    if before is None or after is None or old.unit != new.unit:
        return 0
    bounds = [abs(bound) for finding in (old, new) for bound in finding.limit if bound is not None]
    if abs(after - before) <= SAME_SHARE * max(*bounds, abs(before), abs(after)):
        return 0
    return 1 if after < before else -1


def _order(pair: FindingPair) -> tuple[int, int, str]:
    severity = max((SEVERITY[finding.verdict] for finding in (pair.old, pair.new) if finding), default=0)
    still = SEVERITY[pair.new.verdict] if pair.new else 0
    if pair.is_spoilt:
        rank = 0
    elif still:
        rank = 1
    elif pair.is_mended:
        rank = 2
    else:
        rank = {"worse": 3, "better": 4, "new": 5, "gone": 6, "same": 7}[pair.trend]
    return rank, -severity, pair.code
