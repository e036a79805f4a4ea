"""A whole aeroplane in the air: coefficients, trim, neutral point, motions."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, degrees, radians, sin

import numpy as np
import pytest

from airframe.axes import Array
from airframe.flight import trim
from airframe.flight.air import Air, around
from airframe.flight.axes import body_mass
from airframe.flight.derivatives import COLUMNS, derivatives
from airframe.flight.modes import modes, named
from airframe.inertia import Body
from airframe.layout import Layout
from airframe.units import STANDARD_GRAVITY_M_S2
from tests.designs import plain

MASS_KG = 0.6
SPEED = 8.0
PULL = trim.ThrustLine(np.zeros(3), np.array([1.0, 0.0, 0.0]))


@cache
def layout() -> Layout:
    """A small aeroplane with dihedral."""
    panels = [{"span": "450 mm", "dihedral": "6 deg"}]
    wing = {"root_chord": "200 mm", "station": "120 mm", "incidence": "2 deg", "panels": panels}
    return Layout(plain(wing=wing))


@cache
def air() -> Air:
    """Around it, balanced at 30 % of the chord, with drag of skin and edges."""
    return around(layout(), (180.0, 0.0, 10.0), drag_area_m2=0.006)


@cache
def flown() -> trim.Trim:
    """Level at 8 m/s."""
    return trim.level(air(), MASS_KG, SPEED, PULL)


def test_all_slopes_are_those_of_finite_differences() -> None:
    """Lattice, fuselage and drag together: every derivative within 1e-7 of the greatest."""
    state = np.array([7.5, 0.4, 0.7, 0.3, -0.2, 0.25, 0.1, -0.05])
    step = 1e-4

    def wrench(at: Array) -> Array:
        return air().loads(at[:6], at[6:]).wrench

    differences = [(wrench(state + step * e) - wrench(state - step * e)) / (2 * step) for e in np.eye(8)]
    slopes = air().loads(state[:6], state[6:]).slopes
    np.testing.assert_allclose(slopes, np.transpose(differences), atol=1e-7 * np.abs(slopes).max())


def _coefficients(alpha: float, beta: float = 0.0, elevator: float = 0.0) -> Array:
    """C_D, C_Y, C_L, C_l, C_m, C_n of the axes that turn with the incidence alpha."""
    motion = SPEED * np.array([cos(alpha) * cos(beta), sin(beta), sin(alpha) * cos(beta), 0, 0, 0])
    deflections = air().deflections(elevator)
    velocity = SPEED * np.array([cos(alpha), 0.0, sin(alpha)])
    loads = air().loads(motion, deflections)
    return derivatives(loads, velocity, air().density_kg_m3, air().wing, air().lattice.controls).values


@pytest.mark.parametrize("name", ["alpha", "beta", "elevator"])
def test_derivatives_without_dimensions(name: str) -> None:
    """Each is the change of the coefficients themselves, axes turning with the incidence."""
    at = {"alpha": 0.08, "beta": 0.0, "elevator": -0.05}
    step = 1e-5
    differences = (_coefficients(**at | {name: at[name] + step}) - _coefficients(**at | {name: at[name] - step})) / (
        2 * step
    )
    velocity = SPEED * np.array([cos(0.08), 0.0, sin(0.08)])
    loads = air().loads([*velocity, 0, 0, 0], air().deflections(-0.05))
    found = derivatives(loads, velocity, air().density_kg_m3, air().wing, air().lattice.controls)
    np.testing.assert_allclose(found.table[:, found.columns.index(name)], differences, atol=2e-7)
    assert found.columns[:5] == COLUMNS


def test_signs_and_sizes_of_the_derivatives() -> None:
    """What every flyable aeroplane of this shape has, and C_l beta near strip theory's -a Gamma / 4 (5.38, memory)."""
    d = flown().derivatives
    assert 3.5 < d.slope("C_L", "alpha") < 5.5
    for row, column in (("C_m", "alpha"), ("C_m", "q"), ("C_l", "beta"), ("C_l", "p"), ("C_n", "r"), ("C_n", "rudder")):
        assert d.slope(row, column) < 0.0, (row, column)
    for row, column in (("C_n", "beta"), ("C_l", "r"), ("C_L", "elevator"), ("C_L", "q"), ("C_Y", "rudder")):
        assert d.slope(row, column) > 0.0, (row, column)
    wing_slope = d.slope("C_L", "alpha") * 0.9  # the tail's share is about a tenth
    assert d.slope("C_l", "beta") == pytest.approx(-wing_slope * radians(6.0) / 4.0, rel=0.3)


def test_downwash_lies_between_nothing_and_all() -> None:
    """Far behind a wing of its aspect theory says 2 a / (pi A) (5.20, memory): the tail feels a good part of it."""
    far = 2.0 * 4.0 / (np.pi * air().wing.aspect)
    assert 0.5 * far < air().downwash_slope < 1.1 * far


def test_level_flight_balances() -> None:
    """Lift carries the weight, thrust the drag, and nothing turns: to 1e-9 of the weight."""
    found = flown()
    weight = MASS_KG * STANDARD_GRAVITY_M_S2
    a = found.incidence_rad
    left = found.loads.wrench + found.thrust_n * PULL.unit_wrench(air().about_m)
    left += weight * np.array([-sin(a), 0, cos(a), 0, 0, 0])
    np.testing.assert_allclose(left, 0.0, atol=1e-9 * weight)
    dynamic = 0.5 * air().density_kg_m3 * SPEED**2 * air().wing.area_m2
    assert found.lift_coefficient * dynamic + found.thrust_n * sin(a) == pytest.approx(weight, rel=1e-9)
    assert found.derivatives.value("C_D") * dynamic == pytest.approx(found.thrust_n * cos(a), rel=1e-9)


def test_a_glide_needs_no_thrust() -> None:
    """Down the path whose tangent is drag over lift the propeller need not pull."""
    d = flown().derivatives
    down = trim.level(air(), MASS_KG, SPEED, PULL, -np.arctan(d.value("C_D") / d.value("C_L")))
    assert abs(down.thrust_n) < 0.02 * flown().thrust_n


def test_slower_flight_asks_for_more_incidence_and_up_elevator() -> None:
    """Of a stable aeroplane, over its whole range of speeds; what is left of the throw shrinks with it."""
    found = [trim.level(air(), MASS_KG, speed, PULL) for speed in (7.0, 8.0, 10.0, 13.0)]
    for slow, fast in pairwise(found):
        assert slow.incidence_rad > fast.incidence_rad
        assert slow.elevator_rad < fast.elevator_rad
        assert trim.elevator_left(slow, radians(25.0)) < trim.elevator_left(fast, radians(25.0))
    assert trim.elevator_left(replace(found[0], elevator_rad=-0.1), 0.3) == pytest.approx(0.2)


def test_neutral_point_makes_no_moment() -> None:
    """Balanced at the neutral point, the same state's static margin vanishes; balanced elsewhere the point stays."""
    found = flown()
    point = trim.neutral_point_mm(air(), found)
    for station in (point, 150.0):
        moved = air().balanced_at((station * 1e-3, *air().about_m[1:]))
        loads = moved.loads(found.motion, air().deflections(found.elevator_rad))
        d = derivatives(loads, found.motion[:3], moved.density_kg_m3, moved.wing, moved.lattice.controls)
        margin_mm = d.static_margin * moved.wing.mean_chord_m * 1e3
        assert margin_mm == pytest.approx((point - station) / cos(found.incidence_rad), abs=1.0)
    assert 180.0 < point < 260.0


def test_lift_coefficient_and_speed() -> None:
    """W = 1/2 rho V^2 S C_L both ways."""
    speed = trim.speed_for_lift(air(), MASS_KG, 0.9)
    lift = 0.5 * air().density_kg_m3 * speed**2 * air().wing.area_m2 * 0.9
    assert lift == pytest.approx(MASS_KG * STANDARD_GRAVITY_M_S2, rel=1e-12)


def test_a_speed_far_too_low_is_refused() -> None:
    """Where the incidence would be absurd, no trim is made up."""
    with pytest.raises(trim.NoTrimError, match="hold it at that speed"):
        trim.level(air(), MASS_KG, 0.5, PULL)


def test_thrust_line_follows_the_firewall() -> None:
    """Down thrust pulls down and forward, right thrust to the right; a line above the balance point noses down."""
    tilted = Layout(plain(fuselage__firewall={"down_thrust": "3 deg", "right_thrust": "2 deg"}))
    line = trim.thrust_line(tilted)
    expected = [cos(radians(3)) * cos(radians(2)), cos(radians(3)) * sin(radians(2)), sin(radians(3))]
    np.testing.assert_allclose(line.direction, expected, atol=2e-3)
    assert trim.thrust_line(layout()).unit_wrench(np.array([0.18, 0.0, -0.02]))[4] == pytest.approx(-0.02)


def test_the_lag_of_the_downwash_damps_the_nod() -> None:
    """C_m alpha-dot is C_m q's share of the tail times the downwash slope (textbook, from memory): within 25 %."""
    found = flown()
    lag = air().lag(found.motion, air().deflections(found.elevator_rad))
    tail = air().lattice.loads(
        found.motion, air().deflections(), air().density_kg_m3, air().about_m, air().lattice.panels.of("stabiliser")
    )
    assert lag[4] < 0.0
    share = air().downwash_slope / (1.0 - air().downwash_slope)
    by_rule = tail.slopes[4, 2] * share * air().volumes.horizontal_arm_m / SPEED
    assert lag[4] == pytest.approx(by_rule, rel=0.25)


def test_motions_of_a_small_aeroplane() -> None:
    """It nods quicker than it swoops, rolls quicker than anything; the propeller's falling pull damps the swoop."""
    inertia = np.array([[1.2e7, 0, -1e6], [0, 2.2e7, 0], [-1e6, 0, 3.2e7]])
    mass = body_mass(Body(MASS_KG * 1e3, np.array([180.0, 0.0, 10.0]), inertia))
    steady = modes(trim.linear(air(), mass, flown(), PULL))
    falling = modes(trim.linear(air(), mass, flown(), PULL, -0.05))
    nod, swoop, roll = (named(steady, name) for name in ("short period", "phugoid", "roll"))
    assert nod.natural_rad_s > 3.0 * swoop.natural_rad_s
    assert roll.half_s < 0.2
    assert named(falling, "phugoid").damping_ratio > swoop.damping_ratio
    # slow root of the quartic: omega^2 = g (Z_u M_w - M_u Z_w) / (Z_w M_q - m u M_w) (any text, from memory)
    d, u = flown().loads.slopes, flown().motion[0]
    square = STANDARD_GRAVITY_M_S2 * (d[2, 0] * d[4, 2] - d[4, 0] * d[2, 2])
    square /= d[2, 2] * d[4, 4] - MASS_KG * u * d[4, 2]
    assert swoop.natural_rad_s == pytest.approx(np.sqrt(square), rel=0.1)


def test_ground_near_the_wheels_lifts() -> None:
    """A quarter span under the wing, level flight needs less incidence and less thrust."""
    low = around(layout(), (180.0, 0.0, 10.0), drag_area_m2=0.006, ground_mm=-190.0)
    near = trim.level(low, MASS_KG, SPEED, PULL)
    assert near.incidence_rad < flown().incidence_rad
    assert near.thrust_n < flown().thrust_n
    assert degrees(flown().incidence_rad - near.incidence_rad) < 3.0
