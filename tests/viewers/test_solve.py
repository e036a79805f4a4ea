"""The commands solve and sensitivity: what they print, write and return."""

from __future__ import annotations

import json
from math import inf
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image

import airframe
from airframe.solve.keys import Key
from airframe.sweep.quantities import Unit
from airframe.units import LENGTH
from tests.plane import PLANE
from viewers.cli import cli
from viewers.solve_tables import about

CAMERA = 'equipment."spare camera".mass'
CAMERA_G = 40.0


@pytest.fixture
def config(tmp_path: Path) -> Path:
    """The small plane as a file."""
    path = tmp_path / "plane.toml"
    path.write_text(PLANE, encoding="utf-8")
    return path


def _run(*words: str | Path) -> Result:
    return CliRunner().invoke(cli, [str(word) for word in words])


def _mass_g(config: Path) -> float:
    return airframe.load(config).statement.whole.mass


def test_solve_prints_a_setting_and_writes_a_redesign(config: Path, tmp_path: Path) -> None:
    """The camera that the mass leaves room for, to the gram below; the file is the design with it."""
    limit, output = _mass_g(config) - 5.5, tmp_path / "lighter.toml"
    result = _run("solve", config, CAMERA, "--for", f"mass <= {limit:.9f} g", "-o", output)
    assert result.exit_code == 0
    assert f'--set {CAMERA}="34 g"' in result.stdout
    assert "34 g, now 40 g" in result.stdout
    assert airframe.load(output).design.equipment["spare camera"].mass_g == 34.0


def test_solve_without_an_answer_exits_with_one_and_says_why(config: Path, tmp_path: Path) -> None:
    """Which condition stands in the way, and how near it comes; no file is written."""
    output = tmp_path / "never.toml"
    result = _run("solve", config, CAMERA, "--for", "mass <= 10 g", "-o", output)
    assert result.exit_code == 1
    assert "There is no answer: no value of" in result.stdout
    assert "In the way: mass <= 10 g." in result.stdout
    assert not output.exists()


@pytest.mark.parametrize(("value_mm", "said"), [(0.0013, "0.0013 mm"), (1e-7, "0 mm"), (-214.3456, "-214.3 mm")])
def test_a_place_is_told_without_powers_of_ten(value_mm: float, said: str) -> None:
    """A search ends where it ends, a hair beside nought too."""
    key = Key("wing.station", ("wing", "station"), Unit("mm"), LENGTH, False, 0.0, -inf, inf)
    assert about(key, value_mm, "metric") == said


def test_what_holds_already_is_told(config: Path) -> None:
    """Nothing need change, and that is no failure."""
    result = _run("solve", config, CAMERA, "--for", "mass <= 10 kg")
    assert result.exit_code == 0
    assert "It holds already" in result.stdout


def test_solve_never_writes_over_a_file(config: Path) -> None:
    """Refused before anything is built, and the file is as it was."""
    result = _run("solve", config, CAMERA, "--for", "mass <= 10 g", "-o", config)
    assert result.exit_code == 2
    assert "already there" in result.stderr
    assert config.read_text(encoding="utf-8") == PLANE


def test_solve_as_json_is_in_si_units(config: Path) -> None:
    """One object with the answer in kilograms and its --set line."""
    result = _run("solve", config, CAMERA, "--for", f"mass <= {_mass_g(config) - 5.5:.9f} g", "--json")
    told = json.loads(result.stdout)
    assert told["answer"]["setting"] == f'{CAMERA}="34 g"'
    assert told["answer"]["value"] == pytest.approx(0.034, rel=1e-12)
    assert told["unit"] == "kg"
    assert told["turns_at"] == pytest.approx((CAMERA_G - 5.5) / 1000.0, abs=1e-5)
    assert told["answer"]["conditions"][0]["value"] <= told["now"]["conditions"][0]["value"] - 0.0055


def test_minimise_over_two_keys(config: Path) -> None:
    """Both items at the lightest of their ranges, as two --set lines."""
    keys = (f"{CAMERA}=30 g:50 g", "equipment.battery.mass=80 g:100 g")
    result = _run("solve", config, *keys, "--minimise", "mass")
    assert result.exit_code == 0
    assert f'--set {CAMERA}="30 g"' in result.stdout
    assert '--set equipment.battery.mass="80 g"' in result.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((CAMERA,), "say what to solve for"),
        ((CAMERA, "gear.track", "--for", "mass <= 1 g"), "one key"),
        ((CAMERA, "--for", "mass <= 1 g", "--minimise", "mass"), "say what to solve for"),
        ((CAMERA, "--minimise", "mas"), "did you mean 'mass'"),
        (("equipment.camera.mass", "--for", "mass <= 1 g"), "there is no equipment.camera in this design"),
        ((CAMERA, "--for", "mass"), "must be CODE <= VALUE"),
        ((CAMERA, "--for", "mass <= 1 g", "--between", "1 mm", "2 mm"), "is a unit of length"),
    ],
)
def test_bad_input_is_one_message_and_exit_code_two(config: Path, words: tuple[str, ...], said: str) -> None:
    """On standard error, nothing on standard output."""
    result = _run("solve", config, *words)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


def test_sensitivity_ranks_and_draws(config: Path, tmp_path: Path) -> None:
    """The greatest first with its sign, a chart with more than paper on it."""
    picture = tmp_path / "slopes.png"
    keys = "equipment.battery.station,equipment.battery.mass," + CAMERA
    result = _run("sensitivity", config, "--of", "mass,cg.station", "--keys", keys, "--chart", picture)
    assert result.exit_code == 0
    assert "What moves cg.station most" in result.stdout
    assert "+1.00" in result.stdout
    with Image.open(picture) as drawn:
        assert len(drawn.convert("RGB").getcolors(1_000_000) or []) > 10


def test_sensitivity_as_json_is_in_si_units(config: Path) -> None:
    """A gram moves the mass by a thousandth of a kilogram; a gram is named beside it."""
    result = _run("sensitivity", config, "--of", "mass", "--keys", CAMERA, "--json")
    (slope,) = json.loads(result.stdout)["slopes"]
    assert (slope["key"], slope["for"], slope["unit"]) == (CAMERA, "1 g", "kg")
    assert slope["change"] == pytest.approx(0.001, rel=1e-9)


def test_sensitivity_shares_its_work_and_tells_how_far_it_is(config: Path) -> None:
    """Two workers print what one does; who watches is told after every few variants, to the last."""
    words = ("sensitivity", config, "--of", "ground.overturn", "--keys", "gear.track,gear.height", "--json")
    watched = CliRunner(env={"AIRFRAME_PROGRESS": "lines"})
    alone, shared = (watched.invoke(cli, [str(word) for word in (*words, "--workers", n)]) for n in (1, 2))
    assert shared.exit_code == 0
    assert shared.stdout == alone.stdout
    assert "progress: 9 of 9 variants" in shared.stderr


def test_a_chart_that_cannot_be_written_is_refused(config: Path, tmp_path: Path) -> None:
    """Before anything is built, with all that is wrong with its name; a folder of that name is seen too."""
    result = _run("sensitivity", config, "--chart", tmp_path / "absent" / "slopes.gif")
    assert result.exit_code == 2
    assert ".png or .svg" in result.stderr and f"there is no folder {tmp_path / 'absent'}" in result.stderr
    (tmp_path / "slopes.png").mkdir()
    assert "it is a folder" in _run("sensitivity", config, "--chart", tmp_path / "slopes.png").stderr
