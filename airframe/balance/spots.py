"""Free spots inside the fuselage: for ballast as far out as there is room, for a bought item along its own way."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from airframe.axes import Array, Point
from airframe.balance.intervals import Interval, Intervals, without
from airframe.balance.space import TOUCH_MM, Surroundings, free
from airframe.checks.room import best_room, fuselage_space
from airframe.checks.rounding import round_down, round_up
from airframe.layout import Layout
from airframe.units import MM_PER_INCH, System

STEP_MM: dict[System, float] = {"metric": 2.0, "imperial": 0.1 * MM_PER_INCH}
"""Step in which spots for ballast are tried from the nose aft, or from the tail forward."""
LEVEL_MM: dict[System, float] = {"metric": 6.0, "imperial": 0.25 * MM_PER_INCH}
"""Step in which they are tried upwards, from the floor to the deck."""


def outermost(
    around: Surroundings, absent: frozenset[str], battery: Array, size: Point, towards_nose: bool
) -> Point | None:
    """The middle of the foremost, or rearmost, free spot for a box on the centre plane, the lowest there.

    Args:
        battery: the box (lowest x, y, z, highest x, y, z) that is to stay free besides the parts.
    """
    layout, half = around.layout, np.array(size) / 2.0
    room = half + np.array([around.gap_mm, around.gap_mm, 0.0])
    system = layout.design.units
    first, last = round_up(layout.nose_mm + half[0], system), round_down(layout.tail_mm - half[0], system)
    step = STEP_MM[system]
    for x in np.arange(first, last, step) if towards_nose else np.arange(last, first, -step):
        for z in _levels(layout, float(x), half):
            middle = np.array([x, 0.0, z])
            box = np.concatenate([middle - room, middle + room])
            if around.is_clear(box, absent) and not _meet(box, battery):
                return float(x), 0.0, round(float(z), 2)
    return None


def _levels(layout: Layout, x_mm: float, half: Array) -> Iterator[float]:
    """Water lines of the middle from the floor up to the deck; none where there is no room."""
    space = fuselage_space(layout, x_mm - half[0], x_mm + half[0])
    low, high = space.low_mm + half[2], space.high_mm - half[2]
    if half[1] <= space.half_width_mm and low <= high:
        system = layout.design.units
        yield from np.arange(round_up(low, system), high, LEVEL_MM[system])
        roof = round_down(high, system)
        yield roof if roof >= low else high


def _meet(a: Array, b: Array) -> bool:
    return bool(((a[:3] < b[3:] - TOUCH_MM) & (b[:3] + TOUCH_MM < a[3:])).all())


def along(
    around: Surroundings, absent: frozenset[str], battery: Array, name: str, window: Interval, is_inside: bool
) -> Intervals:
    """Stations in a window at which a part's bounding box meets nothing at the part's own butt and water line."""
    layout, box = around.layout, around.bounds(name)
    x, y, z = (float(v) for v in (box[:3] + box[3:]) / 2.0)
    length, width, height = (float(v) for v in box[3:] - box[:3])
    half = np.array([length, width, height]) / 2.0
    reach = (max(window[0], layout.nose_mm + half[0]), min(window[1], layout.tail_mm - half[0]))
    rooms = free(reach, around.obstacles((length, width, height), (x, y, z), reach, absent | {name}))
    beside = (float(battery[0] - half[0] - around.gap_mm), float(battery[3] + half[0] + around.gap_mm))
    level_with_it = np.array([(battery[0] + battery[3]) / 2.0, y, z])
    if _meet(np.concatenate([level_with_it - half, level_with_it + half]), battery):
        rooms = tuple(piece for room in rooms for piece in without(room, [beside]))
    if not is_inside:
        return rooms
    return tuple(room for room in rooms if all(_fits(layout, (end, y, z), half) for end in room))


def _fits(layout: Layout, middle: Point, half: Array) -> bool:
    box = np.concatenate([np.array(middle) - half, np.array(middle) + half])
    return not best_room(layout, box).missing(TOUCH_MM)
