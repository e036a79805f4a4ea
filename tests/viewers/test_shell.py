"""What the commands share: progress that another program reads."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.plane import PLANE
from viewers.cli import cli
from viewers.shell import PROGRESS


@pytest.fixture
def config(tmp_path: Path) -> Path:
    path = tmp_path / "plane.toml"
    path.write_text(PLANE, encoding="utf-8")
    return path


def test_progress_comes_by_lines_where_it_is_asked_for(config: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With AIRFRAME_PROGRESS=lines standard error has a line for each step, in order; results stay clean."""
    monkeypatch.setenv("AIRFRAME_PROGRESS", "lines")
    done = CliRunner().invoke(cli, ["weigh", str(config), "--json"])
    lines = done.stderr.splitlines()
    assert lines[0] == f"{PROGRESS}reading the config"
    weighing = [line for line in lines if line.startswith(f"{PROGRESS}weighing ")]
    assert weighing[0].startswith(f"{PROGRESS}weighing 1 of {len(weighing)}: ")
    assert weighing[-1].startswith(f"{PROGRESS}weighing {len(weighing)} of {len(weighing)}: ")
    assert json.loads(done.stdout)["name"] == "Plane"


def test_progress_is_silent_where_nobody_watches(config: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a terminal and without being asked, nothing is told on the way."""
    monkeypatch.delenv("AIRFRAME_PROGRESS", raising=False)
    assert CliRunner().invoke(cli, ["weigh", str(config)]).stderr == ""
