"""Areas, chords and arms of the lifting surfaces, and the builder's rules of thumb that stand on them; SI units."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import degrees

import numpy as np

from airframe.flight.panels import Edge, Sheet


@dataclass(frozen=True)
class Plan:
    """One surface seen square to it: the wing's shadow, the fin from the side; metres, aeroplane's frame."""

    area_m2: float
    span_m: float
    """Tip to tip, or the height of an upright one."""
    mean_chord_m: float
    """Integral of the chord squared over the area."""
    quarter_chord_m: float
    """Station of the quarter point of the mean chord."""

    @property
    def aspect(self) -> float:
        """Span squared over area."""
        return self.span_m**2 / self.area_m2


def plan(sheets: Iterable[Sheet], surface: str) -> Plan:
    """The plan of a surface, exact for its straight-edged sheets. Raises ValueError for one that is not there."""
    area = squares = stations = 0.0
    reach: list[float] = []
    upright = False
    for sheet in (sheet for sheet in sheets if sheet.surface == surface):
        upright = abs(sheet.normals[0, 1]) > abs(sheet.normals[0, 2])
        axis = 2 if upright else 1
        ends = [float(edge.leading_m[axis]) for edge in (sheet.start, sheet.end)]
        width = abs(ends[1] - ends[0])
        a, b = sheet.start.chord_m, sheet.end.chord_m
        p, q = (_quarter(edge) for edge in (sheet.start, sheet.end))
        area += width * (a + b) / 2.0
        squares += width * (a * a + a * b + b * b) / 3.0
        stations += width * (p * (2.0 * a + b) + q * (a + 2.0 * b)) / 6.0
        reach += ends
    if not reach:
        raise ValueError(f"there is no {surface}")
    return Plan(area, max(reach) - min(reach), squares / area, stations / area)


def _quarter(edge: Edge) -> float:
    return float(edge.leading_m[0]) + 0.25 * edge.chord_m


@dataclass(frozen=True)
class TailVolumes:
    """How much tail there is for the wing: area times arm over the wing's area times chord, or span."""

    horizontal: float
    """S_h l_h / (S c), Raymer eqs 6.26 to 6.29 (by a digest)."""
    vertical: float
    """S_v l_v / (S b)."""
    horizontal_arm_m: float
    """From quarter chord to quarter chord."""
    vertical_arm_m: float


def tail_volumes(wing: Plan, stabiliser: Plan, fin: Plan) -> TailVolumes:
    """Of surfaces with their moving parts."""
    arms = [tail.quarter_chord_m - wing.quarter_chord_m for tail in (stabiliser, fin)]
    horizontal = stabiliser.area_m2 * arms[0] / (wing.area_m2 * wing.mean_chord_m)
    vertical = fin.area_m2 * arms[1] / (wing.area_m2 * wing.span_m)
    return TailVolumes(horizontal, vertical, arms[0], arms[1])


# --- dihedral ------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class EquivalentDihedral:
    """The single V angle that rolls as much in a slip as the wing's panels do, under two loadings; estimates.

    B. Beron-Rawdon, Dihedral, Model Aviation 1988 (formula from memory).
    """

    uniform_rad: float
    """Weight chord times distance from the centre."""
    elliptic_rad: float
    """Weight by an elliptic loading over the span."""


def equivalent_dihedral(sheets: Iterable[Sheet]) -> EquivalentDihedral:
    """Of the wing's right half; its panels' own angles weighed by what they bear."""
    right = [sheet for sheet in sheets if sheet.surface == "wing" and sheet.end.leading_m[1] > 0.0]
    half = max(float(sheet.end.leading_m[1]) for sheet in right)
    angles = np.array([_dihedral(sheet) for sheet in right])
    areas = np.array([_area_moment(sheet) for sheet in right])
    shares = np.array([[edge.leading_m[1] / half for edge in (sheet.start, sheet.end)] for sheet in right])
    ellipse = -np.diff((1.0 - np.minimum(shares, 1.0) ** 2) ** 1.5, axis=1)[:, 0]
    return EquivalentDihedral(float(angles @ areas / areas.sum()), float(angles @ ellipse / ellipse.sum()))


def spiral_rule(arm_m: float, span_m: float, dihedral_rad: float, lift_coefficient: float) -> float:
    """Arm of the fin times equivalent dihedral in degrees over span and lift: above 5 a bank dies away, below it grows.

    A rule of thumb (Drela, design rules of a course; from memory, not found): an estimate.
    """
    return arm_m * degrees(dihedral_rad) / (span_m * lift_coefficient)


def _dihedral(sheet: Sheet) -> float:
    _, dy, dz = sheet.end.leading_m - sheet.start.leading_m
    return float(np.arctan2(dz, dy))


def _area_moment(sheet: Sheet) -> float:
    """Integral of chord times distance from the centre plane."""
    a, b = sheet.start.chord_m, sheet.end.chord_m
    p, q = float(sheet.start.leading_m[1]), float(sheet.end.leading_m[1])
    return (q - p) * (2.0 * a * p + a * q + b * p + 2.0 * b * q) / 6.0
