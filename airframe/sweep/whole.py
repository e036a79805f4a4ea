"""A whole sweep: planned, worked through by the engine that fits, gathered in the order of the plan."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from airframe.config import read
from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.plugins import check_travels, homebound
from airframe.store import DiskStore
from airframe.sweep.arrays import BLOCK, Reckoner, are_enough
from airframe.sweep.engines import Keep, in_executor, in_pool, serially
from airframe.sweep.journal import Journal
from airframe.sweep.keys import Typed, all_given
from airframe.sweep.plan import Plan, planned
from airframe.sweep.rows import Row, Table
from airframe.sweep.work import Job

Progress = Callable[[int, int], None]
"""Called with how many variants are done and how many there are."""
WORTH_A_POOL = 16
"""Fewer variants are done before the workers have started."""


@dataclass
class Sweep:
    """One sweep in the making: what is done of it can be asked for at any time, after Ctrl-C too."""

    plan: Plan
    aeroplane: Aeroplane
    is_cached: bool = True
    """Whether shapes are kept on the disk."""
    progress: Progress | None = None
    journal: Journal | None = None
    _done: dict[int, Row] = field(default_factory=dict)

    def run(self, workers: int | None = None, executor: Executor | None = None) -> None:
        """Do what is not done yet; without a number of workers, as many as there are processors if it is worth it.

        Raises SweepError where no worker starts or the executor is broken, PluginError where workers would lack one.
        """
        numbers = [number for number in range(self.plan.count) if number not in self._done]
        probe = self._probe()
        if probe is not None:
            self._reckon(Reckoner(self.plan, probe), numbers)
        else:
            build(Job(self.plan, self.is_cached), numbers, self.keep, workers, executor)

    def keep(self, rows: Sequence[Row]) -> None:
        """Take rows that are done, in the journal too."""
        self._done |= {row.number: row for row in rows}
        if self.journal is not None:
            self.journal.add(rows)
        if self.progress is not None:
            self.progress(len(self._done), self.plan.count)

    def recall(self, rows: Sequence[Row]) -> None:
        """Take rows that were done before, out of the journal."""
        self._done |= {row.number: row for row in rows}

    @property
    def table(self) -> Table:
        """What is done, in the order of the plan."""
        design, plan = self.plan.base.design, self.plan
        rows = tuple(self._done[number] for number in sorted(self._done))
        return Table(design.name, design.units, plan.axes, plan.measures, rows, plan.count, plan.is_paired)

    def _probe(self) -> Aeroplane | None:
        try:
            return are_enough(self.plan, self.aeroplane)
        except PartError:  # not even the design itself can be built: some variants may
            return None

    def _reckon(self, reckoner: Reckoner, numbers: Sequence[int]) -> None:
        for start in range(0, len(numbers), BLOCK):
            self.keep(list(reckoner.rows(numbers[start : start + BLOCK])))


def build(
    job: Job, numbers: Sequence[int], keep: Keep, workers: int | None = None, executor: Executor | None = None
) -> None:
    """Build these variants one by one, by the engine that fits; workers and errors are those of `Sweep.run`."""
    if workers is None:
        is_shared = executor is not None or (len(numbers) >= WORTH_A_POOL and not homebound())
        workers = (os.cpu_count() or 1) if is_shared else 1
    if workers > 1 or isinstance(executor, ProcessPoolExecutor):
        check_travels()
    if executor is not None:
        in_executor(job, numbers, executor, workers, keep)
    elif workers > 1:
        in_pool(job, numbers, workers, keep)
    else:
        serially(job, numbers, keep)


def sweep(
    design: Aeroplane | Path | str,
    keys: Mapping[str, Typed | Sequence[Typed]],
    measures: str | Sequence[str] = (),
    *,
    paired: bool = False,
    workers: int | None = None,
    executor: Executor | None = None,
    progress: Progress | None = None,
) -> Table:
    """Many variants of a design at once: every value of each key with every value of the others, or `paired`.

    `keys` are those of --set, with values as a config has them (["240 mm", "260 mm"]) or as the command has them
    ("200 mm:300 mm:11"); `measures` are codes such as "mass", "cg.station", "ground.overturn" and
    "ground.overturn.verdict". Rows come in the order of the values, whatever the engine, and hold what a run of its
    own would say of each variant, to the last digit; a variant that cannot be built is a row with its message.

    With several workers each is a process of its own that imports your script anew: in a script, call this under
    `if __name__ == "__main__":`, or every worker would start the sweep again. In a notebook that is not needed.
    `executor` may be any `concurrent.futures.Executor` whose workers can import this package; `workers` then says how
    many it has. Raises ConfigError with all that is wrong with keys, values and measures before anything runs.
    """
    aeroplane = design if isinstance(design, Aeroplane) else Aeroplane.loaded(read(design), DiskStore())
    if aeroplane.source is None:
        message = "an aeroplane that was not read from a config has no keys to change; load it from a file"
        raise ValueError(message)
    asked = measures.split(",") if isinstance(measures, str) else measures
    plan = planned(aeroplane.source, aeroplane, all_given(keys), [code.strip() for code in asked], paired)
    made = Sweep(plan, aeroplane, progress=progress)
    made.run(workers, executor)
    return made.table
