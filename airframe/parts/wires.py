"""Bent wires: the rule that their bends obey, and where a corner must lie so that a bend ends in time."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import acos, pi, sqrt, tan

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array, Point
from airframe.drawing import PartError, Wire, points3

SHORTEST_STRAIGHT_MM = 0.05
"""What must be left straight between two bends, and at an end: less is no edge that the kernel likes."""
TIGHTEST_TURN_RAD = 0.97 * pi
"""A wire that turns further than this at one corner folds back upon itself."""


def bent_wire(name: str, points: Sequence[ArrayLike], diameter_mm: float, bend_radius_mm: float) -> Wire:
    """A Wire along corner points; PartError, by the part's name, when a straight piece is too short for its bends.

    A bend of centre-line radius R = inside radius + d / 2 that turns by theta takes R tan(theta / 2) off each
    of the two pieces that meet there.
    """
    corners = np.array([np.asarray(point, dtype=np.float64) for point in points])
    lengths = np.linalg.norm(np.diff(corners, axis=0), axis=1)
    taken = [0.0, *_tangents(name, corners, lengths, bend_radius_mm + diameter_mm / 2.0), 0.0]
    for i, has in enumerate(lengths):
        needs = taken[i] + taken[i + 1] + SHORTEST_STRAIGHT_MM
        if has < needs:
            piece = f"(piece {i + 1} of {len(lengths)}, inside bend radius {bend_radius_mm:g} mm)"
            raise PartError(name, f"needs {needs:.1f} mm between bends, has {has:.1f} mm {piece}")
    return Wire(points3(corners), round(diameter_mm, 6), round(bend_radius_mm, 6))


def _tangents(name: str, corners: Array, lengths: Array, radius_mm: float) -> list[float]:
    if float(lengths.min()) < SHORTEST_STRAIGHT_MM:
        raise PartError(name, f"two of its corners coincide: its shortest piece is {float(lengths.min()):.2f} mm long")
    headings = np.diff(corners, axis=0) / lengths[:, None]
    tangents = []
    for before, after in pairwise(headings):
        turn = acos(float(np.clip(before @ after, -1.0, 1.0)))
        if turn > TIGHTEST_TURN_RAD:
            raise PartError(name, "turns back upon itself at a corner: its ends lie in the wrong order")
        tangents.append(radius_mm * tan(turn / 2.0))
    return tangents


def corner_before(name: str, start: ArrayLike, run_start: ArrayLike, heading: ArrayLike, radius_mm: float) -> Point:
    """The corner of a wire that comes straight from `start`, its bend ending at `run_start` with this heading.

    With h the distance of `start` from the run's line, a how far it lies behind `run_start`, and R the centre
    line's radius, the corner lies T before `run_start`, where the line from `start` touches the bend's circle:
    R sqrt((a - T)^2 + h^2) = |T h + R (a - T)|, so T = R h / (a + sqrt(a^2 + h (h - 2 R))).

    PartError, by the part's name, where no such line exists.
    """
    run = np.asarray(run_start, dtype=np.float64)
    along = np.asarray(heading, dtype=np.float64)
    offset = run - np.asarray(start, dtype=np.float64)
    a = float(offset @ along)
    h = float(np.linalg.norm(offset - a * along))
    under_root = a * a + h * (h - 2.0 * radius_mm)
    reach = a + sqrt(under_root) if under_root >= 0.0 else 0.0
    if reach <= SHORTEST_STRAIGHT_MM:
        needs = f"must pass at least {2.0 * radius_mm + SHORTEST_STRAIGHT_MM:.1f} mm from where the wire starts down"
        raise PartError(name, f"has no room for its last bend: its end {needs}, passes {h:.1f} mm from there")
    x, y, z = (float(v) for v in run - along * (radius_mm * h / reach))
    return x, y, z
