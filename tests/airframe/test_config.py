"""A config is read from its files: merged, placed, or refused with the reason."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from airframe.config import ConfigError, dependencies, from_text, load, read
from airframe.schema.equipment import Battery, Item
from tests.plane import PLANE


def test_a_design_in_internal_units() -> None:
    """Lengths become millimetres, masses grams, angles radians; defaults are read as typed ones are."""
    design = from_text(PLANE)
    assert design.fuselage.width_mm == 60.0
    assert design.wing.panels[1].dihedral_rad == pytest.approx(0.17453292519943295)  # pi / 18
    assert design.wing.camber_share == pytest.approx(0.06)
    assert design.gear.arrangement == "none"
    assert isinstance(design.equipment["battery"], Battery)
    assert isinstance(design.equipment["spare camera"], Item)


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


def test_an_item_that_changes_its_kind_is_said_to_keep_nothing(tmp_path: Path) -> None:
    """What must be stated again comes first, at the item's line; a new item is not said to change."""
    box = '[equipment.tail_servo]\nmass = "9 g"\nsize = ["1 cm", "2 cm", "3 cm"]\nstation = "90 mm"\n'
    write(tmp_path, old=f"{PLANE}\n{box}")
    new = write(tmp_path, new='based_on = "old.toml"\n[equipment.tail_servo]\nkind = "servo"\narm = "12 mm"\n')
    with pytest.raises(ConfigError) as error:
        load(new)
    first = error.value.problems[0]
    assert (first.line, first.key) == (2, "equipment.tail_servo")
    assert first.message == "changes its kind, so nothing of the old item is kept: state mass, size, station again"
    other = write(tmp_path, new='based_on = "old.toml"\n[equipment.rudder_servo]\nkind = "servo"\n')
    with pytest.raises(ConfigError) as error:
        load(other)
    assert "changes its kind" not in str(error.value)


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
        "nope.toml": "there is no such file$",
        "-": "there is no such file$",
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
