"""Motions of two published aeroplanes: roots of printed matrices, and from their derivatives.

NAVION: Nelson, Flight Stability and Automatic Control, 2nd ed., App. B (data by secondary sources or from memory, each
said beside it). B747-100: Etkin & Reid, Dynamics of Flight, 3rd ed., p. 165 ff. (by a public notebook). Feet, slugs.
"""

from __future__ import annotations

import cmath

import numpy as np
import pytest

from airframe.axes import Array
from airframe.flight.modes import Mode, modes, named
from airframe.flight.motion import STATES, LinearModel, linear_model

ALONG = [STATES.index(name) for name in ("u", "w", "q", "pitch")]
ACROSS = [STATES.index(name) for name in ("v", "p", "r", "bank")]
FEET_G = 32.174

# --- Nelson's aeroplane: 6.1, 6.2 secondary; 6.3 from memory -----------------------------------------------
SPEED, DENSITY, AREA, CHORD, SPAN, WEIGHT = 176.0, 0.002378, 184.0, 5.7, 33.4, 2750.0
INERTIA = np.diag([1048.0, 3000.0, 3530.0])


def joined(along: Array, across: Array, speed: float) -> LinearModel:
    """A model of two printed blocks, (u, w, q, pitch) and (v, p, r, bank)."""
    matrix = np.zeros((8, 8))
    matrix[np.ix_(ALONG, ALONG)], matrix[np.ix_(ACROSS, ACROSS)] = along, across
    return LinearModel(matrix, np.zeros((8, 0)), speed)


def nelson_printed() -> LinearModel:
    """6.7 and 6.8 (from memory); slip angle turned to v by the speed."""
    along = np.array([[-0.045, 0.036, 0, -32.2], [-0.369, -2.02, 176, 0], [0.0019, -0.0396, -2.948, 0], [0, 0, 1, 0]])
    across = np.array([[-0.254, 0, -1, 0.182], [-16.02, -8.40, 2.19, 0], [4.488, -0.350, -0.760, 0], [0, 1, 0, 0]])
    turn = np.diag([SPEED, 1.0, 1.0, 1.0])
    return joined(along, turn @ across @ np.linalg.inv(turn), SPEED)


def nelson_derived(roll_by_slip: float = -0.074) -> LinearModel:
    """6.4 and 6.6 (secondary), 6.5 (from memory), made dimensional as Nelson does; C_Lq left out as there."""
    q, s = 0.5 * DENSITY * SPEED**2, AREA
    force, pitch, roll = q * s / SPEED, q * s * CHORD / SPEED, q * s * SPAN / SPEED
    d = np.zeros((6, 6))
    d[0, 0], d[0, 2] = -2 * 0.05 * force, (0.41 - 0.33) * force
    d[2, 0], d[2, 2] = -2 * 0.41 * force, -(4.44 + 0.05) * force
    d[4, 2], d[4, 4] = -0.683 * pitch, -9.96 * pitch * CHORD / 2
    d[1, 1] = -0.564 * force
    d[3, [1, 3, 5]] = roll * np.array([roll_by_slip, -0.410 * SPAN / 2, 0.107 * SPAN / 2])
    d[5, [1, 3, 5]] = roll * np.array([0.071, -0.0575 * SPAN / 2, -0.125 * SPAN / 2])
    lag = np.zeros(6)
    lag[4] = -4.36 * pitch * CHORD / 2 / SPEED
    return linear_model(WEIGHT / FEET_G, INERTIA, d, (SPEED, 0, 0), 0.0, lag, FEET_G)


def near(mode: Mode, root: complex, share: float = 1e-3) -> None:
    """Within a share of the root's size."""
    assert abs(mode.root - root) < share * abs(root), mode


def test_6_9_roots_of_nelsons_matrices() -> None:
    """Every printed digit of the recomputed roots; each gets its name."""
    found = modes(nelson_printed())
    near(named(found, "short period"), complex(-2.489, 2.598), 3e-4)
    near(named(found, "phugoid"), complex(-0.0170, 0.2135), 5e-4)
    near(named(found, "roll"), -8.433, 1e-4)
    near(named(found, "Dutch roll"), complex(-0.486, 2.334), 3e-4)
    near(named(found, "spiral"), -0.00891, 1e-3)
    assert len(found) == 5


def test_6_10_motions_from_nelsons_derivatives() -> None:
    """Frequencies, damping and times from the derivatives (recomputed; the book's own: -2.51 + 2.59i, from memory)."""
    found = modes(nelson_derived())
    nod = named(found, "short period")
    near(nod, complex(-2.510, 2.592), 5e-4)
    assert nod.natural_rad_s == pytest.approx(3.608, abs=2e-3)
    assert nod.damping_ratio == pytest.approx(0.696, abs=1e-3)
    assert nod.period_s == pytest.approx(2.42, abs=6e-3)
    assert nod.half_s == pytest.approx(0.276, abs=6e-4)
    swoop = named(found, "phugoid")
    near(swoop, complex(-0.0171, 0.2129), 1e-3)
    assert swoop.period_s == pytest.approx(29.5, abs=0.06)
    assert swoop.half_s == pytest.approx(40.5, abs=0.2)
    near(named(found, "roll"), -8.435, 2e-4)
    near(named(found, "Dutch roll"), complex(-0.487, 2.347), 5e-4)
    assert named(found, "Dutch roll").period_s == pytest.approx(2.68, abs=6e-3)
    assert named(found, "spiral").root.real == pytest.approx(-0.0082, abs=1e-4)


def test_5_46_the_spiral_turns_where_the_criterion_says() -> None:
    """C_l beta C_n r / (C_n beta C_l r) above 1 dies away, below grows (Nelson ch. 5 by a formula note, secondary).

    By 6.6 it is 0.074 x 0.125 / (0.071 x 0.107) = 1.218; at 1 the root vanishes.
    """
    at_one = 0.071 * 0.107 / -0.125
    assert named(modes(nelson_derived()), "spiral").root.real < -5e-3
    assert abs(named(modes(nelson_derived(at_one)), "spiral").root) < 1e-10
    assert named(modes(nelson_derived(0.8 * at_one)), "spiral").root.real > 5e-3


def test_6_11_both_ways_agree() -> None:
    """Within 1 % for all but the spiral, which is a small difference of large terms: 0.001 / s apart."""
    for printed, derived in zip(modes(nelson_printed()), modes(nelson_derived()), strict=True):
        assert printed.name == derived.name
        if printed.name == "spiral":
            assert abs(printed.root - derived.root) < 1e-3
        else:
            near(derived, printed.root, 0.01)


def test_6_15_and_6_16_etkins_aeroplane_from_derivatives() -> None:
    """Phugoid and short period of the airliner at 40 000 ft, SI units (6.13, 6.14; C_zadot from memory)."""
    weight, s, c, density, speed, lift = 2.83176e6, 511.0, 8.324, 0.3045, 235.9, 0.654
    unit = 0.5 * density * speed * s
    d = np.zeros((6, 6))
    d[0, [0, 2]] = unit * np.array([-0.1080, 0.2193])
    d[2, [0, 2, 4]] = unit * np.array([-2 * lift - 0.106, -4.92, -5.92 * c / 2])
    d[4, [0, 2, 4]] = unit * c * np.array([0.1043, -1.023, -23.92 * c / 2])
    d[[1, 3, 5], [1, 3, 5]] = -unit  # sideways any damping will do
    lag = np.array([0, 0, 5.896, 0, -6.314 * c, 0]) * unit * c / 2 / speed
    model = linear_model(weight / 9.81, np.diag([2e7, 0.449e8, 6e7]), d, (speed, 0, 0), 0.0, lag, 9.81)
    swoop, nod = named(modes(model), "phugoid"), named(modes(model), "short period")
    assert swoop.period_s == pytest.approx(93.49, rel=2e-3)
    assert swoop.half_s == pytest.approx(210.7, rel=5e-3)
    assert swoop.damping_ratio == pytest.approx(0.0489, rel=5e-3)
    assert nod.period_s == pytest.approx(7.085, rel=2e-3)
    assert nod.half_s == pytest.approx(1.865, rel=2e-3)
    assert nod.damping_ratio == pytest.approx(0.3865, rel=2e-3)
    unit_time = c / 2 / speed  # 6.17
    assert swoop.root * unit_time == pytest.approx(-5.803e-5 + 1.18576e-3j, abs=4e-6)
    assert nod.root * unit_time == pytest.approx(-6.5573e-3 + 1.56473e-2j, abs=2e-5)


# 6.19, from memory: v, p, r in feet (v, p, r, bank).
ETKIN_ACROSS = [[-0.0558, 0, -774, 32.2], [-0.003865, -0.4342, 0.4136, 0], [0.001086, -0.006112, -0.1458, 0]]


def test_6_18_and_6_19_roots_of_etkins_matrices() -> None:
    """Dimensional matrices in feet (6.18 secondary, 6.19 from memory; roots recomputed)."""
    along = [[-0.006868, 0.01395, 0, -32.2], [-0.09055, -0.3151, 773.98, 0], [0.0001187, -0.001026, -0.4285, 0]]
    model = joined(np.array([*along, [0, 0, 1, 0]]), np.array([*ETKIN_ACROSS, [0, 1, 0, 0]]), 774.0)
    found = modes(model)
    near(named(found, "phugoid"), complex(-0.003289, 0.06723))
    near(named(found, "short period"), complex(-0.3719, 0.8875))
    near(named(found, "spiral"), -0.00730)
    near(named(found, "roll"), -0.5625)
    near(named(found, "Dutch roll"), complex(-0.0330, 0.9465))


# 6.20 and the derivatives of the same table, in beta, p and r (Etkin & Reid, all from memory).
ETKIN_ROLL, ETKIN_YAW, ETKIN_PRODUCT = 0.183e8, 0.497e8, -0.156e7
ETKIN_SIDEWAYS = {1: (-0.8771, 0.0, 0.0), 3: (-0.2797, -0.3295, 0.304), 5: (0.1946, -0.04073, -0.2737)}


def etkin_across(product: float) -> LinearModel:
    """The airliner's sideways motions from derivatives and inertia, feet and slugs; lengthwise any damping will do."""
    weight, s, b, speed, gravity = 636_600.0, 5500.0, 195.7, 774.0, 32.2
    density = 0.3045 / 515.379
    unit = 0.5 * density * speed * s
    d = np.zeros((6, 6))
    d[[0, 2, 4], [0, 2, 4]] = -unit * np.array([0.1, 5.0, 1e3])
    for row, slopes in ETKIN_SIDEWAYS.items():
        lever = 1.0 if row == 1 else b
        d[row, [1, 3, 5]] = unit * lever * np.array(slopes) * (1.0, b / 2.0, b / 2.0)
    inertia = np.diag([ETKIN_ROLL, 0.331e8, ETKIN_YAW])
    inertia[0, 2] = inertia[2, 0] = -product
    return linear_model(weight / gravity, inertia, d, (speed, 0, 0), 0.0, None, gravity)


def test_6_20_the_product_of_inertia_counts_with_its_sign() -> None:
    """Inertias and derivatives give the printed matrix (6.19) within 0.5 %, and its roots.

    The printed product, -0.156e7 slug ft^2, is the integral of x z dm: the tensor's entry is its negative. With the
    other sign the roll from slip and the yaw from roll would be 4 % and more off.
    """
    model = etkin_across(ETKIN_PRODUCT)
    printed = np.array(ETKIN_ACROSS)
    np.testing.assert_allclose(model.matrix[np.ix_(ACROSS[:3], ACROSS)], printed, rtol=5e-3, atol=1e-9)
    wrong = etkin_across(-ETKIN_PRODUCT).matrix[np.ix_(ACROSS[:3], ACROSS)]
    assert abs(wrong[1, 0] / printed[1, 0] - 1.0) > 0.04
    assert abs(wrong[2, 1] / printed[2, 1] - 1.0) > 0.04
    found = modes(model)
    near(named(found, "spiral"), -0.00730, 5e-3)
    near(named(found, "roll"), -0.5625, 5e-3)
    near(named(found, "Dutch roll"), complex(-0.0330, 0.9465), 2e-3)


def test_the_motions_do_not_depend_on_the_axes() -> None:
    """Slopes, inertia and velocity turned together by an angle of incidence leave every root where it was."""
    angle = 0.2
    turn = np.array([[np.cos(angle), 0, -np.sin(angle)], [0, 1, 0], [np.sin(angle), 0, np.cos(angle)]])
    both = np.kron(np.eye(2), turn)
    q = 0.5 * DENSITY * SPEED**2 * AREA / SPEED
    d = np.zeros((6, 6))
    d[np.arange(6), np.arange(6)] = -q * np.array([0.1, 0.6, 4.5, 100, 150, 60])
    d[2, 0], d[4, 2], d[3, 1], d[5, 1] = -0.8 * q, -4 * q, -2.5 * q, 2.4 * q
    tilted_inertia = INERTIA + np.array([[0, 12.0, 150], [12, 0, -7], [150, -7, 0]])
    here = linear_model(85.0, tilted_inertia, d, (SPEED, 0, 0), 0.0, None, FEET_G)
    there = linear_model(
        85.0, turn @ tilted_inertia @ turn.T, both @ d @ both.T, turn @ (SPEED, 0, 0), angle, None, FEET_G
    )
    np.testing.assert_allclose(np.sort_complex(there.roots), np.sort_complex(here.roots), rtol=1e-9)


def test_products_of_inertia_join_the_motions() -> None:
    """With an xy product a pitching moment also rolls: the blocks couple, and still four roots go each way."""
    model = nelson_derived()
    inertia = INERTIA + np.array([[0, 60.0, 0], [60, 0, 0], [0, 0, 0]])
    heavy = np.zeros((6, 6))
    heavy[:3, :3], heavy[3:, 3:] = np.eye(3), np.linalg.solve(inertia, INERTIA)
    matrix = model.matrix.copy()
    matrix[:6] = heavy @ matrix[:6]
    assert np.abs(matrix[np.ix_(ALONG, ACROSS)]).max() > 0.1
    found = modes(LinearModel(matrix, model.controls, SPEED))
    assert [mode.name for mode in found] == ["short period", "phugoid", "Dutch roll", "roll", "spiral"]


def test_a_started_motion_swings_at_its_own_root() -> None:
    """Released in the shape of the short period, the aeroplane follows exp(root t) for good."""
    model = nelson_printed()
    place = int(np.argmin(np.abs(model.roots - complex(-2.489, 2.598))))
    shape, root = model.shapes[:, place], model.roots[place]
    times = np.linspace(0.0, 2.0, 9)
    expected = np.array([np.real(shape * cmath.exp(root * t)) for t in times])
    np.testing.assert_allclose(model.after(np.real(shape), times), expected, atol=1e-12)


def test_a_held_control_is_followed_to_its_steady_state() -> None:
    """A step of a control against small steps of the fourth-order Runge-Kutta rule; late, A x + B u = 0."""
    base = nelson_printed()
    model = LinearModel(base.matrix, np.eye(8)[:, 3:5], SPEED)
    push = model.controls @ (0.02, 0.01)
    state, step = np.zeros(8), 1e-3
    for _ in range(1000):
        k1 = model.matrix @ state + push
        k2 = model.matrix @ (state + step / 2 * k1) + push
        k3 = model.matrix @ (state + step / 2 * k2) + push
        k4 = model.matrix @ (state + step * k3) + push
        state = state + step / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    np.testing.assert_allclose(model.after(np.zeros(8), [1.0], (0.02, 0.01))[0], state, atol=1e-10)
    late = model.after(np.zeros(8), [5000.0], (0.02, 0.01))[0]
    np.testing.assert_allclose(model.matrix @ late + push, 0.0, atol=1e-9)
