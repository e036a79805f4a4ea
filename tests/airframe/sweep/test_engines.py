"""Whatever works through a sweep, the rows are the same; what dies on the way costs nothing that was done."""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

import airframe
from airframe.model import Aeroplane
from airframe.sweep import engines
from airframe.sweep.engines import chunks, in_executor, in_pool, serially
from airframe.sweep.rows import Row
from airframe.sweep.whole import sweep
from airframe.sweep.work import Job
from tests.airframe.sweep.plans import CONFIGS, DeadlyPlan, plan, small

CODES = ("mass", "cg.station", "ground.overturn", "ground.overturn.verdict", "fit.overlap", "balance.range")
KEYS = ("gear.track=150 mm:210 mm:3", "equipment.camera.station=150 mm,2 m", "wing.root_chord=200 mm,205 mm")


def _rows(job: Job, engine: Any, *arguments: Any) -> list[Row]:
    found: list[Row] = []
    engine(job, range(job.plan.count), *arguments, found.extend)
    return sorted(found, key=lambda row: row.number)


def test_every_engine_gives_the_same_rows() -> None:
    """In one process, backwards, in two spawned workers and in somebody's threads: equal to the last digit."""
    job = Job(plan(small(), *KEYS, codes=CODES))
    expected = _rows(job, serially)
    backwards: list[Row] = []
    serially(job, reversed(range(job.plan.count)), backwards.extend)
    assert backwards[::-1] == expected
    assert _rows(job, in_pool, 2) == expected
    with ThreadPoolExecutor(2) as threads:
        assert _rows(job, in_executor, threads, 2) == expected
    built = [row for row in expected if not row.message]
    assert len(built) == 6
    assert all(row.message.startswith("camera: is an item outside") for row in expected if row not in built)


def test_a_worker_that_dies_costs_nothing_that_was_done() -> None:
    """One variant kills every worker that takes it: it becomes a row that says so, all others are done."""
    made = plan(small(), "gear.track=150 mm:210 mm:9")
    job = Job(DeadlyPlan(made.base, made.axes, made.measures, deadly=4))
    rows = _rows(job, in_pool, 2)
    expected = _rows(Job(made), serially)
    assert [row for row in rows if row.number != 4] == [row for row in expected if row.number != 4]
    assert "worker process died 2 times" in rows[4].message


def test_a_worker_that_dies_once_costs_nothing_at_all(tmp_path: Path) -> None:
    """A variant whose worker was killed from outside is done by the next one."""
    made = plan(small(), "gear.track=150 mm:210 mm:5")
    job = Job(DeadlyPlan(made.base, made.axes, made.measures, deadly=3, only_once=tmp_path / "died"))
    assert _rows(job, in_pool, 2) == _rows(Job(made), serially)
    assert (tmp_path / "died").exists()


class Breaking(Executor):
    """Runs at once what it is given, but fails for chunks with a bad variant in them."""

    def __init__(self, bad: int) -> None:
        self.bad = bad
        self.taken: list[list[int]] = []

    def submit(self, function: Any, /, *arguments: Any, **named: Any) -> Future[Any]:
        """Done before it is asked for."""
        job, chunk = arguments
        self.taken.append(chunk)
        future: Future[Any] = Future()
        if self.bad in chunk:
            future.set_exception(MemoryError("no room"))
        else:
            future.set_result([Row(n, job.plan.values(n), {}) for n in chunk])
        return future


def test_an_executor_that_loses_a_chunk_costs_one_variant() -> None:
    """The lost chunk is tried again variant by variant; the one that fails alone becomes a row with the reason."""
    job = Job(plan(small(), "gear.track=150 mm:210 mm:40"))
    executor = Breaking(13)
    rows = _rows(job, in_executor, executor, 1)
    assert [row.number for row in rows] == list(range(40))
    assert [(row.number, row.message) for row in rows if row.message] == [(13, "MemoryError: no room")]
    assert [13] in executor.taken


def test_chunks_are_runs_of_neighbours() -> None:
    """All variants are in chunks, once, in order; few variants are shared out evenly."""
    for count, workers in ((200, 2), (7, 2), (1, 4), (33, 3)):
        made = chunks(range(count), workers)
        assert [number for chunk in made for number in chunk] == list(range(count))
        assert max(map(len, made)) <= engines.LARGEST
        assert len(made) >= min(count, workers)


def test_the_public_function() -> None:
    """`airframe.sweep` takes a path or an aeroplane and gives columns that equal single runs."""
    file = CONFIGS / "teasel-mk2.toml"
    table = sweep(file, {"gear.track": ["240 mm", "260 mm"]}, ["mass", "ground.overturn"], workers=1)
    alone = [airframe.load(file, [f'gear.track="{track} mm"']).statement.whole.mass for track in (240, 260)]
    assert table.column("mass") == alone
    assert table.column("gear.track") == [240.0, 260.0]
    assert sweep(airframe.load(file), {"gear.track": "240 mm,260 mm"}, ["mass", "ground.overturn"]) == table
    with pytest.raises(KeyError):
        table.column("ground.turn")


def test_an_aeroplane_made_in_memory_has_no_keys() -> None:
    """Without the tables it was read from there is nothing to set."""
    with pytest.raises(ValueError, match="load it from a file"):
        sweep(Aeroplane(small().design), {"gear.track": ["240 mm"]})


def _script(folder: Path, lines: str) -> subprocess.CompletedProcess[str]:
    """A script of these lines that sweeps with two workers."""
    script = folder / "script.py"
    script.write_text(lines.replace("SWEEP", f"airframe.sweep({str(CONFIGS / 'teasel-mk2.toml')!r}, KEYS, workers=2)"))
    environment = {**os.environ, "PYTHONPATH": str(CONFIGS.parent)}
    return subprocess.run([sys.executable, str(script)], env=environment, capture_output=True, text=True, timeout=300)


HEAD = "import sys\nimport airframe.sweep\nKEYS = {'gear.track': '200 mm:300 mm:4', 'wing.scores': [4, 5]}\n"


@pytest.mark.slow
def test_a_script_without_its_guard_is_told(tmp_path: Path) -> None:
    """Workers that start the script anew die at once: one message names the guard, and nothing hangs."""
    done = _script(tmp_path, f"{HEAD}SWEEP\n")
    assert done.returncode != 0
    assert "if __name__ == '__main__':" in done.stderr.splitlines()[-1]
    assert done.stderr.count("Traceback") == 1


@pytest.mark.slow
@pytest.mark.parametrize(
    ("trouble", "says"),
    [
        ("raise LookupError('no such key')", "no worker process starts: LookupError: no such key"),
        (
            "sys.modules['airframe.sweep.work'] = None",
            "no worker process can do its work: ModuleNotFoundError: import of",
        ),
    ],
)
def test_why_no_worker_starts_is_told_once(trouble: str, says: str, tmp_path: Path) -> None:
    """What fails in every worker alone is the sweep's own error, with its reason, and no row's."""
    guarded = f"{HEAD}if __name__ == '__main__':\n    SWEEP\nelse:\n    {trouble}\n"
    done = _script(tmp_path, guarded)
    assert done.returncode != 0
    assert says in done.stderr.splitlines()[-1]
    assert done.stderr.count("Traceback") == 1
