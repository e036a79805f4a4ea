"""Where along its way a box meets nothing: the stations that are free for a battery, or for anything like one.

A box that is pushed along x sweeps a prism. What any part takes of that prism falls apart into connected
pieces, and a connected piece takes one unbroken stretch of stations; so the stations at which the box meets the part
are known exactly (for the parts' meshes), however the part is shaped.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from airframe.axes import Array, Point
from airframe.balance.intervals import Interval, Intervals, merged, without
from airframe.checks.pairs import Pairs, is_solid
from airframe.drawing import Part
from airframe.layout import Layout
from airframe.parts import inside

TOUCH_MM = 0.05
"""A box that enters a part by less than this touches it, as a battery touches its tray."""
ROUNDING_MM = 1e-6
"""Lengths in inches do not add up to the last bit."""
ON_SHELF_MM = 2.0
"""Tape or foam may lie between a shelf and what stands on it."""


@dataclass(frozen=True)
class Tray:
    """How far a battery's ends may go."""

    from_mm: float
    """Foremost station of its front end."""
    to_mm: float
    """Rearmost station of its rear end."""
    given_by: str
    """What says so."""

    def reach_mm(self, length_mm: float) -> Interval:
        """Stations of the middle of something so long; turned inside out if it is longer than the tray."""
        low, high = self.from_mm + length_mm / 2.0, self.to_mm - length_mm / 2.0
        return (low, low) if abs(high - low) < ROUNDING_MM else (low, high)


@dataclass(frozen=True)
class Obstacle:
    """A part that stands in the way, and the stations of the box's middle at which it is met."""

    name: str
    blocked: Intervals


def tray(
    layout: Layout, station_mm: float, water_line_mm: float, from_mm: float | None = None, to_mm: float | None = None
) -> Tray:
    """As stated; else the shelf that it stands on; else the bay between what stands across the fuselage."""
    if from_mm is not None and to_mm is not None:
        return Tray(from_mm, to_mm, "tray_from and tray_to")
    found = _shelf(layout, station_mm, water_line_mm) or _bay(layout, station_mm)
    if from_mm is None and to_mm is None:
        return found
    stated = "tray_from" if from_mm is not None else "tray_to"
    return Tray(
        found.from_mm if from_mm is None else from_mm,
        found.to_mm if to_mm is None else to_mm,
        f"{stated} and {found.given_by}",
    )


def _shelf(layout: Layout, station_mm: float, water_line_mm: float) -> Tray | None:
    for shelf in inside.shelves(layout):
        is_over = shelf.from_mm <= station_mm <= shelf.to_mm
        if is_over and -TOUCH_MM <= water_line_mm - shelf.high_mm <= ON_SHELF_MM:
            return Tray(shelf.from_mm, shelf.to_mm, f"the {shelf.name}")
    return None


def _bay(layout: Layout, station_mm: float) -> Tray:
    ahead = [(box.to_mm, box.name) for box in inside.cross_pieces(layout) if box.to_mm <= station_mm]
    behind = [(box.from_mm, box.name) for box in inside.cross_pieces(layout) if box.from_mm >= station_mm]
    front = max(ahead, default=(layout.nose_mm, "the nose"))
    rear = min(behind, default=(layout.tail_mm, "the tail"))
    return Tray(front[0], rear[0], f"the bay between {front[1]} and {rear[1]}")


def stretches(body: Any, low: Array, high: Array) -> Intervals:
    """Stations over which a closed body takes any of the box between two corners, a touch at its sides left out.

    Args:
        body: a manifold3d body in the aeroplane's frame.
    """
    import manifold3d

    touch = np.array([0.0, TOUCH_MM, TOUCH_MM])
    inner_low, inner_high = low + touch, high - touch
    prism = manifold3d.Manifold.cube(tuple(inner_high - inner_low)).translate(tuple(inner_low))
    boxes = [piece.bounding_box() for piece in (body ^ prism).decompose()]
    return merged((float(box[0]), float(box[3])) for box in boxes)


class Surroundings:
    """What stands about in one aeroplane, optional items included; who asks says which parts are absent.

    Answers are kept, for the cases of one aeroplane ask the same things again and again.
    """

    def __init__(self, pairs: Pairs, parts: Iterable[Part]) -> None:
        self.layout = pairs.aeroplane.layout
        self.gap_mm = self.layout.design.limits.fit.gap_mm
        self.parts = {part.name: part for part in parts if is_solid(part)}
        self._pairs = pairs
        self._names = np.array(list(self.parts))
        self._bounds = pairs.boxes(self.parts.values())
        self._met: dict[tuple[Point, Point, Interval], tuple[Obstacle, ...]] = {}

    def bounds(self, name: str) -> Array:
        """Lowest and highest corner of a part, (6,)."""
        row: Array = self._bounds[list(self.parts).index(name)]
        return row

    def is_clear(self, box: Array, absent: frozenset[str]) -> bool:
        """Whether a box (6,) meets no part, a touch at its sides, above and below left out."""
        near = self._near(box[:3], box[3:])
        return not any(self._stretches(part, box[:3], box[3:]) for part in near if part.name not in absent)

    def obstacles(self, size: Point, centre: Point, reach: Interval, absent: frozenset[str]) -> tuple[Obstacle, ...]:
        """What a box meets on its way along x with its middle in `reach`, at the butt and water line of `centre`.

        Ahead and behind it comes no nearer to anything than the gap; beside, above and below it may touch.
        """
        key = (size, (0.0, centre[1], centre[2]), reach)
        if key not in self._met:
            self._met[key] = self._all_obstacles(size, centre, reach)
        return tuple(one for one in self._met[key] if one.name not in absent)

    def _all_obstacles(self, size: Point, centre: Point, reach: Interval) -> tuple[Obstacle, ...]:
        if reach[0] > reach[1]:
            return ()
        half = np.array(size) / 2.0
        grow = float(half[0]) + self.gap_mm
        low = np.array([reach[0] - grow, centre[1] - half[1], centre[2] - half[2]])
        high = np.array([reach[1] + grow, centre[1] + half[1], centre[2] + half[2]])
        taken = ((part.name, self._stretches(part, low, high)) for part in self._near(low, high))
        return tuple(Obstacle(name, tuple((a - grow, b + grow) for a, b in where)) for name, where in taken if where)

    def _stretches(self, part: Part, low: Array, high: Array) -> Intervals:
        cache = self._pairs.cache
        key = (cache.number(part.shape), part.place, low.tobytes(), high.tobytes())
        if key not in cache.stretches:
            cache.stretches[key] = stretches(self._pairs.body(part), low, high)
        return cache.stretches[key]

    def _near(self, low: Array, high: Array) -> list[Part]:
        is_near = np.all((self._bounds[:, :3] < high) & (low < self._bounds[:, 3:]), axis=1)
        return [self.parts[str(name)] for name in self._names[is_near]]


def free(reach: Interval, met: Iterable[Obstacle]) -> Intervals:
    """The stations of a reach at which no obstacle is met."""
    return without(reach, [interval for one in met for interval in one.blocked])
