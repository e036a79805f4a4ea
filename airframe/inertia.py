"""Mass properties of bodies, and how they add up: arithmetic on plain arrays.

Inertia tensors are about the body's own centre, axes parallel to the frame in use. Off-diagonal
entries are the NEGATIVE products of inertia: entry xy = -integral of x*y dm.

"Amount" is what a body's weight is counted by: volume (mm^3) of a solid, area (mm^2) of a film,
length (mm) of a bead. At unit weight per amount, amount and mass are the same number.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array


@dataclass(frozen=True, eq=False)
class Body:
    """Mass, centre and inertia of one body."""

    mass: float
    """Grams; or the amount (mm^3, mm^2, mm) at unit weight per amount."""
    centre: Array
    """Centre of mass, mm, shape (3,)."""
    inertia: Array
    """Tensor about `centre`, mass times mm^2, shape (3, 3)."""

    def scaled(self, factor: float) -> Body:
        """The same body made of something `factor` times as heavy."""
        return Body(self.mass * factor, self.centre, self.inertia * factor)

    def placed(self, rotation: ArrayLike, origin: ArrayLike) -> Body:
        """The body after a rigid motion or reflection: R I R^T holds for both."""
        r = np.asarray(rotation, dtype=np.float64)
        return Body(self.mass, r @ self.centre + np.asarray(origin), r @ self.inertia @ r.T)


def point_term(mass: float, offset: ArrayLike) -> Array:
    """Inertia of a point mass about the origin, m (d.d 1 - d d^T): the parallel-axis term.

    Source: the parallel-axis theorem in tensor form, any dynamics text (from memory).
    """
    d = np.asarray(offset, dtype=np.float64)
    return mass * (float(d @ d) * np.eye(3) - np.outer(d, d))


def about(body: Body, point: ArrayLike) -> Array:
    """The body's inertia tensor about any point, axes parallel to the frame."""
    return body.inertia + point_term(body.mass, body.centre - np.asarray(point, dtype=np.float64))


def combined(bodies: list[Body]) -> Body:
    """One body made of several. An empty list, or no mass at all, gives zeros at the origin."""
    if not bodies:
        return Body(0.0, np.zeros(3), np.zeros((3, 3)))
    masses = np.array([body.mass for body in bodies], dtype=np.float64)
    centres, inertias = np.array([body.centre for body in bodies]), np.array([body.inertia for body in bodies])
    total, centre, inertia = combined_rows(masses, centres, inertias)
    return Body(float(total), centre, inertia)


def combined_rows(masses: Array, centres: Array, inertias: Array) -> tuple[Array, Array, Array]:
    """The same of k bodies in many cases at once: arrays of (k, ...), (k, ..., 3) and (k, ..., 3, 3).

    Gives masses (...), centres (..., 3) and inertias (..., 3, 3). Bodies are added one after another, each case by
    itself: the sum of a case has the same bits whether it is taken alone or among thousands.
    """
    total = reduce(np.add, masses)
    centre = reduce(np.add, masses[..., None] * centres) / np.where(total == 0.0, 1.0, total)[..., None]
    d = centres - centre
    products = reduce(np.add, masses[..., None, None] * d[..., :, None] * d[..., None, :])
    squares = products[..., 0, 0] + products[..., 1, 1] + products[..., 2, 2]
    inertia = reduce(np.add, inertias) + squares[..., None, None] * np.eye(3) - products
    is_something = total != 0.0
    return total, np.where(is_something[..., None], centre, 0.0), np.where(is_something[..., None, None], inertia, 0.0)


def principal(inertia: Array) -> tuple[Array, Array]:
    """Principal moments, ascending, and the axes as columns of a right-handed matrix."""
    moments, axes = np.linalg.eigh((inertia + inertia.T) / 2.0)
    if np.linalg.det(axes) < 0.0:
        axes[:, 2] = -axes[:, 2]
    return moments, axes


def is_physical(inertia: Array, tolerance: float = 1e-9) -> bool:
    """Whether a real body can have this tensor: none of the principal moments exceeds the other two's sum."""
    moments, _ = principal(inertia)
    slack = tolerance * max(float(moments[2]), 1e-30)
    return bool(moments[0] >= -slack and moments[0] + moments[1] >= moments[2] - slack)


def polyline(points: ArrayLike) -> Body:
    """A thin wire along straight legs, unit weight per mm; mass is its length.

    Each leg is a slender rod: m l^2 / 12 about its middle (OpenStax University Physics 1, 10.5).
    """
    p = np.asarray(points, dtype=np.float64).reshape(-1, 3)
    legs = np.diff(p, axis=0)
    lengths = np.linalg.norm(legs, axis=1)
    rods = [
        Body(float(length), middle, point_term(float(length) / 12.0, leg))
        for length, middle, leg in zip(lengths, (p[:-1] + p[1:]) / 2.0, legs, strict=True)
        if length > 0.0
    ]
    return combined(rods)


def lamina(rings: list[Array]) -> Body:
    """A thin flat plate bounded by planar rings in space, unit weight per mm^2; mass is its area.

    Rings turn the way the plate's normal says, holes the other way. Each ring is a fan of signed
    triangles from its first corner; a triangle's second moments are those of a sixth of its area at
    each corner-pair sum: integral of x x^T dA = A/12 (sum of p p^T over corners + s s^T), s the corners' sum.
    """
    normal = _ring_normal(rings[0])
    area = 0.0
    first = np.zeros(3)
    second = np.zeros((3, 3))
    base = rings[0][0]
    for ring in rings:
        p = np.asarray(ring, dtype=np.float64) - base
        for b, c in pairwise(p[1:]):
            corners = np.array([p[0], b, c])
            signed = 0.5 * float(np.cross(b - p[0], c - p[0]) @ normal)
            total = corners.sum(axis=0)
            area += signed
            first += signed * total / 3.0
            second += signed / 12.0 * (corners.T @ corners + np.outer(total, total))
    if area <= 0.0:
        return Body(0.0, base.copy(), np.zeros((3, 3)))
    centre = first / area
    second = second - area * np.outer(centre, centre)
    return Body(area, centre + base, float(np.trace(second)) * np.eye(3) - second)


def _ring_normal(ring: Array) -> Array:
    p = np.asarray(ring, dtype=np.float64)
    p = p - p[0]
    n = np.cross(p, np.roll(p, -1, axis=0)).sum(axis=0)
    unit: Array = n / max(float(np.linalg.norm(n)), 1e-300)
    return unit


# --- closed forms for simple solids, unit density: mass is the volume -----------------------------
# Source: moments of inertia of homogeneous bodies, any dynamics text (reference: Meriam & Kraige, App. D).


def box(x: float, y: float, z: float) -> Body:
    """A box centred on the origin."""
    m = x * y * z
    return Body(m, np.zeros(3), m / 12.0 * np.diag([y * y + z * z, x * x + z * z, x * x + y * y]))


def tube(length: float, outer_radius: float, inner_radius: float = 0.0) -> Body:
    """A cylinder or tube along the x axis, centred on the origin."""
    m = np.pi * (outer_radius**2 - inner_radius**2) * length
    r2 = outer_radius**2 + inner_radius**2
    across = m * (3.0 * r2 + length**2) / 12.0
    return Body(m, np.zeros(3), np.diag([m * r2 / 2.0, across, across]))
