"""Intervals of stations: what is left when others are taken out."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.balance.intervals import Interval, common, merged, nearest, outside, without

WHOLE = st.integers(-20, 20).map(float)
INTERVALS = st.lists(st.tuples(WHOLE, WHOLE).map(lambda pair: (min(pair), max(pair))), max_size=5)


def is_in(point: float, intervals: tuple[Interval, ...] | list[Interval]) -> bool:
    """Whether a point belongs to one of some closed intervals."""
    return any(low <= point <= high for low, high in intervals)


def is_inside(point: float, intervals: list[Interval]) -> bool:
    """Whether a point lies in one of some open intervals."""
    return any(low < point < high for low, high in intervals)


@given(INTERVALS, INTERVALS, st.integers(-45, 45).map(lambda half: half / 2.0))
def test_a_point_is_left_unless_it_is_taken(whole: list[Interval], taken: list[Interval], point: float) -> None:
    """Point by point: what is left is the whole less the open intervals taken out; merging changes no point."""
    for one in whole:
        assert is_in(point, without(one, taken)) == (is_in(point, [one]) and not is_inside(point, taken))
    assert is_in(point, merged(whole)) == is_in(point, whole)
    assert is_in(point, common(merged(whole), (-5.0, 5.0))) == (is_in(point, whole) and -5.0 <= point <= 5.0)


@given(INTERVALS)
def test_merged_intervals_are_apart_and_ascend(intervals: list[Interval]) -> None:
    """Between two that follow one another there is a gap."""
    result = merged(intervals)
    assert all(a[1] < b[0] for a, b in pairwise(result))


@pytest.mark.parametrize(
    ("whole", "taken", "left"),
    [
        ((0.0, 10.0), [(3.0, 5.0)], ((0.0, 3.0), (5.0, 10.0))),
        ((0.0, 10.0), [(-1.0, 11.0)], ()),
        ((0.0, 10.0), [(10.0, 12.0), (-3.0, 0.0)], ((0.0, 10.0),)),
        ((4.0, 4.0), [(4.0, 6.0)], ((4.0, 4.0),)),
        ((4.0, 4.0), [(3.0, 6.0)], ()),
        ((5.0, 4.0), [], ()),
    ],
)
def test_without(whole: Interval, taken: list[Interval], left: tuple[Interval, ...]) -> None:
    """A hole parts an interval, a cover leaves nothing, touching takes nothing, inside out there was nothing."""
    assert without(whole, taken) == left


def test_the_nearest_point() -> None:
    """A point within stays; of a point between two intervals the nearer end is taken; of nothing, nothing."""
    rooms = ((0.0, 2.0), (6.0, 9.0))
    assert [nearest(rooms, x) for x in (1.0, 3.0, 5.0, 12.0, -1.0)] == [1.0, 2.0, 6.0, 9.0, 0.0]
    assert nearest((), 1.0) is None


def test_how_far_outside() -> None:
    """Above a window positive, below it negative, in it and on its ends nothing."""
    assert [outside(x, (2.0, 5.0)) for x in (1.0, 2.0, 4.0, 5.0, 7.0)] == [-1.0, 0.0, 0.0, 0.0, 2.0]
