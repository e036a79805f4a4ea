"""The usual coefficients and derivatives without dimensions, in stability axes (x along the flight path).

Rates count as p b / 2V, q c / 2V, r b / 2V; angles are radians; C_L up and C_D aft of the path.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, sin

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array
from airframe.flight.lattice import Loads
from airframe.flight.plan import Plan

ROWS = ("C_D", "C_Y", "C_L", "C_l", "C_m", "C_n")
COLUMNS = ("alpha", "beta", "p", "q", "r")


@dataclass(frozen=True, eq=False)
class Derivatives:
    """Coefficients at one state of straight flight and how they change."""

    values: Array
    """(6,) in the order of `ROWS`."""
    table: Array
    """(6, 5 + controls) in the order of `ROWS` and `columns`."""
    columns: tuple[str, ...]

    def value(self, row: str) -> float:
        """A coefficient by name, such as "C_L"."""
        return float(self.values[ROWS.index(row)])

    def slope(self, row: str, column: str) -> float:
        """A derivative by name, such as "C_m" in "alpha"."""
        return float(self.table[ROWS.index(row), self.columns.index(column)])

    @property
    def static_margin(self) -> float:
        """How far the neutral point lies behind the balance point, in mean chords: -C_m alpha / C_L alpha."""
        return -self.slope("C_m", "alpha") / self.slope("C_L", "alpha")


def derivatives(
    loads: Loads, velocity_m_s: ArrayLike, density_kg_m3: float, wing: Plan, controls: tuple[str, ...]
) -> Derivatives:
    """From forces and moments about the balance point at a steady velocity (u, 0, w) without rates, body axes."""
    u, _, w = np.asarray(velocity_m_s, dtype=np.float64)
    speed, alpha = float(np.hypot(u, w)), atan2(w, u)
    turn = np.array([[cos(alpha), 0.0, sin(alpha)], [0.0, 1.0, 0.0], [-sin(alpha), 0.0, cos(alpha)]])
    to_path = np.kron(np.eye(2), turn)
    lengths = np.array([wing.span_m, wing.mean_chord_m, wing.span_m])
    unit = 0.5 * density_kg_m3 * speed**2 * wing.area_m2
    scale = np.array([-1.0, 1.0, -1.0, *lengths]) * unit
    forces = to_path @ loads.wrench
    slopes = to_path @ loads.slopes
    slopes[:, :6] = slopes[:, :6] @ to_path.T
    columns = np.column_stack(
        [slopes[:, 2] * speed, slopes[:, 1] * speed, slopes[:, 3:6] * (2.0 * speed / lengths), slopes[:, 6:]]
    )
    # With incidence the path's axes turn under force and moment: x gains z, z loses x.
    columns[[0, 2, 3, 5], 0] += np.array([1.0, -1.0, 1.0, -1.0]) * forces[[2, 0, 5, 3]]
    return Derivatives(forces / scale, columns / scale[:, None], (*COLUMNS, *controls))
