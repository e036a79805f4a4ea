"""The aeroplane's frame, and the rigid motions that put a part into it.

    x  fuselage station, aft of the firewall's front face
    y  butt line, to the right wing
    z  water line, up from the thrust line

The frame is right-handed; lengths are millimetres, angles radians.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Point = tuple[float, float, float]
Matrix = tuple[Point, Point, Point]

IDENTITY: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

PLACE_DECIMALS = 9
"""Places are rounded to this many decimals, far below any tolerance, so that equal places compare equal."""


@dataclass(frozen=True)
class Place:
    """Where a shape sits: a point p of its own frame is found at rotation @ p + origin.

    The rotation may be improper (determinant -1): then the part is the mirror image of its
    drawing, as a left wing is of a right one, and no second shape is needed for it.
    """

    rotation: Matrix = IDENTITY
    origin: Point = (0.0, 0.0, 0.0)

    @property
    def is_mirrored(self) -> bool:
        """Whether the place turns a right-hand part into a left-hand one."""
        return float(np.linalg.det(np.array(self.rotation))) < 0.0

    def apply(self, points_mm: ArrayLike) -> Array:
        """Points (..., 3) of the own frame, in the aeroplane's frame."""
        moved: Array = self.turn(points_mm) + np.array(self.origin)
        return moved

    def turn(self, vectors: ArrayLike) -> Array:
        """Directions (..., 3) of the own frame, in the aeroplane's frame."""
        turned: Array = np.asarray(vectors, dtype=np.float64) @ np.array(self.rotation).T
        return turned

    def after(self, first: Place) -> Place:
        """The place that applies `first` and then this one."""
        rotation = np.array(self.rotation) @ np.array(first.rotation)
        return place(rotation, self.apply(first.origin))

    def moved(self, dx_mm: float = 0.0, dy_mm: float = 0.0, dz_mm: float = 0.0) -> Place:
        """The same attitude, shifted in the aeroplane's frame."""
        x, y, z = self.origin
        return place(self.rotation, (x + dx_mm, y + dy_mm, z + dz_mm))

    def mirrored(self) -> Place:
        """The place of the same part on the other side of the centre plane y = 0."""
        mirror = np.diag([1.0, -1.0, 1.0])
        return place(mirror @ np.array(self.rotation), mirror @ np.array(self.origin))


def place(rotation: ArrayLike, origin: ArrayLike) -> Place:
    """A Place from any 3 x 3 orthogonal matrix and any three coordinates (mm), rounded."""
    matrix = np.round(np.asarray(rotation, dtype=np.float64), PLACE_DECIMALS + 3) + 0.0
    point = np.round(np.asarray(origin, dtype=np.float64), PLACE_DECIMALS) + 0.0
    rows = [tuple(row) for row in matrix.tolist()]
    return Place((rows[0], rows[1], rows[2]), tuple(point.tolist()))


def at(x_mm: float = 0.0, y_mm: float = 0.0, z_mm: float = 0.0) -> Place:
    """An unturned place."""
    return place(IDENTITY, (x_mm, y_mm, z_mm))


def frame(x_axis: ArrayLike, y_axis: ArrayLike, origin: ArrayLike = (0.0, 0.0, 0.0)) -> Place:
    """The place whose own x and y axes point along the two given directions (made orthonormal).

    The own z axis is x cross y. The x axis keeps its direction exactly.
    """
    x = np.asarray(x_axis, dtype=np.float64)
    x = x / np.linalg.norm(x)
    y = np.asarray(y_axis, dtype=np.float64)
    y = y - x * float(x @ y)
    y = y / np.linalg.norm(y)
    return place(np.column_stack([x, y, cross(x, y)]), origin)


def cross(first: Array, second: Array) -> Array:
    """The cross product of two single vectors, shape (3,); np.cross needs twenty times as long for one."""
    a, b, c = first.tolist()
    d, e, f = second.tolist()
    return np.array([b * f - c * e, c * d - a * f, a * e - b * d])


def about_x(angle_rad: float) -> Place:
    """A turn about the x axis: positive lifts the right wing (+y towards +z)."""
    c, s = cos(angle_rad), sin(angle_rad)
    return place(((1, 0, 0), (0, c, -s), (0, s, c)), (0, 0, 0))


def about_y(angle_rad: float) -> Place:
    """A turn about the y axis: positive lifts the front (-x towards +z), as incidence does."""
    c, s = cos(angle_rad), sin(angle_rad)
    return place(((c, 0, s), (0, 1, 0), (-s, 0, c)), (0, 0, 0))


def about_z(angle_rad: float) -> Place:
    """A turn about the z axis: positive turns aft towards the right wing (+x towards +y)."""
    c, s = cos(angle_rad), sin(angle_rad)
    return place(((c, -s, 0), (s, c, 0), (0, 0, 1)), (0, 0, 0))


# How a flat drawing (own x to the right, own y up, outer face towards the reader) stands in the aeroplane.
SIDE_VIEW = frame((1, 0, 0), (0, 0, 1))
"""Own x aft, own y up; the outer face looks to the left wing (-y)."""
FRONT_VIEW = frame((0, -1, 0), (0, 0, 1))
"""Own x to the left wing, own y up; the outer face looks forward (-x)."""
PLAN_VIEW = frame((1, 0, 0), (0, 1, 0))
"""Own x aft, own y to the right wing; the outer face looks up (+z)."""
