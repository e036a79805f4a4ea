"""The command line: what it prints, what it returns, what it loads."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import click
import jsonschema
import pytest
from click.testing import CliRunner, Result

from tests.plane import PLANE
from viewers.cli import CtrlC, cli

HEAVY = ("cadquery", "OCP", "trimesh", "pyvista", "vtkmodules", "scipy", "shapely", "PIL", "jinja2")

NUMBERS = {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}
TENSOR = {"type": "array", "items": NUMBERS, "minItems": 3, "maxItems": 3}
PART = {
    "type": "object",
    "additionalProperties": False,
    "required": ["name", "group", "material", "basis", "mass_kg", "volume_m3", "cg_m", "inertia_kg_m2"],
    "properties": {
        **{key: {"type": "string"} for key in ("name", "group", "material")},
        "basis": {"enum": ["estimated", "calculated", "weighed"]},
        "mass_kg": {"type": "number", "minimum": 0},
        "volume_m3": {"type": ["number", "null"], "exclusiveMinimum": 0},
        "cg_m": NUMBERS,
        "inertia_kg_m2": TENSOR,
    },
}
WEIGH = {
    "type": "object",
    "additionalProperties": False,
    "required": ["name", "mass_kg", "cg_m", "parts", "groups"],
    "properties": {
        "name": {"type": "string"},
        **{key: {"type": "number"} for key in ("mass_kg", "cg_behind_leading_edge_m", "cg_percent_mac")},
        **dict.fromkeys(("cg_m", "principal_inertia_kg_m2", "radii_of_gyration_m"), NUMBERS),
        "inertia_kg_m2": TENSOR,
        "parts": {"type": "array", "items": PART, "minItems": 1},
        "groups": {"type": "object", "additionalProperties": {"required": ["mass_kg", "cg_m"]}},
    },
}

CONFIGS = Path(__file__).parent.parent.parent / "configs"


@pytest.fixture
def config(tmp_path: Path) -> Path:
    """The small plane as a file."""
    path = tmp_path / "plane.toml"
    path.write_text(PLANE, encoding="utf-8")
    return path


@pytest.fixture
def run(cache: Path, monkeypatch: pytest.MonkeyPatch):
    """Runs a command in this process with the tests' own shape cache."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))

    def invoke(*arguments: object) -> Result:
        return CliRunner().invoke(cli, [str(argument) for argument in arguments])

    return invoke


def outside(*arguments: object, cache: Path, code: str | None = None) -> subprocess.CompletedProcess[str]:
    """Runs a command in a process of its own."""
    start = ["-c", code] if code else ["-m", "viewers.cli"]
    environment = {**os.environ, "XDG_CACHE_HOME": str(cache)}
    command = [sys.executable, *start, *(str(argument) for argument in arguments)]
    return subprocess.run(command, capture_output=True, text=True, env=environment, timeout=600, check=False)


# --- documentation ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(cli.commands))
def test_every_command_and_option_is_explained(name: str) -> None:
    """Each command has a help text and a short one, each option a help text."""
    command = cli.commands[name]
    assert command.help and command.short_help and len(command.short_help) < 60
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            assert parameter.help, f"{name} {parameter.opts}"


def test_help_lists_the_commands(run) -> None:
    """The main help names every command with its short text, uncut."""
    result = run("--help")
    assert result.exit_code == 0
    for name, command in cli.commands.items():
        assert name in result.output and str(command.short_help) in result.output


def test_version_is_told(run) -> None:
    """--version prints the package's name and number."""
    assert run("--version").output.startswith("airframe 0.")


# --- results -------------------------------------------------------------------------------------------------


def test_weigh_prints_groups_and_whole(run, config: Path) -> None:
    """The default table has a line a group and the whole; --all has a line a part."""
    short, full = run("weigh", config), run("weigh", config, "--all")
    assert short.exit_code == full.exit_code == 0, short.output
    assert "whole aeroplane" in short.output and "Plane" in short.output
    assert "spare camera" not in short.output and "spare camera" in full.output


def test_an_odd_line_of_the_log_is_pointed_at(run, config: Path) -> None:
    """A slip of the pen, 9 kg of tail, is told by the plain weight statement too."""
    config.write_text(f'{config.read_text()}\n[[weighed]]\nwhat = "tail"\nmass = "9000 g"\n')
    result = run("weigh", config)
    assert result.exit_code == 0
    assert "tail weighs 89" in result.stdout and "Left out of the learning" in result.stdout


def test_a_config_against_itself_and_turned_round(run, config: Path, tmp_path: Path) -> None:
    """The same twice is one line; a redesign given as OLD is noticed on standard error."""
    assert "nothing differs" in run("compare", config, config).stdout
    redesign = tmp_path / "redesign.toml"
    redesign.write_text(f'based_on = "{config.name}"\nname = "Next"\nwing.station = "101 mm"\n')
    assert "is it the redesign?" in run("compare", redesign, config).stderr
    assert run("compare", config, redesign).stderr == ""


def test_a_wrong_swing_leaves_nothing_half_told(run, config: Path) -> None:
    """One message, exit code 2, and not a line of the weight statement before it."""
    row = 'swung = [{axis = "yaw", string_length = "1 m", string_spacing = "9 in", time = "20 s", without = ["kite"]}]'
    config.write_text(f"{row}\n{config.read_text()}")
    result = run("weigh", config, "--sure")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "swung 'yaw', 'kite': no part or group has this name" in result.stderr


def test_weigh_json_is_one_object(run, config: Path) -> None:
    """Nothing but one JSON object of the agreed form is on standard output."""
    result = run("weigh", config, "--json")
    data = json.loads(result.stdout)
    jsonschema.validate(data, WEIGH)
    assert data["name"] == "Plane"
    assert sum(part["mass_kg"] for part in data["parts"]) == pytest.approx(data["mass_kg"], rel=1e-9)


def test_set_changes_the_result(run, config: Path) -> None:
    """A battery 50 g heavier makes the aeroplane 50 g heavier, to the milligram."""
    before = json.loads(run("weigh", config, "--json").stdout)["mass_kg"]
    after = json.loads(run("weigh", config, "--json", "--set", "equipment.battery.mass=140 g").stdout)["mass_kg"]
    assert after - before == pytest.approx(0.050, abs=1e-9)


def test_cache_changes_nothing(run, config: Path) -> None:
    """With and without the cache the numbers are the same to the last digit."""
    warm = run("weigh", config, "--json")
    assert warm.stdout == run("weigh", config, "--json").stdout
    assert json.loads(warm.stdout) == json.loads(run("weigh", config, "--json", "--no-cache").stdout)


def test_schema_is_json(run) -> None:
    """The schema parses and speaks of the wing."""
    assert "wing" in json.loads(run("schema").stdout)["properties"]


def test_new_writes_a_config_once(run, tmp_path: Path) -> None:
    """The starter is written, and never over a file that is there."""
    path = tmp_path / "first.toml"
    assert run("new", path).exit_code == 0
    text = path.read_text("utf-8")
    again = run("new", path)
    assert again.exit_code == 2 and "already there" in again.stderr
    assert path.read_text("utf-8") == text


@pytest.mark.parametrize("name", ["plane.png", "plane.html", "plane.stl", "plane.glb", "plane.step"])
def test_each_kind_of_file_is_written(run, config: Path, tmp_path: Path, name: str) -> None:
    """A picture, a page or an export, by the ending: it begins as its format does."""
    small = ["--size", "640x480"] if name.endswith("png") else []
    command = ["picture", config, *small] if name.endswith(("png", "html")) else ["export", config]
    result = run(*command, "-o", tmp_path / name)
    assert result.exit_code == 0, result.output
    starts = {
        "png": b"\x89PNG",
        "html": b"<!DOCTYPE html>",
        "stl": b"Plane: one mesh",
        "glb": b"glTF",
        "step": b"ISO-10303-21",
    }
    assert (tmp_path / name).read_bytes().startswith(starts[name.split(".")[1]])


def test_study_fills_a_folder(run, config: Path, tmp_path: Path) -> None:
    """Report, model, weights, findings and five pictures; what weigh and check say; code 1 where a check fails."""
    folder = tmp_path / "a" / "study"
    result = run("study", config, "-o", folder, "--json")
    told = json.loads(result.stdout)
    assert result.exit_code == (1 if told["check"]["verdict"] == "fail" else 0), result.output
    files = {path.name for path in folder.iterdir()}
    assert files == {Path(path).name for path in told["files"]}
    assert {"report.html", "model.html", "weights.json", "findings.json", "sheet.png", "side.png"} < files
    assert json.loads((folder / "weights.json").read_text("utf-8")) == told["weigh"]
    assert json.loads((folder / "findings.json").read_text("utf-8")) == told["check"]
    assert json.loads(run("weigh", config, "--json").stdout) == told["weigh"]


def test_check_fails_with_code_1(run) -> None:
    """The prototype that tips over is code 1 with the remedy on screen; its redesign is code 0."""
    result = run("check", CONFIGS / "teasel-mk1.toml")
    assert result.exit_code == 1
    assert "ground.overturn" in result.stdout and "--set 'gear.track=" in result.stdout
    assert run("check", CONFIGS / "teasel-mk2.toml").exit_code == 0


def test_check_json_has_the_agreed_keys(run) -> None:
    """One object: name, worst verdict, and the eight agreed keys of every finding, worst first."""
    told = json.loads(run("check", CONFIGS / "teasel-mk1.toml", "--json").stdout)
    assert set(told) == {"name", "verdict", "findings"}
    assert told["verdict"] == "fail" == told["findings"][0]["verdict"]
    keys = {"code", "verdict", "value", "unit", "limit", "message", "remedy", "source"}
    assert all(keys == set(finding) and len(finding["limit"]) == 2 for finding in told["findings"])


def test_compare_sets_two_configs_side_by_side(run) -> None:
    """The tables name both aeroplanes and what was mended; the JSON form is one object."""
    both = (CONFIGS / "teasel-mk1.toml", CONFIGS / "teasel-mk2.toml")
    result = run("compare", *both)
    assert result.exit_code == 0
    assert "Teasel Mk 1" in result.stdout and "Teasel Mk 2" in result.stdout and "mended" in result.stdout
    assert isinstance(json.loads(run("compare", *both, "--json").stdout), dict)


# --- refusals -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["weigh", "nowhere.toml"], "nowhere.toml"),
        (["picture", "CONFIG", "-o", "plane.html", "--view", "side"], "--view and --size are for a .png"),
        (["weigh", "CONFIG", "--set", "gear.trak=3 mm"], "trak"),
        (["weigh", "CONFIG", "--set", "fuselage.width=92"], "needs a unit"),
        (["picture", "CONFIG", "-o", "plane.gif"], ".png or .html"),
        (["picture", "CONFIG", "-o", "plane.png", "--size", "big"], "1600x1200"),
        (["picture", "CONFIG", "-o", "plane.png", "--size", "10x10"], "320 to 6000"),
        (["export", "CONFIG", "-o", "plane.obj"], ".step"),
        (["export", "CONFIG", "-o", "no/such/folder/plane.stl"], "no folder"),
        (["weigh"], "Missing argument"),
        (["polish"], "No such command"),
    ],
)
def test_bad_input_is_one_message_and_code_2(run, config: Path, tmp_path, monkeypatch, arguments, words) -> None:
    """Exit code 2, the reason on standard error, nothing on standard output, no trace, no new file."""
    monkeypatch.chdir(tmp_path)
    before = set(tmp_path.iterdir())
    result = run(*(config if argument == "CONFIG" else argument for argument in arguments))
    assert result.exit_code == 2
    assert words in result.stderr and result.stdout == ""
    assert "Traceback" not in result.stderr
    assert set(tmp_path.iterdir()) == before


def test_stopping_by_hand_is_quiet(run, config: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C in the middle says one word, returns 130 and leaves no file."""

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("os.fsync", stopped)
    result = run("export", config, "-o", tmp_path / "plane.stl")
    assert result.exit_code == 130 and result.stderr.strip().endswith("stopped")
    assert list(tmp_path.iterdir()) == [config]


def test_stopping_while_a_library_loads_is_quiet(run, config: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever error a library makes of Ctrl-C, it counts as Ctrl-C."""
    pressed = CtrlC()
    monkeypatch.setattr("viewers.cli.CTRL_C", pressed)

    def interrupted(*_: object) -> None:
        with suppress(KeyboardInterrupt):
            pressed(2, None)
        raise TypeError("cannot initialise")

    monkeypatch.setattr("airframe.config.read", interrupted)
    result = run("weigh", config)
    assert result.exit_code == 130 and result.stderr.strip().endswith("stopped")


def test_a_fault_of_ours_is_not_hidden(run, config: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An unexpected error keeps its trace: only what a person can mend becomes a message."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("airframe.config.read", broken)
    assert isinstance(run("weigh", config).exception, ZeroDivisionError)


def test_no_traceback_from_a_real_process(cache: Path, tmp_path: Path) -> None:
    """The same from outside: code 2 and one line on standard error."""
    result = outside("weigh", tmp_path / "absent.toml", cache=cache)
    assert (result.returncode, result.stdout) == (2, "")
    assert result.stderr.startswith("airframe: ") and "Traceback" not in result.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="pipes close differently there")
def test_a_closed_pipe_is_no_error() -> None:
    """When the reader has gone, the command ends without a word."""
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "viewers.cli", "schema"]
    process = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, text=True, check=False)
    os.close(writing)
    assert process.stderr == ""
    assert process.returncode != 0


# --- what is loaded -------------------------------------------------------------------------------------------


def loaded_by(*arguments: object, cache: Path) -> set[str]:
    """Top-level modules in memory when a command ends."""
    code = (
        "import atexit, sys\n"
        "atexit.register(lambda: print('LOADED', *{m.partition('.')[0] for m in sys.modules}, file=sys.stderr))\n"
        "from viewers.cli import main\nmain()"
    )
    result = outside(*arguments, cache=cache, code=code)
    assert result.returncode == 0, result.stderr
    line = next(line for line in result.stderr.splitlines() if line.startswith("LOADED"))
    return set(line.split()[1:])


def test_help_loads_next_to_nothing(cache: Path) -> None:
    """--help needs neither numpy nor pydantic, let alone the CAD kernel."""
    assert not loaded_by("--help", cache=cache) & {*HEAVY, "numpy", "pydantic", "rich"}


def test_a_second_weigh_loads_nothing_heavy(run, config: Path, cache: Path) -> None:
    """With its shapes in the cache, weighing needs no CAD kernel, no mesh library, no pictures; nor when re-weighed."""
    assert run("weigh", config).exit_code == 0
    assert not loaded_by("weigh", config, cache=cache) & set(HEAVY)
    heavier = ("weigh", config, "--json", "--set", "equipment.battery.mass=140 g")
    assert not loaded_by(*heavier, cache=cache) & set(HEAVY)


def test_balance_says_where_each_battery_may_sit(run, tmp_path: Path) -> None:
    """Both batteries of the redesign have their row, the chart is SVG, the JSON form one object."""
    chart = tmp_path / "balance.svg"
    result = run("balance", CONFIGS / "teasel-mk2.toml", "--chart", chart)
    assert result.exit_code == 0, result.output
    assert "2-cell" in result.stdout and "3-cell" in result.stdout and "ballast" in result.stdout
    assert chart.read_text("utf-8").lstrip().startswith("<svg")
    assert isinstance(json.loads(run("balance", CONFIGS / "teasel-mk2.toml", "--json").stdout), dict)


def test_a_chart_is_svg_and_nothing_else(run, config: Path, tmp_path: Path) -> None:
    """Another ending is refused before any work, and no file is left."""
    result = run("balance", config, "--chart", tmp_path / "chart.pdf")
    assert result.exit_code == 2
    assert "must end in .svg" in result.stderr
    assert not (tmp_path / "chart.pdf").exists()


def test_templates_fill_a_folder(run, tmp_path: Path) -> None:
    """A PDF to print, DXF and SVG of every sheet, a shopping list; and the words that tell to measure first."""
    folder = tmp_path / "cut"
    result = run("templates", CONFIGS / "teasel-mk2.toml", "-o", folder, "--seconds", "0.5")
    assert result.exit_code == 0, result.output
    assert "before cutting" in result.stdout
    endings = {path.suffix for path in folder.iterdir()}
    assert endings == {".pdf", ".dxf", ".svg", ".txt"}
    assert (folder / "templates.pdf").read_bytes().startswith(b"%PDF")


def test_flight_tells_its_estimates(run) -> None:
    """Tables name stall, static margin and both batteries, and caution; the JSON form is one object of estimates."""
    result = run("flight", CONFIGS / "teasel-mk2.toml")
    assert result.exit_code == 0, result.output
    for words in ("stall", "static margin", "3-cell", "2-cell", "no clearance to fly"):
        assert words in result.stdout
    told = json.loads(run("flight", CONFIGS / "teasel-mk2.toml", "--json").stdout)
    assert told["is_estimate"] and {"stall_speed_m_s", "static_margin", "modes", "power"} <= set(told)
