"""How the aeroplane rests on its three points: attitude, load on each, and how near it is to tipping over a line.

Plain geometry on points in the aeroplane's frame (mm). `up` is always a unit vector: the way a plumb line points
away from, seen from the aeroplane. Weight is 1; shares of it add up to 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import asin, atan2, cos, inf, sin

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array, Point

LEVEL = np.array([0.0, 0.0, 1.0])
_AXLE = (0.0, 1.0, 0.0)

CONVERGED = 1e-12
"""Change of the unit vector `up` below which the tangent plane is found."""
MOST_ROUNDS = 200
IN_LINE_MM2 = 1.0
"""Three points that span a smaller triangle lie in one line."""


@dataclass(frozen=True)
class Foot:
    """A thing that touches the ground: a wheel, or a skid."""

    name: str
    centres: tuple[Point, ...]
    """A wheel's middle; for a skid, points along its wire."""
    radius_mm: float
    """Of the tyre, or of the wire."""
    axle: Point | None = _AXLE
    """Unit vector a wheel turns about; None for balls round the centres."""

    @property
    def centre(self) -> Array:
        """The wheel's middle; a skid's first point."""
        return np.array(self.centres[0])

    def lowest(self, up: Array) -> Array:
        """The point that touches a floor square to `up`. A wheel counts as a thin disk in its middle plane."""
        centres = np.array(self.centres)
        centre: Array = centres[int(np.argmin(centres @ up))]
        if self.axle is None:
            return centre - self.radius_mm * up
        axle = np.array(self.axle)
        drop = up - axle * float(up @ axle)
        return centre - self.radius_mm * drop / float(np.linalg.norm(drop))

    def moved(self, shift_mm: ArrayLike) -> Foot:
        """The same foot, shifted."""
        points = np.array(self.centres) + np.asarray(shift_mm, dtype=np.float64)
        return replace(self, centres=tuple((float(x), float(y), float(z)) for x, y, z in points))

    def shrunk(self, share: float) -> Foot:
        """The same wheel, its radius less by a share of it."""
        return replace(self, radius_mm=self.radius_mm * (1.0 - share))


@dataclass(frozen=True, eq=False)
class Stance:
    """The ground as seen from the aeroplane."""

    up: Array
    ground_mm: float
    """Points p of the ground have p @ up equal to this."""
    points: Array
    """Where the feet touch, shape (n, 3)."""

    @cached_property
    def pitch_rad(self) -> float:
        """Nose up is positive; 0 with the thrust line's stations level."""
        return asin(float(np.clip(-self.up[0], -1.0, 1.0)))

    def height_mm(self, point: ArrayLike) -> float:
        """Of a point above the ground."""
        return float(np.asarray(point, dtype=np.float64) @ self.up) - self.ground_mm

    def shares(self, cg: ArrayLike) -> Array:
        """Share of the weight on each of three feet; a negative one says that it tips off that foot.

        The points' barycentric coordinates of where the plumb line through the balance point meets their plane.
        """
        a, b, c = self.points
        system = np.column_stack([a - c, b - c, self.up])
        first, second, _ = np.linalg.solve(system, np.asarray(cg, dtype=np.float64) - c)
        return np.array([first, second, 1.0 - first - second])


def pitched(pitch_rad: float) -> Array:
    """`up` with the nose lifted by an angle."""
    return np.array([-sin(pitch_rad), 0.0, cos(pitch_rad)])


def resting(feet: Sequence[Foot], bumps_mm: Sequence[float] = (0.0, 0.0, 0.0)) -> Stance:
    """On all three feet, each on a bump of its own height above level ground.

    The ground is the common tangent plane of the feet, found by turns: the lowest points for a plane, the plane
    through them, and again. Two wheels in line, of radii r1 and r2 with axles L apart, come out closed-form: the
    plane makes asin((r1 - r2) / L) with the line of their axles. Raises ValueError where the feet stand in one line.
    """
    up = LEVEL
    bumps = np.array(bumps_mm, dtype=np.float64)
    for _ in range(MOST_ROUNDS):
        points = np.array([foot.lowest(up) for foot in feet])
        a, b, c = points - np.outer(bumps, up)
        normal = cross(b - a, c - a)
        size = float(np.linalg.norm(normal))
        if size < IN_LINE_MM2:
            raise ValueError("the three points on the ground lie in one line")
        turned = normal / size * (1.0 if normal @ LEVEL >= 0.0 else -1.0)
        change = float(np.linalg.norm(turned - up))
        up = turned
        if change < CONVERGED:
            break
    points = np.array([foot.lowest(up) for foot in feet])
    return Stance(up, float(np.mean(points @ up - bumps)), points)


def held(feet: Sequence[Foot], pitch_rad: float) -> Stance:
    """On whichever of these feet is lowest, held at an attitude: the main wheels alone, fuselage level."""
    up = pitched(pitch_rad)
    points = np.array([foot.lowest(up) for foot in feet])
    return Stance(up, float((points @ up).min()), points)


@dataclass(frozen=True, eq=False)
class TippingLine:
    """A line on the ground about which the aeroplane may tip, with the balance point inside it."""

    start: Array
    """A point of the line."""
    along: Array
    """Unit vector; seen from above, the inside lies to its left."""
    cg: Array
    up: Array

    def arm(self, point: ArrayLike) -> Array:
        """From the line, square to it, to a point."""
        return across(np.asarray(point, dtype=np.float64) - self.start, self.along)

    @cached_property
    def inside_mm(self) -> float:
        """How far the balance point lies inside the line, square to it and to gravity; negative outside."""
        inward = cross(self.up, self.along)
        return float(self.arm(self.cg) @ inward / np.linalg.norm(inward))

    @cached_property
    def overturn_rad(self) -> float:
        """The overturn angle: from the ground, at the line, up to the balance point; pi / 2 and it tips by itself.

        atan(h / d), with h the balance point's height and d its distance inside the line, both seen along the line.
        Currey, Aircraft Landing Gear Design, 1988; Raymer, Aircraft Design, ch. 11 (attributions from memory).
        """
        upright = across(self.up, self.along)
        return atan2(float(self.arm(self.cg) @ upright) / float(np.linalg.norm(upright)), self.inside_mm)

    def force_to_tip(self, towards: ArrayLike, at: ArrayLike | None = None) -> float:
        """In weights, of a push along a unit vector at a point, by default the balance point, that just tips it.

        Moments about the line e, with arms w to the balance point and p to the push: e . (F p x o - w x up) = 0.
        A sideways acceleration pushes at the balance point: then this is the acceleration in g. 0 where it tips by
        itself; infinite for a push that presses the aeroplane down on its other side.
        """
        weight = float(self.along @ cross(self.arm(self.cg), self.up))
        arm = self.arm(self.cg if at is None else at)
        push = float(self.along @ cross(arm, np.asarray(towards, dtype=np.float64)))
        if weight <= 0.0:
            return 0.0
        return weight / push if push > 0.0 else inf


def tipping_line(start: ArrayLike, end: ArrayLike, cg: ArrayLike, up: Array) -> TippingLine:
    """About the line from `start` to `end`; the inside is to the left, seen from above."""
    first, last = np.asarray(start, dtype=np.float64), np.asarray(end, dtype=np.float64)
    along = (last - first) / float(np.linalg.norm(last - first))
    return TippingLine(first, along, np.asarray(cg, dtype=np.float64), up)


def cross(a: Array, b: Array) -> Array:
    """The cross product of two vectors; for single ones much quicker than the library's, which serves stacks."""
    (ax, ay, az), (bx, by, bz) = a.tolist(), b.tolist()
    return np.array([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx])


def across(vector: Array, along: Array) -> Array:
    """What is left of a vector without its part along a unit vector."""
    left: Array = vector - along * float(vector @ along)
    return left


def triangle_lines(stance: Stance, cg: ArrayLike) -> dict[tuple[int, int], TippingLine]:
    """The three lines of the support triangle, by the numbers of the feet at their ends."""
    a, b, c = stance.points
    is_left_turn = float(cross(b - a, c - a) @ stance.up) > 0.0
    pairs = [(0, 1), (1, 2), (2, 0)] if is_left_turn else [(1, 0), (2, 1), (0, 2)]
    return {(i, j): tipping_line(stance.points[i], stance.points[j], cg, stance.up) for i, j in pairs}


def level_right(up: Array) -> Array:
    """The level direction square to the fuselage, towards the right wing."""
    right = cross(np.array([-1.0, 0.0, 0.0]), up)
    level: Array = right / float(np.linalg.norm(right))
    return level


def level_forward(up: Array) -> Array:
    """The level direction in which the aeroplane rolls."""
    forward: Array = cross(up, level_right(up))
    return forward


def pitch_at_touch(points: Array, wheel: Foot, behind: bool) -> Array:
    """For each point, the pitch at which it touches the ground while the main wheels stay on it.

    Nose up (positive) for points behind the wheel's axle, nose down (negative) for points ahead. With (a, b) the
    point aft of and above the axle, R the tyre's radius: a sin t - b cos t = R, so
    t = atan2(b, a) + asin(R / hypot(a, b)).
    Points on the other side of the axle, or within the tyre, never touch: infinite.
    """
    a = (points[:, 0] - wheel.centre[0]) * (1.0 if behind else -1.0)
    b = points[:, 2] - wheel.centre[2]
    reach = np.hypot(a, b)
    touches = (a > 0.0) & (reach > wheel.radius_mm)
    ratio = np.divide(wheel.radius_mm, reach, out=np.zeros_like(reach), where=touches)
    angle: Array = np.where(touches, np.arctan2(b, a) + np.arcsin(ratio), inf)
    return angle if behind else -angle


def wheel_line_rad(contact: ArrayLike, cg: ArrayLike, up: Array) -> float:
    """Angle from the upright, at the main wheels' contact, back to the balance point; positive if that lies behind."""
    line = np.asarray(cg, dtype=np.float64) - np.asarray(contact, dtype=np.float64)
    aft = cross(np.array([0.0, 1.0, 0.0]), up)
    return atan2(float(line @ aft), float(line @ up))
