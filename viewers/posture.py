"""How an aeroplane stands, as pictures need it: directions to look from, points to mark, numbers to write."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import degrees

import numpy as np

from airframe import units
from airframe.axes import Array, Point
from airframe.checks.contact import TippingLine, level_forward, level_right
from airframe.checks.standing import LEFT, RIGHT, Standing, standing
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.units import System
from viewers.views import View


@dataclass(frozen=True, eq=False)
class Posture:
    """An aeroplane on its gear."""

    standing: Standing
    design: Design

    @property
    def system(self) -> System:
        """In which lengths are written."""
        return self.design.units

    @cached_property
    def cg(self) -> Array:
        """The balance point, in the aeroplane's frame."""
        return np.array(self.standing.cg)

    @cached_property
    def up(self) -> Array:
        """The way a plumb line points away from, on all three feet."""
        return self.standing.stance.up

    @cached_property
    def front(self) -> View:
        """From straight ahead, with the ground level on the paper."""
        return View("front", "front view, as it stands", _point(-level_right(self.up)), _point(self.up))

    @cached_property
    def along(self) -> View:
        """From ahead along the line about which it tips over first: there the overturn angle is true."""
        _, line = self.worst
        level = line.along - self.up * float(line.along @ self.up)
        toward = level if float(level @ level_forward(self.up)) > 0.0 else -level
        right = np.cross(self.up, toward / float(np.linalg.norm(toward)))
        return View("front", f"seen along the line {self.worst_name}", _point(right), _point(self.up))

    @cached_property
    def worst(self) -> tuple[tuple[int, int], TippingLine]:
        """The line from a main wheel to the third point with the larger overturn angle, and the feet at its ends."""
        return max(self.standing.side_lines.items(), key=lambda item: item[1].overturn_rad)

    def foot(self, line: TippingLine) -> Array:
        """The point of a tipping line that is nearest to the balance point."""
        return self.cg - line.arm(self.cg)

    @property
    def worst_name(self) -> str:
        """That line in words."""
        first, last = sorted(self.worst[0])
        return f"from {self.standing.feet[first].name} to {self.standing.feet[last].name}"

    @property
    def is_overturn_kept(self) -> bool:
        """Whether the overturn angle is within its limit."""
        return self.worst[1].overturn_rad <= self.design.limits.ground.overturn_rad

    @property
    def overturn_text(self) -> tuple[str, str]:
        """The angle, and its limit."""
        high = units.angle(self.design.limits.ground.overturn_rad)
        return f"overturn {units.angle(self.worst[1].overturn_rad)}", f"at most {high}"

    @property
    def cg_height_text(self) -> str:
        """The balance point's height above the ground, as it stands."""
        return units.length(self.standing.stance.height_mm(self.cg), self.system)

    @cached_property
    def under_cg(self) -> Array:
        """The point of the ground straight below the balance point."""
        return self.cg - self.up * self.standing.stance.height_mm(self.cg)

    @cached_property
    def main_contacts(self) -> tuple[Array, Array]:
        """Where the right and the left main wheel touch, as it stands."""
        return self.standing.stance.points[RIGHT], self.standing.stance.points[LEFT]

    @property
    def wheel_line_deg(self) -> float:
        """From the upright at the main wheels back to the balance point, thrust line level; negative if ahead."""
        level = self.standing.level
        line = self.cg - (level.points[RIGHT] + level.points[LEFT]) / 2.0
        return degrees(float(np.arctan2(line[0], line[2])))


def posture(aeroplane: Aeroplane) -> Posture | None:
    """Of an aeroplane with a gear on which it has a ground to stand on; None for any other."""
    stands = standing(aeroplane)
    if stands is None:
        return None
    try:
        _ = stands.stance
    except ValueError:
        return None
    return Posture(stands, aeroplane.design)


def _point(vector: Array) -> Point:
    x, y, z = (float(value) for value in vector)
    return x, y, z
