"""Searching along a line: edges of closed forms, jumps, holes, near misses."""

from __future__ import annotations

import pytest

from airframe.solve import line
from airframe.solve.line import Stretch


def test_an_edge_is_the_root_of_the_slack() -> None:
    """x^2 - 2 turns at the square root of two."""
    edge = line.edge(lambda x: x * x - 2.0, 1.0, 3.0, 1e-9)
    assert edge.at == pytest.approx(2.0**0.5, abs=1e-9)
    assert not edge.is_jump


def test_a_jump_is_found_and_told() -> None:
    """A step from -1 to 1 is found where it leaps, and is no passing through nothing."""
    edge = line.edge(lambda x: 1.0 if x > 0.7 else -1.0, 0.0, 1.0, 1e-6)
    assert edge.at == pytest.approx(0.7, abs=1e-6)
    assert edge.is_jump


def test_what_cannot_be_built_ends_a_stretch() -> None:
    """A slack that is kept up to where nothing can be built turns there."""
    edge = line.edge(lambda x: None if x > 0.3 else 1.0, 0.0, 1.0, 1e-6)
    assert edge.at == pytest.approx(0.3, abs=1e-6)
    assert edge.is_jump


def test_a_slack_of_nothing_at_an_end_turns_there() -> None:
    """Kept exactly at an end and not beyond, it turns at that end."""
    assert line.edge(lambda x: -x, 0.0, 1.0, 1e-6) == line.Edge(0.0, False)


def test_stretches_are_parted_by_misses_and_holes() -> None:
    """Neither a value that misses nor one that cannot be built belongs to a stretch."""
    found = line.stretches([0.0, 1.0, 2.0, 3.0, 4.0, 5.0], [1.0, 0.0, -1.0, 2.0, None, 3.0])
    assert found == [Stretch(0.0, 1.0), Stretch(3.0, 3.0), Stretch(5.0, 5.0)]


def test_crossings_go_either_way_but_never_over_a_hole() -> None:
    """Up and down through nothing are crossings, a sign changed over what cannot be built is none."""
    assert line.crossings([0.0, 1.0, 2.0, 3.0, 4.0], [-1.0, 1.0, -1.0, None, 1.0]) == [(0.0, 1.0), (1.0, 2.0)]


def test_the_present_value_is_looked_at_where_it_lies_within() -> None:
    """It is added to the equal steps, and not beyond the ends."""
    assert line.points(0.0, 4.0, 3, 1.0) == [0.0, 1.0, 2.0, 4.0]
    assert line.points(0.0, 4.0, 3, 9.0) == [0.0, 2.0, 4.0]


def test_the_nearest_miss_lies_between_the_values_looked_at() -> None:
    """-(x - 0.6)^2 - 1 is nearest to being kept at 0.6."""
    values = [0.0, 0.5, 1.0]

    def slack(x: float) -> float:
        return -((x - 0.6) ** 2) - 1.0

    assert line.nearest_miss(slack, values, [slack(x) for x in values]) == pytest.approx(0.6, abs=1e-4)


def test_where_nothing_can_be_built_there_is_no_nearest_miss() -> None:
    """No value can be named."""
    assert line.nearest_miss(lambda _: None, [0.0, 1.0], [None, None]) is None
