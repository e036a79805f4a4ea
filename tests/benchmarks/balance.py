"""Ten thousand placements of a battery against building the aeroplane anew for one of them, shapes known."""

from __future__ import annotations

import time

import numpy as np

from airframe.balance.cases import cases
from airframe.balance.lever import loads, placed
from airframe.config import load
from airframe.model import Aeroplane
from airframe.store import MemoryStore
from tests.benchmarks.measured import REPEATS, TEASEL, Ratio

PLACEMENTS = 10_000
MOST_S = 1.0
"""The bar that was set for them."""


def ratios() -> list[Ratio]:
    """Best of several runs each."""
    store = MemoryStore()
    aeroplane = Aeroplane(load(TEASEL, ["balance.optional=['camera']"]), store)
    found = cases(aeroplane)
    many, one = [], []
    for _ in range(REPEATS):
        start = time.perf_counter()
        load_rows = loads([case.rest for case in found], [case.body for case in found])
        placed(load_rows, np.linspace(40.0, 80.0, PLACEMENTS // len(found)))
        many.append(time.perf_counter() - start)
        start = time.perf_counter()
        _ = Aeroplane(load(TEASEL, ['equipment.battery.station="50 mm"']), store).cg_mm
        one.append(time.perf_counter() - start)
    return [
        Ratio("10,000 placements of the battery (bar: 1 s)", min(many), "1 s", MOST_S, 1.0),
        Ratio("10,000 placements of the battery", min(many), "one rebuilt from known shapes", min(one), 1.0),
    ]
