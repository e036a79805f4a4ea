"""Moments of inertia from a pendulum: arithmetic on plain numbers in g, mm, s, radians; inertia in g mm^2.

Bifilar: the aeroplane hangs on two equal parallel strings of length L, a spacing d apart, the balance point midway
between them, and is twisted about the upright axis: I = m g d^2 T^2 / (16 pi^2 L).
Compound: it swings to and fro about a pivot a distance h above its balance point: I = m g h T^2 / (4 pi^2) - m h^2,
about a line through the balance point, along the pivot.

Sources: the pendulum in any dynamics text; the use on aeroplanes in NACA Report 467 (1933) (both from memory; the
tests check them against the exact equations of motion).

Two things make a light aeroplane swing slower than its own inertia would: air that its surfaces carry along (see
`air_carried_in_roll`), and too large an amplitude (see `at_small_swing`).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from airframe.units import STANDARD_GRAVITY_M_S2

GRAVITY_MM_S2 = STANDARD_GRAVITY_M_S2 * 1000.0
AIR_G_MM3 = 1.225e-6
"""Density of air at sea level, ICAO standard atmosphere."""
STRING_SHARE_OF_SPACING = 3.0
"""Strings proposed this many times as long as they are apart, so that the twist stays a small swing (our choice)."""


@dataclass(frozen=True)
class Measured:
    """A moment of inertia with its standard uncertainty, g mm^2."""

    inertia: float
    sigma: float


@dataclass(frozen=True)
class Reading:
    """A number read off, and its standard uncertainty in the same unit."""

    value: float
    sigma: float = 0.0

    @property
    def share(self) -> float:
        """The uncertainty as a share of the value."""
        return self.sigma / self.value


def period(time_s: float, swings: int, reaction_s: float) -> Reading:
    """Seconds of one swing, to and fro, of several timed together; the watch is started and stopped by hand."""
    return Reading(time_s / swings, sqrt(2.0) * reaction_s / swings)


# --- two strings -------------------------------------------------------------------------------------------


def bifilar_period(inertia: float, mass: float, length: float, spacing: float) -> float:
    """Expected period: T = 4 pi / d sqrt(I L / (m g))."""
    return 4.0 * pi / spacing * sqrt(inertia * length / (mass * GRAVITY_MM_S2))


def bifilar_inertia(time: Reading, mass: Reading, length: Reading, spacing: Reading) -> Measured:
    """I = m g d^2 T^2 / (16 pi^2 L); relative variances add, those of squared readings four times."""
    value = mass.value * GRAVITY_MM_S2 * (spacing.value * time.value) ** 2 / (16.0 * pi**2 * length.value)
    share = mass.share**2 + length.share**2 + 4.0 * (spacing.share**2 + time.share**2)
    return Measured(value, value * sqrt(share))


def bifilar_proposal(inertia: float, mass: float) -> tuple[float, float]:
    """Length and spacing of the strings, mm, that fit a room and swing at a pace that is easily counted.

    Strings two radii of gyration apart twist in the period of a simple pendulum of their length, T = 2 pi sqrt(L / g):
    with k^2 = I / m and d = 2 k, 4 pi / d sqrt(k^2 L / g) loses d and k. Length: STRING_SHARE_OF_SPACING.
    """
    spacing = 2.0 * sqrt(inertia / mass)
    return STRING_SHARE_OF_SPACING * spacing, spacing


# --- one pivot ---------------------------------------------------------------------------------------------


def compound_period(inertia: float, mass: float, distance: float) -> float:
    """Expected period: T = 2 pi sqrt((I + m h^2) / (m g h))."""
    return 2.0 * pi * sqrt((inertia + mass * distance**2) / (mass * GRAVITY_MM_S2 * distance))


def compound_inertia(time: Reading, mass: Reading, distance: Reading) -> Measured:
    """I = m h (g T^2 / (4 pi^2) - h), with the partial derivatives by T, m and h.

    The small difference of two larger numbers: sure only where h is not much more than the radius of gyration.
    """
    m, h, t = mass.value, distance.value, time.value
    virtual = GRAVITY_MM_S2 * t**2 / (4.0 * pi**2)
    by_time = 2.0 * m * h * virtual / t
    by_mass = h * (virtual - h)
    by_distance = m * (virtual - 2.0 * h)
    variance = (by_time * time.sigma) ** 2 + (by_mass * mass.sigma) ** 2 + (by_distance * distance.sigma) ** 2
    return Measured(m * h * (virtual - h), sqrt(variance))


def compound_proposal(inertia: float, mass: float) -> float:
    """Distance of the pivot, mm, for the shortest period: the radius of gyration, where an error in h matters least."""
    return sqrt(inertia / mass)


# --- what falsifies it -------------------------------------------------------------------------------------


def at_small_swing(time: Reading, amplitude: float) -> Reading:
    """The period that a swing of next to nothing would have: T / (1 + a^2 / 16) for an amplitude of a radians.

    First term of the pendulum's series (any dynamics text, from memory). It holds for strings much longer than they
    are apart, too. At 10 degrees it is 0.2 %, which is 0.4 % of the inertia.
    """
    factor = 1.0 + amplitude**2 / 16.0
    return Reading(time.value / factor, time.sigma / factor)


def air_carried_in_roll(span: float, chord: float) -> float:
    """Inertia, g mm^2, of the air that a wing carries along when it rolls: to be taken off a measured roll inertia.

    Strip by strip: air of pi rho c^2 / 4 for each unit of span (a flat plate moving at right angles to itself,
    potential flow, from memory), times y^2, over the span: pi rho c^2 b^3 / 48. An estimate on the high side: flow
    round the tips makes it less.
    """
    return pi * AIR_G_MM3 * chord**2 * span**3 / 48.0
