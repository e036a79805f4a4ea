"""Pendulum formulas against closed forms and against the exact equations of motion.

Sources: bifilar and compound pendulum in any dynamics text; used on aeroplanes in NACA Report 467 (1933); both from
memory, so the formulas are checked here against the motion itself. Moments of inertia: rod m l^2 / 12 about its
middle, m l^2 / 3 about its end; disk m r^2 / 2 (OpenStax University Physics 1, 10.5).
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, radians, sin, sqrt

import numpy as np
import pytest

from airframe import swing
from airframe.swing import GRAVITY_MM_S2, Reading

ROD_G, ROD_MM = 120.0, 600.0
DISK_G, DISK_MM = 250.0, 150.0


def motion_period(acceleration: Callable[[float, float], float], amplitude: float, steps: int = 40_000) -> float:
    """Period of a swing from rest at the amplitude: time to reach the middle, four times; classical Runge-Kutta."""
    angle, rate, step, clock = amplitude, 0.0, 2.0e-4, 0.0
    for _ in range(steps):
        k1 = (rate, acceleration(angle, rate))
        k2 = (rate + step / 2 * k1[1], acceleration(angle + step / 2 * k1[0], rate + step / 2 * k1[1]))
        k3 = (rate + step / 2 * k2[1], acceleration(angle + step / 2 * k2[0], rate + step / 2 * k2[1]))
        k4 = (rate + step * k3[1], acceleration(angle + step * k3[0], rate + step * k3[1]))
        after = angle + step / 6 * (k1[0] + 2 * k2[0] + 2 * k3[0] + k4[0])
        if after <= 0.0:
            return 4.0 * (clock + step * angle / (angle - after))
        rate += step / 6 * (k1[1] + 2 * k2[1] + 2 * k3[1] + k4[1])
        angle, clock = after, clock + step
    raise AssertionError("it never came down")


def twisted(inertia: float, mass: float, length: float, spacing: float, amplitude: float) -> float:
    """Period on two strings by the exact motion: twisted by a, it hangs at depth sqrt(L^2 - 2 b^2 (1 - cos a)).

    From the energies I a'^2 / 2 + m z'^2 / 2 and -m g z, with z' = -b^2 sin(a) a' / z: Lagrange's equation in a.
    """
    b2 = (spacing / 2.0) ** 2

    def acceleration(a: float, rate: float) -> float:
        z = sqrt(length**2 - 2.0 * b2 * (1.0 - cos(a)))
        slope = -b2 * sin(a) / z
        curve = -b2 * cos(a) / z - slope**2 / z
        return (mass * GRAVITY_MM_S2 * slope - mass * slope * curve * rate**2) / (inertia + mass * slope**2)

    return motion_period(acceleration, amplitude)


def swung(inertia: float, mass: float, distance: float, amplitude: float) -> float:
    """Period about a pivot by the exact motion: (I + m h^2) a'' = -m g h sin a."""
    about_pivot = inertia + mass * distance**2
    return motion_period(lambda a, _: -mass * GRAVITY_MM_S2 * distance * sin(a) / about_pivot, amplitude)


def test_a_rod_on_two_strings_at_its_ends() -> None:
    """d = l, I = m l^2 / 12: T = 2 pi sqrt(L / (3 g)), a textbook result; the mass drops out."""
    period = swing.bifilar_period(ROD_G * ROD_MM**2 / 12.0, ROD_G, 900.0, ROD_MM)
    assert period == pytest.approx(2.0 * pi * sqrt(900.0 / (3.0 * GRAVITY_MM_S2)), rel=1e-12)


def test_a_disk_on_two_strings_at_its_rim() -> None:
    """d = 2 r, I = m r^2 / 2 about its axis: T = 2 pi sqrt(L / (2 g))."""
    period = swing.bifilar_period(DISK_G * DISK_MM**2 / 2.0, DISK_G, 800.0, 2.0 * DISK_MM)
    assert period == pytest.approx(2.0 * pi * sqrt(800.0 / (2.0 * GRAVITY_MM_S2)), rel=1e-12)


def test_a_rod_about_its_end() -> None:
    """I + m h^2 = m l^2 / 3: T = 2 pi sqrt(2 l / (3 g))."""
    period = swing.compound_period(ROD_G * ROD_MM**2 / 12.0, ROD_G, ROD_MM / 2.0)
    assert period == pytest.approx(2.0 * pi * sqrt(2.0 * ROD_MM / (3.0 * GRAVITY_MM_S2)), rel=1e-12)


def test_a_disk_about_its_rim() -> None:
    """I + m r^2 = 3 m r^2 / 2: T = 2 pi sqrt(3 r / (2 g))."""
    period = swing.compound_period(DISK_G * DISK_MM**2 / 2.0, DISK_G, DISK_MM)
    assert period == pytest.approx(2.0 * pi * sqrt(3.0 * DISK_MM / (2.0 * GRAVITY_MM_S2)), rel=1e-12)


@pytest.mark.parametrize("inertia", [2.0e6, 1.75e7, 4.5e7])
def test_the_period_of_a_small_twist_is_that_of_the_motion(inertia: float) -> None:
    """At 1 degree the exact motion has the formula's period to 1e-4, for strings as proposed."""
    length, spacing = swing.bifilar_proposal(inertia, 700.0)
    exact = twisted(inertia, 700.0, length, spacing, radians(1.0))
    assert swing.bifilar_period(inertia, 700.0, length, spacing) == pytest.approx(exact, rel=1e-4)


def test_the_period_of_a_small_swing_is_that_of_the_motion() -> None:
    """So it is about a pivot."""
    assert swing.compound_period(1.75e7, 700.0, 250.0) == pytest.approx(
        swung(1.75e7, 700.0, 250.0, radians(1.0)), rel=1e-4
    )


@pytest.mark.parametrize("degrees", [10.0, 25.0])
def test_the_amplitude_is_taken_out(degrees: float) -> None:
    """A swing that wide is slower by a^2 / 16; taking it out leaves the small swing's period to 0.1 % at 25 degrees."""
    small = swing.compound_period(1.75e7, 700.0, 250.0)
    wide = swung(1.75e7, 700.0, 250.0, radians(degrees))
    assert wide > small * (1.0 + radians(degrees) ** 2 / 17.0)
    assert swing.at_small_swing(Reading(wide), radians(degrees)).value == pytest.approx(small, rel=1e-3)
    twist = twisted(1.75e7, 700.0, 3000.0, 300.0, radians(degrees))
    corrected = swing.at_small_swing(Reading(twist), radians(degrees)).value
    assert corrected == pytest.approx(swing.bifilar_period(1.75e7, 700.0, 3000.0, 300.0), rel=1e-3)


def test_a_measured_period_gives_the_inertia_back() -> None:
    """Forward and inverse formulas undo each other."""
    time = Reading(swing.bifilar_period(1.75e7, 700.0, 900.0, 300.0))
    assert swing.bifilar_inertia(time, Reading(700.0), Reading(900.0), Reading(300.0)).inertia == pytest.approx(1.75e7)
    time = Reading(swing.compound_period(1.75e7, 700.0, 250.0))
    assert swing.compound_inertia(time, Reading(700.0), Reading(250.0)).inertia == pytest.approx(1.75e7)


def test_the_uncertainty_is_that_of_drawn_readings() -> None:
    """Both sigmas are those of inertias worked out from readings drawn at random, to 3 %."""
    rng = np.random.default_rng(11)
    n = 40_000
    mass = Reading(700.0, 2.0)
    time = Reading(swing.bifilar_period(1.75e7, 700.0, 900.0, 300.0), 0.012)
    length, spacing = Reading(900.0, 2.0), Reading(300.0, 1.0)
    t, m = rng.normal(time.value, time.sigma, n), rng.normal(mass.value, mass.sigma, n)
    near, apart = rng.normal(length.value, length.sigma, n), rng.normal(spacing.value, spacing.sigma, n)
    drawn = m * GRAVITY_MM_S2 * (apart * t) ** 2 / (16.0 * pi**2 * near)
    assert swing.bifilar_inertia(time, mass, length, spacing).sigma == pytest.approx(drawn.std(), rel=0.03)
    time, distance = Reading(swing.compound_period(1.75e7, 700.0, 250.0), 0.012), Reading(250.0, 1.0)
    t, h = rng.normal(time.value, time.sigma, n), rng.normal(distance.value, distance.sigma, n)
    drawn = m * h * (GRAVITY_MM_S2 * t**2 / (4.0 * pi**2) - h)
    assert swing.compound_inertia(time, mass, distance).sigma == pytest.approx(drawn.std(), rel=0.03)


def test_more_swings_timed_together_are_better() -> None:
    """Start and stop each err by the reaction time: sigma of one swing = sqrt(2) r / n."""
    assert swing.period(30.0, 20, 0.1) == Reading(1.5, sqrt(2.0) * 0.1 / 20)


def test_proposals_are_sensible() -> None:
    """Strings as proposed swing like a simple pendulum as long as they are; the pivot gives the shortest period."""
    length, spacing = swing.bifilar_proposal(1.75e7, 700.0)
    simple = 2.0 * pi * sqrt(length / swing.GRAVITY_MM_S2)
    assert swing.bifilar_period(1.75e7, 700.0, length, spacing) == pytest.approx(simple)
    assert length == pytest.approx(3.0 * spacing)
    best = swing.compound_proposal(1.75e7, 700.0)
    shortest = swing.compound_period(1.75e7, 700.0, best)
    assert all(swing.compound_period(1.75e7, 700.0, best * factor) > shortest for factor in (0.9, 1.1))


def test_air_carried_by_a_rolling_wing() -> None:
    """The sum over strips of pi rho c^2 / 4 dy y^2, by the trapezium rule, is the closed form."""
    y = np.linspace(-500.0, 500.0, 2001)
    strips = pi * swing.AIR_G_MM3 * 200.0**2 / 4.0 * y**2
    assert swing.air_carried_in_roll(1000.0, 200.0) == pytest.approx(np.trapezoid(strips, y), rel=1e-5)
