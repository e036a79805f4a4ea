"""The desk weighs what the command line weighs, keeps its revisions, and steps back and forth."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.viewers.bench.desks import MK1, MK2, PLOVER, changed, desk, field, number, weighed
from viewers.bench.refusals import Refused, StaleRevision
from viewers.weight_json import as_json

EDITS = {
    MK1: ('equipment.battery.station="52 mm"', 'gear.track="240 mm"', 'wing.root_chord="225 mm"'),
    MK2: ('fuselage.width="96 mm"', 'equipment.camera.station="208 mm"', "equipment.camera.fitted=false"),
    PLOVER: ('wing.panels.0.dihedral="5 deg"', 'equipment.battery.mass="90 g"', 'gear.wheel.diameter="58 mm"'),
}


@pytest.mark.parametrize("name", EDITS)
def test_weighs_as_set_does(tmp_path: Path, name: str) -> None:
    """Whatever is edited, every part, sum and tensor is what weigh --set says, to the last digit."""
    one = desk(tmp_path, name)
    assert as_json(one.aeroplane) == as_json(weighed(tmp_path / name))
    for count in range(1, 4):
        changed(one, EDITS[name][count - 1])
        told = as_json(weighed(tmp_path / name, *EDITS[name][:count]))
        assert as_json(one.aeroplane) == told
        state = one.state()
        assert number(state, "mass")["value"] == told["mass_kg"]
        assert number(state, "balance")["value"] == told["cg_behind_leading_edge_m"]
        assert number(state, "balance-share")["value"] == told["cg_percent_mac"]
        assert number(state, "inertia-yaw")["value"] == told["inertia_kg_m2"][2][2]


def test_state_is_json(tmp_path: Path) -> None:
    """A full state goes through JSON unchanged, with no number that JSON does not have."""
    state = desk(tmp_path, MK2, MK1).state("imperial")
    assert json.loads(json.dumps(state, allow_nan=False)) == json.loads(json.dumps(state))


def test_edit_back_to_the_filed_value_is_none(tmp_path: Path) -> None:
    """Setting a key to what the file says, in whatever unit, leaves no edit."""
    one = desk(tmp_path)
    assert changed(one, 'fuselage.width="90 mm"')["dirty"]
    for same in ("92 mm", "9.2 cm", "92.0 mm"):
        changed(one, 'fuselage.width="90 mm"')
        state = changed(one, f'fuselage.width="{same}"')
        assert not state["dirty"] and state["edits"] == [] and one.settings == ()
    assert changed(one, "wing.scores=7")["revision"] == one.revision
    assert one.settings == ()
    assert changed(one, 'tail.elevator.hinge.gap="1 mm"')["edits"] == []


def test_inches_typed_into_a_metric_design(tmp_path: Path) -> None:
    """What the builder types stays as typed, unit and all."""
    one = desk(tmp_path)
    changed(one, 'fuselage.width="3 1/2 in"')
    assert field(one.state(), "fuselage.width")["text"] == "3 1/2 in"
    assert field(one.state(), "fuselage.width")["unit"] == "in"
    assert one.design.fuselage.width_mm == 88.9  # 3.5 x 25.4


def test_stale_revision_changes_nothing(tmp_path: Path) -> None:
    """Who has not seen the latest change cannot change anything."""
    one = desk(tmp_path)
    seen = one.revision
    changed(one, 'gear.track="240 mm"')
    for attempt in (
        lambda: one.change(seen, ['gear.track="200 mm"'], None, "", None),
        lambda: one.undo(seen),
        lambda: one.keep(seen, "mine"),
        lambda: one.save(seen),
        lambda: one.reload(seen),
    ):
        with pytest.raises(StaleRevision) as refusal:
            attempt()
        assert refusal.value.payload["revision"] == one.revision
    assert one.settings == ('gear.track="240 mm"',)


@pytest.mark.parametrize(
    ("setting", "key"),
    [
        ('gear.track="250"', "gear.track"),
        ('gear.trak="250 mm"', "gear.trak"),
        ("wing.scores=99", "wing.scores"),
        ('fuselage.width="-4 mm"', "fuselage.width"),
    ],
)
def test_bad_value_is_refused_by_its_key(tmp_path: Path, setting: str, key: str) -> None:
    """A value that is none is refused with the key it was meant for, and the design stays."""
    one = desk(tmp_path)
    revision = one.revision
    with pytest.raises(Refused) as refusal:
        changed(one, setting)
    assert [problem["key"] for problem in refusal.value.payload["problems"]] == [key]
    assert one.revision == revision and one.settings == ()


def test_what_cannot_be_built_is_refused_by_its_part(tmp_path: Path) -> None:
    """Impossible geometry is refused with the part's name, and the design stays."""
    one = desk(tmp_path)
    revision = one.revision
    with pytest.raises(Refused) as refusal:
        changed(one, 'gear.height="45 mm"')
    assert refusal.value.payload["part"] in refusal.value.payload["error"]
    assert one.revision == revision and one.settings == ()


def test_undo_and_redo(tmp_path: Path) -> None:
    """Steps go back to the design as filed and forth again, called by their words."""
    one = desk(tmp_path)
    changed(one, 'gear.track="240 mm"', words="track 240 mm")
    state = changed(one, 'fuselage.width="94 mm"', words="width 94 mm")
    assert (state["undo"], state["redo"]) == ("width 94 mm", None)
    state = one.undo(one.revision)
    assert (state["undo"], state["redo"]) == ("track 240 mm", "width 94 mm")
    assert one.settings == ('gear.track="240 mm"',)
    one.undo(one.revision)
    assert one.settings == () and not one.state()["dirty"]
    assert one.undo(one.revision)["undo"] is None
    one.redo(one.revision)
    one.redo(one.revision)
    assert one.settings == ('gear.track="240 mm"', 'fuselage.width="94 mm"')
    one.undo(one.revision)
    assert changed(one, 'gear.track="230 mm"')["redo"] is None


def test_one_stroke_is_one_step(tmp_path: Path) -> None:
    """A slider dragged through many values is undone at once; the next stroke is a step of its own."""
    one = desk(tmp_path)
    for value in (50, 52, 54):
        changed(one, f'equipment.battery.station="{value} mm"', stroke="a", words=f"battery {value} mm")
    changed(one, 'equipment.battery.station="60 mm"', stroke="b")
    one.undo(one.revision)
    assert one.settings == ('equipment.battery.station="54 mm"',)
    state = one.undo(one.revision)
    assert one.settings == () and state["redo"] == "battery 54 mm"


def test_answers_tell_only_what_changed(tmp_path: Path) -> None:
    """An answer to a change has the fields that differ; where fields come or go it has all of them."""
    one = desk(tmp_path, MK2, MK1)
    state = changed(one, 'equipment.battery.station="50 mm"')
    assert [one_field["key"] for one_field in state["fields"]] == ["equipment.battery.station"]
    assert "groups" not in state and "prototype" not in state
    state = changed(one, 'gear.strut="none"')
    keys = {one_field["key"] for group in state["groups"] for one_field in group["fields"]}
    assert "fields" not in state and "gear.strut.wire_diameter" not in keys


def test_reload_drops_the_edits(tmp_path: Path) -> None:
    """Reading the file again shows what another program has written into it."""
    one = desk(tmp_path)
    changed(one, 'gear.track="240 mm"')
    path = tmp_path / MK2
    path.write_text(path.read_text().replace('width = "92 mm"\nstations', 'width = "95 mm"\nstations'))
    assert one.state()["disk"] == "changed" and not one.is_as_on_disk
    state = one.reload(one.revision)
    assert (state["disk"], state["dirty"], state["undo"]) == ("same", False, None)
    assert field(state, "fuselage.width")["text"] == "95 mm"
    (tmp_path / MK1).unlink()
    assert one.state()["disk"] == "gone"
    with pytest.raises(Refused):
        one.reload(one.revision)
    assert field(one.state(), "fuselage.width")["text"] == "95 mm"


def test_a_weighed_aeroplane_says_what_saving_does(tmp_path: Path) -> None:
    """Where a weighing log is in the file, edits bring a remark on it; elsewhere there is none."""
    one = desk(tmp_path, MK1)
    assert one.state()["remarks"] == []
    assert "redesign" in changed(one, 'gear.track="240 mm"')["remarks"][0]
    assert changed(desk(tmp_path, MK2), 'gear.track="240 mm"')["remarks"] == []
