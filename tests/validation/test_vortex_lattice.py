"""The vortex lattice against a worked example and against the closed forms of wings.

Sources beside each number; "from memory" means not read, and every such number here was recomputed.
"""

from __future__ import annotations

from math import pi, radians, sqrt

import numpy as np
import pytest

from airframe.axes import Array
from airframe.flight.lattice import Lattice
from airframe.flight.panels import Panels
from tests.plates import ellipse, lift_slope, wing

# Bertin & Smith, Aerodynamics for Engineers, Example 7.2: A = 5, swept 45 deg, four panels a half, one chordwise.
# Geometry verified (McBain, Theory of Lift, companion file); numbers from memory, each recomputed.
BERTIN_STARBOARD = [
    (-71.5187, 11.2933, 1.0757, 0.3775),
    (20.2174, -71.5187, 11.2933, 1.0757),
    (3.8792, 20.2174, -71.5187, 11.2933),
    (1.6334, 3.8792, 20.2174, -71.5187),
]
BERTIN_PORT = [
    (18.5150, 2.0504, 0.5887, 0.2658),
    (3.6144, 1.1742, 0.4903, 0.2503),
    (1.5480, 0.7227, 0.3776, 0.2179),
    (0.8608, 0.4834, 0.2895, 0.1836),
]
BERTIN_SUM = [
    (-53.0037, 13.3437, 1.6644, 0.6434),
    (23.8318, -70.3445, 11.7836, 1.3259),
    (5.4272, 20.9401, -71.1411, 11.5111),
    (2.4942, 4.3626, 20.5069, -71.3351),
]
BERTIN_CIRCULATION = (0.02730, 0.02873, 0.02864, 0.02496)


def _bertin() -> Lattice:
    return Lattice(wing(5.0, (4, 1), sweep_deg=45.0, is_even=True))


def test_5_13_and_5_14_points_of_the_example() -> None:
    """Control points and bound vortices of the right half."""
    panels = _bertin().panels
    points = [(0.2125, 0.0625), (0.3375, 0.1875), (0.4625, 0.3125), (0.5875, 0.4375)]
    np.testing.assert_allclose(panels.control[4:, :2], points, atol=1e-12)
    starts = [(0.05, 0.0), (0.175, 0.125), (0.3, 0.25), (0.425, 0.375)]
    np.testing.assert_allclose(panels.start[4:, :2], starts, atol=1e-12)
    np.testing.assert_allclose(panels.end[7, :2], (0.55, 0.5), atol=1e-12)


def test_5_15_to_5_17_influence_of_the_example() -> None:
    """Starboard, port and summed influence of the vortices, every printed digit."""
    influence = _bertin().influence * 4.0 * pi
    starboard, port = influence[4:, 4:], influence[4:, 3::-1]
    np.testing.assert_allclose(starboard, BERTIN_STARBOARD, atol=6e-5)
    np.testing.assert_allclose(port, BERTIN_PORT, atol=6e-5)
    np.testing.assert_allclose(starboard + port, BERTIN_SUM, atol=1.1e-4)


def test_5_18_and_5_19_circulation_and_lift_slope_of_the_example() -> None:
    """Gamma / (4 pi b U alpha) to its five decimals; lift slope 3.4442 a radian (printed 1.096 pi)."""
    lattice = _bertin()
    gamma = lattice.circulation((1.0, 0, 1.0, 0, 0, 0), ()) / (4.0 * pi)
    np.testing.assert_allclose(gamma[4:], BERTIN_CIRCULATION, atol=6e-6)
    slope = lift_slope(lattice.panels, 5.0)
    assert slope == pytest.approx(3.4442, abs=6e-5)
    assert slope / pi == pytest.approx(1.096, abs=6e-4)


@pytest.mark.parametrize(("aspect", "slope"), [(1.0, 1.4602), (2.0, 2.4744), (4.0, 3.612)])
def test_lifting_surface_values_of_rectangular_wings(aspect: float, slope: float) -> None:
    """Exact lift slopes of plane rectangular wings: within 0.1 %.

    The square's is E. O. Tuck's (J. Austral. Math. Soc. B 35, 1993; from memory). That and the others were recomputed
    by another lattice, of vortex rings on even panels, carried to no panel size by Richardson's rule.
    """
    assert lift_slope(wing(aspect, (16, 6)), aspect) == pytest.approx(slope, rel=1e-3)


# 5.5: lifting line of the elliptic wing, and Helmbold's formula (Anderson, both from memory; recomputed).
ELLIPTIC = [
    (1, 2.0944, 1.4833), (2, 3.1416, 2.6026), (3, 3.7699, 3.3627), (4, 4.1888, 3.8832), (5, 4.4880, 4.2539),
    (6, 4.7124, 4.5287), (10, 5.2360, 5.1510),
]  # fmt: skip


@pytest.mark.parametrize(("aspect", "line", "helmbold"), ELLIPTIC)
def test_5_1_and_5_5_elliptic_wings(aspect: float, line: float, helmbold: float) -> None:
    """The elliptic wing lies below its lifting line, and below Helmbold's formula by no more than 4 %."""
    assert 2.0 * pi / (1.0 + 2.0 / aspect) == pytest.approx(line, abs=5e-5)
    assert 2.0 * pi * aspect / (2.0 + sqrt(aspect**2 + 4.0)) == pytest.approx(helmbold, abs=5e-5)
    slope = lift_slope(ellipse(aspect), aspect)
    assert slope < line
    assert 0.96 * helmbold < slope < helmbold


def test_circular_wing() -> None:
    """Jordan's exact lifting surface of a circular wing, 1.790 a radian (1971; from memory): neared within 0.1 %."""
    circle = 4.0 / pi
    coarse, fine = (lift_slope(ellipse(circle, counts), circle) for counts in ((8, 4), (16, 8)))
    assert fine == pytest.approx(1.790, rel=1e-3)
    assert abs(fine - 1.790) < 0.5 * abs(coarse - 1.790)


def test_5_2_elliptic_loading_has_the_least_drag() -> None:
    """delta of an elliptic wing is nearly nothing, under 2e-3, while the rectangular one's is ten times that."""
    for aspect in (4.0, 6.0):
        assert 0.0 < _delta_of(ellipse(aspect), aspect) < 2e-3
    assert _delta(6.0) > 10.0 * _delta_of(ellipse(6.0), 6.0)


@pytest.mark.parametrize(("aspect", "helmbold"), [(aspect, helmbold) for aspect, _, helmbold in ELLIPTIC])
def test_5_5_rectangular_wings_lie_below_helmbold(aspect: float, helmbold: float) -> None:
    """A rectangular wing lifts a little less than the elliptic one: below Helmbold by no more than 7.5 %."""
    slope = lift_slope(wing(aspect), aspect)
    assert 0.925 * helmbold < slope < helmbold


# Table 5.7: rectangular wing by lifting line (Glauert's method, recomputed with 100 terms): A, slope, delta.
LIFTING_LINE = [(3, 3.6314, 0.0189), (6, 4.5304, 0.0483), (9, 4.9512, 0.0769), (12, 5.1991, 0.1031)]


def test_5_7_lifting_line_is_neared_as_the_wing_gets_longer() -> None:
    """A lifting line knows no chord: its slope is too high, by less the longer the wing (13.5 % at 3, 3.5 % at 12)."""
    short = [1.0 - lift_slope(wing(aspect), aspect) / slope for aspect, slope, _ in LIFTING_LINE]
    assert short == sorted(short, reverse=True)
    assert 0.13 < short[0] < 0.14
    assert 0.03 < short[-1] < 0.04
    # the gap closes faster than 1 / A
    assert short[-1] / short[0] < 1.1 * LIFTING_LINE[0][0] / LIFTING_LINE[-1][0]


def _glauert(aspect: float, terms: int = 60) -> tuple[float, float]:
    """Lift slope and delta of a rectangular wing by lifting line: Glauert's series, collocated, section slope 2 pi."""
    theta = (np.arange(terms) + 0.5) * pi / 2.0 / terms
    n = np.arange(1, 2 * terms, 2)
    mu = pi / (2.0 * aspect)
    matrix = np.sin(np.outer(theta, n)) * (n * mu + np.sin(theta)[:, None])
    a = np.linalg.solve(matrix, mu * np.sin(theta))
    return float(pi * aspect * a[0]), float(np.sum(n[1:] * (a[1:] / a[0]) ** 2))


def _delta_of(panels: Panels, aspect: float) -> float:
    """Induced drag over that of elliptic loading, less 1."""
    drag = Lattice(panels).wake_drag_n((1.0, 0, 1.0, 0, 0, 0), (), 1.0) * 2.0 * aspect
    return drag * pi * aspect / lift_slope(panels, aspect) ** 2 - 1.0


def _delta(aspect: float) -> float:
    return _delta_of(wing(aspect), aspect)


def test_5_7_rows_come_out_of_the_series() -> None:
    """Glauert's series, written here as the oracle of the next test, gives the table's slopes and deltas."""
    for aspect, slope, delta in LIFTING_LINE:
        np.testing.assert_allclose(_glauert(aspect), (slope, delta), atol=1e-4)


def test_5_7_both_methods_meet_on_very_long_wings() -> None:
    """The lattice's share of the line's slope and delta grows towards 1: at A = 400, 0.999 and 0.91 (delta lags)."""
    aspects = (50.0, 100.0, 200.0, 400.0)
    line = np.array([_glauert(aspect, 100) for aspect in aspects])
    lattice = np.array([(lift_slope(wing(aspect, (40, 2)), aspect), _delta(aspect)) for aspect in aspects])
    share = lattice / line
    assert np.all(np.diff(share, axis=0) > 0.0)
    assert np.all(share < 1.0)
    assert share[-1, 0] > 0.998
    assert share[-1, 1] > 0.91


@pytest.mark.parametrize(("aspect", "line_delta"), [(row[0], row[2]) for row in LIFTING_LINE])
def test_5_7_loading_lies_between_elliptic_and_lifting_line(aspect: float, line_delta: float) -> None:
    """A real chord smooths the loading: drag above the elliptic least, below the lifting line's."""
    assert 0.0 < _delta(aspect) < line_delta


def test_5_9_tapered_wing_of_aspect_8() -> None:
    """Anderson Ex. 5.1 (A = 8, taper 0.8, 5 deg): C_L 0.4339, C_Di 0.0079 by lifting line; inputs secondary, outputs
    from memory, recomputed. The lattice stays within 8 % below in lift; drag over lift squared lies between
    the elliptic wing's and the line's.
    """
    lattice = Lattice(wing(8.0, taper=0.8))
    alpha = radians(5.0)
    lift = lift_slope(lattice.panels, 8.0) * alpha
    drag = lattice.wake_drag_n((1.0, 0, alpha, 0, 0, 0), (), 1.0) * 16.0
    assert 0.92 * 0.4339 < lift < 0.4339
    assert 1.0 / (pi * 8.0) < drag / lift**2 < 0.0079 / 0.4339**2


def _wake_over_lift_squared(panels: Panels, ground_z_m: float | None) -> float:
    lattice, motion = Lattice(panels, ground_z_m), (1.0, 0, 1.0, 0, 0, 0)
    lift = float(lattice.circulation(motion, ()) @ panels.bound[:, 1])
    return lattice.wake_drag_n(motion, (), 1.0) / lift**2


@pytest.mark.parametrize("height", [0.1, 0.15, 0.2, 0.3])
def test_ground_saves_what_wieselsberger_says(height: float) -> None:
    """Induced drag at a height of so many spans: 1 - (1 - 1.32 h) / (1.05 + 7.4 h) of that high up, within 0.012.

    C. Wieselsberger, NACA TM 77, 1922, for an elliptic wing and h from 1/15 to 1/4 (from memory); over 1/4 it is near.
    """
    panels = ellipse(6.0, (16, 4))
    left = _wake_over_lift_squared(panels, -height) / _wake_over_lift_squared(panels, None)
    assert left == pytest.approx(1.0 - (1.0 - 1.32 * height) / (1.05 + 7.4 * height), abs=0.012)


def _slopes(counts: list[tuple[int, int]], aspect: float) -> Array:
    return np.array([lift_slope(wing(aspect, count), aspect) for count in counts])


def test_the_lattice_converges() -> None:
    """With strips spaced as a circle's shadow twice the strips change the slope of A = 6 by under 1e-5 from 16 on,
    twice the rows by 4e-4 from 4 on and each time by less; even strips converge from above at first order only.
    """
    across = _slopes([(8, 4), (16, 4), (32, 4)], 6.0)
    along = _slopes([(16, 2), (16, 4), (16, 8)], 6.0)
    assert abs(across[2] / across[1] - 1.0) < 1e-5
    steps = np.abs(np.diff(along) / along[1:])
    assert steps[1] < 4e-4
    assert steps[1] < 0.5 * steps[0]
    even = [lift_slope(wing(6.0, (count, 4), is_even=True), 6.0) / across[2] - 1.0 for count in (10, 20, 40)]
    assert even[0] / even[1] == pytest.approx(2.0, rel=0.1)
    assert even[1] / even[2] == pytest.approx(2.0, rel=0.1)
    assert even[2] > 0.0
