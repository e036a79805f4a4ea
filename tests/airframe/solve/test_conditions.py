"""Conditions as they are typed: what they ask, in which units, how far a number is from them."""

from __future__ import annotations

import pytest

from airframe.checks.finding import Finding
from airframe.config import ConfigError
from airframe.model import Aeroplane
from airframe.solve.conditions import Condition, conditions
from tests.airframe.sweep.plans import small


@pytest.fixture(scope="module")
def aeroplane() -> Aeroplane:
    """The small design; nothing of it is built here."""
    return Aeroplane.loaded(small())


@pytest.mark.parametrize(
    ("text", "code", "op", "value"),
    [
        ("ground.overturn <= 55 deg", "ground.overturn", "<=", 55.0),
        ("ground.overturn<=0.5rad", "ground.overturn", "<=", 28.64788975654116),
        ("mass < 1 kg", "mass", "<=", 1000.0),
        ("cg.behind_leading_edge = 2 in", "cg.behind_leading_edge", "=", 50.8),
        ("cg.percent_mac >= 30 %", "cg.percent_mac", ">=", 30.0),
        ("inertia.roll <= 0.01 kg m^2", "inertia.roll", "<=", 1e7),
        ("ground.lateral >= 0.4", "ground.lateral", ">=", 0.4),
        ("ground.turn <= 50 cm", "ground.turn", "<=", 0.5),
        ("fit.room: spare camera >= 3 mm", "fit.room: spare camera", ">=", 3.0),
        ("balance.range passes", "balance.range", "passes", 0.0),
    ],
)
def test_a_condition_is_read_in_the_units_of_its_code(
    aeroplane: Aeroplane, text: str, code: str, op: str, value: float
) -> None:
    """Any unit of the right kind will do; the exact factors are those of the units' definitions."""
    (one,) = conditions("--for", [text], aeroplane)
    assert (one.code, one.op) == (code, op)
    assert one.value == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("ground.overturn", "must be CODE <= VALUE"),
        ("ground.overtrun passes", "did you mean 'ground.overturn'"),
        ("ground.overturn <= 55", "needs a unit"),
        ("ground.overturn <= 55 mm", "is a unit of length"),
        ("mass passes", "neither passes nor fails"),
        ("ground.overturn.verdict = pass", "write 'ground.overturn passes'"),
        ("inertia.roll <= 5 mm", "must be a number with its unit"),
    ],
)
def test_what_cannot_be_asked_is_refused(aeroplane: Aeroplane, text: str, said: str) -> None:
    """With what would do."""
    with pytest.raises(ConfigError, match=said):
        conditions("--for", [text], aeroplane)


def test_every_wrong_condition_is_told(aeroplane: Aeroplane) -> None:
    """Not only the first."""
    with pytest.raises(ConfigError) as caught:
        conditions("--for", ["mas <= 1 g", "mass <= 1 mm"], aeroplane)
    assert len(caught.value.problems) == 2


def _finding(verdict: str, value: float | None, low: float | None, high: float | None) -> Finding:
    return Finding("a.b", verdict, value, "mm", (low, high), "", "")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("finding", "slack"),
    [
        (_finding("pass", 12.0, 10.0, None), 0.2),
        (_finding("fail", 15.0, None, 10.0), -0.5),
        (_finding("pass", 12.0, 10.0, 16.0), 0.2),
        (_finding("caution", 12.0, 10.0, None), -1.0),
        (_finding("fail", None, 10.0, None), -1.0),
        (_finding("info", None, None, None), 1.0),
    ],
)
def test_how_far_a_finding_is_from_passing(aeroplane: Aeroplane, finding: Finding, slack: float) -> None:
    """As a share of its nearest limit; where its number does not say, the verdict does."""
    (one,) = conditions("--for", ["balance.range passes"], aeroplane)
    assert isinstance(one, Condition)
    assert one.slack_of(finding) == pytest.approx(slack, abs=1e-12)
