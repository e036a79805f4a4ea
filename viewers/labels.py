"""Labels that look for free paper: a map of what is drawn already, and leaders from a point to its words."""

from __future__ import annotations

from itertools import product
from math import cos, hypot, pi, sin

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array
from viewers.lettering import Box, Pen
from viewers.palette import PAPER

TEXT = 17.0
"""Height of ordinary lettering, pixels on a sheet 1200 high."""
COVERING, TOUCHING = 3000.0, 600.0
"""Pixels of leader that a label would rather have than lie wholly, or at all, on something drawn."""
GRID = 4
"""Pixels of one cell of the map of what is taken."""
RINGS, RING_STEP, TURNS = 26, 22.0, 24
"""Places tried for a label: so many distances, this far apart, in so many directions."""


class Taken:
    """A map of the paper that is already drawn on, so that labels find a free place."""

    def __init__(self, width: int, height: int) -> None:
        self._cells = np.zeros((height // GRID + 1, width // GRID + 1), dtype=bool)
        self._letters = np.zeros_like(self._cells)
        self._field: Box = (0.0, 0.0, width, height)

    def keep_to(self, field: Box) -> None:
        """Only a part of the sheet is free at all."""
        self._field = field

    def add_mask(self, left: int, top: int, mask: NDArray[np.bool_]) -> None:
        """Mark every pixel (rows, columns) where the model shows, with its corner at left, top."""
        rows, columns = np.nonzero(mask)
        self._cells[(rows + top) // GRID, (columns + left) // GRID] = True

    def add(self, box: Box) -> None:
        """Mark a rectangle that holds letters."""
        rows, columns = self._slices(box)
        self._cells[rows, columns] = True
        self._letters[rows, columns] = True

    def add_line(self, start: Array, end: Array) -> None:
        """Mark the cells under a straight line."""
        self._cells[self._under(start, end)] = True

    def crosses_letters(self, start: Array, end: Array) -> bool:
        """Whether a straight line would run through letters."""
        return bool(self._letters[self._under(start, end)].any())

    def _under(self, start: Array, end: Array) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        points = np.linspace(start, end, int(hypot(*(end - start)) / GRID) + 2)
        left, top, right, bottom = self._field
        inside = np.all((points >= (left, top)) & (points < (right, bottom)), axis=1)
        cells = points[inside].astype(np.int64) // GRID
        return cells[:, 1], cells[:, 0]

    def share(self, box: Box) -> float:
        """How much of a rectangle is taken; more than all of it if it leaves the field."""
        left, top, right, bottom = self._field
        if box[0] < left or box[1] < top or box[2] > right or box[3] > bottom:
            return 2.0
        rows, columns = self._slices(box)
        return float(self._cells[rows, columns].mean())

    def _slices(self, box: Box) -> tuple[slice, slice]:
        left, top, right, bottom = (max(int(edge), 0) // GRID for edge in box)
        return slice(top, bottom + 1), slice(left, right + 1)


def label(
    pen: Pen,
    spots: Array,
    lines: list[str],
    colour: str,
    taken: Taken,
    prefer: tuple[float, float],
    lead: bool = False,
) -> None:
    """Draw lines of text, the first one bold, on the nearest free paper.

    A leader comes from the point they belong to: a spot (2,), or the best placed of several (n, 2).
    """
    sizes = [pen.text_size(text, TEXT, bold=i == 0) for i, text in enumerate(lines)]
    width, line = max(size[0] for size in sizes), sizes[0][1]
    height = line * len(lines)
    pad = 7.0 * pen.weight
    size, nearest = (width + 2 * pad, height + 2 * pad), 60.0 if lead else 30.0
    places = [(at, *_free_place(at, size, taken, prefer, pen.weight, nearest)) for at in np.atleast_2d(spots)]
    at, middle, _ = min(places, key=lambda place: place[2])
    left, top = middle[0] - width / 2.0, middle[1] - height / 2.0
    box = (left - pad, top - pad / 2.0, left + width + pad, top + height + pad / 2.0)
    _leader(pen, at, box, colour, taken)
    pen.block(box, PAPER + "d8", radius=4.0 * pen.weight)
    for i, text in enumerate(lines):
        pen.text((left, top + line * (i + 0.5)), text, TEXT, colour, "lm", bold=i == 0)
    taken.add(box)


def _leader(pen: Pen, at: Array, box: Box, colour: str, taken: Taken) -> None:
    nearest = np.clip(at, box[:2], box[2:])
    distance = hypot(*(nearest - at))
    if distance > 12.0 * pen.weight:
        start = at + (nearest - at) * (11.0 * pen.weight / distance)
        pen.line([start, nearest], PAPER, 3.0)
        pen.line([start, nearest], colour, 1.0)
        taken.add_line(start, nearest)


def _free_place(
    at: Array, size: tuple[float, float], taken: Taken, prefer: tuple[float, float], weight: float, nearest: float
) -> tuple[Array, float]:
    """The middle of a free rectangle of this size, and its cost.

    The nearer to the point and the more in the preferred direction, the cheaper.
    """
    best, best_cost = at, float("inf")
    half = np.array(size) / 2.0
    for ring, turn in product(range(RINGS), range(TURNS)):
        angle = 2.0 * pi * turn / TURNS
        away = (nearest + RING_STEP * ring) * weight
        unit = np.array([cos(angle), sin(angle)])
        middle = at + unit * (away + half)
        (left, top), (right, bottom) = middle - half, middle + half
        cost = away - 25.0 * weight * float(unit @ np.array(prefer))
        share = taken.share((left, top, right, bottom))
        if share:
            cost += (COVERING * share + TOUCHING) * weight
        if cost < best_cost and taken.crosses_letters(at, np.clip(at, middle - half, middle + half)):
            cost += TOUCHING * weight
        if cost < best_cost:
            best, best_cost = middle, cost
    return best, best_cost
