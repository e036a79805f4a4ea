"""A bent wire's centre line: straight legs, and an arc where each corner is bent round a mandrel."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import acos, degrees, pi, tan

import numpy as np

from airframe.axes import Array
from airframe.drawing import Wire

STRAIGHT_RAD = 1e-6
"""A corner that turns by less is no bend."""
SHARPEST_BEND_RAD = 0.99 * pi
_SHORT_MM = 1e-6


@dataclass(frozen=True)
class Bend:
    """One arc of the centre line."""

    start: Array
    middle: Array
    end: Array
    centre: Array
    axis: Array
    """Unit vector; the wire turns about it by the right-hand rule."""
    angle_rad: float


@dataclass(frozen=True)
class CentreLine:
    """Straight from `start` to the first bend, from each bend to the next, and on to `end`."""

    start: Array
    bends: tuple[Bend, ...]
    end: Array
    radius_mm: float
    """Of the bends, on the centre line."""
    way: Array
    """Unit vector along which the wire sets out."""

    def legs(self) -> list[tuple[Array, Array]]:
        """The straight legs between the bends, from point to point; a leg that the bends use up has no length."""
        points = [self.start, *(p for bend in self.bends for p in (bend.start, bend.end)), self.end]
        return list(zip(points[::2], points[1::2], strict=True))

    def length(self) -> float:
        """Length of wire to cut (mm)."""
        straight = sum(float(np.linalg.norm(b - a)) for a, b in self.legs())
        return straight + self.radius_mm * sum(bend.angle_rad for bend in self.bends)


def centre_line(wire: Wire) -> CentreLine:
    """The centre line of a bent wire; its bends have the inside radius plus half the wire's diameter.

    Raises ValueError for a leg too short for the bends at its ends, a wire that doubles back, or no wire at all.
    """
    if not wire.diameter_mm > 0.0 or wire.bend_radius_mm < 0.0:
        raise ValueError("a wire needs a diameter of more than 0 and a bend radius of 0 or more")
    points = _corners(wire)
    radius = wire.bend_radius_mm + wire.diameter_mm / 2.0
    legs = np.diff(points, axis=0)
    lengths = np.linalg.norm(legs, axis=1)
    ways = legs / lengths[:, None]
    angles = [acos(float(np.clip(a @ b, -1.0, 1.0))) for a, b in pairwise(ways)]
    for corner, angle in zip(points[1:-1], angles, strict=True):
        if angle > SHARPEST_BEND_RAD:
            raise ValueError(f"the wire doubles back by {degrees(angle):.0f} deg at {_text(corner)}")
    used = [0.0, *(radius * tan(angle / 2.0) for angle in angles), 0.0]
    for i, length in enumerate(lengths):
        missing = used[i] + used[i + 1] - float(length)
        if missing > _SHORT_MM:
            raise ValueError(
                f"the leg from {_text(points[i])} to {_text(points[i + 1])} is {length:.1f} mm long, {missing:.1f} mm "
                f"too short for the bends at its ends (inside radius {wire.bend_radius_mm:g} mm)"
            )
    bends = [_bend(points[i], ways[i - 1], ways[i], angles[i - 1], radius) for i in range(1, len(points) - 1)]
    return CentreLine(points[0], tuple(bends), points[-1], radius, ways[0])


def _corners(wire: Wire) -> Array:
    """Corner points; the ones the wire runs straight through are left out."""
    points = np.array(wire.points, dtype=np.float64).reshape(-1, 3)
    if len(points) < 2:
        raise ValueError("a wire needs two points or more")
    lengths = np.linalg.norm(np.diff(points, axis=0), axis=1)
    if lengths.min() <= _SHORT_MM:
        raise ValueError(f"two corners of the wire lie on one another at {_text(points[int(np.argmin(lengths))])}")
    ways = np.diff(points, axis=0) / lengths[:, None]
    turns = np.linalg.norm(np.cross(ways[:-1], ways[1:]), axis=1) > STRAIGHT_RAD
    ahead = np.einsum("ij,ij->i", ways[:-1], ways[1:]) > 0.0
    kept: Array = points[[True, *(turns | ~ahead), True]]
    return kept


def _bend(corner: Array, before: Array, after: Array, angle: float, radius: float) -> Bend:
    used = radius * tan(angle / 2.0)
    inward = (after - before) / np.linalg.norm(after - before)
    centre = corner + inward * float(np.hypot(radius, used))
    axis = np.cross(before, after)
    axis = axis / np.linalg.norm(axis)
    return Bend(corner - before * used, centre - inward * radius, corner + after * used, centre, axis, angle)


def _text(point: Array) -> str:
    return "(" + ", ".join(f"{v:.1f}" for v in point) + ")"
