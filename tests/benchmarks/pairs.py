"""All pairs of a design's parts against one raw pass over the pairs that survive the bounding boxes."""

from __future__ import annotations

import time
from typing import Any

from airframe.checks.pairs import PairCache, Pairs, is_solid
from airframe.config import load
from airframe.drawing import Part
from airframe.model import Aeroplane
from tests.benchmarks.measured import REPEATS, TEASEL, Ratio

SEARCH_MM = 5.0
"""Gaps are asked for up to this, as the check of fit does."""
MOVED = 'equipment.receiver.station="290 mm"'


def ratios() -> list[Ratio]:
    """Best of several runs each: every pair from nothing, and again after one item moved."""
    aeroplane, moved = Aeroplane(load(TEASEL)), Aeroplane(load(TEASEL, [MOVED]))
    parts = [part for part in aeroplane.parts if is_solid(part)]
    after = [part for part in moved.parts if is_solid(part)]
    for part in (*parts, *after):
        aeroplane.record(part)
        moved.record(part)
    whole, again, raw = [], [], []
    for _ in range(REPEATS):
        raw.append(_raw(aeroplane, parts))
        cache = PairCache()
        whole.append(_whole(aeroplane, parts, cache))
        again.append(_whole(moved, after, cache))
    return [
        Ratio("all pairs, distance and interference", min(whole), "raw pass over surviving pairs", min(raw), 3.0),
        Ratio("all pairs after one item moved", min(again), "all pairs", min(whole), 0.5),
    ]


def _whole(aeroplane: Aeroplane, parts: list[Part], cache: PairCache) -> float:
    start = time.perf_counter()
    Pairs(aeroplane, cache).meetings(parts, parts, SEARCH_MM)
    return time.perf_counter() - start


def _raw(aeroplane: Aeroplane, parts: list[Part]) -> float:
    """One intersection and one distance for each pair, on bodies that are ready."""
    pairs = Pairs(aeroplane)
    near: list[tuple[Any, Any]] = [(pairs.body(a), pairs.body(b)) for a, b in pairs.near(parts, parts, SEARCH_MM)]
    for a, _ in near:
        a.bounding_box()
    start = time.perf_counter()
    for a, b in near:
        (a ^ b).volume()
        a.min_gap(b, SEARCH_MM)
    return time.perf_counter() - start
