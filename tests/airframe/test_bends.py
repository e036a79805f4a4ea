"""What no wire can be bent to, and how near polylines come."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.bends import centre_line, least_distance_mm
from airframe.drawing import Wire

NEARLY_PARALLEL_MM = 1e-6
"""What rounding leaves of the distance between segments that are parallel but for the last digits."""
coordinate = st.floats(-50.0, 50.0)
segment = st.lists(st.tuples(coordinate, coordinate, coordinate), min_size=2, max_size=2)


@settings(max_examples=60, deadline=None)
@given(segment, segment)
def test_distance_of_segments_against_a_fine_grid(one: list[tuple[float, ...]], other: list[tuple[float, ...]]) -> None:
    """No pair of points of a fine grid comes nearer, and the nearest pair is no more than a grid step off."""
    a, b = np.array(one), np.array(other)
    shares = np.linspace(0.0, 1.0, 101)[:, None]
    grid = np.linalg.norm((a[0] + shares * (a[1] - a[0]))[:, None] - (b[0] + shares * (b[1] - b[0])), axis=-1).min()
    step = (np.linalg.norm(a[1] - a[0]) + np.linalg.norm(b[1] - b[0])) / 100.0
    assert grid - step <= least_distance_mm(a, b) <= grid + NEARLY_PARALLEL_MM


def test_a_wire_that_comes_back_to_its_start_is_refused() -> None:
    """A closed triangle of wire cannot be bent from one length."""
    points = ((0.0, 0.0, 0.0), (60.0, 0.0, 0.0), (30.0, 50.0, 0.0), (0.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="runs into itself"):
        centre_line(Wire(points, 2.0, 3.0))


def test_a_coil_that_keeps_its_distance_is_not() -> None:
    """The same triangle climbing by more than the diameter is a coil."""
    points = ((0.0, 0.0, 0.0), (60.0, 0.0, 2.0), (30.0, 50.0, 4.0), (0.0, 0.0, 6.0))
    assert len(centre_line(Wire(points, 2.0, 3.0)).bends) == 2


def test_a_bend_needs_an_inside_radius() -> None:
    """With none, its inner side would be a point; a straight wire needs none."""
    with pytest.raises(ValueError, match=r"0\.04 mm is the least"):
        centre_line(Wire(((0.0, 0.0, 0.0), (0.0, 0.0, 30.0), (0.0, 30.0, 30.0)), 2.0, 0.0))
    assert centre_line(Wire(((0.0, 0.0, 0.0), (0.0, 0.0, 30.0)), 2.0, 0.0)).length() == 30.0
