"""A cold lattice with all derivatives against one dense solve of its size, and a second state against the first."""

from __future__ import annotations

import time

import numpy as np

from airframe.flight.lattice import Lattice
from airframe.flight.panels import Panels
from airframe.flight.solved import Lattices
from tests.benchmarks.measured import REPEATS, Ratio
from tests.plates import wing

STRIPS, ROWS = 40, 5
"""Of half a wing: 400 panels in all."""
MOTION = (9.0, 0.2, 0.6, 0.1, 0.1, 0.1)
MOST_S = 0.5
"""The bar that was set for a cold lattice with all its derivatives."""
ABOUT_M = (0.05, 0.0, 0.0)


def ratios() -> list[Ratio]:
    """Best of several runs each."""
    panels = wing(6.0, (STRIPS, ROWS))
    cold, again, dense = [], [], []
    for _ in range(REPEATS):
        store = Lattices()
        cold.append(_timed(store, panels, (0.0, 0.0, 0.0)))
        again.append(_timed(store, panels, ABOUT_M))
        influence = Lattice(panels).influence
        right = np.ones((len(influence), 6))
        start = time.perf_counter()
        np.linalg.solve(influence, right)
        dense.append(time.perf_counter() - start)
    return [
        Ratio("400 panels, all derivatives, cold (bar: 0.5 s)", min(cold), "0.5 s", MOST_S, 1.0),
        Ratio("400 panels, all derivatives, cold", min(cold), "one dense solve of 400", min(dense), None),
        Ratio("the same geometry, another balance point", min(again), "cold", min(cold), 0.05),
    ]


def _timed(store: Lattices, panels: Panels, about_m: tuple[float, float, float]) -> float:
    """Seconds from panels to loads and all their slopes."""
    start = time.perf_counter()
    store.lattice(panels).loads(MOTION, (), 1.2, about_m)
    return time.perf_counter() - start
