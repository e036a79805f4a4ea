"""Motions of outlines, and outlines grown outwards."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.cutting.loops import Motion, bounds, grown, pushed
from airframe.drawing import circle, loop, rectangle

SLOT = loop([(0, 0), (30, 0), (40, 10), (0, 10)], [0.0, 0.4142135624, 0.0, 0.0])
motions = st.builds(
    Motion, st.booleans(), st.integers(0, 3), st.tuples(st.integers(-90, 90), st.integers(-90, 90)).map(tuple)
)


@given(motions, motions)
def test_motions_chain(first, second) -> None:
    """Doing one motion after another is the motion that `after` gives."""
    point = (3.0, -7.0)
    assert second.after(first).point(point) == pytest.approx(second.point(first.point(point)))


@given(motions)
def test_a_moved_outline_keeps_area_length_and_arcs(motion) -> None:
    """A rigid motion, mirrored or not, changes neither area nor length, and the outline stays counter-clockwise."""
    moved = motion.loop(SLOT)
    assert moved.area() == pytest.approx(SLOT.area()) and moved.area() > 0.0
    assert moved.length() == pytest.approx(SLOT.length())
    there = {motion.point(p) for p in SLOT.points}
    assert set(moved.points) == there


def test_mirrored_arc_bulges_to_the_other_side() -> None:
    """The rounded corner of a slot, at the right, is at the left of its mirror image, sample by sample."""
    mirrored = Motion(True).loop(SLOT)
    assert bounds(mirrored.flattened())[0] == pytest.approx(-bounds(SLOT.flattened())[2])
    image = SLOT.flattened() * (-1.0, 1.0)
    for corner in mirrored.flattened():
        assert np.hypot(*(image - corner).T).min() < 1e-5


def test_a_rectangle_grown_on_one_edge() -> None:
    """A 40 x 20 rectangle with its right edge pushed out by 3 is 43 x 20."""
    assert grown(rectangle(0, 0, 40, 20), np.array([0.0, 3.0, 0.0, 0.0])).area() == pytest.approx(43 * 20)


def test_a_rectangle_grown_all_round() -> None:
    """Pushed out by 2 on every edge, 40 x 20 becomes 44 x 24: corners are mitred."""
    assert grown(rectangle(0, 0, 40, 20), np.full(4, 2.0)).area() == pytest.approx(44 * 24)


def test_nothing_grown_is_the_same_outline() -> None:
    """Without growth the outline is returned as it is, its arcs whole."""
    disk = circle(0, 0, 10)
    assert grown(disk, np.zeros(2)) is disk


def test_edges_in_one_line_share_their_growth() -> None:
    """Where an edge that grows by 2 runs straight on into one that does not, their corner moves by 1."""
    corners, edges = pushed(loop([(0, 0), (10, 0), (20, 0), (20, 10), (0, 10)]), np.array([2.0, 0, 0, 0, 0]))
    assert edges.tolist() == [0, 1, 2, 3, 4]
    np.testing.assert_allclose(corners[1], (10.0, -1.0), atol=1e-9)
