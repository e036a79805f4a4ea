"""Ways to work through the variants: in this process, in a pool of spawned workers, in any executor handed in."""

from __future__ import annotations

import multiprocessing
import os
import re
import signal
from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    CancelledError,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from math import ceil
from tempfile import TemporaryFile
from typing import IO

from airframe.sweep.plan import Plan
from airframe.sweep.rows import Row, reason
from airframe.sweep.work import Bench, Job, rows

Keep = Callable[[Sequence[Row]], None]
"""Takes rows as they are finished, in any order."""
Chunk = list[int]
"""Numbers of variants that are worked through by one worker, one after another."""

LARGEST = 8
"""Variants in one chunk, at most."""
CHUNKS_A_WORKER = 4
"""As long as there are enough variants, so that the last worker to finish is not waited for long."""
AHEAD = 2
"""Chunks that are handed out for each worker: one in work, one in hand."""
DEATHS = 2
"""A variant that has so often been the only one in a worker that died is not tried again."""

STDERR = 2
_ERROR = re.compile(r"[A-Za-z_][\w.]*:.*")
"""The line of a traceback that names the error; those before it are set in."""
_UNGUARDED = "RuntimeError:"
"""What the library says of a worker that would start workers of its own, in several lines after this word alone."""
NO_START = (
    "no worker process starts. A script that sweeps with several workers must do so under "
    "`if __name__ == '__main__':`, because every worker reads the script anew; or let it have one worker"
)


class SweepError(RuntimeError):
    """A sweep that cannot go on, with what can be done about it."""


def serially(job: Job, numbers: Iterable[int], keep: Keep) -> None:
    """One after another in this process."""
    bench = Bench(job)
    for number in numbers:
        keep([bench.row(number)])


def in_executor(job: Job, numbers: Sequence[int], executor: Executor, workers: int, keep: Keep) -> None:
    """In an executor of somebody else's; a chunk that comes to nothing is tried again, variant by variant.

    Raises SweepError where the executor itself is broken.
    """
    waiting = deque(chunks(numbers, workers))
    failed = _handed_out(job, waiting, executor, workers, keep)
    singly = deque([number] for chunk, _ in failed for number in chunk)
    failed = _handed_out(job, singly, executor, workers, keep)
    if waiting or singly:
        message = "the executor that was handed in is broken; what is done is kept"
        raise SweepError(message)
    keep([Row(number, job.plan.values(number), {}, None, reason(error)) for (number,), error in failed])


def in_pool(job: Job, numbers: Sequence[int], workers: int, keep: Keep) -> None:
    """In so many processes of our own; a worker that dies costs no row that was finished.

    Spawned, never forked: the CAD kernel's threads do not survive a fork. When a worker dies, all that was handed
    out is tried again, each variant in a worker of its own. Raises SweepError where no worker starts.
    """
    waiting = deque(chunks(numbers, workers))
    while waiting:
        with _pool(workers) as pool:
            suspects = _handed_out(job, waiting, pool, workers, keep)
        _one_by_one(job, deque(number for chunk, _ in suspects for number in chunk), keep)


def chunks(numbers: Sequence[int], workers: int) -> list[Chunk]:
    """The variants in runs of neighbours: in a grid they differ in the last keys only, and share what these leave."""
    size = min(LARGEST, max(1, ceil(len(numbers) / (workers * CHUNKS_A_WORKER))))
    return [list(numbers[start : start + size]) for start in range(0, len(numbers), size)]


def _one_by_one(job: Job, waiting: deque[int], keep: Keep) -> None:
    """Each variant alone in a worker, a new one after each death: here it shows which of them is deadly."""
    deaths: Counter[int] = Counter()
    while waiting:
        with _pool(1) as pool:
            try:
                while waiting:
                    keep(pool.submit(rows, job, [waiting[0]]).result())
                    waiting.popleft()
            except BrokenProcessPool:
                deaths[waiting[0]] += 1
        if waiting and deaths[waiting[0]] == DEATHS:
            keep([_deadly(job.plan, waiting.popleft())])


def _deadly(plan: Plan, number: int) -> Row:
    message = f"its worker process died {DEATHS} times: out of memory, or a fault in the CAD kernel"
    return Row(number, plan.values(number), {}, None, message)


def _handed_out(
    job: Job, waiting: deque[Chunk], executor: Executor, workers: int, keep: Keep
) -> list[tuple[Chunk, Exception]]:
    """Work through the chunks; gives those that came to nothing, with the reason. Once it is broken the rest waits.

    On Ctrl-C what is in work is finished and kept first.
    """
    failed: list[tuple[Chunk, Exception]] = []
    out: dict[Future[list[Row]], Chunk] = {}
    try:
        while True:
            is_broken = any(isinstance(error, BrokenExecutor) for _, error in failed)
            while waiting and not is_broken and len(out) < AHEAD * workers:
                chunk = waiting.popleft()
                out[_submitted(job, chunk, executor)] = chunk
            if not out:
                return failed
            for future in wait(out, return_when=FIRST_COMPLETED).done:
                chunk, error = out.pop(future), _taken(future, keep)
                failed += [(chunk, error)] if error is not None else []
    except KeyboardInterrupt:
        for future in out:
            future.cancel()
        for future in wait(out).done:
            _taken(future, keep)
        raise


def _submitted(job: Job, chunk: Chunk, executor: Executor) -> Future[list[Row]]:
    """The chunk handed out; to an executor that is broken already, a future that says so."""
    try:
        return executor.submit(rows, job, chunk)
    except BrokenExecutor as error:
        future: Future[list[Row]] = Future()
        future.set_exception(error)
        return future


def _taken(future: Future[list[Row]], keep: Keep) -> Exception | None:
    """Keep the rows of a chunk; or why there are none."""
    try:
        keep(future.result())
    except CancelledError:
        return None
    except Exception as error:
        return error
    return None


@contextmanager
def _pool(workers: int) -> Iterator[ProcessPoolExecutor]:
    """Spawned workers that leave Ctrl-C to this process. Raises SweepError, with the reason, where none starts."""
    context = multiprocessing.get_context("spawn")
    with TemporaryFile() as said:
        with ProcessPoolExecutor(workers, context, signal.signal, (signal.SIGINT, signal.SIG_IGN)) as pool:
            # What a worker must import is imported by name: a task of ours that cannot be read would kill it.
            with _errors_into(said.fileno()):
                first = pool.submit(exec, f"import {rows.__module__}")
            try:
                first.result()
            except BrokenProcessPool:
                raise SweepError(_no_start(said)) from None
            except Exception as error:
                message = f"no worker process can do its work: {reason(error)}"
                raise SweepError(message) from None
            yield pool
        said.seek(0)
        with suppress(OSError):
            os.write(STDERR, said.read())


def _no_start(said: IO[bytes]) -> str:
    """Why no worker starts: what the first one said last."""
    said.seek(0)
    lines = said.read().decode(errors="replace").splitlines()
    told = next((line.strip() for line in reversed(lines) if _ERROR.fullmatch(line)), _UNGUARDED)
    return NO_START if told == _UNGUARDED else f"no worker process starts: {told}"


@contextmanager
def _errors_into(file: int) -> Iterator[None]:
    """Processes started in here have this file for their standard error, so that pages of it are not shown."""
    try:
        kept = os.dup(STDERR)
    except OSError:  # a program without a standard error shows nothing anyway
        yield
        return
    try:
        os.dup2(file, STDERR)
        yield
    finally:
        os.dup2(kept, STDERR)
        os.close(kept)
