"""Saving touches only what was edited, gives the design on the desk, and never overwrites what nobody has seen."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.config import ConfigError, from_dict, read
from airframe.config.keylines import key_lines
from airframe.config.settings import applied
from airframe.config.written import Written
from tests.viewers.bench.desks import CONFIGS, MK1, MK2, PLOVER, STORE, changed, desk, weighed
from viewers.bench.edits import Edits, edit, laid_over, without_idle
from viewers.bench.edits import settings as lines_of
from viewers.bench.fields import Field, Fields
from viewers.bench.refusals import Conflict, Refused
from viewers.bench.saving import edited, reread
from viewers.bench.source import Source, opened
from viewers.weight_json import as_json


@cache
def _source(name: str) -> Source:
    return opened(CONFIGS / name, STORE)


@cache
def _fields(name: str) -> list[Field]:
    filed = _source(name).filed
    groups = Fields(filed, None).groups(filed, filed.design.units)
    return [one for group in groups for one in group["fields"] if one["kind"] != "text"]


def _setting(field: Field, share: float) -> str:
    """A field turned to somewhere on its slider, or to another of its choices."""
    if field["kind"] == "switch":
        return f"{field['key']}={str(not field['value']).lower()}"
    if field["kind"] == "choice":
        return f'{field["key"]}="{field["choices"][int(share * (len(field["choices"]) - 1))]}"'
    value = field["low"] + share * (field["high"] - field["low"])
    return f"{field['key']}={round(value)}" if not field["unit"] else f'{field["key"]}="{value:.3f} {field["unit"]}"'


def _kept_lines(text: str, edits: Edits) -> list[str]:
    """The lines on which no edited key stands, nor the row that an edited key is put into."""
    known, lines = key_lines(text), text.splitlines(keepends=True)
    touched: set[int] = set()
    for one in edits:
        path = tuple(int(key) if key.isdecimal() else key for key in one.keys)
        holder = next((path[:end] for end in range(len(path), 0, -1) if path[:end] in known), None)
        if holder is not None and (holder == path or not lines[known[holder] - 1].startswith("[")):
            row = [line for other, line in known.items() if other[: len(holder)] == holder]
            touched |= {*row, max(row) + (holder != path)}
    return [line for number, line in enumerate(lines, 1) if number not in touched]


def _is_in_order(few: list[str], many: list[str]) -> bool:
    rest = iter(many)
    return all(line in rest for line in few)


@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
@settings(max_examples=12, deadline=None)
@given(ending=st.sampled_from(["\n", "\r\n"]), data=st.data())
def test_any_edit_is_written_and_nothing_else_is_touched(name: str, ending: str, data: st.DataObject) -> None:
    """Read again, the text is the design with the edits; every line without an edited key stays, byte for byte."""
    source = _source(name)
    text = source.text.replace("\n", ending)
    drawn = data.draw(st.lists(st.tuples(st.sampled_from(_fields(name)), st.floats(0.0, 1.0)), min_size=1, max_size=6))
    changes = [edit(_setting(field, share)) for field, share in drawn]
    edits = without_idle(laid_over((), changes), source.filed.design, source.filed.data)
    written, problems = applied(Written(source.loaded.data, {}), lines_of(edits))
    assert not problems
    try:
        design = from_dict(written.data)
    except ConfigError:
        return
    new = edited(text, edits, written.data)
    assert reread(source.path, new, design).design == design
    assert _is_in_order(_kept_lines(text, edits), new.splitlines(keepends=True))
    assert new.count("\n") == new.count(ending)


def test_no_edit_no_change(tmp_path: Path) -> None:
    """Saved as it is, a file stays as it is, to the byte."""
    one = desk(tmp_path, MK1)
    before = (tmp_path / MK1).read_bytes()
    one.save(one.revision)
    assert (tmp_path / MK1).read_bytes() == before


@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
def test_saved_file_weighs_what_the_page_then_shows(tmp_path: Path, name: str) -> None:
    """After saving, the desk is clean and weighs what the command line weighs of the file."""
    one = desk(tmp_path, name)
    changed(one, 'equipment.battery.station="50 mm"', 'gear.track="262 mm"')
    state = one.save(one.revision)
    assert (state["dirty"], state["edits"], state["disk"]) == (False, [], "same")
    assert as_json(one.aeroplane) == as_json(weighed(tmp_path / name))
    assert one.design == read(tmp_path / name).design


def test_inherited_keys_are_written_into_this_file(tmp_path: Path) -> None:
    """A redesign keeps its own file: inherited tables and lists are written there, the prototype's is untouched."""
    one, prototype = desk(tmp_path, MK2), (CONFIGS / MK1).read_bytes()
    changed(one, 'tail.fin.height="140 mm"', 'wing.panels.1.span="230 mm"', 'equipment.battery.station="52 mm"')
    one.save(one.revision)
    text = (tmp_path / MK2).read_text()
    assert '[tail.fin]\nheight = "140 mm"\n' in text
    assert '[wing]\npanels = [\n    { span = "330 mm", dihedral = "0 deg" },\n    { span = "230 mm",' in text
    assert '\n\n[equipment.battery]\nstation = "52 mm"\n\n[[finish]]\n' in text
    assert (tmp_path / MK1).read_bytes() == prototype


def test_a_new_table_stands_before_the_next_heading(tmp_path: Path) -> None:
    """The comment over the next part of the file stays over it."""
    one = desk(tmp_path, MK1)
    changed(one, 'gear.strut.station="140 mm"')
    one.save(one.revision)
    assert (
        'steerable = true\n\n[gear.strut]\nstation = "140 mm"\n\n# --- what is bought' in (tmp_path / MK1).read_text()
    )


@pytest.mark.parametrize("layout", ["dotted", "inline", "apart"])
def test_other_ways_to_lay_out_a_table(layout: str) -> None:
    """Dotted keys, tables on one line and tables written apart take an edit and a new key alike."""
    ways = {
        "dotted": 'wheel.diameter = "60 mm" # bought\nwheel.width = "18 mm"\n',
        "inline": 'wheel = { diameter = "60 mm", width = "18 mm" } # bought\n',
        "apart": '[gear.wheel] # bought\ndiameter = "60 mm"\n\n[other]\n\n[gear.plate]\n',
    }
    text = f'[gear]\ntrack = "130 mm" # wide\n{ways[layout]}'
    edits = (edit('gear.wheel.diameter="64 mm"'), edit('gear.wheel.mass="9 g"'), edit('gear.track="150 mm"'))
    written, _ = applied(Written(_tables(text), {}), lines_of(edits))
    new = edited(text, edits, written.data)
    assert _tables(new) == written.data
    assert "# bought" in new and 'track = "150 mm" # wide\n' in new


def _tables(text: str) -> dict[str, Any]:
    import tomllib

    return tomllib.loads(text)


def test_byte_order_mark_and_missing_last_line_end_stay(tmp_path: Path) -> None:
    """What an editor put before the first letter stays, and what it left out after the last one stays out."""
    one = desk(tmp_path, MK2)
    path = tmp_path / MK2
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().rstrip(b"\n"))
    one.reload(one.revision)
    changed(one, 'gear.track="240 mm"', 'tail.fin.height="140 mm"')
    one.save(one.revision)
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf#:schema") and data.endswith(b'\n[tail.fin]\nheight = "140 mm"')


def test_changed_on_disk_is_not_overwritten(tmp_path: Path) -> None:
    """A file that another program has written is only replaced by someone who says so."""
    one = desk(tmp_path)
    path = tmp_path / MK2
    changed(one, 'gear.track="240 mm"')
    path.write_bytes(path.read_bytes() + b"# mine\n")
    with pytest.raises(Conflict) as refusal:
        one.save(one.revision)
    assert refusal.value.payload["kind"] == "changed on disk"
    assert path.read_bytes().endswith(b"# mine\n") and one.settings == ('gear.track="240 mm"',)
    assert one.save(one.revision, replace=True)["disk"] == "same"
    assert read(path).design.gear.track_mm == 240.0
    path.unlink()
    with pytest.raises(Conflict):
        one.save(one.revision)
    assert not path.exists()


def test_save_under_another_name(tmp_path: Path) -> None:
    """The edits go into a new file beside the first, which stays as it was and is no longer the one on the desk."""
    one, before = desk(tmp_path), (CONFIGS / MK2).read_bytes()
    changed(one, 'gear.track="240 mm"')
    state = one.save(one.revision, "wide.toml")
    assert (state["file"], state["dirty"]) == ("wide.toml", False)
    assert (tmp_path / MK2).read_bytes() == before
    assert read(tmp_path / "wide.toml").design.gear.track_mm == 240.0
    changed(one, 'gear.track="230 mm"')
    with pytest.raises(Conflict) as refusal:
        one.save(one.revision, MK2)
    assert refusal.value.payload["kind"] == "exists"
    assert (tmp_path / MK2).read_bytes() == before


@pytest.mark.parametrize(
    "name", ["../out.toml", "/out.toml", "a/b.toml", "a\\b.toml", ".hidden.toml", "plain", "", MK1, "nul\0.toml"]
)
def test_names_that_will_not_do(tmp_path: Path, name: str) -> None:
    """Only a plain name ending in .toml will do, and not that of what the design is based on."""
    one = desk(tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    with pytest.raises(Refused):
        one.save(one.revision, name, replace=True)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    """A name that is a link to another place is refused."""
    one, outside = desk(tmp_path), tmp_path / "elsewhere"
    outside.write_text("mine")
    (tmp_path / "link.toml").symlink_to(outside)
    with pytest.raises(Refused):
        one.save(one.revision, "link.toml", replace=True)
    assert outside.read_text() == "mine"


def test_a_base_that_changed_is_noticed(tmp_path: Path) -> None:
    """Where the prototype's file has changed meanwhile, saving would give another design: it is refused."""
    one = desk(tmp_path, MK2)
    path, before = tmp_path / MK1, (tmp_path / MK2).read_bytes()
    path.write_text(path.read_text().replace('root_chord = "220 mm"', 'root_chord = "240 mm"'))
    changed(one, 'gear.track="240 mm"')
    with pytest.raises(Refused, match=f"{MK1}.*reload"):
        one.save(one.revision)
    assert (tmp_path / MK2).read_bytes() == before


def test_steps_can_be_taken_back_after_saving(tmp_path: Path) -> None:
    """Undo goes on past a save, to the design as it was, and what is saved then is the file as it was."""
    one, before = desk(tmp_path, MK1), (CONFIGS / MK1).read_bytes()
    first = as_json(one.aeroplane)["parts"]
    changed(one, 'gear.track="240 mm"', words="track")
    changed(one, 'wing.panels.0.span="340 mm"', words="span")
    one.save(one.revision)
    state = one.undo(one.revision)
    assert state["dirty"] and state["redo"] == "span"
    assert (one.design.gear.track_mm, one.design.wing.panels[0].span_mm) == (240.0, 330.0)
    one.undo(one.revision)
    assert one.design == read(CONFIGS / MK1).design
    one.save(one.revision)
    assert (tmp_path / MK1).read_bytes() == before
    assert as_json(one.aeroplane)["parts"] == first
