"""What two configs say differently."""

from __future__ import annotations

from typing import Any

import pytest

from airframe.compare.dimensions import Change, changes, written
from tests.designs import plain_data


def _changed(**tables: Any) -> dict[str, Change]:
    """Changes by key after tables are merged into the plain design's."""
    new = plain_data()
    for name, table in tables.items():
        new[name] = {**new[name], **table} if isinstance(new.get(name), dict) else table
    return {change.key: change for change in changes(plain_data(), new)}


def test_equal_configs_do_not_differ() -> None:
    """A config has no difference from itself."""
    assert changes(plain_data(), plain_data()) == ()


def test_a_changed_length_keeps_both_texts() -> None:
    """Old and new text stand as they were written, the difference is in mm."""
    (change,) = _changed(fuselage={"width": "92 mm"}).values()
    assert (change.key, change.kind) == ("fuselage.width", "changed")
    assert change.old is not None and change.old.words == "70 mm"
    assert change.new is not None and change.new.words == "92 mm"
    assert change.dimension is not None and change.dimension.name == "length"
    assert change.difference == (22.0,)


@pytest.mark.parametrize(("text", "same"), [("200 mm", True), ("20 cm", True), ("7 7/8 in", False)])
def test_one_length_in_other_units_is_no_change(text: str, same: bool) -> None:
    """20 cm are 200 mm; 7 7/8 in are 200.025 mm."""
    assert (not _changed(wing={"root_chord": text})) is same


def test_stating_a_default_is_no_change() -> None:
    """Values are compared as they count: wing.scores is 7 and wing.camber 6 % where nothing is written."""
    assert _changed(wing={"scores": 7, "camber": "6 %"}) == {}


def test_a_default_left_behind_is_a_change() -> None:
    """The default stands as the old text and is marked as not stated."""
    (change,) = _changed(wing={"camber": "8 %"}).values()
    assert change.old is not None and change.new is not None
    assert (change.old.words, change.old.is_stated) == ("6 %", False)
    assert (change.new.words, change.new.is_stated) == ("8 %", True)
    assert change.difference == (pytest.approx(0.02),)


def test_a_default_deep_inside_an_absent_table_is_compared() -> None:
    """A table that may be left out counts with its defaults: stating one of them changes nothing."""
    assert _changed(limits={"fit": {"gap": "1 mm"}}) == {}
    assert list(_changed(limits={"fit": {"gap": "2 mm"}})) == ["limits.fit.gap"]


def test_rows_go_by_name() -> None:
    """A named row that moves down the list is the same row; a new one is one change."""
    former = {"name": "F1", "station": "100 mm"}
    old, new = plain_data(), plain_data()
    old["fuselage"]["formers"] = [former]
    new["fuselage"]["formers"] = [{"name": "F0", "station": "50 mm"}, former | {"station": "104 mm"}]
    found = {change.key: change for change in changes(old, new)}
    assert list(found) == ["fuselage.formers[F0]", "fuselage.formers[F1].station"]
    assert found["fuselage.formers[F0]"].kind == "added"
    assert found["fuselage.formers[F1].station"].difference == (4.0,)


def test_rows_without_a_name_go_by_number() -> None:
    """The key is then the one that a setting takes."""
    found = _changed(wing={"panels": [{"span": "450 mm"}, {"span": "80 mm", "tip_chord": "150 mm"}]})
    assert [(key, change.kind) for key, change in found.items()] == [("wing.panels.1", "added")]
    assert list(_changed(wing={"panels": [{"span": "455 mm"}]})) == ["wing.panels.0.span"]


def test_an_item_added_and_removed() -> None:
    """A whole item of equipment is one change, in the direction in which it happened."""
    old, new = plain_data(), plain_data()
    new["equipment"] = {"camera": {"mass": "96 g", "size": ["40 mm", "78 mm", "50 mm"], "station": "212 mm"}}
    (come,), (gone,) = changes(old, new), changes(new, old)
    assert (come.key, come.kind) == ("equipment.camera", "added")
    assert come.new is not None and "size = 40 mm, 78 mm, 50 mm" in come.new.words
    assert (gone.key, gone.kind) == ("equipment.camera", "removed")


def test_the_word_none_is_nothing() -> None:
    """A spar left out by the word "none" is removed."""
    old, new = plain_data(), plain_data()
    old["wing"]["spar"] = {"width": "6 mm"}
    new["wing"]["spar"] = "none"
    assert [(change.key, change.kind) for change in changes(old, new)] == [("wing.spar", "removed")]


def test_a_size_changes_as_one_value() -> None:
    """The three sides of a box are one line with three differences, in whatever unit each is written."""
    box = {"mass": "96 g", "size": ["40 mm", "2 in", "50 mm"], "station": "212 mm"}
    old, new = plain_data(), plain_data()
    old["equipment"] = {"camera": box}
    new["equipment"] = {"camera": box | {"size": ["40 mm", "50.8 mm", "46 mm"]}}
    (change,) = changes(old, new)
    assert change.key == "equipment.camera.size"
    assert change.difference == pytest.approx((0.0, 0.0, -4.0))


def test_the_logs_of_one_specimen_are_no_dimensions() -> None:
    """What was weighed and swung is learned from, also by a redesign whose own file has no log: nothing is removed."""
    new = plain_data()
    row = {"axis": "yaw", "string_length": "1 m", "string_spacing": "30 cm", "time": "20 s"}
    old = new | {"weighed": [{"what": "wing", "mass": "90 g"}], "swung": [row]}
    assert changes(old, new) == ()


def test_a_name_is_never_taken_for_a_quantity() -> None:
    """Only a key that holds a quantity is read as one: a material called "3 mm" is a word."""
    old, new = plain_data(), plain_data()
    own = {"kind": "sheet", "thickness": "3 mm", "density": "160 kg/m^3", "source": "weighed"}
    old["materials"] = new["materials"] = {"3 mm": own, "5 mm": own}
    old["wing"]["material"], new["wing"]["material"] = "3 mm", "5 mm"
    (change,) = changes(old, new)
    assert (change.dimension, change.difference) == (None, ())


def test_values_are_written_in_one_line() -> None:
    """Tables, lists and points are set in a line without quotes."""
    assert written({"a": "1 mm", "b": [["1 mm", "2 mm"], ["3 mm", "4 mm"]], "c": True, "d": 2.0, "e": []}) == (
        "{a = 1 mm, b = 1 mm, 2 mm; 3 mm, 4 mm, c = true, d = 2, e = none}"
    )
