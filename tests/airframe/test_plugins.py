"""Parts, checks and materials from outside: README's own plug-in, word for word, and what can be wrong with one."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from math import pi
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from airframe import plugins
from airframe.checks import whole
from airframe.checks.pairs import PairCache
from airframe.config import ConfigError, from_dict
from airframe.drawing import PartError
from airframe.materials import MATERIALS, solid
from airframe.model import Aeroplane
from airframe.plugins import PluginError
from tests.designs import plain, plain_data
from tests.plane import PLANE

ROOT = Path(__file__).parent.parent.parent
SAMPLES = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
SKID = next(sample for sample in SAMPLES if "add_part" in sample)
EXTRA = """
[extra.skid]
station = "450 mm"
"""
SKID_G = pi / 4.0 * 3.0**2 * 80.0 * 1.6e-3
"""A rod 3 mm thick and 80 mm long of 1.6 g/cm^3; its mesh has flats, which take less than 0.1 % off."""


@pytest.fixture(autouse=True)
def registry(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing added yet, and nothing left behind."""
    monkeypatch.setattr(plugins.registry, "current", plugins.registry.Registry())
    monkeypatch.setenv(plugins.MODULES, "")


@pytest.fixture
def skid(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """README's plug-in, imported."""
    module = ModuleType("my_skid")
    monkeypatch.setitem(sys.modules, "my_skid", module)
    run(SKID, module)
    return module


def run(text: str, module: ModuleType) -> None:
    """Run the text of a module, as importing it does."""
    exec(compile(text, f"{module.__name__}.py", "exec", dont_inherit=True), module.__dict__)


def aeroplane(**more: Any) -> Aeroplane:
    """The plain design with more in it."""
    return Aeroplane(plain(**more))


def own(**keys: Any) -> dict[str, Any]:
    """[extra.skid] with these keys."""
    return {"skid": {"station": "450 mm", **keys}}


def of_it(made: Aeroplane) -> list[float]:
    """The masses of the plug-in's parts."""
    return [entry.mass_g for entry in made.statement.entries if entry.part.name == "grass skid"]


# --- in this process ------------------------------------------------------------------------------------------


def test_a_part_is_weighed_like_any_other(skid: ModuleType) -> None:
    """A rod from outside weighs its volume times its material's density, and only where the config asks for it."""
    with_it, without = aeroplane(extra=own()), aeroplane()
    assert of_it(with_it) == [pytest.approx(SKID_G, rel=1e-3)]
    assert of_it(without) == []
    assert with_it.statement.whole.mass == pytest.approx(without.statement.whole.mass + of_it(with_it)[0], rel=1e-12)
    entry = next(one for one in with_it.statement.entries if one.part.name == "grass skid")
    assert entry.part.place.origin[0] == 450.0


def test_its_table_takes_units_and_defaults(skid: ModuleType) -> None:
    """Keys of the plug-in's table are read as all others: in inches, and twice the length weighs twice."""
    longer = aeroplane(extra=own(length="160 mm"))
    assert of_it(longer)[0] == pytest.approx(2.0 * SKID_G, rel=1e-3)
    assert of_it(aeroplane(extra=own(diameter="0.25 in")))[0] == pytest.approx(SKID_G * (6.35 / 3.0) ** 2, rel=1e-3)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"length": 80}, "extra.skid.length: "),
        ({"length": "80 g"}, "extra.skid.length: "),
        ({"length": "-80 mm"}, "extra.skid.length: must be more than 0"),
        ({"lenght": "80 mm"}, "extra.skid.lenght: no such key; did you mean 'length'?"),
        ({"station": None}, "extra.skid.station: "),
        ({"material": "carbn"}, "extra.skid.material: there is no material carbn; a solid is needed"),
        (
            {"material": "packing tape"},
            "extra.skid.material: packing tape is a film; a material of kind solid is needed",
        ),
    ],
)
def test_what_is_wrong_in_its_table_is_told_by_key(skid: ModuleType, keys: dict[str, Any], said: str) -> None:
    """A wrong value, unit, key or material in the plug-in's table is told in our words, with the key in front."""
    with pytest.raises(PartError) as caught:
        _ = aeroplane(extra=own(**keys)).parts
    assert str(caught.value).startswith(said)


def test_a_missing_key_is_told(skid: ModuleType) -> None:
    """A key without a default that is left out is told with what it means."""
    with pytest.raises(PartError, match=r"^extra\.skid\.station: is missing"):
        _ = aeroplane(extra={"skid": {}}).parts


def test_a_free_table_is_a_table(skid: ModuleType) -> None:
    """Under [extra] there are tables by name, and nothing else."""
    with pytest.raises(ConfigError, match=r"extra\.skid"):
        from_dict({**plain_data(), "extra": {"skid": 7}})


def test_a_material_is_known_everywhere(skid: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """A material from outside may be named wherever one of its kind may; without the plug-in it is unknown."""
    data = plain_data()
    data["wing"]["spar"] = {"width": "5 mm", "material": "carbon rod"}
    assert MATERIALS["carbon rod"].source == "1.6 g/cm^3, from memory"
    assert from_dict(data).material("carbon rod") is skid.carbon
    monkeypatch.setattr(plugins.registry, "current", plugins.registry.Registry())
    assert "carbon rod" not in MATERIALS
    with pytest.raises(ConfigError, match=r"wing\.spar\.material"):
        from_dict(data)


def test_a_check_is_asked_with_the_others(skid: ModuleType) -> None:
    """A finding from outside stands among ours, with its verdict by its limit; a sweep can ask for it by its code."""
    from airframe.sweep.measures import measure

    short = aeroplane(extra=own(length="50 mm"))
    found = {finding.code: finding for finding in whole.run(short)}
    assert (found["skid.length"].verdict, found["skid.length"].value) == ("fail", 50.0)
    assert measure("skid.length", short).of(short) == 50.0
    assert "skid.length" not in {finding.code for finding in whole.run(aeroplane())}


def test_names_of_parts_stay_unique() -> None:
    """A part from outside with the name of one of ours is refused, and the message says whose it is."""
    plugins.add_part(lambda layout: [aeroplane_without(layout)], "double")

    def aeroplane_without(layout: Any) -> Any:
        from airframe.parts import tail

        return tail.parts(layout)[0]

    with pytest.raises(
        PartError, match=r"two parts have this name, both in group 'tail'; one is of the plug-in double"
    ):
        _ = aeroplane().parts


@pytest.mark.parametrize(
    ("family", "said"),
    [
        (lambda layout: 1 / 0, "plug-in mine (tests.airframe.test_plugins): ZeroDivisionError: division by zero"),
        (lambda layout: None, "plug-in mine (tests.airframe.test_plugins): TypeError"),
        (lambda layout: ["a rod"], "plug-in mine (tests.airframe.test_plugins): must give a list of Parts"),
    ],
)
def test_a_fault_in_a_family_names_it(family: Any, said: str) -> None:
    """Whatever goes wrong in a part family from outside is told with its name and where it is from."""
    plugins.add_part(family, "mine")
    with pytest.raises(PartError) as caught:
        _ = aeroplane().parts
    assert str(caught.value).startswith(said)


@pytest.mark.parametrize(
    ("findings", "said"),
    [
        (lambda plane: 1 / 0, "ZeroDivisionError"),
        (lambda plane: ["odd"], "list of Findings"),
        (lambda plane: [None], "list of Findings, not one with None"),
    ],
)
def test_a_fault_in_a_check_names_it(findings: Any, said: str) -> None:
    """Whatever goes wrong in a check from outside is told with its name."""
    plugins.add_check("mine", findings)
    check = dict(whole.checks(PairCache()))["mine"]
    with pytest.raises(PartError, match=rf"plug-in mine .*{said}"):
        check(aeroplane())


def test_a_group_must_be_one_of_ours(skid: ModuleType) -> None:
    """A part in a group that the weight statement has not is refused, with the groups there are."""
    from dataclasses import replace

    plugins.add_part(lambda layout: [replace(part, name="odd", group="skids") for part in skid.skid(layout)], "odd")
    with pytest.raises(PartError, match=r"odd: plug-in odd .*there is no group 'skids'; it must be one of wing, tail"):
        _ = aeroplane(extra=own()).parts


@pytest.mark.parametrize(
    ("material", "said"),
    [
        (solid("balsa", "wood", 200.0, "ours"), "a built-in material has this name"),
        ("balsa", "is not an airframe.materials.Material"),
    ],
)
def test_a_material_must_be_one_and_new(material: Any, said: str) -> None:
    """What is no material, or has the name of one of ours, is refused: nobody's balsa changes its weight unseen."""
    plugins.add_material(material)
    with pytest.raises(PluginError, match=said):
        _ = MATERIALS["spruce"]


def test_adding_again_replaces_ones_own_only(skid: ModuleType) -> None:
    """A module may be run twice; another module may not take its name."""
    run(SKID.replace("80 mm", "90 mm"), skid)
    assert of_it(aeroplane(extra=own()))[0] == pytest.approx(SKID_G * 90.0 / 80.0, rel=1e-3)
    other = ModuleType("other_skid")
    with pytest.raises(PluginError, match=r"my_skid has added one of the same name"):
        run(SKID, other)


# --- in other processes ---------------------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A project with a design that has a skid, and the plug-in beside it."""
    (tmp_path / "my_skid.py").write_text(SKID, encoding="utf-8")
    (tmp_path / "plane.toml").write_text(PLANE.split("[[weighed]]")[0] + EXTRA, encoding="utf-8")
    return tmp_path


def installed(folder: Path, text: str = SKID) -> None:
    """The plug-in as an installed package has it: entry points, and a module that nobody names."""
    (folder / "my_skid.py").write_text(text, encoding="utf-8")
    info = folder / "my_skid-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: my-skid\nVersion: 1.0\n")
    points = {
        "parts": "skid = my_skid:skid",
        "checks": "grass = my_skid:skid_is_long_enough",
        "materials": "c = my_skid:carbon",
    }
    (info / "entry_points.txt").write_text("\n".join(f"[airframe.{kind}]\n{point}" for kind, point in points.items()))


def command(folder: Path, *words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """A command in the folder, with the folder where Python looks."""
    start = [sys.executable, *words] if words[0] == "-c" else [sys.executable, "-m", "viewers.cli", *words]
    known = {**os.environ, "PYTHONPATH": f"{folder}{os.pathsep}{ROOT}", **environment}
    return subprocess.run(start, capture_output=True, text=True, cwd=folder, env=known, timeout=300, check=False)


@pytest.mark.parametrize("way", ["named", "installed", "without decorators"])
def test_the_command_line_sees_it(folder: Path, way: str) -> None:
    """Named in the environment, or by an installed package's entry points, its part and material are there."""
    environment = {plugins.MODULES: "my_skid"} if way == "named" else {}
    if way != "named":
        plain = SKID.replace("@plugins.add_part\n", "").replace('@plugins.add_check("grass skid")\n', "")
        installed(folder, SKID if way == "installed" else plain.replace("plugins.add_material", ""))
    weighed = command(folder, "weigh", "plane.toml", "--json", **environment)
    assert weighed.returncode == 0, weighed.stderr
    (part,) = [part for part in json.loads(weighed.stdout)["parts"] if part["name"] == "grass skid"]
    assert 1000.0 * part["mass_kg"] == pytest.approx(SKID_G, rel=1e-3)
    assert part["material"] == "carbon rod"
    schema = command(folder, "schema", **environment)
    assert '"carbon rod"' in schema.stdout


def test_check_tells_its_finding(folder: Path) -> None:
    """`check` has the plug-in's finding among ours."""
    installed(folder)
    done = command(folder, "check", "plane.toml", "--set", 'extra.skid.length="50 mm"', "--json")
    (found,) = [one for one in json.loads(done.stdout)["findings"] if one["code"] == "skid.length"]
    assert (found["verdict"], found["value"], found["unit"]) == ("fail", 50.0, "mm")


def test_without_it_nothing_is_there(folder: Path) -> None:
    """Without the plug-in its table is only kept: nothing is weighed that nobody draws, and a note says so."""
    weighed = command(folder, "weigh", "plane.toml", "--json")
    assert "grass skid" not in weighed.stdout and weighed.returncode == 0
    assert "no plug-in is loaded that could read [extra.skid]" in weighed.stderr
    named = command(folder, "weigh", "plane.toml", **{plugins.MODULES: "my_skid"})
    assert named.returncode == 0 and "note:" not in named.stderr


def test_one_that_cannot_be_loaded_is_told(folder: Path) -> None:
    """A plug-in that is not there, or breaks, gives one message with its name and exit code 2; help needs none."""
    absent = command(folder, "weigh", "plane.toml", **{plugins.MODULES: "absent_skid"})
    assert absent.returncode == 2
    assert absent.stderr.startswith(
        "airframe: plug-in absent_skid (named in AIRFRAME_PLUGINS) cannot be loaded: ModuleNotFound"
    )
    installed(folder, "raise RuntimeError('broken')")
    broken = command(folder, "weigh", "plane.toml")
    assert (broken.returncode, "Traceback" in broken.stderr) == (2, False)
    assert "(package my-skid) cannot be loaded: RuntimeError: broken" in broken.stderr
    assert command(folder, "--help").returncode == command(folder, "--version").returncode == 0


def test_all_that_cannot_be_loaded_is_told_at_once(folder: Path) -> None:
    """A module that is absent, one that exits, one that breaks in two lines and a file's name: a line for each."""
    (folder / "leaves.py").write_text("raise SystemExit(3)\n")
    (folder / "breaks.py").write_text("raise RuntimeError('one\\ntwo')\n")
    named = {plugins.MODULES: "absent_skid,leaves,breaks,./my_skid.py,my_skid"}
    done = command(folder, "weigh", "plane.toml", **named)
    assert (done.returncode, done.stdout) == (2, "")
    absent, leaves, breaks, file = done.stderr.splitlines()
    assert absent.startswith("airframe: plug-in absent_skid") and "PYTHONPATH=FOLDER" in absent
    assert leaves.endswith("cannot be loaded: SystemExit: 3")
    assert breaks.endswith("cannot be loaded: RuntimeError: one two")
    assert (
        file
        == "plug-in ./my_skid.py (named in AIRFRAME_PLUGINS) is no module's name; write my_skid for a file my_skid.py"
    )


def test_what_a_plug_in_prints_stays_out_of_the_results(folder: Path) -> None:
    """A module that greets whoever imports it does so on standard error, and the JSON object stays alone."""
    (folder / "greets.py").write_text("print('hello')\n")
    done = command(folder, "weigh", "plane.toml", "--json", **{plugins.MODULES: "greets"})
    assert json.loads(done.stdout)["mass_kg"] > 0.0 and done.stderr.startswith("hello\nnote: Plane: no plug-in")


def test_a_check_without_a_name_is_refused() -> None:
    """`@add_check` without its brackets would add nothing and say nothing."""

    def my_rule(aeroplane: Aeroplane) -> list[Any]:
        return []

    with pytest.raises(PluginError, match=r'my_rule: a check needs a name first, add_check\("my_rule", ...\)'):
        plugins.add_check(my_rule)  # type: ignore[arg-type]


SWEEP = """
import airframe, {module}
if __name__ == "__main__":
    keys = {{"extra.skid.length": ["50 mm", "60 mm", "70 mm", "80 mm"]}}
    table = airframe.sweep("plane.toml", keys, measures=["mass", "skid.length"], workers={workers})
    print([row.message for row in table.rows if row.message])
    print(table.column("mass"))
"""


def test_workers_of_a_sweep_have_it_too(folder: Path) -> None:
    """A sweep over the plug-in's own key gives the same masses to the last digit by one process and by two."""
    one, two = (command(folder, "-c", SWEEP.format(module="my_skid", workers=n)) for n in (1, 2))
    assert one.returncode == 0, one.stderr
    assert one.stdout == two.stdout
    said, masses = one.stdout.splitlines()
    assert said == "[]"
    grown = [b - a for a, b in zip(json.loads(masses), json.loads(masses)[1:], strict=False)]
    assert grown == pytest.approx([SKID_G / 8.0] * 3, rel=1e-3)


def test_one_of_a_prompt_stays_in_its_process(folder: Path) -> None:
    """What was added at a prompt no worker can have: asked for two, a sweep refuses; left to itself, it takes none."""
    alone, several = (command(folder, "-c", SKID + SWEEP.format(module="os", workers=n)) for n in (None, 2))
    assert alone.returncode == 0, alone.stderr
    assert alone.stdout.startswith("[]\n[")
    assert several.returncode == 1
    assert "PluginError: plug-in carbon rod was added in a notebook or at a prompt" in several.stderr
