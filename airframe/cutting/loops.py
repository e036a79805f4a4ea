"""Motions of outlines in the plane, and outlines grown outwards; arcs stay arcs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from airframe.axes import Array
from airframe.drawing import COORDINATE_DECIMALS, Loop, Point2, loop

NEARLY_STRAIGHT = 0.9
"""Cosine of the turn (26 degrees) below which two grown edges share the mean of their growths at their corner."""


@dataclass(frozen=True)
class Motion:
    """A point goes to its mirror image about the y axis, if asked, then through quarter turns, then by a shift."""

    is_mirrored: bool = False
    quarters: int = 0
    shift: Point2 = (0.0, 0.0)

    def point(self, at: Iterable[float]) -> Point2:
        """Where one point goes."""
        x, y = at
        if self.is_mirrored:
            x = -x
        for _ in range(self.quarters % 4):
            x, y = -y, x
        return (
            round(x + self.shift[0], COORDINATE_DECIMALS) + 0.0,
            round(y + self.shift[1], COORDINATE_DECIMALS) + 0.0,
        )

    def points(self, many: Iterable[Iterable[float]]) -> tuple[Point2, ...]:
        """Where each point goes."""
        return tuple(self.point(one) for one in many)

    def loop(self, outline: Loop) -> Loop:
        """The outline moved; counter-clockwise again where it was mirrored.

        An arc keeps its sign: mirroring turns it round, and so does running along it backwards.
        """
        points = self.points(outline.points)
        if not self.is_mirrored:
            return Loop(points, outline.bulges)
        return Loop(tuple(reversed(points)), (*reversed(outline.bulges[:-1]), outline.bulges[-1]))

    def after(self, first: Motion) -> Motion:
        """The motion that does `first` and then this one."""
        corner = self.point(first.shift)
        turns = -first.quarters if self.is_mirrored else first.quarters
        return Motion(self.is_mirrored != first.is_mirrored, (self.quarters + turns) % 4, corner)


def bounds(points: Iterable[Iterable[float]]) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y."""
    corners = np.array([tuple(point) for point in points], dtype=np.float64)
    (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
    return float(x0), float(y0), float(x1), float(y1)


def grown(outline: Loop, growths_mm: Array) -> Loop:
    """The outline with each edge pushed outwards by its own amount; the very same outline if by nothing."""
    if not np.any(growths_mm):
        return outline
    return loop(pushed(outline, growths_mm)[0])


def pushed(outline: Loop, growths_mm: Array) -> tuple[Array, Array]:
    """Corners (n, 2) where the outline's edges meet, each pushed outwards by its own amount, and each one's edge (n,).

    Where two edges run nearly on into one another they share the mean of their growths at their corner,
    for their lines meet too far off to mean anything. Arcs become chords first.
    """
    corners, edges = _straightened(outline)
    growths = np.asarray(growths_mm, dtype=np.float64)[edges]
    along = np.roll(corners, -1, axis=0) - corners
    along /= np.linalg.norm(along, axis=1)[:, None]
    after = np.column_stack([along[:, 1], -along[:, 0]])
    before, back = np.roll(after, 1, axis=0), np.roll(growths, 1)
    c = np.einsum("ij,ij->i", before, after)
    mean = (back + growths) / 2.0 / np.maximum(1.0 + c, 1e-6)
    half = np.where(c < NEARLY_STRAIGHT, (back - growths) / 2.0 / np.maximum(1.0 - c, 1e-6), 0.0)
    return corners + mean[:, None] * (before + after) + half[:, None] * (before - after), edges


def _straightened(outline: Loop) -> tuple[Array, Array]:
    corners: list[Point2] = []
    edges: list[int] = []
    for number, (start, end, bulge) in enumerate(outline.edges()):
        chords = Loop((start, end), (bulge, 0.0)).flattened()[:-1]
        corners += [(float(x), float(y)) for x, y in chords]
        edges += [number] * len(chords)
    return np.array(corners), np.array(edges)
