"""Saved as a redesign, a file states only what changed, and what it comes to is the design on the desk."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from airframe.config import read
from tests.viewers.bench.desks import CONFIGS, MK1, MK2, PLOVER, changed, desk, weighed
from viewers.bench.redesign import file_name, next_name
from viewers.bench.refusals import Conflict, Refused

EDITS = (
    'equipment.battery.station="2 in"',
    'gear.wheel.diameter="64 mm"',
    'fuselage.width="92 mm"',
    'gear.track="10 in"',
    'equipment."servo leads".slack="300 mm"',
    'fuselage.formers.0.rim="12 mm"',
)


def test_only_what_changed_is_stated_as_typed(tmp_path: Path) -> None:
    """Name, base, and each edit in its table in the unit it was typed in; nothing else but the row's own list."""
    one, before = desk(tmp_path, MK1), (CONFIGS / MK1).read_bytes()
    changed(one, *EDITS)
    state = one.save(one.revision, "mine.toml", redesign="  Teasel   wide ")
    tables = tomllib.loads((tmp_path / "mine.toml").read_text())
    formers = tables["fuselage"].pop("formers")
    assert tables == {
        "name": "Teasel wide",
        "based_on": MK1,
        "equipment": {"battery": {"station": "2 in"}, "servo leads": {"slack": "300 mm"}},
        "gear": {"track": "10 in", "wheel": {"diameter": "64 mm"}},
        "fuselage": {"width": "92 mm"},
    }
    assert [row["rim"] for row in formers[:2]] == ["12 mm", "11 mm"]
    assert (state["file"], state["title"], state["based_on"]) == ("mine.toml", "Teasel wide", MK1)
    assert (state["dirty"], state["disk"], state["remarks"]) == (False, "same", [])
    assert (tmp_path / MK1).read_bytes() == before


def test_tables_stand_together_each_under_one_heading(tmp_path: Path) -> None:
    """However the edits came, a table's own keys stand under its heading before those of the tables in it."""
    one = desk(tmp_path, MK1)
    changed(one, *EDITS)
    one.save(one.revision, "mine.toml", redesign="Mine")
    lines = (tmp_path / "mine.toml").read_text().splitlines()
    headings = ["[equipment.battery]", '[equipment."servo leads"]', "[gear]", "[gear.wheel]", "[fuselage]"]
    assert [line for line in lines if line.startswith("[")] == headings
    assert lines[lines.index("[gear]") - 1 : lines.index("[gear]") + 2] == ["", "[gear]", 'track = "10 in"']


@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
def test_it_is_the_design_on_the_desk(tmp_path: Path, name: str) -> None:
    """The file read again is the edited design under its new name, without the old one's log, and weighs as shown."""
    one = desk(tmp_path, name)
    changed(one, 'equipment.battery.station="50 mm"', 'gear.track="262 mm"')
    expected = one.design.model_copy(update={"name": "Another", "weighed": (), "swung": ()})
    one.save(one.revision, "another.toml", redesign="Another")
    assert read(tmp_path / "another.toml").design == expected == one.design
    assert one.aeroplane.statement.whole.mass == weighed(tmp_path / "another.toml").statement.whole.mass


def test_undo_goes_back_past_it_within_the_redesign(tmp_path: Path) -> None:
    """Steps taken before are taken back over the redesign: it then flies as its base does, under its own name."""
    one = desk(tmp_path, MK1)
    changed(one, 'gear.track="10 in"')
    one.save(one.revision, "mine.toml", redesign="Mine")
    one.undo(one.revision)
    assert one.design.gear == read(tmp_path / MK1).design.gear
    assert one.design.name == "Mine"


def test_a_weighed_aeroplane_is_better_redesigned(tmp_path: Path) -> None:
    """Edits of one with a weighing log bring a remark and the next free name; those of another bring none."""
    one = desk(tmp_path, MK1)
    assert one.state()["remarks"] == []
    state = changed(one, 'gear.track="10 in"')
    assert len(state["remarks"]) == 1
    assert state["redesign"] == {"name": "Teasel Mk 3", "file": "teasel-mk3.toml"}  # the demo has a Mk 2 beside it
    assert changed(desk(tmp_path, MK2), 'gear.track="10 in"')["remarks"] == []


@pytest.mark.parametrize(
    ("file", "name"),
    [(MK1, "Mine"), (None, "Mine"), ("mine.toml", "  "), ("mine.toml", "x" * 81), ("a/b.toml", "Mine")],
)
def test_what_will_not_do(tmp_path: Path, file: str | None, name: str) -> None:
    """No redesign takes the place of its base, goes without a name, or into another folder."""
    one = desk(tmp_path, MK1)
    changed(one, 'gear.track="10 in"')
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    with pytest.raises(Refused):
        one.save(one.revision, file, replace=True, redesign=name)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_neither_an_existing_file_nor_a_changed_base(tmp_path: Path) -> None:
    """A file that is there is asked about; over a base that another program changed nothing is stated."""
    one = desk(tmp_path, MK1)
    changed(one, 'gear.track="10 in"')
    with pytest.raises(Conflict):
        one.save(one.revision, MK2, redesign="Mine")
    path = tmp_path / MK1
    path.write_bytes(path.read_bytes() + b"# mine\n")
    with pytest.raises(Refused, match="reload"):
        one.save(one.revision, "mine.toml", redesign="Mine")
    assert not (tmp_path / "mine.toml").exists()


@pytest.mark.parametrize(
    ("name", "after", "file"),
    [
        ("Teasel Mk 1", "Teasel Mk 2", "teasel-mk2.toml"),
        ("Teasel mk9", "Teasel mk10", "teasel-mk10.toml"),
        ("Plover", "Plover Mk 2", "plover-mk2.toml"),
        ("Größe 3", "Größe 3 Mk 2", "gr-e-3-mk2.toml"),
        ("鷹", "鷹 Mk 2", "mk2.toml"),
    ],
)
def test_names_that_follow(name: str, after: str, file: str) -> None:
    """Marks are counted on; any other name gets its second mark, and a file name that every system takes."""
    assert next_name(name) == after
    assert file_name(after) == file
