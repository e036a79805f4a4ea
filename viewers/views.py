"""Paper arithmetic: how points of the aeroplane fall on a sheet, in parallel projection and true to scale."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array
from viewers.scene import ViewName


@dataclass(frozen=True)
class View:
    """A direction of looking: which way of the aeroplane is right, and which is up, on the paper."""

    name: ViewName
    title: str
    right: tuple[float, float, float]
    up: tuple[float, float, float]

    @property
    def toward(self) -> Array:
        """Unit vector from the aeroplane to the reader."""
        return np.cross(self.right, self.up)

    def project(self, points_mm: ArrayLike) -> Array:
        """Points or directions (..., 3) on the paper, (..., 2): to the right and up."""
        flat: Array = np.asarray(points_mm, dtype=np.float64) @ np.array([self.right, self.up]).T
        return flat

    def facing_axes(self) -> tuple[int, ...]:
        """The axes (0 x, 1 y, 2 z) that lie in the paper; none of a three-quarter view is true."""
        return tuple(i for i in range(3) if abs(self.toward[i]) < 1e-9)


def looking_from(name: ViewName, title: str, direction: tuple[float, float, float]) -> View:
    """The view from a direction (aeroplane to reader), with up kept upright on the paper."""
    toward = np.array(direction) / np.linalg.norm(direction)
    right = np.cross((0.0, 0.0, 1.0), toward)
    right = right / np.linalg.norm(right)
    up = np.cross(toward, right)
    return View(name, title, tuple(map(float, right)), tuple(map(float, up)))  # type: ignore[arg-type]


SIDE = View("side", "side view, from the left", (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
FRONT = View("front", "front view", (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
TOP = View("top", "top view", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
THREE_QUARTER = looking_from("three-quarter", "three-quarter view", (-1.0, -0.72, 0.52))

VIEWS: dict[ViewName, View] = {view.name: view for view in (THREE_QUARTER, SIDE, FRONT, TOP)}


@dataclass(frozen=True)
class Frame:
    """A rectangle of a picture (px, y down) that shows one view at a scale."""

    view: View
    left: int
    top: int
    width: int
    height: int
    scale: float
    """Pixels per millimetre."""
    centre: tuple[float, float]
    """The point of the projection (mm) in the middle of the rectangle."""

    def at(self, points_mm: ArrayLike) -> Array:
        """Pixel coordinates (..., 2) of points in space."""
        flat = (self.view.project(points_mm) - np.array(self.centre)) * self.scale
        pixels: Array = flat * (1.0, -1.0) + (self.left + self.width / 2.0, self.top + self.height / 2.0)
        return pixels

    def direction(self, vector: ArrayLike) -> Array:
        """Unit vector in pixels (y down) of a direction in space; zero if it points at the reader."""
        flat = self.view.project(vector) * (1.0, -1.0)
        size = float(np.linalg.norm(flat))
        return flat / size if size > 1e-9 else np.zeros(2)


@dataclass(frozen=True)
class Margins:
    """Room (px) kept free round the model for dimensions and labels."""

    left: float
    top: float
    right: float
    bottom: float


def extent_mm(view: View, points_mm: Array) -> tuple[Array, Array]:
    """Lowest and highest (right, up) of the points' projection."""
    flat = view.project(points_mm)
    return flat.min(axis=0), flat.max(axis=0)


def largest_scale(view: View, points_mm: Array, size: tuple[float, float], margins: Margins) -> float:
    """The scale (px per mm) at which the points just fill the rectangle inside its margins."""
    low, high = extent_mm(view, points_mm)
    room = np.array([size[0] - margins.left - margins.right, size[1] - margins.top - margins.bottom])
    return float(np.min(np.maximum(room, 1.0) / np.maximum(high - low, 1e-6)))


def framed(
    view: View, points_mm: Array, box: tuple[int, int, int, int], margins: Margins, scale: float | None = None
) -> Frame:
    """The frame that fits the points into a box (left, top, width, height), or shows them at a given scale.

    The model sits in the middle of what the margins leave.
    """
    left, top, width, height = box
    scale = scale or largest_scale(view, points_mm, (width, height), margins)
    low, high = extent_mm(view, points_mm)
    shift = np.array([margins.left - margins.right, margins.bottom - margins.top]) / 2.0 / scale
    middle = (low + high) / 2.0 - shift
    return Frame(view, left, top, width, height, scale, (float(middle[0]), float(middle[1])))
