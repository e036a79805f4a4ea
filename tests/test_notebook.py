"""The public Python interface: README's notebook, word for word, and what changing an aeroplane promises."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

import airframe
from airframe.config import ConfigError
from airframe.notebook import Plane
from tests.plane import PLANE
from viewers import picture

ROOT = Path(__file__).parent.parent
SAMPLES = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
NOTEBOOK = next(sample for sample in SAMPLES if "with_settings" in sample)
KG_PER_G, M_PER_MM = 1e-3, 1e-3
SPAN, CHORD, MASS = 'wing.panels.0.span="310 mm"', 'wing.root_chord="170 mm"', 'equipment.battery.mass="95 g"'


@pytest.fixture
def config(tmp_path: Path) -> Path:
    """The small plane, with a weighing log, as a file."""
    path = tmp_path / "plane.toml"
    path.write_text(PLANE, encoding="utf-8")
    return path


def weighed(config: Path, *settings: str) -> dict:
    """What `weigh --json` says."""
    words = [word for line in settings for word in ("--set", line)]
    command = [sys.executable, "-m", "viewers.cli", "weigh", str(config), *words, "--json"]
    return json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def test_the_notebook_of_the_readme(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its lines, ten at most, load, change, weigh, check, draw and sweep, and print numbers that fit together."""
    shutil.copytree(ROOT / "configs", tmp_path / "configs")
    monkeypatch.chdir(tmp_path)
    names: dict = {}
    exec(compile(NOTEBOOK, "README.md", "exec", dont_inherit=True), names)
    assert len([line for line in NOTEBOOK.splitlines() if line]) <= 10
    balance, finding, column = capsys.readouterr().out.splitlines()
    assert re.fullmatch(r"[+-]\d+\.\d g, balance point at station \d+ mm", balance)
    assert finding == names["wider"].findings()[0].message
    with Image.open(tmp_path / "wider.png") as image:
        assert len(image.convert("RGB").resize((80, 60)).getcolors(80 * 60)) > 20
    overturn = json.loads(column)
    assert overturn == sorted(overturn, reverse=True), "a wider track tips over less easily"
    assert names["table"].column("gear.track") == [220.0, 240.0, 260.0]


def test_changed_is_what_the_command_says(config: Path) -> None:
    """Changed step by step or at once, it weighs what `weigh --set` says, to the last digit, weighing log and all."""
    plane = airframe.load(config)
    for made, settings in (
        (plane, ()),
        (plane.with_settings(SPAN), (SPAN,)),
        (plane.with_settings(SPAN, MASS), (SPAN, MASS)),
        (plane.with_settings(SPAN).with_settings(CHORD).with_settings(MASS), (SPAN, CHORD, MASS)),
        (airframe.load(config, [SPAN]).with_settings(MASS), (SPAN, MASS)),
    ):
        said = weighed(config, *settings)
        assert made.mass_g * KG_PER_G == said["mass_kg"]
        assert [value * M_PER_MM for value in made.cg_mm] == said["cg_m"]


def test_one_setting_may_stand_alone(config: Path) -> None:
    """A text is one setting, not a list of letters; what a notebook shows of an aeroplane is its name."""
    alone = airframe.load(config, SPAN)
    assert alone.design == airframe.load(config, [SPAN]).design
    assert repr(alone) == f"<aeroplane {alone.design.name}>"


def test_changing_changes_another_one(config: Path) -> None:
    """The aeroplane that was changed stays as it was; the file is not read again."""
    plane = airframe.load(config)
    before = plane.mass_g
    config.unlink()
    longer = plane.with_settings(SPAN)
    assert (plane.mass_g, longer.design.wing.panels[0].span_mm) == (before, 310.0)
    assert plane.with_settings('wing.panels.0.span="300 mm"').design == plane.design


def test_what_is_wrong_is_told_at_once(config: Path) -> None:
    """Settings that will not do are refused together, before anything is built."""
    with pytest.raises(ConfigError) as caught:
        airframe.load(config).with_settings("wing.panels.0.span=7", 'wing.root_chrd="1 m"')
    assert len(caught.value.problems) == 2


def test_findings_are_those_of_check(config: Path) -> None:
    """Its findings are what `check --json` says, with the same remedies."""
    command = [sys.executable, "-m", "viewers.cli", "check", str(config), "--set", SPAN, "--json"]
    said = json.loads(subprocess.run(command, capture_output=True, text=True, check=False).stdout)["findings"]
    findings = airframe.load(config).with_settings(SPAN).findings()
    assert [(one.code, one.verdict, one.value, one.remedy) for one in findings] == [
        (one["code"], one["verdict"], one["value"], one["remedy"]) for one in said
    ]


def test_a_changed_one_can_be_swept(config: Path) -> None:
    """A sweep starts from what it is given, changes and all: its rows are single runs with both settings."""
    longer = airframe.load(config).with_settings(SPAN)
    table = airframe.sweep(longer, {"wing.root_chord": ["170 mm", "180 mm"]}, measures=["mass"])
    assert table.column("mass")[0] * KG_PER_G == weighed(config, SPAN, CHORD)["mass_kg"]
    assert table.column("mass")[1] == longer.mass_g


def test_one_made_in_memory_has_no_keys(config: Path) -> None:
    """An aeroplane that no config stands behind says so when it is asked to change."""
    with pytest.raises(ValueError, match="made in memory"):
        Plane(airframe.load(config).design).with_settings(SPAN)


def test_a_picture_is_drawn_by_its_ending(config: Path, tmp_path: Path) -> None:
    """A .html is a page to turn, another ending is refused before anything is drawn."""
    plane = airframe.load(config)
    page = picture(plane, tmp_path / "plane.html")
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    with pytest.raises(ValueError, match=r"\.png or \.html"):
        picture(plane, tmp_path / "plane.jpg")


def test_importing_the_package_loads_next_to_nothing() -> None:
    """`import airframe` imports neither numpy nor anything of ours: a notebook asks for what it needs."""
    code = (
        "import sys, airframe; print([name for name in ('numpy', 'pydantic', 'airframe.model') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_what_is_not_there_is_told() -> None:
    """A name that the package has not is an AttributeError, as of any module."""
    with pytest.raises(AttributeError, match="swep"):
        _ = airframe.swep
