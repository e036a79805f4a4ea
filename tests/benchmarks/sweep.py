"""Many variants: on arrays, by two workers, and one that changes a single part family against building all anew."""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from functools import partial

from airframe.config import Loaded, read
from airframe.model import Aeroplane
from airframe.store import DiskStore, MemoryStore
from airframe.sweep.arrays import Reckoner, are_enough
from airframe.sweep.engines import in_pool
from airframe.sweep.keys import all_typed
from airframe.sweep.plan import planned
from airframe.sweep.rows import Row
from airframe.sweep.work import Bench, Job
from tests.benchmarks.measured import REPEATS, TEASEL, Ratio

MOST_S = 1.0
"""The bar that was set for 10,000 variants on arrays."""
WORKERS = 2
FASTER = 1.7
"""What two workers are to do beside one."""
GRID = ("equipment.battery.station=40 mm:100 mm:100", "equipment.camera.mass=60 g:120 g:100")
GEOMETRY = ("gear.track=200 mm:300 mm:20", "gear.height=130 mm:160 mm:10")


def ratios() -> list[Ratio]:
    """Best of several runs each; the 200 variants run once with either number of workers."""
    loaded = read(TEASEL)
    aeroplane = Aeroplane.loaded(loaded)
    _ = aeroplane.statement
    family, anew = _family(loaded, aeroplane), min(_timed(_anew) for _ in range(REPEATS))
    shared = Job(planned(loaded, aeroplane, all_typed(GEOMETRY), ["mass", "ground.overturn"]))
    one, two = (_pooled(shared, workers) for workers in (1, WORKERS))
    arrays = min(_timed(partial(_reckoned, aeroplane)) for _ in range(REPEATS))
    return [
        Ratio("10,000 variants of masses and places (bar: 1 s)", arrays, "1 s", MOST_S, 1.0),
        Ratio("a variant with another wing span", family, "a raw rebuild", anew, 0.35),
        Ratio("200 variants of the gear, two workers", two, "one worker", one, 1.0 / FASTER),
    ]


def _timed(task: Callable[[], object]) -> float:
    start = time.perf_counter()
    task()
    return time.perf_counter() - start


def _reckoned(aeroplane: Aeroplane) -> None:
    """From what is typed to the last row."""
    assert aeroplane.source is not None
    plan = planned(aeroplane.source, aeroplane, all_typed(GRID), ["mass", "cg.station", "inertia.pitch"])
    probe = are_enough(plan, aeroplane)
    assert probe is not None
    assert sum(1 for _ in Reckoner(plan, probe).rows(range(plan.count))) == 10_000


def _anew() -> None:
    """The same aeroplane from its file to its sums, no shape known."""
    _ = Aeroplane.loaded(read(TEASEL), MemoryStore()).statement


def _family(loaded: Loaded, aeroplane: Aeroplane) -> float:
    """The best of several variants, each with a span that was never built before."""
    plan = planned(loaded, aeroplane, all_typed([f"wing.panels.0.span=332 mm:340 mm:{REPEATS}"]), ["mass"])
    bench = Bench(Job(plan, is_cached=False))
    _ = bench.aeroplane.statement
    found = []
    for number in range(plan.count):
        start = time.perf_counter()
        row = bench.row(number)
        found.append(time.perf_counter() - start)
        assert not row.message
    return min(found)


def _pooled(job: Job, workers: int) -> float:
    """Seconds of the whole sweep, starting the workers included; only the design's own shapes are known before."""
    done: list[Row] = []
    with tempfile.TemporaryDirectory() as folder:
        before, os.environ["AIRFRAME_CACHE"] = os.environ.get("AIRFRAME_CACHE"), folder
        _ = Aeroplane.loaded(job.plan.base, DiskStore()).statement
        seconds = _timed(partial(in_pool, job, range(job.plan.count), workers, done.extend))
        os.environ.pop("AIRFRAME_CACHE")
        os.environ |= {"AIRFRAME_CACHE": before} if before is not None else {}
    assert len(done) == job.plan.count
    return seconds
