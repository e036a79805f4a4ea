"""Whole answers on small aeroplanes: reach, misses, and remedies that hold when the design is built anew."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from airframe.balance.answers import Answer
from airframe.balance.cases import cases
from airframe.balance.json_form import to_json
from airframe.balance.remedies import flown_as, remedies
from airframe.balance.whole import Balances, balances
from airframe.drawing import PartError
from tests.mending import data_with, flown

PRECISE_MM = 1e-6
SHELF = {"name": "battery tray", "from_station": "5 mm", "to_station": "110 mm", "water_line": "-25 mm"}
OPTIONS = {
    "large": {"mass": "150 g", "size": ["60 mm", "30 mm", "20 mm"]},
    "small": {"mass": "60 g", "size": ["50 mm", "30 mm", "15 mm"]},
}
BATTERY = {"kind": "battery", "options": OPTIONS, "station": "60 mm", "water_line": "-25 mm"}
MOTOR = {"kind": "motor", "mass": "60 g", "diameter": "28 mm", "length": "34 mm"}
CAMERA = {"mass": "60 g", "size": ["30 mm", "30 mm", "30 mm"], "station": "200 mm", "water_line": "-15 mm"}
RECEIVER = {"mass": "12 g", "size": ["30 mm", "20 mm", "10 mm"], "station": "240 mm", "water_line": "-25 mm"}


def tables(**changes: Any) -> dict[str, Any]:
    """The plain design with a tray, a motor, two batteries, a camera that may stay at home, and a receiver."""
    equipment = {"battery": BATTERY, "motor": MOTOR, "camera": CAMERA, "receiver": RECEIVER} | changes.pop(
        "equipment", {}
    )
    data = data_with(equipment=equipment, balance={"optional": ["camera"]} | changes.pop("balance", {}))
    data["fuselage"] = data["fuselage"] | {"shelves": [SHELF]} | changes.pop("fuselage", {})
    return data | changes


def found(data: dict[str, Any]) -> Balances:
    """All answers for these tables."""
    return balances(flown(data))


def named(result: Balances, name: str) -> Answer:
    """The answer of one case."""
    return next(answer for answer in result.answers if answer.case.name == name)


def around_now(data: dict[str, Any], forward: float, aft: float) -> dict[str, Any]:
    """The tables with a range so many mm ahead of and behind where the design balances now."""
    behind = flown(data).cg_behind_leading_edge_mm
    return data | {"balance": data["balance"] | {"forward": f"{behind - forward} mm", "aft": f"{behind + aft} mm"}}


def test_every_option_with_every_choice() -> None:
    """Two batteries and one optional item make four cases, the design's own first."""
    names = [case.name for case in cases(flown(tables()))]
    assert names[0] == "large, camera in"
    assert sorted(names) == ["large, camera in", "large, camera out", "small, camera in", "small, camera out"]


def test_sixty_four_combinations() -> None:
    """Six optional items are two to the sixth cases of one battery."""
    extra = {f"item {i}": RECEIVER | {"station": f"{200 + 5 * i} mm"} for i in range(6)}
    data = tables(equipment=extra | {"battery": BATTERY | {"options": {"large": OPTIONS["large"]}}})
    assert len(cases(flown(data | {"balance": {"optional": list(extra)}}))) == 64


@pytest.mark.parametrize("use", ["large", "small"])
@pytest.mark.parametrize("is_in", [True, False])
def test_each_case_is_what_building_it_gives(use: str, is_in: bool) -> None:
    """Mass, balance point and pitch inertia of a case are those of the design with that battery and that choice.

    So whether or not the item that is in or out was fitted in the design that was asked.
    """
    built = flown(tables(), [f"equipment.battery.use={use}", f"equipment.camera.fitted={str(is_in).lower()}"])
    whole = built.statement.whole
    for fitted in (True, False):
        data = tables(equipment={"camera": CAMERA | {"fitted": fitted}})
        now = named(found(data), f"{use}, camera {'in' if is_in else 'out'}").now
        assert now.mass_g == pytest.approx(whole.mass, rel=1e-9)
        assert now.cg_mm == pytest.approx(tuple(whole.centre), abs=1e-6)
        assert now.pitch_g_mm2 == pytest.approx(whole.inertia[1, 1], rel=1e-9)


def test_the_ends_of_what_will_do() -> None:
    """Built anew with the battery at either end of the interval, the balance point lies in the range or on its end."""
    data = around_now(tables(), 1.0, 1.0)
    answer = found(data).answers[0]
    ((low, high),) = answer.in_range
    for station in (low, high):
        built = flown(data, [f'equipment.battery.station="{station} mm"'])
        assert answer.target.forward_mm - 1e-6 <= built.cg_mm[0] <= answer.target.aft_mm + 1e-6
    slope = answer.case.body.mass / answer.case.mass_g
    assert high - low == pytest.approx(2.0 / slope, rel=1e-6)  # the lever law: 2 mm of balance over m / M


def test_a_former_parts_the_tray() -> None:
    """Where a whole former stands on the tray, the battery is ahead of it or behind, a gap of 1 mm away."""
    data = tables(
        fuselage={"formers": [{"name": "F1", "station": "105 mm"}]}, balance={"forward": "0 mm", "aft": "199 mm"}
    )
    data["equipment"]["battery"] = BATTERY | {"tray_from": "5 mm", "tray_to": "200 mm"}
    answer = found(data).answers[0]
    assert np.array(answer.usable) == pytest.approx(np.array([(35.0, 74.0), (141.0, 154.0)]), abs=1e-3)
    assert {one.name for one in answer.met} >= {"former F1", "camera"}
    without_it = named(found(data), "large, camera out")
    assert "camera" not in {one.name for one in without_it.met}
    assert without_it.usable[-1][1] == pytest.approx(170.0)


def test_a_tray_too_short() -> None:
    """A battery longer than its tray has no room; the remedy says by how much and lengthens the tray."""
    data = tables(equipment={"battery": BATTERY | {"tray_from": "8 mm", "tray_to": "60 mm"}})
    answer = found(data).answers[0]
    assert (answer.usable, answer.best, answer.in_range) == ((), None, ())
    (remedy,) = remedies(answer, flown(data).design)
    assert "8.0 mm too short" in remedy.text
    assert remedy.settings == ('equipment.battery.tray_to="68 mm"',)
    assert balances(flown(data, remedy.settings)).answers[0].best is not None


def test_a_tray_too_short_with_a_former_behind_it() -> None:
    """No longer tray is proposed where the battery would run into something: it is named instead."""
    data = tables(
        fuselage={"formers": [{"name": "F1", "station": "64 mm"}]},
        equipment={"battery": BATTERY | {"tray_from": "8 mm", "tray_to": "60 mm"}},
    )
    (remedy,) = remedies(found(data).answers[0], flown(data).design)
    assert remedy.text.endswith("8.0 mm too short; the former F1 stands in the way")
    assert remedy.settings == ()


def test_a_battery_too_wide() -> None:
    """What meets the sides everywhere has no room anywhere, and the sides are named."""
    wide = {"mass": "150 g", "size": ["60 mm", "80 mm", "20 mm"]}
    answer = found(tables(equipment={"battery": BATTERY | {"options": {"wide": wide}}})).answers[0]
    assert answer.best is None
    assert any("side" in one.name for one in answer.met)


# --- remedies, built anew ----------------------------------------------------------------------------------


def assert_holds(data: dict[str, Any], settings: tuple[str, ...], answer: Answer) -> None:
    """With the settings the design flies this case with its balance point in range, in room that is free."""
    built = flown(data, settings)
    assert answer.target.forward_mm <= built.cg_mm[0] <= answer.target.aft_mm
    again = balances(built).current
    assert again is not None
    assert again.case.name == answer.case.name
    assert again.is_well_now


@pytest.mark.parametrize("move", [-1.0, 1.0])
def test_the_battery_alone(move: float) -> None:
    """Out of range by 1 mm either way, the battery goes to the nearest whole millimetre that will do."""
    data = tables()
    data = around_now(data, *((4.0, -1.0) if move < 0.0 else (-1.0, 4.0)))
    answer = found(data).answers[0]
    (remedy,) = remedies(answer, flown(data).design)
    assert len(remedy.settings) == 1
    assert_holds(data, remedy.settings, answer)
    # The least move: 1 mm of balance is M / m mm of battery, rounded to the next whole one.
    needed = abs(answer.case.mass_g / answer.case.body.mass)
    station = float(remedy.settings[0].split('"')[1].split()[0])
    assert needed <= abs(station - 60.0) <= needed + 1.0


@pytest.mark.parametrize(("forward", "aft"), [(30.0, -12.0), (-9.0, 30.0)])
def test_ballast_holds_and_less_would_not(forward: float, aft: float) -> None:
    """Where no station will do, the ballast's settings bring it into range; a gram less at the same place would not."""
    data = around_now(tables(balance={"optional": []}), forward, aft)
    answer = named(found(data), "large")
    assert answer.best is not None and answer.ballast is not None and answer.after is not None
    assert answer.missed_mm * aft < 0.0
    remedy = remedies(answer, flown(data).design)[0]
    assert "ballast" in remedy.text
    assert_holds(data, remedy.settings, answer)
    built = flown(data, remedy.settings)
    assert built.statement.whole.mass == pytest.approx(answer.after.mass_g, rel=1e-9)
    assert built.cg_mm == pytest.approx(answer.after.cg_mm, abs=1e-3)
    lighter = [line for line in remedy.settings if "ballast.mass" not in line]
    lighter.append(f'equipment.ballast.mass="{answer.ballast.mass_g - 1.0} g"')
    x = flown(data, lighter).cg_mm[0]
    assert not answer.target.forward_mm <= x <= answer.target.aft_mm


def test_every_remedy_of_every_case_holds() -> None:
    """With two batteries and a camera in or out, in a range that none of them reaches: ballast, and moves of items."""
    data = around_now(tables(), 20.0, -11.0)
    result, design = found(data), flown(data).design
    tried = [(answer, remedy) for answer in result.answers for remedy in remedies(answer, design)]
    assert {answer.case.name for answer, _ in tried} == {answer.case.name for answer in result.answers}
    assert any("camera" in remedy.text for _, remedy in tried)
    for answer, remedy in tried:
        assert_holds(data, remedy.settings, answer)


def test_nothing_to_mend() -> None:
    """A case that is well as it is has no remedy, and the lines to fly it are none."""
    data = around_now(tables(), 3.0, 3.0)
    answer = found(data).answers[0]
    assert answer.is_well_now
    assert remedies(answer, flown(data).design) == ()
    assert not any("use" in line or "fitted" in line for line in flown_as(answer, flown(data).design))


def test_levers() -> None:
    """A mm of an item is m / M mm of the whole; without it the balance point is where building it without gives it."""
    data = tables()
    whole = flown(data)
    lever = next(one for one in found(data).levers if one.item == "camera")
    assert lever.share == pytest.approx(60.0 / whole.statement.whole.mass, rel=1e-9)
    out = flown(data, ["equipment.camera.fitted=false"])
    assert lever.left_out_moves_mm == pytest.approx(out.cg_mm[0] - whole.cg_mm[0], abs=1e-6)
    absent = next(one for one in balances(out).levers if one.item == "camera")
    assert not absent.is_fitted
    assert absent.left_out_moves_mm == pytest.approx(-lever.left_out_moves_mm, abs=1e-6)


def test_no_battery_no_case() -> None:
    """Levers are there all the same."""
    data = tables()
    del data["equipment"]["battery"]
    result = found(data)
    assert (result.answers, result.current) == ((), None)
    assert len(result.levers) == 3


@pytest.mark.parametrize(
    ("name", "words"), [("camra", "did you mean 'camera'"), ("battery", "moved, not left at home")]
)
def test_optional_items_that_make_no_sense(name: str, words: str) -> None:
    """A name that is none of the equipment's, or the battery's, is refused."""
    data = tables()
    data["balance"] = {"optional": [name]}
    with pytest.raises(PartError, match=words):
        found(data)


def test_for_machines() -> None:
    """SI units: metres are a thousandth of the millimetres, and the current case says so."""
    data = around_now(tables(), 20.0, -11.0)
    result, design = found(data), flown(data).design
    out = to_json(result, design)
    first = out["cases"][0]
    assert first["current"]
    assert first["now"]["cg_m"] == pytest.approx([x / 1000.0 for x in result.answers[0].now.cg_mm])
    assert first["out_of_range_m"] == pytest.approx(result.answers[0].missed_mm / 1000.0)
    assert first["ballast"]["mass_kg"] > 0.0
    assert [one["name"] for one in out["cases"]] == [answer.case.name for answer in result.answers]


def test_one_aeroplane_is_asked_once() -> None:
    """Check and report have the same answers; with an overturn angle they are found anew, and otherwise equal."""
    aeroplane = flown(tables())
    first = balances(aeroplane)
    assert balances(aeroplane) is first
    turned = balances(aeroplane, lambda cg: float(cg[2]))
    assert turned is not first and turned.mass_g == first.mass_g
    assert balances(flown(tables())) is not first
