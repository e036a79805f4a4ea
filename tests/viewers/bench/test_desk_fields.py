"""Every value that a builder may turn has a field, in units and steps that a builder uses."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from airframe.config import ConfigError, from_dict
from airframe.config.settings import applied
from airframe.config.written import Written
from airframe.schema.base import Table
from airframe.units import parse
from tests.viewers.bench.desks import CONFIGS, MK1, MK2, PLOVER, STORE, changed, desk, field
from viewers.bench import quantities, sliders
from viewers.bench.edits import named
from viewers.bench.fields import Field, Fields
from viewers.bench.places import leaves
from viewers.bench.refusals import Refused
from viewers.bench.sliders import Bounds
from viewers.bench.source import Variant, opened

SHOWN = ("fuselage", "wing", "tail", "gear", "equipment", "balance", "glue", "finish", "materials", "flight")


def _filed(name: str) -> Variant:
    return opened(CONFIGS / name, STORE).filed


def _flat(filed: Variant, system: Any = "metric") -> list[Field]:
    return [one for group in Fields(filed, None).groups(filed, system) for one in group["fields"]]


def _numbers(value: Any) -> Iterator[Any]:
    """Every number of a design's tables, counted apart from how fields are made."""
    if isinstance(value, Table):
        for name in type(value).model_fields:
            yield from _numbers(getattr(value, name))
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _numbers(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _numbers(inner)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield value


@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
def test_no_number_is_left_out(name: str) -> None:
    """There are as many fields for numbers as there are numbers in the tables that are shown."""
    filed = _filed(name)
    expected = sum(1 for table in SHOWN for _ in _numbers(getattr(filed.design, table)))
    fields = _flat(filed)
    assert sum(one["kind"] == "number" for one in fields) == expected
    assert len({one["key"] for one in fields}) == len(fields)


@pytest.mark.parametrize("system", ["metric", "imperial"])
@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
def test_sliders_hold_their_value(name: str, system: Any) -> None:
    """A slider's value lies between its ends, give or take a step, and reads as its text does."""
    for one in _flat(_filed(name), system):
        if one["kind"] == "number":
            assert one["low"] - one["step"] < one["value"] < one["high"] + one["step"], one
            assert one["low"] / one["step"] == pytest.approx(round(one["low"] / one["step"]), abs=1e-6), one
            assert one["text"].endswith(one["unit"])


@pytest.mark.parametrize("end", ["low", "high"])
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_both_ends_of_every_slider_are_taken(system: Any, end: str) -> None:
    """No slider offers what the schema of its own key refuses, whatever else may speak against it."""
    filed = _filed(MK2)
    sliders = [one for one in _flat(filed, system) if one["kind"] == "number"]
    texts = [f'"{one[end]} {one["unit"]}"' if one["unit"] else str(round(one[end])) for one in sliders]
    settings = [f"{one['key']}={text}" for one, text in zip(sliders, texts, strict=True)]
    written, problems = applied(Written(filed.data, {}), settings)
    assert not problems
    with pytest.raises(ConfigError) as refusal:  # all at once they do not make an aeroplane
        from_dict(written.data)
    assert not {problem.key for problem in refusal.value.problems} & {one["key"] for one in sliders}


def test_main_fields_are_some_forty(tmp_path: Path) -> None:
    """What stands open is what a builder turns first, and no more than a page holds."""
    fields = _flat(_filed(MK2))
    main = [one["key"] for one in fields if one["main"]]
    assert 25 <= len(main) <= 45
    for key in (
        "fuselage.width",
        "fuselage.stations.2.top",
        "wing.panels.0.span",
        "wing.panels.1.dihedral",
        "tail.stabiliser.span",
        "gear.track",
        "gear.wire_diameter",
        "gear.wheel.diameter",
        "equipment.battery.station",
        "equipment.camera.mass",
    ):
        assert key in main


def test_labels_are_told_apart() -> None:
    """Under one heading no two fields are called the same, and each has a word for a label."""
    for name in (MK1, MK2, PLOVER):
        filed = _filed(name)
        for group in Fields(filed, None).groups(filed, "metric"):
            labels = [one["label"] for one in group["fields"] if not one["key"].startswith("finish.")]
            assert len(labels) == len(set(labels))
            assert all(label.strip(": ") for label in labels)


@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
def test_labels_are_words(name: str) -> None:
    """No label shows a key as it is written, but for what the builder named himself; the body's outline has words."""
    filed = _filed(name)
    for one in _flat(filed):
        assert "_" not in one["label"] and ".." not in one["label"]
        assert one["label"].lower() == one["label"] or any(part in one["label"] for part in _own_names(filed))
    labels = {one["key"]: one["label"] for one in _flat(_filed(MK1))}
    assert labels["fuselage.stations.1.top"] == "body top, where tallest"
    assert labels["fuselage.stations.2.top"] == "side outline, point 3: top"
    assert labels["fuselage.openings.0.low"] == "battery hatch: left edge"  # it lies in the top
    assert labels["equipment.camera.butt_line"] == "camera: sideways (butt line)"


def _own_names(filed: Variant) -> list[str]:
    return [former.name for former in filed.design.fuselage.formers]


def test_what_may_be_left_out_is_unset(tmp_path: Path) -> None:
    """A value that the file does not state is taken away again by "none", which leaves out one that it states, too."""
    one = desk(tmp_path, MK1)
    thrust = field(one.state(), "flight.measured_thrust")
    assert (thrust["filed"], thrust["text"], thrust["optional"], thrust["main"]) == (None, "", True, True)
    changed(one, 'flight.measured_thrust="6 N"')
    assert field(one.state(), "flight.measured_thrust")["kind"] == "number"
    state = changed(one, 'flight.measured_thrust="none"')
    assert (state["dirty"], state["edits"]) == (False, [])
    changed(one, 'fuselage.formers.0.rim="none"')
    assert one.design.fuselage.formers[0].rim_mm is None
    assert not field(one.state(), "fuselage.width")["optional"]


def test_refusals_speak_in_labels(tmp_path: Path) -> None:
    """What is refused is told by the words of the fields, not by the keys."""
    one = desk(tmp_path, MK1)
    for setting, sentence in (
        ('fuselage.tail_width="80 mm"', "width at the tail must not exceed body width"),
        ('gear.track="-3 mm"', "track: must be more than 0"),
        ('fuselage.width="wide"', 'body width: is not a length; write a number and a unit, e.g. "84 mm"'),
    ):
        with pytest.raises(Refused) as refusal:
            changed(one, setting)
        assert str(refusal.value) == sentence
        assert not refusal.value.payload["problems"][0]["message"].startswith("body width")


def test_imperial_page_of_a_metric_design(tmp_path: Path) -> None:
    """Everything is in inches and ounces, but for what the file itself says in inches already."""
    one = desk(tmp_path)
    state = one.state("imperial")
    width = field(state, "fuselage.width")
    assert (width["unit"], width["step"], width["text"]) == ("in", 0.0625, "3.622 in")
    assert width["value"] == pytest.approx(92.0 / 25.4, rel=1e-5)
    metric = field(one.state("metric"), "equipment.propeller.diameter")
    assert (metric["text"], metric["unit"], metric["value"]) == ("9 in", "in", 9.0)


def test_filed_and_prototype_stand_beside(tmp_path: Path) -> None:
    """A field says what is filed and what the prototype has; rows of another name have no prototype."""
    one = desk(tmp_path, MK2, MK1)
    changed(one, 'fuselage.width="100 mm"')
    state = one.state()
    width = field(state, "fuselage.width")
    assert (width["text"], width["filed"], width["prototype"]) == ("100 mm", "92 mm", "60 mm")
    assert field(state, "fuselage.decks.1.to_station")["prototype"] is None  # the windscreen; it was the rear deck
    assert field(state, "gear.strut.station")["prototype"] is None
    assert not field(state, "tail.elevator.hinge.gap")["stated"]


def test_slider_ends_stay_for_the_visit(tmp_path: Path) -> None:
    """Whatever is typed or saved, a slider keeps the ends it was first shown with."""
    one = desk(tmp_path)
    first = field(one.state(), "gear.track")
    changed(one, 'gear.track="300 mm"')
    one.save(one.revision)
    then = field(one.state(), "gear.track")
    assert (then["low"], then["high"], then["filed"]) == (first["low"], first["high"], "300 mm")
    assert (first["low"], first["high"]) == (125.0, 500.0)


def test_material_is_a_choice_with_the_designs_own() -> None:
    """A material is chosen among those of its kind, the builder's own first."""
    found = next(one for one in _flat(_filed(MK1)) if one["key"] == "wing.material")
    assert (found["kind"], found["value"], found["choices"][0]) == (
        "choice",
        "reserve foam board",
        "reserve foam board",
    )
    assert "foam board 3 mm" in found["choices"] and "spruce" not in found["choices"]


def test_every_leaf_is_read_as_it_is_written() -> None:
    """What the file says of a quantity comes to what the design has: the walk pairs the two rightly."""
    filed = _filed(MK2)
    stated = [one for one in leaves(filed.design, filed.data) if one.dimension is not None and one.is_stated]
    assert len(stated) > 200
    for one in stated:
        assert one.dimension is not None
        assert parse(one.written, one.dimension) == one.value, named(one.keys)


def test_steps_are_round() -> None:
    """A hundred steps or so, 1, 2 or 5 of a unit, a sixteenth or a sixty-fourth of an inch."""
    assert sliders.step(46.0, 184.0, "mm") == 1.0
    assert sliders.step(1.5, 6.0, "mm") == 0.05
    assert sliders.step(-10.0, 10.0, "deg") == 0.5
    assert sliders.step(1.8, 7.2, "in") == 1.0 / 16.0
    assert sliders.step(0.06, 0.24, "in") == 1.0 / 64.0
    assert sliders.slider(Bounds(3.5, 14.0), "", None, is_whole=True) == (4.0, 14.0, 1.0)


@pytest.mark.parametrize(
    ("value", "text"), [(76.2, "76.2"), (1e-7, "0.0000001"), (-0.0, "0"), (123456.0, "123456"), (2.99999999, "3")]
)
def test_numbers_without_dust(value: float, text: str) -> None:
    """No exponent, no minus nought, no trail of nines."""
    assert quantities.number(value) == text
