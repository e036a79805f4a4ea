"""The range of the balance point: what may be written, and which stations it means."""

from __future__ import annotations

from typing import Any

import pytest

import airframe
from airframe import config
from airframe.balance.target import target
from airframe.balance.whole import balances
from airframe.drawing import PartError
from airframe.flight.whole import Flight
from airframe.layout import Layout
from airframe.schema.balance import OnChord
from tests.benchmarks.measured import TEASEL
from tests.designs import plain
from tests.plane import said


def ranged(**table: Any) -> Layout:
    """The plain design (chord 200 mm from station 120 mm) with this [balance]."""
    return Layout(plain(balance=table))


def not_asked() -> float:
    """The neutral point of a range that is stated without it."""
    raise AssertionError("the neutral point is nobody's business here")


def test_a_margin_is_measured_from_the_neutral_point() -> None:
    """With the neutral point at station 200 mm and a chord of 200 mm, 15 % margin is 170 mm and 5 % is 190 mm."""
    found = target(ranged(forward="15 % margin", aft="5 percent margin"), lambda: 200.0)
    assert found.window_mm == pytest.approx((170.0, 190.0))


def test_the_margin_of_a_whole_design_is_that_of_the_flight_estimates() -> None:
    """At the aft end of a range stated by margin the flight estimates give just that margin."""
    aeroplane = airframe.load(TEASEL, ["balance.forward=15 % margin", "balance.aft=6 % margin"])
    found = balances(aeroplane).target
    flight = Flight(aeroplane.layout, aeroplane.statement.whole)
    margins = [flight.static_margin((x, 0.0, 0.0)) for x in found.window_mm]
    assert margins == pytest.approx([0.15, 0.06], abs=1e-9)


def test_the_default_is_a_quarter_to_35_percent() -> None:
    """On a plain wing of 200 mm chord from station 120 mm: 170 to 190 mm, 50 to 70 mm behind the leading edge.

    To the cosine of the incidence, which is nothing here, and our choice of range (common practice, no source).
    """
    found = target(Layout(plain()), not_asked)
    assert found.window_mm == pytest.approx((170.0, 190.0))
    assert [found.behind_mm(x) for x in found.window_mm] == pytest.approx([50.0, 70.0])
    assert [found.share(x) for x in found.window_mm] == pytest.approx([0.25, 0.35])


@pytest.mark.parametrize(
    ("written", "station"),
    [("30 %", 180.0), ("30 percent", 180.0), ("60 mm", 180.0), ("2 in", 170.8), ("0 mm", 120.0)],
)
def test_both_ways_to_write_it(written: str, station: float) -> None:
    """A share of the mean chord, or a distance behind the leading edge, in any unit."""
    assert target(ranged(forward=written, aft="44 %"), not_asked).forward_mm == pytest.approx(station)


def test_the_two_ways_may_be_mixed() -> None:
    """One end by share, the other by distance; only then can it be turned inside out unnoticed, until stations tell."""
    assert target(ranged(forward="25 %", aft="66 mm"), not_asked).window_mm == pytest.approx((170.0, 186.0))
    with pytest.raises(PartError, match="forward must lie ahead of aft"):
        target(ranged(forward="40 %", aft="66 mm"), not_asked)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ('forward = "40 %"\naft = "30 %"', "'forward' must lie ahead of 'aft'"),
        ('forward = "5 % margin"\naft = "15 % margin"', "'forward' must lie ahead of 'aft'"),
        ('forward = "70 mm"\naft = "60 mm"', "'forward' must lie ahead of 'aft'"),
        ("forward = 25", "a share of the mean chord"),
        ('forward = "25"', "a distance behind the leading edge"),
        ('forward = "25 g"', "a distance behind the leading edge"),
        ('forward = "ten %"', "is not a share"),
        ('optional = ["a", "b", "c", "d", "e", "f", "g"]', "6"),
    ],
)
def test_what_is_refused(line: str, words: str) -> None:
    """Each with one message, at its place."""
    (problem,) = said(f"[balance]\n{line}\n")
    assert words in problem
    assert "balance" in problem


def test_a_place_on_the_chord_passes_as_it_is() -> None:
    """A design made from another design's values keeps them."""
    design = plain()
    again = config.from_dict({**_tables(), "balance": {"forward": "25 %"}})
    assert again.balance.forward == design.balance.forward == OnChord(share=0.25)


def _tables() -> dict[str, Any]:
    from tests.designs import plain_data

    return plain_data()
