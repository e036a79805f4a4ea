"""The spread of lift over the span, and the slowest level flight."""

from __future__ import annotations

from functools import cache
from math import pi, radians

import numpy as np
import pytest

from airframe.flight import loading, trim
from airframe.flight.air import Air, around
from airframe.flight.lattice import Lattice
from airframe.layout import Layout
from tests.designs import plain
from tests.plates import wing

PULL = trim.ThrustLine(np.zeros(3), np.array([1.0, 0.0, 0.0]))
THROW = radians(25.0)


@cache
def air(balance_mm: float = 175.0) -> Air:
    """A small flat-winged aeroplane with a balance point."""
    return around(Layout(plain()), (balance_mm, 0.0, 10.0), drag_area_m2=0.006)


def test_loading_adds_up_to_the_lift() -> None:
    """Lift a metre times width over the strips is the whole; a coefficient is lift over dynamic pressure and chord."""
    lattice = Lattice(wing(6.0, taper=0.5))
    motion = np.array([9.0, 0, 0.9, 0, 0, 0])
    found = loading.loading(lattice, "wing", motion, np.zeros(0), 1.2)
    lift = lattice.loads((9.0, 0, 0.9, 0, 0, 0), (), 1.2).wrench
    across = np.hypot(lift[0], lift[2])
    speed = float(np.hypot(9.0, 0.9))
    assert found.lift_n_m @ found.width_m == pytest.approx(across, rel=0.01)
    chord = 2.0 / (6.0 * 1.5) * (1.0 - abs(found.place_m[:, 1]))
    np.testing.assert_allclose(found.coefficient, found.lift_n_m / (0.5 * 1.2 * speed**2 * chord), rtol=1e-9)


def test_a_rectangular_wing_bears_most_in_the_middle_and_a_pointed_one_outboard() -> None:
    """Section coefficients over the span: why pointed wings drop a tip."""
    motion = np.array([9.0, 0, 0.9, 0, 0, 0])
    straight, pointed = (
        loading.loading(Lattice(wing(6.0, taper=taper)), "wing", motion, np.zeros(0), 1.2) for taper in (1.0, 0.2)
    )
    assert abs(straight.place_m[np.argmax(straight.coefficient), 1]) < 0.05
    assert abs(pointed.place_m[np.argmax(pointed.coefficient), 1]) > 0.25


def test_elliptic_part_of_a_loading() -> None:
    """A wing of aspect 6 is loaded within 15 % of half an ellipse of the same lift, save the last tenth."""
    found = loading.loading(Lattice(wing(6.0)), "wing", np.array([9.0, 0, 0.9, 0, 0, 0]), np.zeros(0), 1.2)
    y = found.place_m[:, 1]
    ellipse = 4.0 / pi * (found.lift_n_m @ found.width_m) * np.sqrt(1.0 - (2.0 * y) ** 2)
    inner = np.abs(y) < 0.45
    np.testing.assert_allclose(found.lift_n_m[inner], ellipse[inner], rtol=0.15)


def test_slowest_flight_ends_at_the_stall() -> None:
    """The nearest section bears just its most, and slower flight would ask more of it."""
    found = loading.slowest(air(), 0.5, PULL, 1.0, THROW)
    assert found.limit == "stall"
    assert loading.wing_loading(air(), found.trim).coefficient.max() == pytest.approx(1.0, rel=1e-3)
    slower = trim.level(air(), 0.5, 0.98 * found.trim.speed_m_s, PULL)
    assert loading.wing_loading(air(), slower).coefficient.max() > 1.0
    assert abs(found.stall_place_m[1]) < 0.15


def test_slowest_flight_ends_at_the_elevator_when_nose_heavy() -> None:
    """Balanced far forward with little throw, the elevator is used up before the wing; the speed is higher."""
    free = loading.slowest(air(100.0), 0.5, PULL, 1.0, THROW)
    throw = -0.8 * free.trim.elevator_rad
    held = loading.slowest(air(100.0), 0.5, PULL, 1.0, throw)
    assert (free.limit, held.limit) == ("stall", "elevator")
    assert held.trim.elevator_rad == pytest.approx(-throw, abs=1e-3)
    assert held.trim.speed_m_s > free.trim.speed_m_s


def test_slowest_flight_does_not_depend_on_the_way_it_is_found() -> None:
    """Twice the mass needs sqrt 2 the speed, all else equal (thrust at the balance point, so no other moment)."""
    line = trim.ThrustLine(air().about_m, np.array([1.0, 0.0, 0.0]))
    speeds = [loading.slowest(air(), mass, line, 1.0, THROW).trim.speed_m_s for mass in (0.4, 0.8)]
    assert speeds[1] / speeds[0] == pytest.approx(np.sqrt(2.0), rel=3e-4)


def test_no_level_flight_at_all_is_said() -> None:
    """With no throw and a balance point far ahead of the wing nothing holds the nose up."""
    with pytest.raises(trim.NoTrimError, match="no level flight"):
        loading.slowest(air(-400.0), 0.5, PULL, 1.0, 1e-3)
