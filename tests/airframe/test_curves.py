"""Curves against what is published, and against a library."""

from __future__ import annotations

from math import atan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from airframe.curves import camber_line, smooth_curve


def test_mean_line_is_the_published_one() -> None:
    """NACA 2412: 2 % at 40 %, slope 2 m / p at the front (Abbott & von Doenhoff, ch. 6; from memory)."""
    line = camber_line(0.02, 0.4, 2001)
    top = int(np.argmax(line[:, 1]))
    assert line[top] == pytest.approx((0.4, 0.02), abs=1e-3)
    np.testing.assert_allclose(line[[0, -1]], [(0, 0), (1, 0)], atol=1e-15)
    slope = line[1, 1] / line[1, 0]
    assert slope == pytest.approx(2 * 0.02 / 0.4, rel=1e-2)


def test_mean_line_turns_by_equal_steps() -> None:
    """The slope of the chords between points falls evenly, so that no score is harder than the next."""
    line = camber_line(0.06, 0.35, 9)
    slopes = [atan(dz / dx) for dx, dz in np.diff(line, axis=0)]
    turns = -np.diff(slopes)
    assert turns.min() > 0.7 * turns.max()


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(st.floats(0.1, 50), st.floats(-40, 40)), min_size=2, max_size=9))
def test_smooth_curve_agrees_with_the_library(steps: list[tuple[float, float]]) -> None:
    """The same monotone cubic as scipy's PCHIP interpolator."""
    xs, ys = np.cumsum([dx for dx, _ in steps]), np.array([round(y, 3) for _, y in steps])
    at_xs = np.linspace(xs[0], xs[-1], 57)
    np.testing.assert_allclose(smooth_curve(xs, ys, at_xs), PchipInterpolator(xs, ys)(at_xs), rtol=0, atol=1e-9)


def test_smooth_curve_does_not_overshoot() -> None:
    """Between two points it stays between their heights, and it passes through both."""
    xs, ys = np.array([0.0, 1.0, 2.0, 6.0, 7.0]), np.array([0.0, 0.0, 5.0, 5.2, 0.0])
    for i in range(4):
        values = smooth_curve(xs, ys, np.linspace(xs[i], xs[i + 1], 50))
        assert min(ys[i : i + 2]) - 1e-12 <= values.min()
        assert values.max() <= max(ys[i : i + 2]) + 1e-12
    np.testing.assert_allclose(smooth_curve(xs, ys, xs), ys, atol=1e-12)
