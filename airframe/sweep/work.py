"""One process's share of a sweep: it keeps the design and the caches, and makes one variant after another."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass

from airframe.checks.finding import WORST_FIRST
from airframe.checks.pairs import PairCache
from airframe.model import Aeroplane
from airframe.store import DiskStore, MemoryStore, ShapeStore
from airframe.sweep.measures import asked
from airframe.sweep.plan import Plan
from airframe.sweep.rows import Row, reason
from airframe.sweep.variants import variant

SHAPES_KEPT = 512
"""In each worker's memory: a large design has two hundred, and each variant a few of its own."""


@dataclass(frozen=True)
class Job:
    """What a worker must know; plain data."""

    plan: Plan
    is_cached: bool = True
    """Whether shapes are kept on the disk, where the other workers find them."""

    def store(self) -> ShapeStore:
        """Where shapes are kept; those of the design itself, asked for by every variant, in memory too."""
        return MemoryStore(DiskStore() if self.is_cached else None, SHAPES_KEPT)


class Bench:
    """The design with what is known of its shapes and pairs of parts."""

    def __init__(self, job: Job) -> None:
        self.plan = job.plan
        self.aeroplane = Aeroplane.loaded(job.plan.base, job.store())
        self._pairs = PairCache()

    def row(self, number: int) -> Row:
        """One variant; what cannot be built becomes a row that says why."""
        values = self.plan.values(number)
        try:
            made = variant(self.plan.base, self.aeroplane, self.plan.settings(number))
            answers, verdicts = asked(made, self.plan.measures, self._pairs)
        except Exception as error:
            return Row(number, values, {}, None, reason(error))
        return Row(number, values, answers, min(verdicts, key=WORST_FIRST.index, default=None))


_here = threading.local()
"""The bench of each thread, for the job it was made for: the kernel and the caches are not shared by threads."""


def rows(job: Job, numbers: Sequence[int]) -> list[Row]:
    """The variants of these numbers, on the bench that this process keeps for the job."""
    if getattr(_here, "digest", None) != job.plan.digest:
        _here.bench, _here.digest = Bench(job), job.plan.digest
    bench: Bench = _here.bench
    return [bench.row(number) for number in numbers]
