"""The same rows from a cluster of two worker processes, started for the test on this machine."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from click.testing import CliRunner

from airframe.sweep.engines import in_executor, serially
from airframe.sweep.rows import Row
from airframe.sweep.work import Job
from tests.airframe.sweep.plans import CONFIGS, plan, small
from viewers.cli import cli

distributed = pytest.importorskip("distributed")


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """Where the scheduler of two workers listens."""
    quiet = {"dashboard_address": None, "silence_logs": "ERROR"}
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, **quiet) as cluster:
        yield cluster.scheduler_address


@pytest.mark.slow
def test_a_cluster_gives_the_rows_of_one_process(address: str) -> None:
    """Geometry, findings and a variant that cannot be built: equal to the last digit."""
    keys = ("gear.track=150 mm:210 mm:4", "equipment.camera.station=150 mm,2 m")
    job = Job(plan(small(), *keys, codes=("mass", "ground.overturn", "fit.overlap", "balance.range.verdict")))
    rows: list[Row] = []
    with distributed.Client(address) as client:
        in_executor(job, range(job.plan.count), client.get_executor(pure=False), 2, rows.extend)
    alone: list[Row] = []
    serially(job, range(job.plan.count), alone.extend)
    assert sorted(rows, key=lambda row: row.number) == alone


@pytest.mark.slow
def test_the_command_uses_a_running_cluster(address: str) -> None:
    """`--cluster ADDRESS` prints what the command prints by itself."""
    words = ["sweep", str(CONFIGS / "teasel-mk2.toml"), "gear.track=240 mm:260 mm:3", "--json"]
    shared = CliRunner().invoke(cli, [*words, "--cluster", address])
    assert shared.exit_code == 0, shared.output
    alone = CliRunner().invoke(cli, [*words, "--workers", "1"])
    assert json.loads(shared.stdout) == json.loads(alone.stdout)
