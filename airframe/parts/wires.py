"""Bent wires as parts: checked when they are drawn, and with corners where a bend ends in time."""

from __future__ import annotations

from collections.abc import Iterable
from math import sqrt

import numpy as np
from numpy.typing import ArrayLike

from airframe import ruler
from airframe.axes import Point
from airframe.bends import centre_line
from airframe.drawing import PartError, Wire, points3

LEAST_REACH_MM = 0.05
"""Closer than this to nothing, the line to a bend's circle has no certain direction."""


def bent_wire(name: str, points: Iterable[Iterable[float]], diameter_mm: float, bend_radius_mm: float) -> Wire:
    """A Wire along corner points; PartError, by the part's name, where a straight piece is too short for its bends."""
    wire = Wire(points3(points), round(diameter_mm, 6), round(bend_radius_mm, 6))
    try:
        centre_line(wire)
    except ValueError as error:
        raise PartError(name, str(error)) from error
    return wire


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
    if reach <= LEAST_REACH_MM:
        needs = f"must pass at least {ruler.least(2.0 * radius_mm + LEAST_REACH_MM)} from where the wire starts down"
        raise PartError(name, f"has no room for its last bend: its end {needs}, passes {ruler.about(h)} from there")
    x, y, z = (float(v) for v in run - along * (radius_mm * h / reach))
    return x, y, z
