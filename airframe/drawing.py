"""The nouns of the whole tool: a part is a drawing first.

A Shape lives in its own frame and knows nothing of the aeroplane; a Part is a shape with a name, a
place, and what it is made of. Solid, mesh, mass, picture and cutting template all come from the
same Shape, so they cannot disagree. Shapes are frozen and compare by value: equal shapes are built once.

Lengths are mm, angles radians.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import atan, atan2, ceil, cos, hypot, pi, sin, tan
from typing import Literal

import numpy as np

from airframe.axes import Array, Place, Point
from airframe.materials import Material

Point2 = tuple[float, float]
Basis = Literal["estimated", "calculated", "weighed"]

COORDINATE_DECIMALS = 6
"""Coordinates of drawings are rounded to the nanometre, so that equal parts compare equal."""
SHORTEST_SIDE_MM = 1e-3
"""Least corner of a rectangle that is rounded, and least side left between two: the kernel cannot mesh a millionth."""
FLATTEN_SAGITTA_MM = 0.02
"""How far a chord may stray from its arc where an arc must become short straight edges."""


class PartError(ValueError):
    """Geometry that cannot be built, named by part."""

    def __init__(self, part: str, problem: str) -> None:
        super().__init__(f"{part}: {problem}")
        self.part = part
        self.problem = problem


def _r(value: float) -> float:
    return round(float(value), COORDINATE_DECIMALS) + 0.0


@dataclass(frozen=True)
class Loop:
    """A closed outline, counter-clockwise as drawn, of straight edges and circular arcs.

    Edge i runs from points[i] to points[i + 1] (the last one back to points[0]). Its bulge is the
    tangent of a quarter of the arc's angle, positive for an arc that turns left; 0 is straight
    (the convention of LWPOLYLINE in the DXF reference).
    """

    points: tuple[Point2, ...]
    bulges: tuple[float, ...]

    @property
    def is_straight(self) -> bool:
        """Whether no edge is an arc."""
        return not any(self.bulges)

    def edges(self) -> list[tuple[Point2, Point2, float]]:
        """(start, end, bulge) of each edge in turn."""
        ends = (*self.points[1:], self.points[0])
        return list(zip(self.points, ends, self.bulges, strict=True))

    def flattened(self, sagitta_mm: float = FLATTEN_SAGITTA_MM) -> Array:
        """Corner points (n, 2) of the outline with arcs turned into short chords."""
        corners: list[Point2] = []
        for start, end, bulge in self.edges():
            corners.append(start)
            corners.extend(_arc_points(start, end, bulge, sagitta_mm))
        return np.array(corners)

    def chorded(self, turn_rad: float) -> Array:
        """Corner points (n, 2) with arcs turned into chords, each of which turns by `turn_rad` at most."""
        corners: list[Point2] = []
        for start, end, bulge in self.edges():
            corners.append(start)
            corners.extend(_on_arc(start, end, bulge, ceil(4.0 * atan(abs(bulge)) / turn_rad)))
        return np.array(corners)

    def area(self) -> float:
        """Exact enclosed area, arcs included (mm^2)."""
        total = 0.0
        for (x0, y0), (x1, y1), bulge in self.edges():
            total += (x0 * y1 - x1 * y0) / 2.0
            if bulge:
                angle = 4.0 * np.arctan(bulge)
                radius = hypot(x1 - x0, y1 - y0) / (2.0 * sin(angle / 2.0))
                total += radius * radius * (angle - sin(angle)) / 2.0
        return float(total)

    def length(self) -> float:
        """Exact length all the way round (mm)."""
        total = 0.0
        for (x0, y0), (x1, y1), bulge in self.edges():
            chord = hypot(x1 - x0, y1 - y0)
            angle = 4.0 * np.arctan(bulge)
            total += chord if not bulge else chord * angle / (2.0 * sin(angle / 2.0))
        return float(total)


def _arc_points(start: Point2, end: Point2, bulge: float, sagitta_mm: float) -> list[Point2]:
    if not bulge:
        return []
    angle = 4.0 * np.arctan(bulge)
    chord = hypot(end[0] - start[0], end[1] - start[1])
    radius = abs(chord / (2.0 * sin(angle / 2.0)))
    step = 2.0 * np.arccos(max(1.0 - sagitta_mm / radius, 0.5))
    return _on_arc(start, end, bulge, max(ceil(abs(angle) / step), 2))


def _on_arc(start: Point2, end: Point2, bulge: float, count: int) -> list[Point2]:
    """The points between an arc's ends that part it into `count` equal arcs; none for a straight edge."""
    if not bulge:
        return []
    angle = 4.0 * np.arctan(bulge)
    chord = hypot(end[0] - start[0], end[1] - start[1])
    radius = abs(chord / (2.0 * sin(angle / 2.0)))
    direction = atan2(end[1] - start[1], end[0] - start[0])
    # From the chord's middle to the centre: to the left by r cos(angle / 2) for a left-turning arc.
    offset = chord / (2.0 * tan(angle / 2.0))
    cx = (start[0] + end[0]) / 2.0 - sin(direction) * offset
    cy = (start[1] + end[1]) / 2.0 + cos(direction) * offset
    first = atan2(start[1] - cy, start[0] - cx)
    angles = (first + angle * k / count for k in range(1, count))
    return [(float(cx + radius * cos(a)), float(cy + radius * sin(a))) for a in angles]


def loop(points: Iterable[Sequence[float]], bulges: Iterable[float] | None = None) -> Loop:
    """A Loop from corners in either direction; repeated corners are dropped, the result is counter-clockwise."""
    corners = [(_r(p[0]), _r(p[1])) for p in points]
    turns = [float(b) for b in bulges] if bulges is not None else [0.0] * len(corners)
    kept = [i for i in range(len(corners)) if corners[i] != corners[(i + 1) % len(corners)]]
    result = Loop(tuple(corners[i] for i in kept), tuple(_r(turns[i]) for i in kept))
    if result.area() >= 0.0:
        return result
    points_back = tuple(reversed(result.points))
    bulges_back = tuple(-b for b in (*reversed(result.bulges[:-1]), result.bulges[-1]))
    return Loop(points_back, bulges_back)


def rectangle(x0: float, y0: float, x1: float, y1: float, corner_radius: float = 0.0) -> Loop:
    """A rectangle by two opposite corners, its own corners rounded if asked."""
    left, right, low, high = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
    r = min(corner_radius, (right - left) / 2.0, (high - low) / 2.0)
    if r < SHORTEST_SIDE_MM:
        return loop([(left, low), (right, low), (right, high), (left, high)])
    b = tan(pi / 8.0)
    (xa, xb), (ya, yb) = _between_corners(left, right, r), _between_corners(low, high, r)
    points = [(xa, low), (xb, low), (right, ya), (right, yb), (xb, high), (xa, high), (left, yb), (left, ya)]
    return loop(points, [0.0, b, 0.0, b, 0.0, b, 0.0, b])


def _between_corners(low: float, high: float, radius: float) -> tuple[float, float]:
    """Where the straight part of a side begins and ends; its middle, twice, if the corners leave nothing of it."""
    if high - low - 2.0 * radius < SHORTEST_SIDE_MM:
        return (low + high) / 2.0, (low + high) / 2.0
    return low + radius, high - radius


def circle(x: float, y: float, diameter: float) -> Loop:
    """A circle as two half arcs."""
    r = diameter / 2.0
    return loop([(x - r, y), (x + r, y)], [1.0, 1.0])


@dataclass(frozen=True)
class Score:
    """A straight cut or crease across a panel, about which it bends.

    A scored panel bends about its uncut paper, which is the outer face: that face keeps its length.
    The groove on the inner face closes. `angle_rad` > 0 is how far the panel turns there; the outer
    face becomes convex.
    """

    start: Point2
    end: Point2
    angle_rad: float


@dataclass(frozen=True)
class Bevel:
    """A slanting edge: edge number `edge` of the outline is cut so that the inner face stops short
    of the outer one by thickness * tan(angle); a negative angle makes the inner face reach further.
    """

    edge: int
    angle_rad: float


@dataclass(frozen=True)
class Panel:
    """A part cut from sheet: what lies on the cutting table, seen from its outer face.

    The outer face is the drawing plane z = 0; the material fills -thickness <= z <= 0. With scores,
    the solid is this drawing folded up: the facet that holds the first corner of the outline stays
    in the drawing plane and the rest turns about the score lines, towards -z.
    """

    outline: Loop
    thickness_mm: float
    holes: tuple[Loop, ...] = ()
    scores: tuple[Score, ...] = ()
    bevels: tuple[Bevel, ...] = ()

    def area(self) -> float:
        """Area of the outer face as it lies flat, holes taken out (mm^2)."""
        return self.outline.area() - sum(hole.area() for hole in self.holes)


@dataclass(frozen=True)
class Wire:
    """A bent wire: straight legs between corner points (own frame, mm), each corner rounded to
    `bend_radius_mm` (inside radius, as bent round a mandrel), round section.
    """

    points: tuple[Point, ...]
    diameter_mm: float
    bend_radius_mm: float


@dataclass(frozen=True)
class Block:
    """A box centred on its own origin, sides along its own x, y, z."""

    size: Point


@dataclass(frozen=True)
class Rod:
    """A cylinder along its own x axis, centred on its origin, with an optional bore."""

    length_mm: float
    diameter_mm: float
    bore_mm: float = 0.0


@dataclass(frozen=True)
class Revolved:
    """A body turned about its own x axis: a closed profile of (x, radius) corners, radius >= 0."""

    profile: tuple[Point2, ...]


@dataclass(frozen=True)
class Bead:
    """A line of glue, cord, band or lead: weight goes by length; it has no solid of its own."""

    paths: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True)
class Film:
    """Paint, tape or filler on a panel's face, panel folded as it is built: weight goes by area."""

    panel: Panel
    face: Literal["outer", "inner", "both"]


Solid = Panel | Wire | Block | Rod | Revolved
"""Shapes with a volume: a closed mesh of the drawing is weighed and shown, the CAD kernel makes the solid."""
Shape = Solid | Bead | Film


def points3(points: Iterable[Iterable[float]]) -> tuple[Point, ...]:
    """Points in space, rounded, as a shape holds them."""
    return tuple((_r(x), _r(y), _r(z)) for x, y, z in points)


def score(start: Sequence[float], end: Sequence[float], angle_rad: float) -> Score:
    """A Score with rounded coordinates."""
    return Score((_r(start[0]), _r(start[1])), (_r(end[0]), _r(end[1])), round(float(angle_rad), 9))


def bead(*paths: Iterable[Iterable[float]]) -> Bead:
    """A Bead along one or more polylines."""
    return Bead(tuple(points3(path) for path in paths))


@dataclass(frozen=True)
class Part:
    """One line of the weight statement: a shape in its place, and what it weighs by.

    With `mass_g` the mass is stated (a bought item, or a part put on the scale); without, it is
    the shape's amount times the material's weight per amount.
    """

    name: str
    group: str
    shape: Shape
    place: Place
    material: Material
    mass_g: float | None = None
    basis: Basis = "calculated"

    def mirrored(self, name: str) -> Part:
        """The same part on the other side of the centre plane."""
        return replace(self, name=name, place=self.place.mirrored())
