"""A value that mends a finding, looked for by a job of the page: our own command, its answer, and the redesign."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from airframe.config import load
from airframe.model import Aeroplane
from airframe.sweep.measures import measure
from tests.plane import PLANE
from viewers.bench.jobs import Jobs
from viewers.bench.orders import Project, order

PATIENCE_S = 120.0
TEXT = PLANE.split("[[weighed]]")[0]
KEY, CODE = 'equipment."spare camera".station', "balance.range"
"""The small plane balances too far aft: its camera may be moved."""
EDIT = 'fuselage.width="64 mm"'


@pytest.fixture
def project(tmp_path: Path) -> Project:
    """The small plane in a folder of its own."""
    (tmp_path / "plane.toml").write_text(TEXT, encoding="utf-8")
    return Project(tmp_path, "plane.toml", no_cache=True)


@pytest.fixture
def jobs(project: Project) -> Iterator[Jobs]:
    """Jobs of the real command line."""
    made = Jobs(project.folder)
    yield made
    made.close()


def found(jobs: Jobs, project: Project, *between: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """The job once it is over, and the answer that it kept."""
    options = {"key": KEY, "code": CODE, "between": list(between)}
    identity = jobs.start(order(project, (EDIT,), "solve", options))
    give_up_s = time.monotonic() + PATIENCE_S
    while (job := jobs.listing()[0])["state"] == "running":
        assert time.monotonic() < give_up_s, "it never came"
        threading.Event().wait(0.05)
    assert job["state"] == "done", job["error"]
    return job, json.loads(jobs.file(identity, "plane-answer.json").read_text("utf-8"))


def verdict(config: Path, *settings: str) -> object:
    """How a config is judged by the finding."""
    return measure(f"{CODE}.verdict").of(Aeroplane(load(config, settings)))


def test_the_answer_mends_the_finding_and_so_does_the_redesign(jobs: Jobs, project: Project) -> None:
    """The setting found, over the page's edits, turns the finding to pass; the redesign states both and passes too.

    It is written beside what was found before, which its author may have gone on with.
    """
    folder = project.folder / "plane-bench" / "solve"
    folder.mkdir(parents=True)
    (folder / "plane-found.toml").write_text("# mine\n")
    job, answer = found(jobs, project, "20 mm", "300 mm")
    setting = answer["answer"]["setting"]
    assert setting.startswith(f"{KEY}=")
    assert [file["name"] for file in job["files"]] == ["plane-found-2.toml", "plane-answer.json"]
    redesign = jobs.file(job["id"], "plane-found-2.toml")
    config = project.folder / project.config
    assert verdict(config, EDIT) == "fail"
    assert verdict(config, EDIT, setting) == verdict(redesign) == "pass"
    assert load(redesign) == load(config, (EDIT, setting))
    assert (folder / "plane-found.toml").read_text() == "# mine\n"


def test_no_answer_is_an_answer(jobs: Jobs, project: Project) -> None:
    """Where no value between the ends will do, the job is done and tells the nearest; it writes no redesign."""
    job, answer = found(jobs, project, "198 mm", "202 mm")
    assert [file["name"] for file in job["files"]] == ["plane-answer.json"]
    assert answer["answer"] is None and not answer["holds_now"]
    assert answer["nearest"]["setting"].startswith(f'{KEY}="198')
