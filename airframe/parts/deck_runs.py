"""Cutting a line of the fuselage into runs that one scored strip can follow."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import asin, ceil, hypot, tan
from typing import Literal

import numpy as np

from airframe.axes import Array
from airframe.drawing import Bevel
from airframe.layout import Layout
from airframe.parts import inside
from airframe.parts.side_planes import taper_station_mm
from airframe.schema.fuselage import Deck
from airframe.strips import STRAIGHT_RAD

FLAT_MM = 0.05
"""A corner of the line nearer than this to the straight line past it is not scored."""


@dataclass(frozen=True)
class Run:
    """A stretch of a top or bottom line that bends one way only."""

    line: Array
    """The sides' edge line, (n, 2): station and water line of each corner."""
    is_turned: bool
    """Hollow as seen from outside: the strip is laid with its outer paper to the inside."""

    @property
    def from_mm(self) -> float:
        """Its first station."""
        return float(self.line[0, 0])

    @property
    def to_mm(self) -> float:
        """Its last station."""
        return float(self.line[-1, 0])


def runs(layout: Layout, deck: Deck, longest_mm: float) -> list[Run]:
    """The runs of a deck, front to rear, left out where the gear plate takes its place.

    None is longer than `longest_mm` (or the sheet cannot give it) nor shorter than is worth cutting.
    """
    result: list[Run] = []
    for a, b in _free_stretches(layout, deck):
        line = straightened(layout.edge_points(deck.face, a, b))
        for start, end, is_turned in _one_way(line, deck.face):
            length = float(np.hypot(*np.diff(_clipped(line, start, end), axis=0).T).sum())
            ends = np.linspace(start, end, max(ceil(length / longest_mm), 1) + 1)
            result += [Run(_clipped(line, p, q), is_turned) for p, q in pairwise(ends)]
    return result


def _free_stretches(layout: Layout, deck: Deck) -> list[tuple[float, float]]:
    whole = (deck.from_station_mm, deck.to_station_mm)
    plate = layout.gear_plate
    if deck.face != "bottom" or plate is None:
        return [whole]
    pieces = [(whole[0], min(whole[1], plate.from_mm)), (max(whole[0], plate.to_mm), whole[1])]
    return [(a, b) for a, b in pieces if b - a >= inside.LEAST_MM]


def straightened(line: Array) -> Array:
    """The line without corners that lie within FLAT_MM of the straight line past them."""
    kept, i = [0], 0
    while i < len(line) - 1:
        j = i + 1
        while j + 1 < len(line) and _bow(line[i : j + 2]) < FLAT_MM:
            j += 1
        kept.append(j)
        i = j
    return line[kept]


def _bow(line: Array) -> float:
    """How far the corners lie from the line's chord."""
    chord = line[-1] - line[0]
    offsets = line[1:-1] - line[0]
    return float(np.abs(offsets[:, 0] * chord[1] - offsets[:, 1] * chord[0]).max() / np.hypot(*chord))


def _one_way(line: Array, face: Literal["top", "bottom"]) -> list[tuple[float, float, bool]]:
    """(from, to, whether hollow) of the stretches that bend one way; they part halfway between two opposite corners."""
    slopes = np.diff(line[:, 1]) / np.diff(line[:, 0])
    turns = np.diff(slopes)
    hollow = (turns > 0.0) if face == "top" else (turns < 0.0)
    result, start = [], float(line[0, 0])
    for i in np.flatnonzero(hollow[1:] != hollow[:-1]):
        middle = float(line[i + 1, 0] + line[i + 2, 0]) / 2.0
        result.append((start, middle, bool(hollow[i])))
        start = middle
    return [*result, (start, float(line[-1, 0]), bool(len(hollow) and hollow[-1]))]


def _clipped(line: Array, a: float, b: float) -> Array:
    inner = line[(line[:, 0] > a + 1e-6) & (line[:, 0] < b - 1e-6)]
    ends = np.column_stack([[a, b], np.interp([a, b], line[:, 0], line[:, 1])])
    return np.vstack([ends[:1], inner, ends[1:]])


# --- the surfaces of a run ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Strip:
    """The outer face of one piece of a deck: corners (station, water line) with the half width at each."""

    line: Array
    half_mm: Array
    faces_up: bool
    """Whether the outer paper looks up."""

    def along_mm(self, x_mm: float) -> float:
        """Developed distance of a station from the front end."""
        steps = np.hypot(*np.diff(self.line, axis=0).T)
        return float(np.interp(x_mm, self.line[:, 0], np.concatenate([[0.0], np.cumsum(steps)])))

    def station_mm(self, along_mm: float) -> float:
        """Station at a developed distance from the front end."""
        steps = np.hypot(*np.diff(self.line, axis=0).T)
        return float(np.interp(along_mm, np.concatenate([[0.0], np.cumsum(steps)]), self.line[:, 0]))

    def clipped(self, a_mm: float, b_mm: float) -> Strip:
        """The stretch between two stations."""
        line = _clipped(self.line, a_mm, b_mm)
        return Strip(line, np.interp(line[:, 0], self.line[:, 0], self.half_mm), self.faces_up)

    def bevels(self) -> tuple[Bevel, ...]:
        """Slants that stand all walls upright: the ends flat against formers, the long edges against the sides.

        In a strip's outline edge 0 is its front end, edges 1 to n - 1 run aft, edge n is its rear end, and the
        rest run forward again (n corners a side).
        """
        count, facets = len(self.line), range(len(self.line) - 1)
        slants = {0: self._slant(0, (-1.0, 0.0)), count: self._slant(count - 2, (1.0, 0.0))}
        for k in facets:
            inwards = (self.half_mm[k] - self.half_mm[k + 1]) / (self.line[k + 1, 0] - self.line[k, 0])
            slants[k + 1] = slants[2 * count - 1 - k] = self._slant(k, (inwards, 1.0))
        return tuple(Bevel(edge, angle) for edge, angle in sorted(slants.items()) if abs(angle) > STRAIGHT_RAD)

    def _slant(self, facet: int, outwards: tuple[float, float]) -> float:
        """Bevel of a facet's edge whose wall stands upright and faces `outwards` (aft, right).

        With n the facet's outer normal and p the wall's: the inner face stops short where they point apart.
        """
        dx, dz = self.line[facet + 1] - self.line[facet]
        lean = -dz / hypot(dx, dz) * (1.0 if self.faces_up else -1.0)
        return round(-asin(lean * outwards[0] / hypot(*outwards)), 9)


def strip(layout: Layout, deck: Deck, run: Run, thickness_mm: float) -> Strip:
    """Where the outer face of a deck lies along a run.

    Set in between the sides, the deck's weather face is flush with their edges; laid over them, its
    other face lies on the edges. On a hollow run the outer paper is the face that looks inside.
    """
    outwards = 1.0 if deck.face == "top" else -1.0
    weather = 0.0 if deck.fit == "between" else outwards * thickness_mm
    shift = weather - (outwards * thickness_mm if run.is_turned else 0.0)
    line = offset(run.line, shift)
    taper = taper_station_mm(layout)
    if deck.fit == "between":
        # The inner faces turn where the score's groove closes, a little ahead of the score itself.
        taper -= layout.side_thickness_mm * tan(layout.taper_rad / 2.0)
    if run.from_mm + FLAT_MM < taper < run.to_mm - FLAT_MM:
        line = _with_corner(line, taper)
    width = layout.half_width_mm if deck.fit == "over" else layout.inner_half_width_mm
    half = np.array([width(float(x)) for x in line[:, 0]])
    return Strip(line, half, (deck.face == "top") != run.is_turned)


def inner_line(deck: Deck, run: Run, thickness_mm: float) -> Array:
    """Where the deck meets the sides on the inside: under it if set in between them, at their edges if laid over."""
    if deck.fit == "over":
        return run.line
    return offset(run.line, -thickness_mm if deck.face == "top" else thickness_mm)


def offset(line: Array, up_mm: float) -> Array:
    """A line parallel to another, mitred at its corners and cut upright at its ends."""
    if not up_mm:
        return line
    slopes = np.arctan(np.diff(line[:, 1]) / np.diff(line[:, 0]))
    before, after = np.concatenate([slopes[:1], slopes]), np.concatenate([slopes, slopes[-1:]])
    mean, half_turn = (before + after) / 2.0, (after - before) / 2.0
    shift = up_mm / np.cos(half_turn)
    moved = line + np.column_stack([-shift * np.sin(mean), shift * np.cos(mean)])
    for i, slope in ((0, slopes[0]), (-1, slopes[-1])):
        moved[i] = line[i] + (0.0, up_mm / np.cos(slope))
    result: Array = moved
    return result


def _with_corner(line: Array, x_mm: float) -> Array:
    if np.isclose(line[:, 0], x_mm, atol=FLAT_MM).any():
        return line
    row = int(np.searchsorted(line[:, 0], x_mm))
    result: Array = np.insert(line, row, [x_mm, np.interp(x_mm, line[:, 0], line[:, 1])], axis=0)
    return result
