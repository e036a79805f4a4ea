"""The fuselage's unstable share of the moments by slender-body theory: an estimate; SI units, body axes.

M. Munk's theory of airships (NACA Report 184, from memory): a slender body in an ideal flow bears no force, but a
moment that turns it across the flow. The wing's upwash and the separated flow behind a box's edges are left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, log, pi, sqrt

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array
from airframe.flight.axes import M_PER_MM
from airframe.flight.lattice import Loads
from airframe.layout import Layout

STEPS = 200
"""Stations at which the fuselage is measured."""


@dataclass(frozen=True)
class Hull:
    """What a slender body does to the air."""

    pitch_volume_m3: float
    """Integral of pi / 4 width^2 along it: the air that moves with it up and down."""
    yaw_volume_m3: float
    """Integral of pi / 4 height^2 along it."""
    fullness: float
    """Munk's k2 - k1 of a spheroid as slender: 1 for a long body."""

    def loads(self, motion: ArrayLike, density_kg_m3: float, controls: int = 0) -> Loads:
        """Moments k rho V u w and -k rho V u v at a motion (`lattice.MOTIONS`), the same about any point."""
        u, v, w = np.asarray(motion, dtype=np.float64)[:3]
        unit = density_kg_m3 * self.fullness
        pitch, yaw = unit * self.pitch_volume_m3, -unit * self.yaw_volume_m3
        slopes = np.zeros((6, 6 + controls))
        slopes[4, [0, 2]] = pitch * np.array([w, u])
        slopes[5, [0, 1]] = yaw * np.array([v, u])
        return Loads(np.array([0.0, 0.0, 0.0, 0.0, pitch * u * w, yaw * u * v]), slopes)


def hull(layout: Layout) -> Hull:
    """The fuselage's sides as a slender body."""
    x = np.linspace(layout.nose_mm, layout.tail_mm, STEPS + 1)
    width = 2.0 * np.array([layout.half_width_mm(float(station)) for station in x])
    height = np.array([layout.water_line_mm("top", float(s)) - layout.water_line_mm("bottom", float(s)) for s in x])
    thickest = sqrt(float(width.max()) * float(height.max()))
    volumes = [pi / 4.0 * _integral(across**2, x) * M_PER_MM**3 for across in (width, height)]
    return Hull(volumes[0], volumes[1], fullness(float(x[-1] - x[0]) / thickest))


def fullness(slenderness: float) -> float:
    """Munk's k2 - k1 of a spheroid of a length over diameter: 0 for a ball, 1 for a thread (Lamb's coefficients)."""
    if slenderness <= 1.0:
        return 0.0
    if slenderness == inf:
        return 1.0
    e = sqrt(1.0 - slenderness**-2)
    turn = log((1.0 + e) / (1.0 - e))
    along = 2.0 * (1.0 - e * e) / e**3 * (turn / 2.0 - e)
    across = 1.0 / e**2 - (1.0 - e * e) / (2.0 * e**3) * turn
    return across / (2.0 - across) - along / (2.0 - along)


def _integral(values: Array, x: Array) -> float:
    return float(np.sum((values[:-1] + values[1:]) / 2.0 * np.diff(x)))
