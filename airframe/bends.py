"""A bent wire's centre line: straight legs, and an arc where each corner is bent round a mandrel."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import acos, ceil, degrees, pi, tan

import numpy as np

from airframe import ruler
from airframe.axes import Array
from airframe.drawing import Wire

STRAIGHT_RAD = 1e-6
"""A corner that turns by less is no bend."""
SHARPEST_BEND_RAD = 0.99 * pi
TIGHTEST_SHARE = 0.02
"""Least inside radius of a bend, in diameters: with none, the wire's inner side would shrink to a point."""
CROSSING_STEP_RAD = 0.15
"""Bends are followed by chords that turn by no more than this, to see whether a wire runs into itself."""
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

    Raises ValueError for a leg too short for the bends at its ends, a wire that doubles back or runs into itself, a
    bend without an inside radius, or no wire at all.
    """
    if not wire.diameter_mm > 0.0:
        raise ValueError("a wire needs a diameter of more than 0")
    points = _corners(wire)
    least = TIGHTEST_SHARE * wire.diameter_mm
    if len(points) > 2 and wire.bend_radius_mm < least:
        raise ValueError(
            f"the inside radius of its bends is {ruler.exact(wire.bend_radius_mm)}; {ruler.fine(least)} is the least"
        )
    radius = wire.bend_radius_mm + wire.diameter_mm / 2.0
    legs = np.diff(points, axis=0)
    lengths = np.linalg.norm(legs, axis=1)
    ways = legs / lengths[:, None]
    angles = [acos(float(np.clip(a @ b, -1.0, 1.0))) for a, b in pairwise(ways)]
    for corner, angle in zip(points[1:-1], angles, strict=True):
        if angle > SHARPEST_BEND_RAD:
            raise ValueError(f"the wire doubles back by {degrees(angle):.0f} deg at {ruler.place(corner)}")
    used = [0.0, *(radius * tan(angle / 2.0) for angle in angles), 0.0]
    for i, length in enumerate(lengths):
        missing = used[i] + used[i + 1] - float(length)
        if missing > _SHORT_MM:
            raise ValueError(
                f"the leg from {ruler.place(points[i])} to {ruler.place(points[i + 1])} is {ruler.about(length)} long, "
                f"{ruler.about(missing)} too short for the bends at its ends (inside radius "
                f"{ruler.exact(wire.bend_radius_mm)})"
            )
    bends = [_bend(points[i], ways[i - 1], ways[i], angles[i - 1], radius) for i in range(1, len(points) - 1)]
    line = CentreLine(points[0], tuple(bends), points[-1], radius, ways[0])
    _refuse_crossing(line, wire.diameter_mm)
    return line


def _refuse_crossing(line: CentreLine, diameter_mm: float) -> None:
    """A leg or bend must keep a diameter off all but those that lead to it and away from it."""
    pieces = _pieces(line)
    for i, one in enumerate(pieces):
        for other in pieces[i + 3 :]:
            if least_distance_mm(one, other) < diameter_mm - _SHORT_MM:
                raise ValueError(f"the wire runs into itself near {ruler.place(other[0])}")


def _pieces(line: CentreLine) -> list[Array]:
    """Legs and bends in turn, each as a polyline; bends by chords, which lie inside of them."""
    result = []
    for number, (start, end) in enumerate(line.legs()):
        result.append(np.array([start, end]))
        if number < len(line.bends):
            bend = line.bends[number]
            turns = np.linspace(0.0, bend.angle_rad, max(ceil(bend.angle_rad / CROSSING_STEP_RAD), 1) + 1)
            out = bend.start - bend.centre
            across = np.cross(bend.axis, out)
            result.append(bend.centre + np.outer(np.cos(turns), out) + np.outer(np.sin(turns), across))
    return result


def least_distance_mm(one: Array, other: Array) -> float:
    """Smallest distance between two polylines, (n, 3) and (m, 3).

    For each pair of segments the closest points of their lines, held within the segments (Ericson, Real-Time Collision
    Detection, 5.1.9, from memory).
    """
    p, u = one[:-1, None], np.diff(one, axis=0)[:, None]
    q, v = other[None, :-1], np.diff(other, axis=0)[None]
    r = p - q
    a, e, b = (u * u).sum(-1), (v * v).sum(-1), (u * v).sum(-1)
    c, f = (u * r).sum(-1), (v * r).sum(-1)
    tiny = 1e-12
    apart = a * e - b * b
    s = np.where(apart > tiny, np.clip((b * f - c * e) / np.maximum(apart, tiny), 0.0, 1.0), 0.0)
    t = np.where(e > tiny, np.clip((b * s + f) / np.maximum(e, tiny), 0.0, 1.0), 0.0)
    s = np.where(a > tiny, np.clip((b * t - c) / np.maximum(a, tiny), 0.0, 1.0), 0.0)
    gaps = np.linalg.norm(r + s[..., None] * u - t[..., None] * v, axis=-1)
    return float(gaps.min())


def _corners(wire: Wire) -> Array:
    """Corner points; the ones the wire runs straight through are left out."""
    points = np.array(wire.points, dtype=np.float64).reshape(-1, 3)
    if len(points) < 2:
        raise ValueError("a wire needs two points or more")
    lengths = np.linalg.norm(np.diff(points, axis=0), axis=1)
    if lengths.min() <= _SHORT_MM:
        raise ValueError(
            f"two corners of the wire lie on one another at {ruler.place(points[int(np.argmin(lengths))])}"
        )
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
