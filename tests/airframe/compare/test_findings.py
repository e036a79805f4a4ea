"""Findings side by side."""

from __future__ import annotations

import pytest

from airframe.checks.finding import Finding, Limit, Verdict
from airframe.compare.findings import FindingPair, margin, side_by_side


def _finding(
    code: str = "ground.overturn",
    verdict: Verdict = "pass",
    value: float | None = 50.0,
    limit: Limit = (None, 63.0),
    unit: str = "deg",
) -> Finding:
    return Finding(code, verdict, value, unit, limit, f"{code} is {verdict}.", "invented for a test")


@pytest.mark.parametrize(
    ("old", "new", "trend"),
    [
        (_finding(verdict="pass"), _finding(verdict="fail"), "worse"),
        (_finding(verdict="caution"), _finding(verdict="pass"), "better"),
        (_finding(value=60.0), _finding(value=55.0), "better"),
        (_finding(value=55.0), _finding(value=60.0), "worse"),
        (_finding(value=55.0), _finding(value=55.01), "same"),
        (_finding(verdict="fail", value=70.0), _finding(verdict="fail", value=66.0), "better"),
        (_finding(value=20.0, limit=(16.0, 25.0)), _finding(value=24.0, limit=(16.0, 25.0)), "worse"),
        (_finding(value=12.0, limit=(10.0, None)), _finding(value=15.0, limit=(10.0, None)), "better"),
        (_finding(value=None), _finding(value=55.0), "same"),
        (_finding(value=5.0, limit=(None, None)), _finding(value=9.0, limit=(None, None)), "same"),
        (_finding(value=55.0), _finding(value=5.0, unit="mm"), "same"),
        (_finding(verdict="pass"), _finding(verdict="info", value=None), "same"),
        (None, _finding(), "new"),
        (_finding(), None, "gone"),
    ],
)
def test_trend(old: Finding | None, new: Finding | None, trend: str) -> None:
    """The verdict decides, then the distance to the limit; what cannot be compared is the same."""
    assert FindingPair("ground.overturn", old, new).trend == trend


def test_margin_is_to_the_nearest_limit() -> None:
    """Inside, the smaller room of the two; outside, negative; without limits there is none."""
    assert margin(_finding(value=18.0, limit=(16.0, 25.0))) == 2.0
    assert margin(_finding(value=27.0, limit=(16.0, 25.0))) == -2.0
    assert margin(_finding(limit=(None, None))) is None


def test_what_matters_comes_first() -> None:
    """New trouble and what was spoilt, failing before cautioning; old trouble; what was mended; the rest."""
    old = [
        _finding("a.kept"), _finding("b.mended", "fail", 70.0), _finding("c.spoilt"),
        _finding("d.still", "fail", 70.0), _finding("e.gone", "fail", 70.0), _finding("f.nearer", value=50.0),
    ]  # fmt: skip
    new = [
        _finding("a.kept"), _finding("b.mended"), _finding("c.spoilt", "caution"),
        _finding("d.still", "fail", 66.0), _finding("f.nearer", value=58.0), _finding("g.trouble", "fail", 70.0),
        _finding("h.fresh"),
    ]  # fmt: skip
    assert [(pair.code, pair.trend) for pair in side_by_side(old, new)] == [
        ("g.trouble", "new"),
        ("c.spoilt", "worse"),
        ("d.still", "better"),
        ("b.mended", "better"),
        ("e.gone", "gone"),
        ("f.nearer", "worse"),
        ("h.fresh", "new"),
        ("a.kept", "same"),
    ]


def test_a_code_that_comes_twice_is_paired_in_turn() -> None:
    """Two findings of one code are compared first with first, second with second, and none is lost."""
    old = [_finding(value=50.0), _finding(value=60.0)]
    new = [_finding(value=52.0), _finding(value=58.0)]
    pairs = side_by_side(old, new)
    assert sorted((pair.old.value, pair.new.value) for pair in pairs if pair.old and pair.new) == [
        (50.0, 52.0),
        (60.0, 58.0),
    ]


def test_an_aeroplane_beside_itself() -> None:
    """Nothing is better or worse than itself."""
    findings = [_finding("a", "fail", 70.0), _finding("b"), _finding("c", "info", None)]
    assert {pair.trend for pair in side_by_side(findings, findings)} == {"same"}
