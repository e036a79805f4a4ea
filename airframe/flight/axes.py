"""From the aeroplane's frame (x aft, z up, mm and g) to body axes (x forward, z down) in SI units."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array
from airframe.inertia import Body

M_PER_MM = 1e-3
KG_PER_G = 1e-3
_TURN = np.array([-1.0, 1.0, -1.0])


def to_body_axes(vectors: ArrayLike) -> Array:
    """Vectors (..., 3) of the aeroplane's frame in body axes: half a turn about y, so its own inverse.

    It is a proper turn: forces, moments and rates of turning all go through it alike. Units stay.
    """
    turned: Array = np.asarray(vectors, dtype=np.float64) * _TURN
    return turned


@dataclass(frozen=True, eq=False)
class BodyMass:
    """Mass and inertia as the equations of motion want them; kg, m, body axes."""

    mass_kg: float
    centre_m: Array
    """Balance point in the AEROPLANE'S frame (x aft, z up): where lattices are referred to."""
    inertia_kg_m2: Array
    """Full tensor about the balance point in body axes; off-diagonal entries are the negative products."""


def body_mass(whole: Body) -> BodyMass:
    """The weighed aeroplane (g, mm, aeroplane's frame) in SI units and body axes."""
    turned = to_body_axes(to_body_axes(whole.inertia).T).T
    return BodyMass(whole.mass * KG_PER_G, whole.centre * M_PER_MM, turned * KG_PER_G * M_PER_MM**2)
