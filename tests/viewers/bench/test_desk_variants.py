"""Variants are kept under names, opened, set side by side, and outlive a save."""

from __future__ import annotations

from pathlib import Path

import pytest

from airframe.config import read
from tests.viewers.bench.desks import MK1, MK2, changed, desk, number, weighed
from viewers.bench import history, served, view
from viewers.bench.refusals import NotFound, Refused
from viewers.bench.shown import State
from viewers.bench.variants import AS_FILED, MOST_KEPT
from viewers.weight_json import as_json

WIDE = 'gear.track="280 mm"'


def _variant(state: State, name: str) -> dict[str, object]:
    return next(one for one in state["variants"] if one["name"] == name)


def test_kept_side_by_side(tmp_path: Path) -> None:
    """As filed comes first; each variant has its own numbers, in the order of the numbers beside the model."""
    one = desk(tmp_path)
    changed(one, WIDE)
    state = one.keep(one.revision, "wide")
    assert [variant["name"] for variant in state["variants"]] == [AS_FILED, "wide"]
    at = [entry["code"] for entry in state["numbers"]].index("track")
    assert [variant["numbers"][at] for variant in state["variants"]] == ["250 mm", "280 mm"]
    assert [variant["is_current"] for variant in state["variants"]] == [False, True]
    assert [variant["edits"] for variant in state["variants"]] == [0, 1]
    assert len(_variant(state, "wide")["numbers"]) == len(state["numbers"])  # type: ignore[arg-type]
    imperial = one.state("imperial")
    assert imperial["variants"][1]["numbers"][at] == "11.02 in"


def test_open_and_undo(tmp_path: Path) -> None:
    """Opening a variant is a step like any other: undo brings back what was on the desk."""
    one = desk(tmp_path)
    changed(one, WIDE)
    one.keep(one.revision, "wide")
    changed(one, 'gear.track="200 mm"')
    one.open_variant(one.revision, "wide")
    assert one.settings == (WIDE,)
    state = one.open_variant(one.revision, AS_FILED)
    assert not state["dirty"] and state["undo"] == "open as filed"
    one.undo(one.revision)
    one.undo(one.revision)
    assert one.settings == ('gear.track="200 mm"',)


def test_forget(tmp_path: Path) -> None:
    """A variant that is forgotten is gone; what was never kept, and the design as filed, cannot be."""
    one = desk(tmp_path)
    one.keep(one.revision, "mine")
    assert [variant["name"] for variant in one.forget(one.revision, "mine")["variants"]] == [AS_FILED]
    for name in ("mine", AS_FILED, "../etc"):
        with pytest.raises(NotFound):
            one.forget(one.revision, name)
    with pytest.raises(NotFound):
        one.open_variant(one.revision, "mine")


@pytest.mark.parametrize("name", ["", "   ", AS_FILED, "x" * 41, "a\x00b"])
def test_names_that_will_not_do(tmp_path: Path, name: str) -> None:
    """A name must be one to be read over a column."""
    one = desk(tmp_path)
    with pytest.raises(Refused):
        one.keep(one.revision, name)
    assert len(one.state()["variants"]) == 1


def test_only_so_many(tmp_path: Path) -> None:
    """There is an end to how many fit beside one another; the same name again is no new one."""
    one = desk(tmp_path)
    for count in range(MOST_KEPT):
        one.keep(one.revision, f"number {count}")
    one.keep(one.revision, "number 3")
    with pytest.raises(Refused):
        one.keep(one.revision, "one too many")


def test_variants_outlive_a_save(tmp_path: Path) -> None:
    """A variant stays the design it was when the file it was kept over is saved with other edits."""
    one = desk(tmp_path, MK2)
    changed(one, WIDE)
    one.keep(one.revision, "wide")
    wide = as_json(one.aeroplane)
    one.open_variant(one.revision, AS_FILED)
    changed(one, 'fuselage.width="100 mm"', 'tail.elevator.hinge.gap="2 mm"', 'gear.skid="none"')
    state = one.save(one.revision)
    assert _variant(state, AS_FILED)["is_current"]
    assert _variant(state, AS_FILED)["numbers"][0] == number(state, "mass")["text"]  # type: ignore[index]
    assert read(tmp_path / MK2).design.fuselage.width_mm == 100.0
    one.open_variant(one.revision, "wide")
    assert as_json(one.aeroplane) == wide
    assert one.design.tail.elevator.hinge.gap_mm == 1.0


def test_a_long_visit_keeps_no_more_than_a_short_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Views, steps and meshes are bounded; what was dropped is made again when it is asked for."""
    monkeypatch.setattr(view, "VIEWS_KEPT", 2)
    monkeypatch.setattr(history, "MOST_STEPS", 5)
    monkeypatch.setattr(served, "PACKED_KEPT", 3)
    one = desk(tmp_path, MK1)
    first = one.state()["scene"]["parts"][:6]
    meshes = one.shapes([part["shape"] for part in first])
    for station in range(50, 58):
        changed(one, f'equipment.battery.station="{station} mm"')
    assert (len(one._draft._views), len(one._draft.history.past), len(one._served._packed)) == (2, 5, 3)
    assert one.shapes([part["shape"] for part in first]) == meshes
    for _ in range(5):
        one.undo(one.revision)
    assert one.settings == ('equipment.battery.station="52 mm"',)
    assert number(one.state(), "mass")["value"] == as_json(weighed(tmp_path / MK1, *one.settings))["mass_kg"]
