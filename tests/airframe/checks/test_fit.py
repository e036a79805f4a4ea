"""What fits, what does not, and that every remedy makes it fit."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from airframe import config
from airframe.checks import fit, fit_fastenings, fit_hatch, fit_inside, fit_pairs, openings, room
from airframe.checks.changes import Change, altered
from airframe.checks.finding import Finding
from airframe.checks.pairs import Pairs
from airframe.checks.rounding import length_text, round_down, round_up
from airframe.layout import Layout
from airframe.model import Aeroplane
from airframe.units import LENGTH, parse
from tests.designs import plain, plain_data
from tests.mending import STORE, assert_mended, data_with, flown, one

CONFIGS = Path(__file__).parents[3] / "configs"


def _inside(aeroplane: Aeroplane) -> list[Finding]:
    return fit_inside.findings(Pairs(aeroplane))


def _pairs(aeroplane: Aeroplane) -> list[Finding]:
    return fit_pairs.findings(Pairs(aeroplane))


def _hatch(aeroplane: Aeroplane) -> list[Finding]:
    return fit_hatch.findings(aeroplane.layout)


def _fastenings(aeroplane: Aeroplane) -> list[Finding]:
    return fit_fastenings.findings(Pairs(aeroplane))


def box(size: tuple[float, float, float], middle: tuple[float, float, float], **more: Any) -> dict[str, Any]:
    """A box-shaped item of 10 g, as a config file states it."""
    keys = ("station", "butt_line", "water_line")
    where = {key: f"{value} mm" for key, value in zip(keys, middle, strict=True)}
    return {"mass": "10 g", "size": [f"{side} mm" for side in size], **where, **more}


def with_width(width: str, **items: Any) -> dict[str, Any]:
    """The plain design, its fuselage this wide outside, with this equipment."""
    data = data_with(equipment=items)
    data["fuselage"]["width"] = width
    return data


# --- inside -----------------------------------------------------------------------------------------------


def _with_figure(width: str) -> dict[str, Any]:
    """The plain box of 3/16 in foam with a figure 2 1/2 in wide in it."""
    figure = {"mass": "1 oz", "size": ["1 in", "2 1/2 in", "2 in"], "station": "9 in", "water_line": "0 in"}
    data = with_width(width, figure=figure)
    foam = {"kind": "sheet", "look": "foam", "thickness": "3/16 in", "areal_weight": "440 g/m^2", "source": "test"}
    data["materials"] = {"thin foam": foam}
    data["fuselage"]["material"] = "thin foam"
    return data


def test_a_figure_goes_into_the_wide_fuselage_and_not_into_the_narrow_one() -> None:
    """2 1/2 in goes into 3 in with 3/16 in sides (1/16 in each side), not into 2 in: common practice, no source."""
    wide = one(_inside(flown(_with_figure("3 in"))), "fit.inside: figure")
    narrow = one(_inside(flown(_with_figure("2 in"))), "fit.inside: figure")
    assert (wide.verdict, narrow.verdict) == ("pass", "fail")
    assert wide.value == pytest.approx((3.0 - 2 * 3 / 16 - 2.5) / 2 * 25.4)
    assert narrow.value == pytest.approx((2.0 - 2 * 3 / 16 - 2.5) / 2 * 25.4)


def test_what_makes_room_for_the_figure_does() -> None:
    """The width proposed for the 2 in fuselage is 63.5 + 2 (4.7625 + 1) = 75.03, up to 76 mm, and it passes."""
    finding = one(_inside(flown(_with_figure("2 in"))), "fit.inside: figure")
    assert finding.remedies[0].settings == ('fuselage.width="76 mm"',)
    assert_mended(_with_figure("2 in"), _inside, finding)


def test_the_prototype_has_no_room_for_its_camera_and_the_redesign_has() -> None:
    """78 mm do not go between sides 50 mm apart; a fuselage of 78 + 2 x 5 + 2 x 1 = 90 mm takes it; 92 mm does."""
    first = Aeroplane(config.load(CONFIGS / "teasel-mk1.toml"), STORE)
    finding = one(_inside(first), "fit.inside: camera")
    assert finding.verdict == "fail"
    assert "14.0 mm through the left side" in finding.message
    assert 'fuselage.width="90 mm"' in finding.remedies[0].settings
    mended = Aeroplane(config.load(CONFIGS / "teasel-mk1.toml", finding.remedies[0].settings), STORE)
    assert one(_inside(mended), "fit.inside: camera").verdict == "pass"
    second = Aeroplane(config.load(CONFIGS / "teasel-mk2.toml"), STORE)
    assert one(_inside(second), "fit.inside: camera").verdict == "pass"


@pytest.mark.parametrize(
    ("place", "missing"),
    [((150, 20, 0), "through the right side"), ((150, 0, 30), "above the deck"), ((15, 0, 0), "ahead of the nose")],
)
def test_a_misplaced_item_is_told_where_to_go(place: tuple[float, float, float], missing: str) -> None:
    """Where there is room at its station it only moves: no wider fuselage is asked for."""
    data = data_with(equipment={"tin": box((40, 30, 30), place)})
    finding = one(_inside(flown(data)), "fit.inside: tin")
    assert finding.verdict == "fail" and missing in finding.message
    assert all("fuselage" not in line for line in finding.remedies[0].settings)
    assert_mended(data, _inside, finding)


def test_an_item_too_near_a_side_is_a_caution() -> None:
    """Inside 60 mm wide, 59 mm leave half a millimetre each side; against one side, 58 mm leave 2 mm at the other."""
    tight = data_with(equipment={"tin": box((40, 59, 30), (150, 0, 0))})
    assert one(_inside(flown(tight)), "fit.inside: tin").verdict == "caution"
    assert_mended(tight, _inside, one(_inside(flown(tight)), "fit.inside: tin"))
    fastened = data_with(equipment={"tin": box((40, 58, 30), (150, 1, 0))})
    assert one(_inside(flown(fastened)), "fit.inside: tin").verdict == "pass"


def test_an_item_outside_that_lies_inside_is_told_so() -> None:
    """The word in the config is what is amiss."""
    data = data_with(equipment={"tin": box((20, 20, 20), (150, 0, 0), place="outside")})
    finding = one(_inside(flown(data)), "fit.outside: tin")
    assert finding.verdict == "caution"
    assert_mended(data, _inside, finding)
    under = data_with(equipment={"tin": box((20, 20, 20), (150, 0, -60), place="outside")})
    assert one(_inside(flown(under)), "fit.outside: tin").verdict == "pass"


def test_a_shell_holds_what_is_inside_it() -> None:
    """A cowl 60 mm wide of 5 mm sheet leaves 25 mm each side of the centre plane."""
    end = {"width": "60 mm", "crown": "40 mm", "edge": "-20 mm", "corner_radius": "12 mm"}
    cowl = {"name": "cowl", "opens": "down", "front": {"station": "-40 mm", **end}, "rear": {"station": "0 mm", **end}}
    layout = Layout(plain(fuselage__shells=[cowl]))
    held = room.best_room(layout, np.array([-30.0, -10.0, -15.0, -10.0, 10.0, 15.0]))
    assert (held.left, held.right, held.above, held.below) == pytest.approx((15.0, 15.0, 20.0, 5.0))
    assert (held.ahead, held.behind) == pytest.approx((10.0, 10.0))


# --- pairs ------------------------------------------------------------------------------------------------


def test_items_that_take_the_same_room_are_named_with_the_volume() -> None:
    """Boxes 20 mm each way, shifted by 15 mm, share 5 x 20 x 20 mm^3; moving either helps."""
    data = data_with(equipment={"tin": box((20, 20, 20), (150, 0, 0)), "can": box((20, 20, 20), (165, 0, 0))})
    finding = one(_pairs(flown(data)), "fit.overlap: tin, can")
    assert finding.verdict == "fail"
    assert finding.value == pytest.approx(5 * 20 * 20, rel=1e-6)
    assert_mended(data, _pairs, finding)


def test_an_item_in_a_former_is_told_to_move() -> None:
    """20 mm of tin round a former of 5 mm: 5 x 20 x 20 mm^3; 13 mm forward leaves the gap of 1 mm."""
    data = data_with(equipment={"tin": box((20, 20, 20), (150, 0, 0))})
    data["fuselage"]["formers"] = [{"name": "F1", "station": "148 mm"}]
    finding = one(_pairs(flown(data)), "fit.overlap: tin, former F1")
    assert finding.value == pytest.approx(5 * 20 * 20, rel=1e-6)
    assert 'equipment.tin.station="137 mm"' in finding.remedies[0].settings
    assert_mended(data, _pairs, finding)


def test_a_narrow_gap_is_a_caution_and_standing_on_something_is_not() -> None:
    """Half a millimetre to a former is too little; half a millimetre over a board is tape, and a slot holds."""
    data = data_with(equipment={"tin": box((20, 20, 20), (150, 0, 0.5))})
    data["fuselage"]["shelves"] = [
        {"name": "tray", "from_station": "100 mm", "to_station": "200 mm", "water_line": "-10 mm"}
    ]
    assert one(_pairs(flown(data)), "fit.room: tin").verdict == "pass"
    data["fuselage"]["formers"] = [{"name": "F1", "station": "160.5 mm"}]
    finding = one(_pairs(flown(data)), "fit.room: tin")
    assert (finding.verdict, finding.value) == ("caution", pytest.approx(0.5, abs=1e-3))
    assert_mended(data, _pairs, finding)


def test_without_overlaps_one_finding_says_so() -> None:
    """A plain aeroplane's parts touch, and share less than the allowance."""
    found = _pairs(flown(plain_data()))
    assert [finding.code for finding in found] == ["fit.overlap"]
    assert found[0].verdict == "pass"


# --- hatch and hand -----------------------------------------------------------------------------------------

BATTERY = {
    "kind": "battery",
    "mass": "90 g",
    "size": ["70 mm", "34 mm", "20 mm"],
    "station": "60 mm",
    "water_line": "-20 mm",
}
DECK = {"name": "deck", "face": "top", "from_station": "0 mm", "to_station": "600 mm"}


def _hatched(along: float, across: float, **fuselage: Any) -> dict[str, Any]:
    """A fuselage closed on top and bottom but for one hatch round station 60 mm."""
    data = data_with(equipment={"battery": deepcopy(BATTERY)})
    hatch = {
        "name": "hatch",
        "face": "top",
        "from_station": f"{60 - along / 2} mm",
        "to_station": f"{60 + along / 2} mm",
    }
    hatch |= {"low": f"{-across / 2} mm", "high": f"{across / 2} mm"}
    floor = {**DECK, "name": "floor", "face": "bottom"}
    data["fuselage"] |= {"decks": [DECK, floor], "openings": [hatch], **fuselage}
    return data


def test_a_battery_goes_straight_in_through_a_hatch_its_size() -> None:
    """70 by 34 mm through 74 by 36 mm: 2 mm to spare."""
    finding = one(_hatch(flown(_hatched(74, 36))), "fit.hatch: battery")
    assert (finding.verdict, finding.value) == ("pass", pytest.approx(2.0))


def test_a_battery_goes_in_on_end_through_a_small_hatch() -> None:
    """34 by 20 mm goes through 40 by 30 mm, but laid flat the battery of 70 mm is 30 mm too long for it."""
    data = _hatched(40, 30)
    finding = one(_hatch(flown(data)), "fit.hatch: battery")
    assert (finding.verdict, finding.value) == ("caution", pytest.approx(-30.0))
    assert "laid flat it is 30.0 mm too large" in finding.message
    assert_mended(data, _hatch, finding)


def test_a_battery_does_not_go_through_a_slit() -> None:
    """The smallest cross-section is 34 by 20 mm; 40 by 15 mm lacks 5 mm."""
    data = _hatched(40, 15)
    finding = one(_hatch(flown(data)), "fit.hatch: battery")
    assert (finding.verdict, finding.value) == ("fail", pytest.approx(-5.0))
    assert_mended(data, _hatch, finding)


def test_a_whole_former_stops_a_battery_on_its_way() -> None:
    """The hatch is behind the former, the battery ahead of it; a window wide enough lets it pass."""
    data = _hatched(80, 40)
    data["equipment"]["battery"] |= {"station": "150 mm"}
    data["fuselage"]["formers"] = [{"name": "F1", "station": "105 mm"}]
    finding = one(_hatch(flown(data)), "fit.hatch: battery")
    assert finding.verdict == "fail" and "former F1" in finding.message
    data["fuselage"]["formers"][0]["rim"] = "8 mm"
    assert one(_hatch(flown(data)), "fit.hatch: battery").verdict == "pass"


def test_every_battery_that_the_builder_owns_is_asked_about() -> None:
    """One of the two is too wide for the hatch."""
    data = _hatched(74, 36)
    small, large = {"mass": "80 g", "size": BATTERY["size"]}, {"mass": "120 g", "size": ["70 mm", "50 mm", "38 mm"]}
    data["equipment"]["battery"] = {**BATTERY, "options": {"small": small, "large": large}}
    for key in ("mass", "size"):
        del data["equipment"]["battery"][key]
    found = {finding.code: finding.verdict for finding in _hatch(flown(data))}
    assert found["fit.hatch: battery, small"] == "pass"
    assert found["fit.hatch: battery, large"] == "fail"


def test_an_open_bay_is_a_way_in_and_braces_part_it() -> None:
    """Between two decks, 200 mm open; a brace of 10 mm in the middle leaves two bays of 95 mm, 60 mm wide."""
    front, rear = {**DECK, "to_station": "100 mm"}, {**DECK, "name": "rear deck", "from_station": "300 mm"}
    brace = {"name": "brace", "station": "195 mm", "water_line": "38 mm", "depth": "10 mm"}
    layout = Layout(plain(fuselage__decks=[front, rear], fuselage__braces=[brace]))
    tops = [way for way in openings.ways(layout) if way.face == "top"]
    assert [way.size for way in tops] == [pytest.approx((95.0, 60.0))] * 2


def test_a_hand_turns_the_better_way() -> None:
    """45 by 60 mm is as good as 60 by 45; 50 by 50 lacks 10 either way."""
    assert fit_hatch.hand_spare((45.0, 60.0), (60.0, 45.0)) == 0.0
    assert fit_hatch.hand_spare((50.0, 50.0), (60.0, 45.0)) == -10.0


def test_a_hatch_too_small_for_a_hand_is_a_caution_that_can_be_mended() -> None:
    """74 by 36 mm lacks 9 mm of 60 by 45."""
    data = _hatched(74, 36)
    finding = one(_hatch(flown(data)), "fit.hand: battery")
    assert (finding.verdict, finding.value) == ("caution", pytest.approx(-9.0))
    assert_mended(data, _hatch, finding)


def test_without_a_battery_nothing_need_go_in() -> None:
    """The question does not apply."""
    assert [finding.verdict for finding in _hatch(flown(plain_data()))] == ["info"]


# --- fastenings ---------------------------------------------------------------------------------------------

MOTOR = {"kind": "motor", "mass": "40 g", "diameter": "28 mm", "length": "30 mm"}


@pytest.mark.parametrize(
    ("hole", "verdict"), [(None, "caution"), ("2 mm", "fail"), ("4 mm", "caution"), ("5 mm", "pass")]
)
def test_the_shaft_wants_a_hole_with_room_round_it(hole: str | None, verdict: str) -> None:
    """A 3 mm shaft with 1 mm all round needs 5 mm."""
    data = data_with(equipment={"motor": dict(MOTOR)})
    data["fuselage"]["firewall"] = {"shaft_hole": hole} if hole else {}
    finding = one(_fastenings(flown(data)), "fit.shaft: motor")
    assert finding.verdict == verdict
    if verdict != "pass":
        assert_mended(data, _fastenings, finding)


def test_a_screw_head_wants_room_beside_it() -> None:
    """A head 2.75 mm round its axis, with a former 3.25 mm from the axis, has half a millimetre."""
    screws = {"kind": "screws", "points": [["50 mm", "0 mm", "-30 mm"]], "pointing": "down", "length": "6 mm"}
    data = data_with(equipment={"screws": screws})
    data["fuselage"]["formers"] = [{"name": "F1", "station": "53.25 mm"}]
    finding = one(_fastenings(flown(data)), "fit.screws: screws")
    assert (finding.verdict, finding.parts) == ("caution", ("screws", "former F1"))
    assert finding.value == pytest.approx(0.5, abs=0.03)


def test_a_lead_must_find_a_way_through_formers() -> None:
    """Straight through a whole former it cannot go; through a window it can."""
    lead = {"kind": "lead", "path": [["60 mm", "0 mm", "0 mm"], ["200 mm", "0 mm", "0 mm"]]}
    data = data_with(equipment={"lead": lead})
    data["fuselage"]["formers"] = [{"name": "F1", "station": "100 mm"}]
    finding = one(_fastenings(flown(data)), "fit.lead: lead")
    assert finding.verdict == "caution" and "former F1" in finding.message
    data["fuselage"]["formers"][0]["rim"] = "8 mm"
    assert one(_fastenings(flown(data)), "fit.lead: lead").verdict == "pass"


# --- changes ------------------------------------------------------------------------------------------------


def test_a_change_reads_back_as_the_value_it_makes() -> None:
    """As the command line applies it and as it is tried on the design at hand."""
    changes = [
        Change(("fuselage", "width_mm"), 76.2),
        Change(("fuselage", "stations", 1, "top_mm"), 41.5),
        Change(("tail", "elevator", "split"), True),
        Change(("equipment", "big tin", "place"), "outside"),
        Change(("wing", "scores"), 5),
        Change(("tail", "rudder", "throw_rad"), np.radians(20.0)),
    ]
    data = data_with(equipment={"big tin": box((20, 20, 20), (150, 0, 0))})
    for system in ("metric", "imperial"):
        lines = [change.setting(system) for change in changes]  # type: ignore[arg-type]
        written, tried = config.from_dict(data, lines), altered(config.from_dict(data), *changes)
        assert written.fuselage.width_mm == pytest.approx(tried.fuselage.width_mm, abs=2e-3)
        assert written.fuselage.stations[1].top_mm == pytest.approx(41.5, abs=2e-3)
        assert written.tail == pytest.approx(tried.tail) or written.tail.rudder.throw_rad == pytest.approx(
            np.radians(20)
        )
        assert written.tail.elevator.split and written.wing.scores == tried.wing.scores == 5
        assert written.equipment["big tin"].place == "outside"  # type: ignore[union-attr]


def test_rounding_is_to_the_safe_side() -> None:
    """Whole millimetres, or twentieths of an inch; what is round already stays."""
    assert (round_up(75.03, "metric"), round_down(75.97, "metric"), round_up(76.0, "metric")) == (76.0, 75.0, 76.0)
    assert round_up(25.5, "imperial") == pytest.approx(1.05 * 25.4)
    assert parse(length_text(33.02, "imperial"), LENGTH) == pytest.approx(33.02, abs=2e-3)


def test_all_of_fit_together_on_a_plain_design_with_nothing_in_it() -> None:
    """Nothing fails, nothing crashes."""
    assert {finding.verdict for finding in fit.findings(flown(plain_data()))} == {"pass", "info"}


def test_a_setting_names_an_item_as_the_file_does() -> None:
    """Only the last step of a path is a field with a unit in its name; names of items are kept, quoted if need be."""
    change = Change(("equipment", "pod_s", "station_mm"), 12.0)
    assert change.setting("metric") == 'equipment.pod_s.station="12 mm"'
    quoted = Change(("equipment", 'the "pod"', "fitted"), False)
    assert quoted.setting("metric") == r'equipment."the \"pod\"".fitted=false'
