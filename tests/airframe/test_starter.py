"""The starter is a complete, explained config, and is written only where nothing is."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from airframe.checks import flight
from airframe.config import from_text, load
from airframe.model import Aeroplane
from airframe.starter import starter_text, write_starter
from airframe.writing import WriteError
from tests.overlaps import overlaps

OVERLAP_MM3 = 20.0
"""A cube of under 3 mm: what wires and edges may share where a drawing leaves out a notch."""


def test_the_starter_is_a_valid_design() -> None:
    """It loads as it stands: a small slow flyer of 0.9 to 0.92 m span under its own name."""
    design = from_text(starter_text())
    assert design.name == "First Light"
    assert 900 <= 2 * sum(panel.span_mm for panel in design.wing.panels) <= 920
    assert design.equipment.keys() >= {"motor", "propeller", "battery", "receiver"}


@pytest.mark.parametrize("name", ["Sky 2", 'Quote " and \\ back', "Æble\u007f\n", "\\1 \\g<0>"])
def test_any_name(name: str) -> None:
    """The aeroplane gets the name it is given, whatever is in it, and nothing else changes."""
    renamed, original = tomllib.loads(starter_text(name)), tomllib.loads(starter_text())
    assert renamed == original | {"name": name}


def test_every_key_is_explained() -> None:
    """The first time a key stands in a table, a comment says what it means."""
    table, seen, silent = "", set(), []
    for line in starter_text().splitlines():
        if header := re.match(r"\[+([^]]*)\]+", line):
            table = header[1].split(".")[0]
        key = re.match(r"([a-z_]+) = ", line)
        if key and (table, key[1]) not in seen and "#" not in line:
            silent.append(line)
        seen |= {(table, key[1])} if key else set()
    assert silent == []


def test_units_are_explained_before_the_first_key() -> None:
    """A builder meets every unit's spelling at the top."""
    top = starter_text().split("\nname = ")[0]
    assert top.startswith("#:schema ./airframe.schema.json\n")
    assert all(unit in top for unit in ("mm", "in", "ft", "oz", "lb", "deg", "%", "g/m^2", "kg/m^3", "g/m"))


def test_it_is_written_under_the_name_of_the_file(tmp_path: Path) -> None:
    """The file "marsh_hawk-2.toml" holds the aeroplane Marsh Hawk 2, ready to load."""
    write_starter(tmp_path / "marsh_hawk-2.toml")
    assert load(tmp_path / "marsh_hawk-2.toml").name == "Marsh Hawk 2"
    assert [path.name for path in tmp_path.iterdir()] == ["marsh_hawk-2.toml"]


def test_nothing_is_replaced_and_no_folder_is_made(tmp_path: Path) -> None:
    """A file that is there stays as it is; a missing folder is said to be missing."""
    (tmp_path / "mine.toml").write_text("precious")
    with pytest.raises(WriteError, match="already there"):
        write_starter(tmp_path / "mine.toml")
    with pytest.raises(WriteError, match="there is no folder"):
        write_starter(tmp_path / "nowhere" / "mine.toml")
    assert (tmp_path / "mine.toml").read_text() == "precious"
    assert [path.name for path in tmp_path.iterdir()] == ["mine.toml"]


def test_the_starter_can_be_built_and_balances() -> None:
    """Sixty parts or more that do not stand into one another, a foam-board flyer's mass, a safe balance point.

    The balance point between 25 and 35 % of the mean chord: common practice, no source. The mass: a small
    foam-board slow flyer with all its gear is some 12 oz (340 g) without its battery, common practice, no
    source; "in that neighbourhood" is taken as 280 to 420 g.
    """
    plane = Aeroplane(from_text(starter_text()))
    assert len(plane.parts) >= 60
    assert overlaps(plane.parts, more_than_mm3=OVERLAP_MM3) == {}
    battery = next(entry.body.mass for entry in plane.statement.entries if entry.part.name == "battery")
    assert 280 <= plane.statement.whole.mass - battery <= 420
    assert 0.25 <= plane.cg_share_of_mean_chord <= 0.35
    assert abs(plane.cg_mm[1]) < 1.0


def test_what_it_does_not_state_is_there_to_be_uncommented() -> None:
    """With its commented keys stated, nothing of the flight estimates is missing any more, and nothing fails."""
    stated = re.sub(r"^# (?=(kv|capacity|kind|torque|arm) = )", "", starter_text(), flags=re.MULTILINE)
    for text, missing in ((starter_text(), {"flight.power", "flight.servos"}), (stated, set())):
        found = flight.findings(Aeroplane(from_text(text)))
        assert {one.code for one in found if "not estimated" in one.message} == missing
        assert not [one.code for one in found if one.verdict == "fail"]
