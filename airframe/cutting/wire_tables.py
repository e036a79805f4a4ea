"""How each wire is cut and bent: its bend table, and elevations at true size."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import atan2, ceil, cos, pi, sin

import numpy as np

from airframe.axes import Array
from airframe.bends import Bend, CentreLine, centre_line
from airframe.drawing import Part, PartError, Point2, Wire, points3

SAME_PLANE = 0.99996
"""Cosine (half a degree) above which two bends lie in one plane."""
ARC_STEP_RAD = 0.05


@dataclass(frozen=True)
class BendRow:
    """One bend, in the order in which the wire is fed."""

    straight_mm: float
    """From the wire's start, or the end of the bend before, to where this bend begins."""
    angle_rad: float
    turn_rad: float
    """How far the plane of this bend is turned from the plane of the one before, clockwise as one looks along the
    wire from its start; 0 for the first."""
    mark_mm: float
    """From the wire's start to where this bend begins, measured along the straight wire before any bending."""


@dataclass(frozen=True)
class Elevation:
    """The wire seen square to the plane of some of its bends: these, and the legs beside them, show at true size."""

    bends: tuple[int, ...]
    """Their numbers, from 1; none for a straight wire."""
    middle: tuple[Point2, ...]
    """The centre line, its start at (0, 0), the longest straight beside these bends running level to the right."""
    edges: tuple[tuple[Point2, ...], ...]
    """The drawn edges of the wire, closed."""
    bend_middles: tuple[Point2, ...]
    """The middle of every bend of the wire, as it shows here."""
    is_whole: bool
    """Whether the whole wire lies in this plane."""


@dataclass(frozen=True)
class WireTable:
    """All that is needed to make one wire."""

    part: Part
    diameter_mm: float
    inside_radius_mm: float
    rows: tuple[BendRow, ...]
    last_straight_mm: float
    cut_mm: float
    """Length to cut: the centre line, straight and round."""
    elevations: tuple[Elevation, ...]


def wire_tables(parts: Iterable[Part]) -> list[WireTable]:
    """A table for every bent or straight wire, in the parts' order."""
    return [wire_table(part, part.shape) for part in parts if isinstance(part.shape, Wire)]


def wire_table(part: Part, wire: Wire) -> WireTable:
    """How one wire is made, as it is in its place: a left-hand wire turns the other way from its drawing."""
    placed = replace(wire, points=points3(part.place.apply(wire.points).tolist()))
    try:
        line = centre_line(placed)
    except ValueError as error:
        raise PartError(part.name, str(error)) from error
    lengths = [float(np.linalg.norm(b - a)) for a, b in line.legs()]
    rows, mark, before = [], 0.0, None
    for straight, bend in zip(lengths, line.bends, strict=False):
        mark += straight
        rows.append(BendRow(straight, bend.angle_rad, _turn(before, bend), mark))
        mark += line.radius_mm * bend.angle_rad
        before = bend
    elevations = tuple(_elevations(line, wire.diameter_mm))
    return WireTable(part, wire.diameter_mm, wire.bend_radius_mm, tuple(rows), lengths[-1], line.length(), elevations)


def _turn(before: Bend | None, bend: Bend) -> float:
    """By the right-hand rule about the way the wire runs on from the bend before: clockwise as one looks along it."""
    if before is None:
        return 0.0
    way = _unit(np.cross(before.axis, before.end - before.centre))
    turn = atan2(float(np.cross(before.axis, bend.axis) @ way), float(before.axis @ bend.axis))
    return pi if turn < -pi + 1e-9 else turn


def _elevations(line: CentreLine, diameter_mm: float) -> list[Elevation]:
    planes: list[list[int]] = []
    for number, bend in enumerate(line.bends):
        for plane in planes:
            if abs(float(line.bends[plane[0]].axis @ bend.axis)) > SAME_PLANE:
                plane.append(number)
                break
        else:
            planes.append([number])
    if not planes:
        return [_elevation(line, line.way, _square_to(line.way), (), diameter_mm, True)]
    made = []
    for plane in planes:
        axis = line.bends[plane[0]].axis
        beside = [leg for number in plane for leg in line.legs()[number : number + 2]]
        start, end = max(beside, key=lambda leg: float(np.linalg.norm(leg[1] - leg[0])))
        numbers = tuple(number + 1 for number in plane)
        made.append(_elevation(line, _unit(end - start), axis, numbers, diameter_mm, len(planes) == 1))
    return made


def _unit(vector: Array) -> Array:
    unit: Array = vector / np.linalg.norm(vector)
    return unit


def _square_to(way: Array) -> Array:
    return _unit(np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))]))


def _sampled(line: CentreLine) -> Array:
    """The centre line as short chords; those of an arc stray from it by less than a thousandth of its radius."""
    points = [line.start]
    for bend in line.bends:
        radius = bend.start - bend.centre
        ahead = np.cross(bend.axis, radius)
        steps = ceil(bend.angle_rad / ARC_STEP_RAD)
        points += [
            bend.centre + radius * cos(bend.angle_rad * k / steps) + ahead * sin(bend.angle_rad * k / steps)
            for k in range(steps + 1)
        ]
    return np.array([*points, line.end])


def _elevation(
    line: CentreLine, along: Array, normal: Array, bends: tuple[int, ...], diameter_mm: float, is_whole: bool
) -> Elevation:
    import shapely

    def seen(points: Array) -> tuple[Point2, ...]:
        offsets = points - line.start
        flat = np.round(np.column_stack([offsets @ along, offsets @ np.cross(normal, along)]), 6)
        return tuple((float(x), float(y)) for x, y in flat)

    middle = seen(_sampled(line))
    drawn = shapely.LineString(middle).buffer(diameter_mm / 2.0, cap_style="flat", quad_segs=16)
    rings = [ring for area in getattr(drawn, "geoms", [drawn]) for ring in (area.exterior, *area.interiors)]
    edges = tuple(tuple((float(x), float(y)) for x, y in ring.coords) for ring in rings)
    corners = seen(np.array([bend.middle for bend in line.bends]).reshape(-1, 3))
    return Elevation(bends, middle, edges, corners, is_whole)
