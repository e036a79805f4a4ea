"""The linear equations of motion about steady straight flight, with the full inertia tensor; SI units, body axes.

Euler's and Newton's equations of a rigid body, small changes: Etkin & Reid, Dynamics of Flight, ch. 4 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import atan2, cos, sin, tan

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array
from airframe.units import STANDARD_GRAVITY_M_S2

STATES = ("u", "v", "w", "p", "q", "r", "bank", "pitch")
"""Changes of velocity (m/s), of rates (rad/s) and of the angles of bank and pitch (rad)."""


@dataclass(frozen=True, eq=False)
class LinearModel:
    """d(state)/dt = matrix @ state + controls @ deflections."""

    matrix: Array
    """(8, 8), in the order of `STATES`."""
    controls: Array
    """(8, c) per radian of each control."""
    speed_m_s: float
    incidence_rad: float = 0.0
    """Of the body's x axis to the path, nose up."""

    @cached_property
    def _roots_and_shapes(self) -> tuple[Array, Array]:
        roots, shapes = np.linalg.eig(self.matrix)
        return roots, shapes

    @property
    def roots(self) -> Array:
        """(8,) eigenvalues, 1/s, complex."""
        return self._roots_and_shapes[0]

    @property
    def shapes(self) -> Array:
        """(8, 8) eigenvectors as columns, complex."""
        return self._roots_and_shapes[1]

    def after(self, start: ArrayLike, times_s: ArrayLike, deflections: ArrayLike | None = None) -> Array:
        """(times, 8) states after a start, with controls moved at time 0 and held.

        Exact sums of the motions; good until the changes are no longer small.
        """
        push = self.controls @ np.asarray(deflections) if deflections is not None else np.zeros(len(STATES))
        roots, shapes = self._roots_and_shapes
        begun, pushed = np.linalg.solve(shapes, np.column_stack([np.asarray(start), push])).T
        t = np.asarray(times_s, dtype=np.float64)[:, None]
        grown = np.exp(roots * t)
        still = np.abs(roots) < np.finfo(float).tiny
        held = np.where(still, t, np.expm1(roots * t) / np.where(still, 1.0, roots))
        states: Array = np.real((grown * begun + held * pushed) @ shapes.T)
        return states


def linear_model(
    mass_kg: float,
    inertia_kg_m2: ArrayLike,
    slopes: ArrayLike,
    velocity_m_s: ArrayLike,
    pitch_rad: float,
    lag: ArrayLike | None = None,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> LinearModel:
    """The model about steady flight, wings level, not turning.

    Args:
        mass_kg: Any consistent units do: slug and ft with a gravity in ft/s^2.
        inertia_kg_m2: Full tensor about the balance point, off-diagonal entries negative products.
        slopes: (6, 6 + c) of force and moment in velocities, rates and controls.
        velocity_m_s: (3,) of the balance point, body axes.
        pitch_rad: Nose up.
        lag: (6,) of force and moment in the rate of change of w; none if not given.
        gravity_m_s2: For other units.
    """
    d = np.asarray(slopes, dtype=np.float64)
    u, v, w = np.asarray(velocity_m_s, dtype=np.float64)
    heavy = np.zeros((6, 6))
    heavy[:3, :3], heavy[3:, 3:] = mass_kg * np.eye(3), inertia_kg_m2
    if lag is not None:
        heavy[:, 2] -= np.asarray(lag)
    pull = np.zeros((6, 8))
    pull[:, :6] = d[:, :6]
    pull[:3, 3:6] -= mass_kg * np.array([[0.0, w, -v], [-w, 0.0, u], [v, -u, 0.0]])  # rates x velocity
    pull[1, 6] = mass_kg * gravity_m_s2 * cos(pitch_rad)
    pull[[0, 2], 7] = -mass_kg * gravity_m_s2 * np.array([cos(pitch_rad), sin(pitch_rad)])
    turning = np.zeros((2, 8))
    turning[0, [3, 5]], turning[1, 4] = (1.0, tan(pitch_rad)), 1.0
    matrix = np.vstack([np.linalg.solve(heavy, pull), turning])
    controls = np.vstack([np.linalg.solve(heavy, d[:, 6:]), np.zeros((2, d.shape[1] - 6))])
    return LinearModel(matrix, controls, float(np.linalg.norm((u, v, w))), atan2(w, u))
