"""Arithmetic of intervals of stations: what is left of some when others are taken out."""

from __future__ import annotations

from collections.abc import Iterable

Interval = tuple[float, float]
"""Lowest and highest, both included; of no length where they are equal."""
Intervals = tuple[Interval, ...]
"""Ascending and apart from each other."""


def merged(intervals: Iterable[Interval]) -> Intervals:
    """The same points in as few intervals as will do."""
    result: list[Interval] = []
    for low, high in sorted(intervals):
        if result and low <= result[-1][1]:
            result[-1] = (result[-1][0], max(result[-1][1], high))
        else:
            result.append((low, high))
    return tuple(result)


def without(whole: Interval, taken: Iterable[Interval]) -> Intervals:
    """What is left of one interval; the ends of what is taken stay, for touching is not overlapping.

    An interval that is turned inside out (low above high) leaves nothing.
    """
    free = [whole] if whole[0] <= whole[1] else []
    for low, high in taken:
        free = [piece for a, b in free for piece in _cut(a, b, low, high)]
    return tuple(sorted(set(free)))


def _cut(a: float, b: float, low: float, high: float) -> list[Interval]:
    if low >= high or b <= low or high <= a:
        return [(a, b)]
    pieces = [(a, low)] if a <= low else []
    return [*pieces, (high, b)] if high <= b else pieces


def common(intervals: Iterable[Interval], window: Interval) -> Intervals:
    """The parts of some intervals that lie in a window."""
    cut = ((max(low, window[0]), min(high, window[1])) for low, high in intervals)
    return tuple((low, high) for low, high in cut if low <= high)


def nearest(intervals: Iterable[Interval], to: float) -> float | None:
    """The point of some intervals that is nearest to a point; the lower of two; None if there are none."""
    points = (min(max(to, low), high) for low, high in intervals)
    return min(points, key=lambda point: abs(point - to), default=None)


def outside(value: float, window: Interval) -> float:
    """How far a value lies outside a window: above it positive, below it negative, 0 inside."""
    return max(value - window[1], 0.0) + min(value - window[0], 0.0)
