"""What is to be seen of an aeroplane, before anyone decides how: bodies, lines, marks and dimensions.

Everything is in the aeroplane's frame (x aft, y to the right wing, z up), millimetres, ready to be
drawn by any means; every text is ready to be read, in the units of the design.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from airframe import units
from airframe.axes import Array, Point
from airframe.materials import Look
from airframe.units import System
from viewers.palette import LOOKS, Tint

ViewName = Literal["three-quarter", "side", "front", "top"]

FORWARD: Point = (-1.0, 0.0, 0.0)
LEFT: Point = (0.0, -1.0, 0.0)
AFT: Point = (1.0, 0.0, 0.0)
RIGHT: Point = (0.0, 1.0, 0.0)
UP: Point = (0.0, 0.0, 1.0)
DOWN: Point = (0.0, 0.0, -1.0)


@dataclass(frozen=True)
class Item:
    """What every drawn part carries: its names and its weight in words."""

    name: str
    group: str
    look: Look
    material: str
    mass: str
    basis: str

    @property
    def tint(self) -> Tint:
        """Its colour and opacity."""
        return LOOKS[self.look]


@dataclass(frozen=True)
class Body(Item):
    """A part with a surface, outward faces counter-clockwise."""

    vertices: Array
    faces: NDArray[np.int64]


@dataclass(frozen=True)
class Coat(Body):
    """Paint, filler or tape: a surface that lies on a part."""

    on: str | None
    """Name of the part whose whole face it covers; None for a strip of tape."""


@dataclass(frozen=True)
class Line(Item):
    """A part that is only a line: a bead of glue, a rubber band, a lead."""

    paths: tuple[Array, ...]


@dataclass(frozen=True)
class Marker:
    """A point worth a name: the balance point or a wheel's contact with the ground."""

    kind: Literal["balance", "contact"]
    name: str
    point: Point
    system: System

    def text(self, *axes: int) -> str:
        """Its coordinates along the chosen axes (0, 1, 2), in the trade's words."""
        words = ("station", "butt line", "water line")
        return ", ".join(f"{words[i]} {units.length(self.point[i], self.system)}" for i in axes)


@dataclass(frozen=True)
class Dimension:
    """A draughtsman's dimension: the distance between two points along one axis."""

    name: str
    text: str
    start: Point
    end: Point
    along: Point
    """Unit vector that the distance is measured along."""
    outward: Point
    """Where the dimension line stands off to, square to `along`."""
    views: tuple[ViewName, ...]
    """The views that show it, the best one first."""


@dataclass(frozen=True)
class Disc:
    """The disc a propeller sweeps."""

    centre: Point
    axis: Point
    diameter_mm: float
    text: str

    def rim(self, count: int = 96) -> Array:
        """Points (count + 1, 3) all the way round."""
        axis = np.array(self.axis) / np.linalg.norm(self.axis)
        across = np.cross(axis, UP)
        across = across / np.linalg.norm(across)
        angles = np.linspace(0.0, 2.0 * np.pi, count + 1)[:, None]
        ring = np.cos(angles) * across + np.sin(angles) * np.cross(axis, across)
        points: Array = np.array(self.centre) + ring * self.diameter_mm / 2.0
        return points


@dataclass(frozen=True)
class Scene:
    """A whole aeroplane as it is to be seen."""

    title: str
    mass: str
    balance: str
    """Where the balance point lies against the leading edge."""
    balance_on_chord: str
    system: System
    bodies: tuple[Body, ...]
    lines: tuple[Line, ...]
    coats: tuple[Coat, ...]
    """In the order they go on."""
    markers: tuple[Marker, ...]
    dimensions: tuple[Dimension, ...]
    disc: Disc | None
    ground: tuple[Point, ...]
    """The wheels' contact points from front to rear on the centre plane; empty without a gear."""

    @property
    def balance_point(self) -> Marker:
        """The balance point's marker."""
        return next(marker for marker in self.markers if marker.kind == "balance")

    @property
    def legend(self) -> tuple[Look, ...]:
        """The looks that occur, in the palette's order."""
        present = {item.look for item in (*self.bodies, *self.lines, *self.coats)}
        return tuple(look for look in LOOKS if look in present)

    def points(self) -> Array:
        """Every point that must fit into a picture, (n, 3)."""
        clouds = [body.vertices for body in self.bodies]
        clouds += [path for line in self.lines for path in line.paths]
        clouds += [np.array([marker.point for marker in self.markers])]
        if self.disc is not None:
            clouds.append(self.disc.rim())
        return np.vstack(clouds)
