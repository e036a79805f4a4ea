"""Strips unrolled: lengths kept, turns as those of the shape in space, edges bevelled into their joints."""

from __future__ import annotations

from math import pi, radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.axes import Array, about_x, about_y, about_z, at, cross
from airframe.curves import camber_line
from airframe.drawing import Panel
from airframe.folding import fold
from airframe.strips import FlatnessError, strip_panel, unrolled

EXACT_MM = 1e-8
"""Places hold rotations to 1e-12, times a metre of lever."""
DRAWN_MM = 2e-5
"""Drawings hold coordinates to 1e-6 mm and angles to 1e-9 rad; a strip adds up a dozen of them."""


def skin(root_mm: float = 200.0, tip_mm: float = 150.0, span_mm: float = 300.0, count: int = 9) -> tuple[Array, Array]:
    """Tip and root edges of a bent wing skin of one section, upper side out."""
    line = camber_line(0.06, 0.35, count)
    root = np.column_stack([line[:, 0] * root_mm, np.zeros(count), line[:, 1] * root_mm])
    tip = np.column_stack([line[:, 0] * tip_mm + 25.0, np.full(count, span_mm), line[:, 1] * tip_mm])
    return tip, root


def folded_corners(panel: Panel) -> Array:
    """Corners of all outer faces of a folded panel."""
    return np.vstack([ring for facet in fold(panel).facets for ring in facet.outer])


def farthest(points: Array, among: Array) -> float:
    """The largest distance from any of the points to its nearest among the others."""
    return float(np.linalg.norm(points[:, None] - among[None], axis=2).min(axis=1).max())


def test_unrolled_strip_keeps_every_length() -> None:
    """Rulings, edges and diagonals of every facet are as long flat as in space."""
    first, second = skin()
    flat = unrolled(first, second)
    for a, b, c, d in (
        (first, second, flat.first, flat.second),
        (first[:-1], first[1:], flat.first[:-1], flat.first[1:]),
        (second[:-1], second[1:], flat.second[:-1], flat.second[1:]),
        (first[:-1], second[1:], flat.first[:-1], flat.second[1:]),
    ):
        np.testing.assert_allclose(np.linalg.norm(a - b, axis=1), np.linalg.norm(c - d, axis=1), rtol=0, atol=EXACT_MM)


def test_cylinder_unrolls_to_equal_steps_and_turns() -> None:
    """Twelve flat strips round half a drum: each interior ruling turns by a twelfth of pi."""
    angles = np.linspace(0.0, pi, 13)
    rim = np.column_stack([-np.cos(angles), np.zeros(13), np.sin(angles)]) * 30.0
    flat = unrolled(rim + np.array([0.0, 100.0, 0.0]), rim)
    np.testing.assert_allclose(flat.angles, pi / 12, atol=1e-12)
    np.testing.assert_allclose(np.diff(flat.first[:, 1]), 2 * 30 * np.sin(pi / 24), atol=1e-12)
    np.testing.assert_allclose(flat.second[:, 0] - flat.first[:, 0], 100.0, atol=1e-12)


def test_exchanging_the_edges_turns_the_other_side_out() -> None:
    """The same strip with its other side out bends by the opposite angles."""
    first, second = skin()
    np.testing.assert_allclose(unrolled(first, second).angles, -unrolled(second, first).angles, atol=1e-12)


def test_first_facet_is_where_the_strip_has_it() -> None:
    """The place carries the first facet's drawing home, exactly."""
    first, second = skin()
    flat = unrolled(first, second)
    drawn = np.vstack([flat.first[:2], flat.second[:2]])
    home = flat.place.apply(np.column_stack([drawn, np.zeros(4)]))
    np.testing.assert_allclose(home, np.vstack([first[:2], second[:2]]), rtol=0, atol=EXACT_MM)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(2, 14), st.floats(60, 300), st.floats(60, 300), st.floats(50, 500),
    st.tuples(*[st.floats(-3, 3)] * 3), st.tuples(*[st.floats(-800, 800)] * 3),
)  # fmt: skip
def test_folding_the_flat_strip_brings_every_corner_home(
    count: int,
    root: float,
    tip: float,
    span: float,
    turns: tuple[float, float, float],
    shift: tuple[float, float, float],
) -> None:
    """Unroll, draw, fold, place: anywhere in space each corner is found where the strip had it."""
    first, second = skin(root, tip, span, count)
    motion = at(*shift).after(about_z(turns[2]).after(about_y(turns[1]).after(about_x(turns[0]))))
    first, second = motion.apply(first), motion.apply(second)
    panel, home = strip_panel(first, second, 0.2)
    made = home.apply(folded_corners(panel))
    strip = np.vstack([first, second])
    assert farthest(made, strip) < DRAWN_MM
    assert farthest(strip, made) < DRAWN_MM


def test_half_a_cone_from_its_apex_unrolls_to_a_sector() -> None:
    """Rulings that meet in one corner are allowed at the strip's end facets: one facet, a triangle."""
    flat = unrolled([(0, 0, 0), (0, 0, 0)], [(30, 0, 0), (0, 40, 0)])
    assert np.linalg.norm(flat.second[1] - flat.second[0]) == pytest.approx(50.0, abs=EXACT_MM)
    panel, home = strip_panel([(0, 0, 0), (0, 0, 0)], [(30, 0, 0), (0, 40, 0)], 1.0)
    assert panel.area() == pytest.approx(600.0, abs=1e-6)
    assert farthest(home.apply(folded_corners(panel)), np.array([(0, 0, 0), (30, 0, 0), (0, 40, 0)])) < DRAWN_MM


def test_strip_that_starts_in_a_point() -> None:
    """A pointed end: the first ruling has no length."""
    first, second = [(0, 0, 0), (40, -10, 0)], [(0, 0, 0), (40, 10, 0)]
    panel, _ = strip_panel(second, first, 1.0)
    assert len(panel.outline.points) == 3
    assert panel.area() == pytest.approx(400.0, abs=1e-6)


def test_straight_stretches_need_no_score() -> None:
    """Rulings without a turn are not scored, and the drawing keeps its corners."""
    xs = np.array([0.0, 20.0, 40.0, 60.0])
    first = np.column_stack([xs, np.zeros(4), np.zeros(4)])
    panel, _ = strip_panel(first + np.array([0.0, 50.0, 0.0]), first, 3.0)
    assert panel.scores == ()
    assert panel.area() == pytest.approx(60 * 50, abs=1e-6)


def test_twisted_strip_is_refused_with_the_size_of_its_twist() -> None:
    """One corner of a square raised by 2 mm: the corners lie 0.5 mm out of the middle plane."""
    first, second = [(0, 0, 0), (50, 0, 0)], [(0, 50, 0), (50, 50, 2)]
    with pytest.raises(FlatnessError, match=r"0\.50 mm out of its plane, 0\.2 mm is allowed"):
        unrolled(first, second)
    assert len(unrolled(first, second, tolerance_mm=0.6).first) == 2


def test_strip_that_bends_back_is_refused() -> None:
    """Board scored on its inner face bends one way only."""
    xs = np.array([0.0, 20.0, 40.0, 60.0])
    first = np.column_stack([xs, np.zeros(4), [0.0, 6.0, 8.0, 16.0]])
    with pytest.raises(FlatnessError, match=r"bends back by .* at corner 2"):
        strip_panel(first + np.array([0.0, 50.0, 0.0]), first, 3.0)


@pytest.mark.parametrize(
    "edges",
    [([(0, 0, 0)], [(0, 1, 0)]), ([(0, 0, 0), (1, 0, 0)], [(0, 1, 0)]), ([(0, 0), (1, 0)], [(0, 1), (1, 1)])],
)
def test_edges_must_match(edges: tuple[list[tuple[float, ...]], list[tuple[float, ...]]]) -> None:
    """Two edges in space with the same number of corners, two or more."""
    with pytest.raises(ValueError, match="same number of corners"):
        unrolled(*edges)


@pytest.mark.parametrize("dihedral_deg", [-12.0, 0.0, 5.0, 16.0])
def test_end_bevels_lay_the_walls_into_the_joint_plane(dihedral_deg: float) -> None:
    """Inner and outer corners of the root end lie in one plane, whatever the skin's dihedral."""
    lift = about_x(radians(dihedral_deg))
    joint = np.array([0.0, 1.0, 0.0])
    line = camber_line(0.06, 0.35, 9)
    root = np.column_stack([line[:, 0] * 200, np.zeros(9), line[:, 1] * 200])
    tip = root + lift.turn((0.0, 300.0, 0.0))
    panel, home = strip_panel(tip, root, 5.0, second_plane_normal=joint)
    folded = fold(panel)
    outer = home.apply(np.vstack([f.outer[0] for f in folded.facets]))
    inner = home.apply(np.vstack([f.inner[0] for f in folded.facets]))
    at_root = np.abs(outer @ joint) < 1.0
    assert np.count_nonzero(at_root) == 16
    np.testing.assert_allclose(outer[at_root] @ joint, 0.0, atol=DRAWN_MM)
    np.testing.assert_allclose(inner[at_root] @ joint, 0.0, atol=DRAWN_MM)


def test_end_bevel_of_a_flat_strip_is_the_dihedral() -> None:
    """A flat panel lifted by an angle meets the centre plane with that bevel."""
    angle = 0.2
    tip = about_x(angle).apply([(0, 300, 0), (180, 300, 0)])
    panel, _ = strip_panel(tip, [(0, 0, 0), (180, 0, 0)], 5.0, second_plane_normal=(0, 1, 0))
    (bevel,) = panel.bevels
    # With the tip raised the upper face leans inboard and square walls outboard: the inner face must reach further.
    assert bevel.angle_rad == pytest.approx(-angle, abs=1e-9)


def test_end_edge_must_lie_in_its_joint_plane() -> None:
    """A wall cannot be laid into a plane that the edge itself leaves."""
    first, second = skin()
    with pytest.raises(FlatnessError, match="leaves its joint plane"):
        strip_panel(first, second, 5.0, second_plane_normal=(0, 1, 0.2))


VECTORS = st.lists(st.floats(-1e4, 1e4), min_size=3, max_size=3).map(np.array)


@given(VECTORS, VECTORS)
def test_a_single_cross_product_is_numpys_to_the_last_bit(first: Array, second: Array) -> None:
    """The short way gives exactly what the general function gives, so no drawing depends on which was called."""
    assert cross(first, second).tolist() == np.cross(first, second).tolist()
