"""A drawing at true size: curves on layers, lettering, and how each layer looks on a black-and-white printer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import atan, atan2, ceil, cos, hypot, pi, sin, tan
from typing import Literal

from airframe.cutting.loops import bounds
from airframe.cutting.papers import Box
from airframe.drawing import Loop, Point2

Layer = Literal["CUT", "SCORE", "BEVEL", "MARK", "TEXT", "GRAIN"]
LAYERS: tuple[Layer, ...] = ("CUT", "SCORE", "BEVEL", "MARK", "GRAIN", "TEXT")


@dataclass(frozen=True)
class Style:
    """How a layer's lines are drawn."""

    width_mm: float
    dashes_mm: tuple[float, ...]
    """Lengths of dash and gap in turn; none for an unbroken line."""
    words: str


STYLES: dict[Layer, Style] = {
    "CUT": Style(0.5, (), "cut through, blade upright, along the middle of the line"),
    "SCORE": Style(
        0.25, (8.0, 2.0, 1.5, 2.0), "score to the depth stated; folds towards the scored face, the cut closes"
    ),
    "BEVEL": Style(0.18, (3.0, 1.5), "slant the edge back to here"),
    "MARK": Style(0.13, (), "pencil line: what is glued on, hinge, centre line"),
    "GRAIN": Style(0.18, (), "which way the grain runs"),
    "TEXT": Style(0.18, (), "lettering"),
}
FAR_MM = (0.5, 1.2)
"""Dots: whatever lies on the face that is underneath."""
LEAST_LETTER_MM = 1.7


@dataclass(frozen=True)
class Curve:
    """A run of straight lines and arcs. Bulge i belongs to the edge that starts at point i (see Loop)."""

    layer: Layer
    points: tuple[Point2, ...]
    bulges: tuple[float, ...]
    """As many as points; the last one counts only where the curve is closed."""
    is_closed: bool = False
    is_far: bool = False

    @property
    def dashes_mm(self) -> tuple[float, ...]:
        """Dash and gap in turn."""
        return FAR_MM if self.is_far else STYLES[self.layer].dashes_mm

    def flattened(self) -> list[Point2]:
        """Its corners, arcs turned into short chords."""
        points = Loop(self.points, self.bulges).flattened().tolist()
        return [(x, y) for x, y in points]

    def edges(self) -> list[tuple[Point2, Point2, float]]:
        """(start, end, bulge) of each edge."""
        ends = (*self.points[1:], self.points[0]) if self.is_closed else self.points[1:]
        return list(zip(self.points, ends, self.bulges, strict=False))


@dataclass(frozen=True)
class Text:
    """One line of lettering, its capitals so high, turned from level; half its height lies below its point."""

    at: Point2
    text: str
    height_mm: float
    angle_rad: float = 0.0
    is_centred: bool = True
    """Whether the point is its middle; otherwise it starts there."""


@dataclass(frozen=True)
class Drawing:
    """Something to print or cut at true size, in millimetres."""

    name: str
    """For file names and headings: short, plain."""
    title: str
    box: Box
    curves: tuple[Curve, ...]
    texts: tuple[Text, ...]

    def ink(self) -> Box:
        """The least box round what is to be cut, or round everything if nothing is."""
        counted = [curve for curve in self.curves if curve.layer == "CUT"] or list(self.curves)
        return bounds(point for curve in counted for point in curve.flattened())

    def layers(self) -> tuple[Layer, ...]:
        """The layers that have something on them, in the order they are drawn."""
        used = {curve.layer for curve in self.curves} | ({"TEXT"} if self.texts else set())
        return tuple(layer for layer in LAYERS if layer in used)


def outline(layer: Layer, loop: Loop, is_far: bool = False) -> Curve:
    """A closed curve along a loop."""
    return Curve(layer, loop.points, loop.bulges, True, is_far)


def line(layer: Layer, points: Iterable[Point2], is_far: bool = False) -> Curve:
    """An open curve of straight lines."""
    corners = tuple(points)
    return Curve(layer, corners, (0.0,) * len(corners), False, is_far)


def beziers(start: Point2, end: Point2, bulge: float) -> list[tuple[Point2, Point2, Point2]]:
    """An arc as cubic curves (two control points and an end each), none over a quarter turn.

    Control points lie 4/3 tan(angle/4) radii along the tangents: off the circle by 0.03 % of the radius at
    most (from memory).
    """
    angle = 4.0 * atan(bulge)
    centre, radius, first = arc(start, end, bulge)
    count = ceil(abs(angle) / (pi / 2.0) - 1e-9)
    step = angle / count
    reach = 4.0 / 3.0 * tan(step / 4.0) * radius
    pieces = []
    for k in range(count):
        a, b = first + k * step, first + (k + 1) * step
        p = (centre[0] + radius * cos(a) - reach * sin(a), centre[1] + radius * sin(a) + reach * cos(a))
        q = (centre[0] + radius * cos(b) + reach * sin(b), centre[1] + radius * sin(b) - reach * cos(b))
        pieces.append((p, q, (centre[0] + radius * cos(b), centre[1] + radius * sin(b))))
    return pieces


def arc(start: Point2, end: Point2, bulge: float) -> tuple[Point2, float, float]:
    """Centre, radius and the angle at which an arc starts, seen from its centre."""
    angle = 4.0 * atan(bulge)
    chord = hypot(end[0] - start[0], end[1] - start[1])
    direction = atan2(end[1] - start[1], end[0] - start[0])
    offset = chord / (2.0 * tan(angle / 2.0)) if abs(abs(angle) - pi) > 1e-12 else 0.0
    x = (start[0] + end[0]) / 2.0 - sin(direction) * offset
    y = (start[1] + end[1]) / 2.0 + cos(direction) * offset
    return (x, y), abs(chord / (2.0 * sin(angle / 2.0))), atan2(start[1] - y, start[0] - x)
