"""Composite bodies: the parallel-axis theorem against worked examples, and sums that leave nothing over."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe import inertia
from airframe.axes import about_x, about_y, about_z, at
from airframe.drawing import Block, Panel, rectangle
from airframe.inertia import Body
from airframe.shapes import measure

SUM = 1e-9
"""Parts add up to the whole."""


def point(mass: float, x: float, y: float = 0.0, z: float = 0.0) -> Body:
    """A point mass."""
    return Body(mass, np.array([x, y, z]), np.zeros((3, 3)))


def rod(mass: float, start: tuple[float, float, float], end: tuple[float, float, float]) -> Body:
    """A slender rod of a given mass."""
    thin = inertia.polyline([start, end])
    return thin.scaled(mass / thin.mass)


def disk(mass: float, outer: float, inner: float = 0.0, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Body:
    """A round plate square to the x axis; only its moment about x is used, so its thickness does not matter."""
    plate = inertia.tube(1e-6, outer, inner)
    return plate.scaled(mass / plate.mass).placed(np.eye(3), (x, y, z))


def test_1_13_parallel_axis_theorem() -> None:
    """I = I_cm + m d^2 (OpenStax University Physics 1, 10.5, verified: m58330); tensor form from memory."""
    body = inertia.box(3.0, 4.0, 5.0)
    d = np.array([7.0, -2.0, 1.0])
    about = inertia.about(body, d)
    np.testing.assert_allclose(about, body.inertia + 60.0 * (d @ d * np.eye(3) - np.outer(d, d)), rtol=1e-12)
    assert about[0, 0] == pytest.approx(body.inertia[0, 0] + 60.0 * (4.0 + 1.0))


def test_1_14_child_on_a_merry_go_round() -> None:
    """25 kg at 1.0 m on a disk of 500 kg and 2.0 m: 1025 kg m^2 (OpenStax 10.5, verified: m58330)."""
    whole = inertia.combined([point(25.0, 0.0, 1.0), disk(500.0, 2.0)])
    assert inertia.about(whole, (0, 0, 0))[0, 0] == pytest.approx(1025.0, rel=1e-9)


def test_1_15_rod_and_sphere() -> None:
    """Rod 2.0 kg 0.5 m, sphere 1.0 kg 0.20 m beyond it: 0.673 kg m^2 (OpenStax 10.5, verified: m58330)."""
    sphere = Body(1.0, np.array([0.7, 0.0, 0.0]), 2 / 5 * 0.2**2 * np.eye(3))
    whole = inertia.combined([rod(2.0, (0, 0, 0), (0.5, 0, 0)), sphere])
    total = inertia.about(whole, (0, 0, 0))[2, 2]
    assert total == pytest.approx(0.673, abs=5e-4)
    assert total == pytest.approx(0.167 + 0.016 + 0.490, abs=1e-3)


def test_1_16_rod_pivoted_at_a_sixth() -> None:
    """7/36 m L^2 (OpenStax 10.5, verified: m58330)."""
    length = 1.8
    body = rod(3.0, (0, 0, 0), (length, 0, 0))
    assert inertia.about(body, (length / 6, 0, 0))[1, 1] == pytest.approx(7 / 36 * 3.0 * length**2, rel=1e-12)


def test_1_17_pendulum_of_rods_and_a_holed_plate() -> None:
    """y = 0.888 m and I_G = 5.61 kg m^2 (Hibbeler, Dynamics, 11th ed., prob. 17-23; solutions manual, secondary).

    The figure is not in the excerpt. Read as: a cross rod of 2a = 0.8 m, an upright of b = 1.5 m hanging from its
    middle, and below it a disk of r = 0.3 m with a hole of c = 0.1 m; both published numbers follow from that reading.
    """
    a, b, c, r = 0.4, 1.5, 0.1, 0.3
    whole = inertia.combined(
        [
            rod(3.0 * 2 * a, (0, -a, 0), (0, a, 0)),
            rod(3.0 * b, (0, 0, 0), (0, 0, -b)),
            disk(12.0 * pi * (r * r - c * c), r, c, z=-(b + r)),
        ]
    )
    assert -whole.centre[2] == pytest.approx(0.888, abs=5e-4)
    assert whole.inertia[0, 0] == pytest.approx(5.61, abs=5e-3)


def test_two_halves_of_a_block_make_the_block() -> None:
    """Cut anywhere, mass, centre and inertia of the pieces add up."""
    whole = measure(Block((60.0, 20.0, 10.0))).body
    for cut in (1.0, 17.0, 30.0, 59.5):
        left = measure(Block((cut, 20.0, 10.0))).body.placed(np.eye(3), ((cut - 60) / 2, 0, 0))
        right = measure(Block((60 - cut, 20.0, 10.0))).body.placed(np.eye(3), (cut / 2, 0, 0))
        sum_of_both = inertia.combined([left, right])
        assert sum_of_both.mass == pytest.approx(whole.mass, rel=SUM)
        np.testing.assert_allclose(sum_of_both.centre, whole.centre, atol=SUM)
        np.testing.assert_allclose(sum_of_both.inertia, whole.inertia, rtol=SUM, atol=SUM * whole.inertia.max())


def test_panel_and_the_piece_cut_out_of_it_make_the_whole_sheet() -> None:
    """A hole takes away exactly the piece that falls out."""
    opening = rectangle(20, 10, 70, 25)
    parts = [measure(Panel(rectangle(0, 0, 90, 40), 5.0, holes=(opening,))).body, measure(Panel(opening, 5.0)).body]
    whole, total = measure(Panel(rectangle(0, 0, 90, 40), 5.0)).body, inertia.combined(parts)
    assert total.mass == pytest.approx(whole.mass, rel=SUM)
    np.testing.assert_allclose(total.inertia, whole.inertia, rtol=0, atol=SUM * whole.inertia.max())


numbers = st.floats(-500.0, 500.0)


@given(st.lists(st.tuples(st.floats(0.01, 300.0), numbers, numbers, numbers), min_size=1, max_size=12))
def test_order_and_grouping_do_not_matter(rows: list[tuple[float, float, float, float]]) -> None:
    """Sum in one go, group by group, or one by one: the same whole, and a tensor that a body can have."""
    bodies = [inertia.box(1.0, 2.0, 3.0).scaled(m).placed(np.eye(3), (x, y, z)) for m, x, y, z in rows]
    at_once = inertia.combined(bodies)
    in_groups = inertia.combined([inertia.combined(bodies[::2]), inertia.combined(bodies[1::2])])
    scale = float(np.trace(at_once.inertia))
    assert in_groups.mass == pytest.approx(at_once.mass, rel=SUM)
    np.testing.assert_allclose(in_groups.centre, at_once.centre, atol=1e-9 * 500)
    np.testing.assert_allclose(in_groups.inertia, at_once.inertia, rtol=0, atol=SUM * scale)
    assert inertia.is_physical(at_once.inertia)


@given(st.tuples(*[st.floats(-3.0, 3.0)] * 3), st.tuples(*[numbers] * 3))
def test_moving_the_parts_is_moving_the_whole(
    turns: tuple[float, float, float], shift: tuple[float, float, float]
) -> None:
    """A rigid motion of every part, or of their sum."""
    motion = at(*shift).after(about_z(turns[2]).after(about_y(turns[1]).after(about_x(turns[0]))))
    parts = [inertia.box(30.0, 20.0, 10.0), inertia.tube(40.0, 5.0).placed(np.eye(3), (20, 30, 40))]
    moved = inertia.combined([part.placed(motion.rotation, motion.origin) for part in parts])
    whole = inertia.combined(parts).placed(motion.rotation, motion.origin)
    np.testing.assert_allclose(moved.centre, whole.centre, atol=1e-8)
    np.testing.assert_allclose(moved.inertia, whole.inertia, rtol=0, atol=SUM * np.trace(whole.inertia))


def test_nothing_adds_up_to_nothing() -> None:
    """No bodies, or bodies without mass, give zeros rather than a division by zero."""
    for bodies in ([], [point(0.0, 5.0)]):
        whole = inertia.combined(bodies)
        assert whole.mass == 0.0
        np.testing.assert_array_equal(whole.centre, 0.0)
