"""A config is read whole: the design it states, or every problem at once, each at its place."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from airframe.config import ConfigError, dependencies, from_dict, from_text, load, read
from airframe.schema.equipment import Battery, Item

PLANE = """\
name = "Plane"
gear = { arrangement = "none" }
[fuselage]
width = "60 mm"
stations = [
    { station = "0 mm", top = "30 mm", bottom = "-30 mm" },
    { station = "600 mm", top = "20 mm", bottom = "-10 mm" },
]

[wing]
root_chord = "180 mm"
station = "120 mm"
panels = [
    { span = "300 mm" },
    { span = "150 mm", dihedral = "10 deg" },
]

[wing.spar]
width = "5 mm"

[tail.stabiliser]
span = "300 mm"
root_chord = "80 mm"
station = "500 mm"
[tail.elevator]
root_chord = "40 mm"
[tail.fin]
height = "120 mm"
root_chord = "90 mm"
station = "480 mm"
[tail.rudder]
root_chord = "50 mm"

[equipment.battery]
kind = "battery"
mass = "90 g"
size = ["60 mm", "30 mm", "20 mm"]
station = "40 mm"
water_line = "-20 mm"

[equipment."spare camera"]
mass = "40 g"
size = ["30 mm", "30 mm", "30 mm"]
station = "200 mm"

[[weighed]]
what = "wing"
mass = "100 g"
"""


def said(text: str, *set_values: str) -> list[str]:
    """What is said of the text added to a plane (or of the plane with settings): a line for each problem."""
    with pytest.raises(ConfigError) as caught:
        from_text(PLANE + text, set_values, "c.toml")
    assert str(caught.value).splitlines() == [str(problem) for problem in caught.value.problems]
    return str(caught.value).splitlines()


def swapped(old: str, new: str, base: str = PLANE) -> str:
    """The only problem of the plane with one piece of its text swapped, on the swapped line."""
    assert base.count(old) == 1
    with pytest.raises(ConfigError) as caught:
        from_text(base.replace(old, new), name="c.toml")
    (problem,) = caught.value.problems
    assert problem.line is None or problem.line >= 1
    return str(problem)


def test_a_design_in_internal_units() -> None:
    """Lengths become millimetres, masses grams, angles radians; defaults are read as typed ones are."""
    design = from_text(PLANE)
    assert design.fuselage.width_mm == 60.0
    assert design.wing.panels[1].dihedral_rad == pytest.approx(0.17453292519943295)  # pi / 18
    assert design.wing.camber_share == pytest.approx(0.06)
    assert design.gear.arrangement == "none"
    assert isinstance(design.equipment["battery"], Battery)
    assert isinstance(design.equipment["spare camera"], Item)


# --- wording: (old text, new text, what is said) -----------------------------------------------------------

WORDINGS = [
    ('"60 mm"\n', "92\n", 'c.toml:4: fuselage.width = 92: needs a unit (mm, cm, m, in, ft), e.g. "92 mm"'),
    (
        'width = "60 mm"\n',
        'width = "60 mm"\ntrak = 1\n',
        "c.toml:5: fuselage.trak = 1: no such key (keys here: material, width,",
    ),
    (
        'width = "60 mm"\n',
        'width = "60 mm"\nWidth = "9 mm"\n',
        "c.toml:5: fuselage.Width = \"9 mm\": no such key; did you mean 'width'?",
    ),
    ('name = "Plane"', "", 'c.toml: name: is missing: what the aeroplane is called in every result; e.g. name = "..."'),
    ('name = "Plane"', 'name = ""', 'c.toml:1: name = "": must not be empty'),
    ('name = "Plane"', "name = 7", 'c.toml:1: name = 7: must be text in quotes, e.g. "7"'),
    ('name = "Plane"', "name = 2031-04-12", 'name = 2031-04-12: must be text in quotes, e.g. "2031-04-12"'),
    ('name = "Plane"', 'name = "Plane"\nmesh_angle = "x"', 'mesh_angle = "x": must be a number, without quotes'),
    ('name = "Plane"', 'name = "Plane"\nmesh_angle = 2', "mesh_angle = 2: must be at most 0.5"),
    ('name = "Plane"', 'name = "Plane"\nunits = "metrik"', "\"imperial\"; did you mean 'metric'?"),
    ('name = "Plane"', 'name = "Plane"\nbase_on = "x"', "base_on = \"x\": no such key; did you mean 'based_on'?"),
    ('name = "Plane"', 'name = "Plane"\nglue = 3', "c.toml:2: glue = 3: must be a table with keys such as foam_joint"),
    ('name = "Plane"', 'name = "Plane"\nequipment2 = 3', "no such key; did you mean 'equipment'?"),
    ('name = "Plane"', 'name = "Plane"\nfinish = 3', "finish = 3: must be a list, [ ... ]"),
    ('root_chord = "180 mm"\n', "", "c.toml:10: wing.root_chord: is missing: on the centre plane; e.g. root_chord ="),
    ('{ span = "300 mm" }', "{ }", "c.toml:14: wing.panels.0.span: is missing: along the panel, not its shadow"),
    ('{ span = "300 mm" }', '{ span = "-3 mm" }', 'c.toml:14: wing.panels.0.span = "-3 mm": must be more than 0'),
    ('{ span = "300 mm" }', "7", "c.toml:14: wing.panels.0 = 7: must be a table with keys such as span, tip_chord"),
    ('[wing]\n', '[wing]\ncamber = "120 %"\n', 'wing.camber = "120 %": must be at most 100 %'),
    ('[wing]\n', '[wing]\ncamber = 0.06\n', 'wing.camber = 0.06: needs a unit (%), e.g. "6 %"'),
    ('[wing]\n', "[wing]\nscores = 0\n", "wing.scores = 0: must be at least 1"),
    ('[wing]\n', "[wing]\nscores = 2.5\n", "wing.scores = 2.5: must be a whole number, without quotes"),
    ('[wing]\n', '[wing]\ncentre_ribs = "perhaps"\n', "must be true or false, without quotes"),
    ('[wing]\n', '[wing]\nrib_positions = "3 mm"\n', 'must be a list, e.g. ["84 mm"]'),
    ('[wing]\n', '[wing]\nrib_positions = ["600 mm"]\n', "wing: a rib lies beyond the half span of 450 mm: 600 mm"),
    ('[wing.spar]\n', "[wing.spar]\nwidht = 1\n", "c.toml:19: wing.spar.widht = 1: no such key; did you mean 'width'?"),
    ('"60 mm", "30 mm", "20 mm"', '"60 mm", "30 mm"', "has too few values: length (fore and aft), width, height"),
    ('"60 mm", "30 mm", "20 mm"', '"1 mm", "1 mm", "1 mm", "1 mm"', "must have 3 values, not 4"),
    ('kind = "battery"', 'kind = "batery"', "there is no such kind of item; must be \"box\", \"cylinder\""),
    ('kind = "battery"', 'kind = "batery"', "; did you mean 'battery'?"),
    ('mass = "90 g"\n', "", "equipment.battery: give mass and size, or a table of options"),
    ('mass = "40 g"\n', 'mass = "40 g"\npitch = 1\n', 'no such key in a box; kind = "propeller" has it'),
    ('mass = "40 g"\n', 'mass = "40 cm"\n', '"spare camera".mass = "40 cm": "cm" is a unit of length; a mass'),
    ('[wing.spar]\n', '[wing.spar]\nmaterial = "pruce"\n', "a solid is needed; did you mean 'spruce'?"),
    (
        '[wing.spar]\n',
        '[wing.spar]\nmaterial = "foam board 5 mm"\n',
        "this is a sheet; a material of kind solid is needed",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "says"), WORDINGS)
def test_wordings(old: str, new: str, says: str) -> None:
    """Each kind of mistake has words of its own, and none of the validating library's."""
    message = swapped(old, new)
    assert says in message
    for foreign in ("Input should", "pydantic", "Value error", "_mm", "Field required", "validation error"):
        assert foreign not in message


def test_all_problems_at_once_in_the_order_of_the_file() -> None:
    """Mistakes of every stage, in different tables, are told in one go, line by line."""
    lines = said(
        '\n[stock]\nsheet_lenth = "250 mm"\n[materials.mine]\nkind = "sheat"\nsource = "x"\n'
        '[glue]\nfoam_joint = "sprcue"\n',
        "wing.panels.0.span=3",
        "wing.panels.9.span=3 mm",
        "nonsense",
    )
    starts = [
        "c.toml:51: stock.sheet_lenth = \"250 mm\": no such key; did you mean 'sheet_length'?",
        'c.toml:53: materials.mine.kind = "sheat": must be "sheet"',
        'c.toml:56: glue.foam_joint = "sprcue": there is no such material; a line is needed (hot glue bead',
        "--set wing.panels.9.span=3 mm: wing.panels is a list and has rows 0 to 1; there is no 9",
        '--set nonsense: must be KEY=VALUE, e.g. gear.track="240 mm"',
        "--set wing.panels.0.span=3: needs a unit (mm, cm, m, in, ft)",
    ]
    for start in starts:
        assert sum(line.startswith(start.split(" (keys")[0].split(" (hot")[0]) for line in lines) == 1, lines
    numbers = [int(line.split(":")[1]) for line in lines if line.startswith("c.toml:")]
    assert numbers == sorted(numbers)


def test_own_materials_count() -> None:
    """A material of the design's own may be named, must fit in kind, and may replace a built-in one."""
    own = '\n[materials.card]\nkind = "sheet"\nthickness = "1 mm"\nareal_weight = "700 g/m^2"\nsource = "weighed"\n'
    design = from_text(PLANE + own, ["wing.material=card"])
    assert design.material("card").areal_weight_g_m2 == pytest.approx(700)
    assert "this is a sheet; a material of kind solid is needed" in said(own, "wing.spar.material=card")[0]
    replaced = own.replace("card", '"hot glue bead"')
    assert "glue" in said(replaced)[0]
    assert "this is a sheet; a material of kind line is needed" in said(replaced)[0]


# --- redesigns -----------------------------------------------------------------------------------------------


def write(folder: Path, **texts: str) -> Path:
    """Files named after the keywords; the path of the first."""
    for name, text in texts.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder / f"{next(iter(texts))}.toml"


def test_a_redesign_states_only_what_changes(tmp_path: Path) -> None:
    """Keys merge at every depth, lists replace, and the rest is the base's, through a chain of three."""
    path = write(
        tmp_path,
        mk3='based_on = "mk2.toml"\n[wing.spar]\nheight = "4 mm"\n',
        mk2='based_on = "mk1.toml"\nname = "Two"\n[wing]\npanels = [{ span = "400 mm" }]\nspar.width = "7 mm"\n',
        mk1=PLANE,
    )
    loaded = read(path)
    spar = loaded.design.wing.spar
    assert spar is not None
    assert (spar.width_mm, spar.height_mm) == (7.0, 4.0)
    assert [panel.span_mm for panel in loaded.design.wing.panels] == [400.0]
    assert loaded.design.name == "Two"
    assert loaded.design.fuselage == from_text(PLANE).fuselage
    assert loaded.files == dependencies(path) == (path, tmp_path / "mk2.toml", tmp_path / "mk1.toml")
    assert "based_on" not in loaded.data


def test_a_redesign_equals_the_whole_file(tmp_path: Path) -> None:
    """A redesign that changes one key gives the very design that the edited base gives."""
    path = write(
        tmp_path,
        new='based_on = "old.toml"\n[fuselage]\nwidth = "92 mm"\n[[weighed]]\nwhat = "wing"\nmass = "100 g"\n',
        old=PLANE,
    )
    assert load(path) == from_text(PLANE.replace('"60 mm"\n', '"92 mm"\n'))


def test_the_weighing_log_is_not_inherited(tmp_path: Path) -> None:
    """What was weighed was the other aeroplane."""
    assert len(load(write(tmp_path, old=PLANE)).weighed) == 1
    assert load(write(tmp_path, new='based_on = "old.toml"')).weighed == ()


def test_a_changed_kind_replaces_the_item(tmp_path: Path) -> None:
    """A battery that becomes a box keeps nothing of the battery; the same kind merges."""
    box = '{ kind = "box", mass = "70 g", size = ["1 cm", "2 cm", "3 cm"], station = "9 mm" }'
    path = write(tmp_path, new=f'based_on = "old.toml"\nequipment.battery = {box}', old=PLANE)
    assert load(path).equipment["battery"].mass_g == 70.0  # type: ignore[union-attr]
    same = write(tmp_path, new='based_on = "old.toml"\nequipment.battery = { kind = "battery", mass = "70 g" }')
    battery = load(same).equipment["battery"]
    assert isinstance(battery, Battery)
    assert (battery.mass_g, battery.station_mm) == (70.0, 40.0)


def test_none_takes_away(tmp_path: Path) -> None:
    """What may be left out can be left out again, though a base or a default has it; nothing else can."""
    path = write(tmp_path, new='based_on = "old.toml"\n[wing]\nspar = "none"\njoint_tape = "none"\n', old=PLANE)
    assert load(path).wing.spar is None
    assert load(path).wing.joint_tape is None
    assert load(path, ["wing.spar={width='8 mm'}"]).wing.spar is not None
    with pytest.raises(ConfigError, match="--set wing=none: must be a table"):
        load(path, ["wing=none"])


def test_problems_are_placed_in_the_file_that_has_them(tmp_path: Path) -> None:
    """A mistake in the base is told with the base's line, one in the redesign with its own."""
    path = write(
        tmp_path,
        new='based_on = "old.toml"\n[wing]\n\npanels = [{ span = 3 }]\n[equipment.battery]\nmass = "9 mm"\n',
        old=PLANE.replace('"60 mm"\n', "60\n").replace('"90 g"', "7"),
    )
    with pytest.raises(ConfigError) as caught:
        load(path)
    assert [(Path(p.file).name, p.line, p.key) for p in caught.value.problems] == [
        ("new.toml", 4, "wing.panels.0.span"),
        ("new.toml", 6, "equipment.battery.mass"),
        ("old.toml", 4, "fuselage.width"),
    ]


def test_a_circle_is_refused_with_the_chain(tmp_path: Path) -> None:
    """Files based on each other are named in turn, in one message at the key that closes the circle."""
    path = write(tmp_path, a='based_on = "b.toml"', b='\nbased_on = "./a.toml"')
    with pytest.raises(ConfigError, match=r"b\.toml:2: based_on = .*circle: \S*a\.toml -> \S*b\.toml -> \S*a\.toml$"):
        load(path)
    with pytest.raises(ConfigError, match="circle"):
        dependencies(path)
    with pytest.raises(ConfigError, match="circle"):
        load(write(tmp_path, me='based_on = "me.toml"'))


@pytest.mark.parametrize("value", ["3", '""', "[]", '"nowhere/x.toml"', '"ab.toml"', '"."'])
def test_a_base_that_is_no_file(tmp_path: Path, value: str) -> None:
    """The message stands at the key and says what is wrong with the name."""
    path = write(tmp_path, a=f"# one\nbased_on = {value}", abc=PLANE)
    with pytest.raises(ConfigError, match=r"a\.toml:2: based_on") as caught:
        load(path)
    assert len(caught.value.problems) == 1
    if value == '"ab.toml"':
        assert "did you mean" in str(caught.value)


def test_only_files_are_based_on_files() -> None:
    """A text has no folder to look in."""
    with pytest.raises(ConfigError, match="only a file can be based on another"):
        from_text('based_on = "x.toml"\n' + PLANE)


# --- files that are none -----------------------------------------------------------------------------------


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """A missing file, a folder, a device, a binary, a huge file: one clear message each."""
    (tmp_path / "plane.toml").write_bytes(PLANE.encode())
    (tmp_path / "latin.toml").write_bytes('# one\nname = "Pl\xe4ne"'.encode("latin-1"))
    (tmp_path / "wide.toml").write_bytes(PLANE.encode("utf-16"))
    (tmp_path / "huge.toml").write_bytes(b"#" * 1_000_001)
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "knot.toml").symlink_to("knot.toml")
    cases = {
        "plan.toml": r"there is no such file; did you mean '.*plane\.toml'\?",
        "plane": r"there is no such file; did you mean '.*plane\.toml'\?",
        "zzz": "there is no such file$",
        "nowhere/plane.toml": "there is no folder",
        ".": "this is a folder",
        "plane.toml/x": "there is no folder",
        "latin.toml": r"this is not UTF-8 text \(line 2\)",
        "wide.toml": "this is not UTF-8 text",
        "huge.toml": "larger than 1 MB",
        "pipe.toml": "this is not a file of text",
        "knot.toml": "there is no such file|cannot be read",
        "a\0b": "there is no such file",
        "x" * 300: "cannot be read: file name too long",
    }
    for name, says in cases.items():
        with pytest.raises(ConfigError, match=says) as caught:
            load(tmp_path / name)
        assert len(caught.value.problems) == 1
        with pytest.raises(ConfigError, match=says):
            dependencies(tmp_path / name)


def test_a_file_without_permission(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the system refuses is told in the system's words."""
    path = write(tmp_path, a=PLANE)

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(ConfigError, match=r"a\.toml: cannot be read: permission denied"):
        load(path)


def test_a_byte_order_mark_and_windows_lines(tmp_path: Path) -> None:
    """Files from other editors read the same, and line numbers stay right."""
    path = tmp_path / "a.toml"
    path.write_bytes(b"\xef\xbb\xbf" + PLANE.replace("\n", "\r\n").encode())
    assert load(path) == from_text(PLANE)
    path.write_bytes(b"\xef\xbb\xbf" + PLANE.replace('"60 mm"\n', "60\n").replace("\n", "\r\n").encode())
    with pytest.raises(ConfigError, match=r"a\.toml:4: fuselage\.width = 60"):
        load(path)


@pytest.mark.parametrize(
    ("text", "place", "says"),
    [
        ("a = 1\nwidth = 92 mm\n", "c.toml:2: column 12", "needs quotes"),
        ("a = 1\nb\n", "c.toml:2: column 2", "followed by ="),
        ('a = "x\nb = 1', "c.toml:1: column 7", "the quote is not closed on its line"),
        ("a = 1\n\na = 2\n", "c.toml:3", "has been given before"),
        ("[a]\n[b]\n[a]\n", "c.toml:3", "has been opened before"),
        ("a = [1,\n\n", "c.toml:", "column"),
        ("= 3", "c.toml:1: column 1", "neither key = value nor a [table]"),
        ('a = "C:\\x"', "c.toml:1", "backslash"),
        ("a = 2031-13-01", "c.toml:1", "column"),
        ("a = " + "9" * 5000, "c.toml:", "column"),
        ("a = " + "[" * 100_000, "c.toml", "nested too deeply"),
        (".".join("a" * 5000) + " = 1", "c.toml", "nested too deeply"),
        ("a = " + "[" * 20 + "]" * 20, "c.toml", "nested too deeply"),
    ],
)
def test_text_that_is_no_toml(text: str, place: str, says: str) -> None:
    """The first place where it is not TOML: line, column, the line itself with a mark, and plain words."""
    with pytest.raises(ConfigError) as caught:
        from_text(text, name="c.toml")
    assert str(caught.value).startswith(place)
    assert says in str(caught.value)
    assert len(str(caught.value)) < 500


def test_the_mark_points_at_the_column() -> None:
    """The line is shown as it stands, and the mark is under the first letter that is too much."""
    with pytest.raises(ConfigError) as caught:
        from_text("\nwidth\t= 92 mm\n", name="c.toml")
    assert str(caught.value).splitlines()[1:] == ["    width = 92 mm", "               ^"]


# --- settings ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("setting", "get", "expected"),
    [
        ("gear.track=240 mm", lambda d: d.gear.track_mm, 240.0),
        ('gear.track="240 mm"', lambda d: d.gear.track_mm, 240.0),
        (" gear . track = 240 mm ", lambda d: d.gear.track_mm, 240.0),
        ("gear.arrangement=none", lambda d: d.gear.arrangement, "none"),
        ("wing.panels.1.span=3/4 in", lambda d: d.wing.panels[1].span_mm, 19.05),
        ("wing.panels=[{span='100 mm'}]", lambda d: len(d.wing.panels), 1),
        ("equipment.spare camera.mass=9 g", lambda d: d.equipment["spare camera"].mass_g, 9.0),
        ("equipment.\"spare camera\".fitted=false", lambda d: d.equipment["spare camera"].fitted, False),
        ("equipment.'spare camera'.station=9 mm", lambda d: d.equipment["spare camera"].station_mm, 9.0),
        ("wing.scores=5", lambda d: d.wing.scores, 5),
        ("mesh_angle=0.1", lambda d: d.mesh_angle_rad, 0.1),
        ("name=a = b", lambda d: d.name, "a = b"),
        ("name=x\nunits='imperial'", lambda d: (d.name, d.units), ("x\nunits='imperial'", "metric")),
        ("wing.spar=none", lambda d: d.wing.spar, None),
    ],
)  # fmt: skip
def test_settings(setting: str, get: Any, expected: object) -> None:
    """A setting arrives as typed, with or without the quotes that the shell takes away."""
    assert get(from_text(PLANE, [setting])) == expected


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        ("gear.track=250", 'gear.track=250: needs a unit (mm, cm, m, in, ft), e.g. "250 mm"'),
        ("gear.trak=250 mm", "gear.trak=250 mm: no such key; did you mean 'track'?"),
        ("gear.track=", 'gear.track=: is not a length; write a number and a unit, e.g. "84 mm"'),
        ("gear.track", "must be KEY=VALUE"),
        ("=3", "must be KEY=VALUE"),
        ("a..b=3", "must be KEY=VALUE"),
        ("", "must be KEY=VALUE"),
        ("based_on=x.toml", "based_on can only be written in the file"),
        ("name.x=3", 'name is "Plane", not a table'),
        ("wing.panels.2.span=3 mm", "wing.panels is a list and has rows 0 to 1; there is no 2"),
        ("wing.panels.-1.span=3 mm", "there is no -1"),
        ("wing.panels.first=3 mm", "there is no first"),
        ("fuselage.formers.0.name=x", "fuselage.formers: must be a list, [ ... ]"),
        ("wing.material=oak", "there is no such material"),
        ("a.b.c.d.e.f.g.h.i.j.k.l.m.n=1", "nested too deeply"),
        ("name=" + "[" * 9999, "name="),
        ("name=" + "[" * 15 + "]" * 15, "nested too deeply"),
        ("x.y=1", "--set x.y=1: x: no such key"),
    ],
)
def test_settings_refused(setting: str, says: str) -> None:
    """The message begins with the setting and says what is wrong with it."""
    lines = said("", setting) if not setting.startswith("name=[[[[[[[[[[[[[[[[[[[[[") else ["--set name="]
    assert len(lines) == 1
    assert lines[0].startswith("--set")
    assert says in lines[0]


def test_a_setting_changes_nothing_else() -> None:
    """Tables given by a Python user are left as they were."""
    data = tomllib.loads(PLANE)
    changed = from_dict(data, ["wing.panels.0.span=1 m", "gear.arrangement=none"])
    assert data == tomllib.loads(PLANE)
    assert changed.wing.panels[0].span_mm == 1000.0
    assert from_dict(data) == from_text(PLANE)


def test_later_settings_win() -> None:
    """Settings are applied in turn."""
    assert from_text(PLANE, ["name=a", "name=b"]).name == "b"


# --- whatever is thrown at it -----------------------------------------------------------------------------

JUNK = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=5), st.dates(), st.just("none")),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)
PATHS = st.sampled_from(
    ("name", "units", "mesh_angle", "wing", "wing.panels", "wing.panels.0", "wing.panels.0.span", "wing.scores")
    + ("wing.spar.material", "fuselage.stations", "tail.elevator", "gear", "glue.foam_joint", "materials", "finish")
    + ("weighed", "equipment", "equipment.battery", "equipment.battery.kind", "equipment.battery.size")
)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.tuples(PATHS, JUNK), min_size=1, max_size=3))
def test_any_junk_is_a_design_or_a_config_error(changes: list[tuple[str, Any]]) -> None:
    """Whatever stands in a place, the answer is a design or a list of problems in our own words."""
    data: Any = tomllib.loads(PLANE)
    for path, junk in changes:
        *way, last = [int(part) if part.isdigit() else part for part in path.split(".")]
        holder = data
        try:
            for step in way:
                holder = holder[step]
            holder[last] = junk
        except (TypeError, KeyError, IndexError):
            continue
    try:
        from_dict(data)
    except ConfigError as error:
        assert error.problems
        assert "Input should" not in str(error)
        assert "pydantic" not in str(error)


@given(st.text(max_size=60))
def test_any_text_is_a_config_error(text: str) -> None:
    """No text whatever gets through as a traceback."""
    with pytest.raises(ConfigError):
        from_text(text)


def test_reading_imports_nothing_heavy() -> None:
    """A process that only reads a config has loaded no CAD kernel, no mesh library, no screen, no oracle."""
    heavy = ("cadquery", "OCP", "trimesh", "pyvista", "vtk", "vtkmodules", "scipy", "shapely", "pint")
    code = f"import sys, airframe.config, airframe.starter; print([m for m in {heavy!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
