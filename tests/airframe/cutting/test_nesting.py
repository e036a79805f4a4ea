"""Nesting: distances kept, the same for the same seed, nothing lost."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.cutting.nesting import Bin, Piece, nest, turned


def box(length: float, width: float) -> Piece:
    return Piece(np.array([(0, 0), (length, 0), (length, width), (0, width)], dtype=float))


def laid(pieces, found):
    return [
        (
            spot.bin,
            shapely.affinity.translate(shapely.Polygon(turned(piece.corners, spot.quarters)), spot.x_mm, spot.y_mm),
        )
        for piece, spot in zip(pieces, found.spots, strict=True)
        if spot is not None
    ]


triangles = st.builds(
    lambda a, b, c: Piece(np.array([(0, 0), (a, 0), (c, b)], dtype=float) - (min(0, c), 0)),
    st.integers(5, 90), st.integers(5, 90), st.integers(0, 60),
)  # fmt: skip
boxes = st.builds(box, st.integers(3, 140), st.integers(3, 90))


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.one_of(triangles, boxes), min_size=1, max_size=8), st.sampled_from([0.0, 1.0, 3.5]), st.integers(0, 9)
)
def test_no_two_pieces_are_nearer_than_the_gap(pieces, gap, seed) -> None:
    """Whatever the pieces, exact polygons keep the gap, lie inside their bin, and each lies down at most once."""
    bins = [Bin(150.0, 101.0)] * 3
    found = nest(pieces, bins, gap, 0.0, seed)
    assert len(found.spots) == len(pieces)
    placed = laid(pieces, found)
    for _, area in placed:
        assert shapely.box(0, 0, 150, 101).buffer(1e-6).contains(area)
    for (bin_one, one), (bin_other, other) in combinations(placed, 2):
        assert bin_one != bin_other or one.distance(other) >= gap - 1e-9
        assert bin_one != bin_other or one.intersection(other).area < 1e-9


def test_the_same_seed_gives_the_same_nest() -> None:
    """Twice the same order of work, to the last digit, however fast the machine is."""
    pieces = [box(10 + 7 * k % 50, 8 + 11 * k % 40) for k in range(18)]
    first, second = (nest(pieces, [Bin(120, 90)] * 4, 2.0, 0.3, 5) for _ in range(2))
    assert first == second


def test_more_time_is_never_worse() -> None:
    """The search only ever replaces a nest by a better one."""
    pieces = [box(30 + 5 * (k % 4), 18 + 7 * (k % 3)) for k in range(14)]
    costs = [nest(pieces, [Bin(120, 90)] * 4, 1.0, seconds, 1).cost for seconds in (0.0, 0.3)]
    assert costs[1] <= costs[0]


def test_a_full_sheet() -> None:
    """Four pieces of 48 x 38 mm and their gap of 2 fill a sheet of 101 x 81; the second stays empty."""
    pieces = [box(48.0, 38.0)] * 4
    found = nest(pieces, [Bin(101.0, 81.0, (0, 2))] * 2, 2.0, 0.0, 0)
    assert {spot.bin for spot in found.spots} == {0}


def test_what_has_no_room_is_left() -> None:
    """Two pieces of a sheet's size and one sheet: one is left over, and said to be."""
    found = nest([box(90, 70)] * 2, [Bin(100, 80)], 2.0, 0.0, 0)
    assert [spot is None for spot in found.spots].count(True) == 1
    assert found.cost[0] == 1


def test_turns_are_those_the_bin_allows() -> None:
    """Along a grain only half turns are taken, even where a quarter turn would fit and the straight way would not."""
    assert nest([box(90, 30)], [Bin(100, 40, (0, 2))], 0.0, 0.0, 0).spots[0].quarters in (0, 2)
    assert nest([box(90, 30)], [Bin(40, 100, (0, 2))], 0.0, 0.0, 0).spots[0] is None
    assert nest([box(90, 30)], [Bin(40, 100, (1, 3))], 0.0, 0.0, 0).spots[0].quarters in (1, 3)


def test_progress_is_told() -> None:
    """Each order that is tried is told, counted from 1."""
    said = []
    nest([box(20, 10)] * 3, [Bin(60, 40)], 1.0, 0.02, 0, lambda tried, used: said.append((tried, used)))
    assert [tried for tried, _ in said] == list(range(1, len(said) + 1)) and said[0][1] == 1


def test_hollows_are_used() -> None:
    """Two right triangles lie down as one rectangle, a little apart: in a sheet too small for their boxes."""
    triangle = Piece(np.array([(0, 0), (80, 0), (0, 40)], dtype=float))
    found = nest([triangle, triangle], [Bin(88.0, 46.0)], 1.0, 0.0, 0)
    assert all(spot is not None for spot in found.spots)


def test_turned_outline_starts_at_the_corner() -> None:
    """A quarter turn keeps the lower left corner at 0 and exchanges length and width."""
    corners = turned(box(30, 10).corners, 1)
    assert corners.min(axis=0) == pytest.approx((0, 0)) and corners.max(axis=0) == pytest.approx((10, 30))


def test_seconds_that_are_no_number_end_at_once() -> None:
    """A budget of nan bounds nothing by itself: one order is tried, as with a budget of nothing."""
    tried: list[int] = []
    nest([box(20, 10), box(10, 10)], [Bin(50.0, 50.0)], 1.0, float("nan"), 0, lambda done, _: tried.append(done))
    assert tried == [1]
