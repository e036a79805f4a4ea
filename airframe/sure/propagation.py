"""What the random quantities do to mass, balance point, inertia and anything that hangs on the balance point.

First order, by the Jacobian: exact for the mass, which is linear; for the rest good while the balance point's
spread is small beside the aeroplane. Source: law of propagation of uncertainty, JCGM 100:2008 (GUM), 5.1.2 and
5.2.2 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import erf, sqrt

import numpy as np

from airframe.axes import Array, Point
from airframe.mass import Entry
from airframe.sure.unknowns import Unknowns

COVERAGE = 1.959963984540054
"""95 % of a normal distribution lie within this many standard deviations of its mean (any table)."""
ANGLE_STEP_MM = 0.05
"""How far the balance point is moved to see what a function of it does."""


@dataclass(frozen=True)
class Estimate:
    """A value with its standard uncertainty, in the unit of the value."""

    value: float
    sigma: float

    @property
    def low(self) -> float:
        """Lower end of the 95 % interval."""
        return self.value - COVERAGE * self.sigma

    @property
    def high(self) -> float:
        """Upper end of the 95 % interval."""
        return self.value + COVERAGE * self.sigma

    def chance_within(self, low: float, high: float) -> float:
        """Probability that the truth lies in the range, the truth being normally distributed about the value."""
        if self.sigma == 0.0:
            return float(low <= self.value <= high)
        return _normal((high - self.value) / self.sigma) - _normal((low - self.value) / self.sigma)


@dataclass(frozen=True, eq=False)
class Sureness:
    """How sure the whole aeroplane's figures are."""

    mass_g: Estimate
    balance_mm: tuple[Estimate, Estimate, Estimate]
    """Station, butt line, water line."""
    balance_covariance_mm2: Array
    """(3, 3)."""
    balance_bias_mm: Point
    """Second-order bias of the balance point, a ratio of two sums: what the mean of it exceeds its value by."""
    inertia_g_mm2: tuple[Estimate, Estimate, Estimate]
    """Roll, pitch and yaw, about the balance point."""

    def of_balance(self, function: Callable[[Point], float]) -> Estimate:
        """Anything that hangs on the balance point alone (mm), such as the overturn angle; by central differences."""
        centre = np.array([one.value for one in self.balance_mm])
        steps = ANGLE_STEP_MM * np.eye(3)
        gradient = np.array([function(_point(centre + d)) - function(_point(centre - d)) for d in steps])
        gradient /= 2.0 * ANGLE_STEP_MM
        variance = float(gradient @ self.balance_covariance_mm2 @ gradient)
        return Estimate(function(_point(centre)), sqrt(max(variance, 0.0)))


def sureness(entries: Sequence[Entry], known: Unknowns) -> Sureness:
    """How sure the sums of these entries are, whose masses and places are as uncertain as `known` says."""
    masses, centres = masses_of(entries), centres_of(entries)
    total = float(masses.sum())
    if total <= 0.0:
        nothing = Estimate(0.0, 0.0)
        return Sureness(nothing, (nothing,) * 3, np.zeros((3, 3)), (0.0, 0.0, 0.0), (nothing,) * 3)
    centre = masses @ centres / total
    by_mass = mass_gradient(known)
    by_balance = balance_gradient(masses, centres, known)
    by_inertia = unit_inertia(entries, centre) @ known.gains
    covariance = by_balance @ known.covariance @ by_balance.T
    covariance = covariance + np.eye(3) * float((masses / total) ** 2 @ known.place_variance_mm2)
    bias = -(by_balance @ known.covariance @ by_mass) / total
    inertia = unit_inertia(entries, centre) @ masses
    # Moving one entry along an axis changes the inertia about the two other axes, by 2 m d for each mm.
    moved = (2.0 * masses[:, None] * (centres - centre)) ** 2 * known.place_variance_mm2[:, None]
    places = moved.sum(axis=0)
    spread = np.einsum("ap,pq,aq->a", by_inertia, known.covariance, by_inertia) + places.sum() - places
    return Sureness(
        Estimate(total, sqrt(max(float(by_mass @ known.covariance @ by_mass), 0.0))),
        _three(centre, np.diag(covariance)),
        covariance,
        _point(bias),
        _three(inertia, spread),
    )


def chance_of_reaching(sigma_mm: float, reach_mm: tuple[float, float], target_mm: tuple[float, float]) -> float:
    """Probability that some station of the battery brings the balance into the target.

    `reach_mm` are the balance points, by the statement, with the battery at either end of its tray. The error e of the
    statement moves both alike, so the target can be reached when e lies from target low - reach high to
    target high - reach low.
    """
    low, high = sorted(reach_mm)
    error = Estimate(0.0, sigma_mm)
    return error.chance_within(target_mm[0] - high, target_mm[1] - low)


def mass_gradient(known: Unknowns) -> Array:
    """(p,): grams of the whole for a unit of each random quantity."""
    gradient: Array = known.gains.sum(axis=0)
    return gradient


def balance_gradient(masses: Array, centres: Array, known: Unknowns) -> Array:
    """(3, p): d(sum m c / sum m) = sum (c - centre) dm / sum m."""
    total = masses.sum()
    gradient: Array = (centres - masses @ centres / total).T @ known.gains / total
    return gradient


def unit_inertia(entries: Sequence[Entry], centre: Array) -> Array:
    """(3, n): roll, pitch and yaw inertia about the centre for one gram of each entry, mm^2.

    It is the derivative by the entry's mass as well: moving the centre itself changes nothing to first order.
    """
    own = np.array([np.diag(e.body.inertia) / e.body.mass if e.body.mass else np.zeros(3) for e in entries])
    squares = (centres_of(entries) - centre) ** 2
    result: Array = (own + squares.sum(axis=1, keepdims=True) - squares).T
    return result


def masses_of(entries: Sequence[Entry]) -> Array:
    """(n,): the masses that count, g."""
    return np.array([entry.mass_g for entry in entries])


def centres_of(entries: Sequence[Entry]) -> Array:
    """(n, 3): mm, in the aeroplane's frame."""
    return np.array([entry.body.centre for entry in entries])


def _three(values: Array, variances: Array) -> tuple[Estimate, Estimate, Estimate]:
    a, b, c = (Estimate(float(v), sqrt(max(float(s), 0.0))) for v, s in zip(values, variances, strict=True))
    return a, b, c


def _point(values: Array) -> Point:
    x, y, z = values
    return float(x), float(y), float(z)


def _normal(z: float) -> float:
    return 0.5 * (1.0 + erf(z / sqrt(2.0)))
