"""Plain lifting surfaces with a known answer, for tests."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, radians, sin, tan

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array
from airframe.flight.lattice import Lattice
from airframe.flight.panels import Edge, Panels, Sheet, cut, even, even_strips, towards_tip


def flat_normal(start_m: ArrayLike, end_m: ArrayLike) -> Array:
    """Unit normal (3,) of a sheet along x through two points: up for a wing drawn from left to right."""
    _, dy, dz = np.asarray(end_m, dtype=np.float64) - np.asarray(start_m)
    normal: Array = np.array([0.0, -dz, dy]) / np.hypot(dy, dz)
    return normal


def half(
    span_m: float,
    root_m: float,
    tip_m: float,
    counts: tuple[int, int],
    sweep_rad: float = 0.0,
    dihedral_rad: float = 0.0,
    is_even: bool = False,
) -> Sheet:
    """The right half of a flat straight-edged wing, span tip to tip; sweep of the leading edge."""
    y = span_m / 2.0
    tip = np.array([y * tan(sweep_rad), y * cos(dihedral_rad), y * sin(dihedral_rad)])
    cuts = even(counts[1])
    normals = np.tile(flat_normal(np.zeros(3), tip), (counts[1], 1))
    shares = even_strips(counts[0]) if is_even else towards_tip(counts[0])
    return Sheet("wing", Edge(np.zeros(3), root_m, cuts), Edge(tip, tip_m, cuts), shares, normals)


def wing(
    aspect: float,
    counts: tuple[int, int] = (16, 4),
    taper: float = 1.0,
    sweep_deg: float = 0.0,
    is_even: bool = False,
) -> Panels:
    """A flat wing of span 1 m and area 1 / aspect; counts of strips a half and of panels a strip."""
    root = 2.0 / (aspect * (1.0 + taper))
    right = half(1.0, root, taper * root, counts, radians(sweep_deg), is_even=is_even)
    return cut([right.mirrored(), right])


def ellipse(aspect: float, counts: tuple[int, int] = (12, 4)) -> Panels:
    """A flat elliptic wing of span 1 m, its middle of the chord straight: one sheet for each strip."""
    shares = towards_tip(counts[0])[::2]
    chords = 4.0 / (pi * aspect) * np.sqrt(np.maximum(1.0 - shares**2, 0.0))
    edges = [
        Edge(np.array([-chord / 2.0, share / 2.0, 0.0]), chord, even(counts[1]))
        for chord, share in zip(chords, shares, strict=True)
    ]
    up = np.tile([0.0, 0.0, 1.0], (counts[1], 1))
    right = [
        Sheet("wing", inner, outer, towards_tip(1, p, q), up)
        for (inner, outer), (p, q) in zip(pairwise(edges), pairwise(shares), strict=True)
    ]
    return cut([*(sheet.mirrored() for sheet in right), *right])


def lift_slope(panels: Panels, aspect: float, ground_z_m: float | None = None) -> float:
    """Lift coefficient a radian of incidence, span 1 m: from Z at unit speed and density."""
    loads = Lattice(panels, ground_z_m).loads((1.0, 0, 0, 0, 0, 0), (), 1.0)
    return float(-loads.slopes[2, 2] * 2.0 * aspect)
