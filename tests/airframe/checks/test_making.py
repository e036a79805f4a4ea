"""What knife, pliers and glue can do: closed forms, and findings on small designs."""

from __future__ import annotations

from math import cos, inf, radians, sin
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.checks import making
from airframe.checks.finding import Finding
from airframe.checks.making_edges import narrowest_edge_mm
from airframe.checks.making_joints import bend_ratio, shank_mm3
from airframe.checks.making_sheet import best_rectangle_mm, narrowest_facet_mm, sheet_missing_mm
from airframe.drawing import Panel, Wire, circle, rectangle, score
from airframe.model import Aeroplane
from airframe.schema.equipment import Screws
from tests.designs import plain_data
from tests.fittings import gear_data
from tests.mending import assert_mended, data_with, flown, one

DECK = {"name": "deck", "face": "top", "from_station": "0 mm", "to_station": "600 mm"}


def check(aeroplane: Aeroplane) -> list[Finding]:
    """All findings of making."""
    return making.findings(aeroplane)


def amiss(data: dict[str, Any], code: str, verdict: str) -> Finding:
    """The finding of this code, with this verdict, every remedy of it tried."""
    finding = one(check(flown(data)), code)
    assert finding.verdict == verdict, finding
    if finding.remedies:
        assert_mended(data, check, finding)
    return finding


# --- closed forms -----------------------------------------------------------------------------------------------


def test_facets_between_parallel_and_slanting_scores() -> None:
    """Scores at 10, 18 and, slanting from 30 to 24, at the right: 8 and 6 mm apart; one alone has no facet."""
    scores = (score((10, 0), (10, 50), 0.1), score((18, 0), (18, 50), 0.1), score((30, 0), (24, 50), 0.1))
    panel = Panel(rectangle(0, 0, 60, 50), 5.0, scores=scores)
    assert narrowest_facet_mm(panel) == pytest.approx(6.0)
    assert narrowest_facet_mm(Panel(panel.outline, 5.0, scores=scores[:1])) == inf


def test_edges_between_holes_and_beside_them() -> None:
    """Holes of 6 mm, 10 mm apart, leave 4 mm between; 5 mm from an edge, 2 mm beside; no hole, nothing."""
    apart = Panel(rectangle(0, 0, 60, 60), 3.0, (circle(20, 30, 6), circle(30, 30, 6)))
    assert narrowest_edge_mm(apart) == pytest.approx(4.0, abs=0.05)
    beside = Panel(rectangle(0, 0, 60, 60), 3.0, (circle(5, 30, 6),))
    assert narrowest_edge_mm(beside) == pytest.approx(2.0, abs=0.05)
    assert narrowest_edge_mm(Panel(rectangle(0, 0, 60, 60), 3.0)) == inf


@given(st.floats(5.0, 900.0), st.floats(5.0, 900.0), st.floats(0.0, 180.0))
@settings(deadline=None)
def test_the_best_rectangle_round_a_turned_rectangle_is_itself(a: float, b: float, turn: float) -> None:
    """Whichever way it lies on the table, out of a sheet of just its size."""
    c, s = cos(radians(turn)), sin(radians(turn))
    corners = np.array([(0, 0), (a, 0), (a, b), (0, b)]) @ np.array([(c, s), (-s, c)])
    size = (max(a, b), min(a, b))
    assert best_rectangle_mm(corners, size) == pytest.approx(size, rel=1e-6)


def test_what_fits_the_sheet_as_drawn_fits_though_a_smaller_rectangle_would_not() -> None:
    """A slanting strip 762 mm from end to end: turned along its edge it is slimmer, and longer than the sheet."""
    strip = np.array([(0.0, 0.0), (762.0, 60.0), (762.0, 140.0), (0.0, 80.0)])
    long, wide = best_rectangle_mm(strip, (762.0, 508.0))
    assert (long, wide) == pytest.approx((762.0, 140.0))
    assert best_rectangle_mm(strip, (900.0, 508.0))[0] > 762.0


@pytest.mark.parametrize(("size", "missing"), [((762, 508), 0), ((770, 100), 8), ((600, 520), 12), ((500, 400), 0)])
def test_a_rectangle_fits_a_sheet_either_way_round(size: tuple[float, float], missing: float) -> None:
    """On 508 by 762 mm."""
    assert sheet_missing_mm(size, (508.0, 762.0)) == missing


def test_bend_ratio_and_shank() -> None:
    """6 mm inside on 3 mm wire is 2 diameters; a shank of 2 by 10 mm is 10 pi mm^3."""
    assert bend_ratio(Wire(((0, 0, 0), (50, 0, 0), (50, 50, 0)), 3.0, 6.0)) == 2.0
    screws = Screws.model_validate(
        {"kind": "screws", "points": [["0 mm", "0 mm", "0 mm"]], "diameter": "2 mm", "length": "10 mm"}
    )
    assert shank_mm3(screws) == pytest.approx(10.0 * np.pi)


# --- findings ---------------------------------------------------------------------------------------------------


def test_too_many_scores_leave_facets_that_crumble() -> None:
    """40 scores in a chord of 120 mm leave facets thinner than 5 mm foam; fewer are proposed, and do."""
    data = plain_data()
    data["wing"] |= {"root_chord": "120 mm", "scores": 40}
    finding = amiss(data, "making.score: wing skin 1 right", "fail")
    assert finding.remedies


def test_a_firewall_on_bare_foam_fails_and_doublers_mend_it() -> None:
    """Glued to bare foam it has hardly any strength: common practice, no source."""
    finding = amiss(plain_data(), "making.firewall", "fail")
    assert 'fuselage.firewall.doubler_material="birch plywood 1.5 mm"' in finding.remedies[0].settings


def test_doublers_are_cut_short_where_a_former_is_near() -> None:
    """A former at station 30 mm leaves room for 25 mm behind a 3 mm plate."""
    data = plain_data()
    data["fuselage"]["formers"] = [{"name": "F1", "station": "30 mm"}]
    finding = amiss(data, "making.firewall", "fail")
    assert 'fuselage.firewall.doubler_behind="25 mm"' in finding.remedies[0].settings


def test_dowels_in_bare_foam_want_plywood() -> None:
    """Rubber bands pull the holes oval: common practice, no source."""
    data = plain_data()
    dowels = {
        "front": {"station": "100 mm", "water_line": "20 mm"},
        "rear": {"station": "330 mm", "water_line": "20 mm"},
    }
    data["wing"]["mounting"] = dowels
    finding = amiss(data, "making.dowels", "caution")
    assert finding.remedies[0].settings == ('wing.mounting.reinforcement="birch plywood 0.8 mm"',)


def test_wire_bent_tighter_than_the_trade_does() -> None:
    """3 mm wire round 2 mm is two thirds of a diameter; 3 mm would do."""
    finding = amiss(data_with(gear=gear_data(bend_radius="2 mm")), "making.wire", "fail")
    assert finding.value == pytest.approx(2.0 / 3.0)
    assert finding.remedies[0].settings == ('gear.bend_radius="3 mm"',)


def test_a_part_longer_than_the_sheet_is_named_with_the_sheet_that_would_do() -> None:
    """A wing panel of 450 mm does not come out of a sheet of 400 mm; nor do others of the plain design."""
    data = plain_data() | {"stock": {"sheet_length": "430 mm", "sheet_width": "350 mm"}}
    data["fuselage"]["splice_station"] = "300 mm"
    finding = amiss(data, "making.sheet: wing skin 1 right", "fail")
    assert finding.value == pytest.approx(450.0, abs=0.5)


def test_the_sheet_must_hold_the_part_inside_its_margins() -> None:
    """450 mm out of a sheet of 455 mm with 5 mm kept free all round: 445 mm are left, and 460 mm would do."""
    data = plain_data() | {"stock": {"sheet_length": "455 mm", "sheet_width": "350 mm"}}
    data["fuselage"]["splice_station"] = "300 mm"
    finding = amiss(data, "making.sheet: wing skin 1 right", "fail")
    assert finding.limit == (None, 445.0)
    assert finding.remedies[0].settings == ('stock.sheet_length="460 mm"',)


def test_a_hole_near_an_edge_is_a_caution_and_moves_in() -> None:
    """A hatch 3 mm from the edge of a 5 mm deck, 60 mm wide between the sides."""
    data = plain_data()
    hatch = {
        "name": "hatch",
        "face": "top",
        "from_station": "40 mm",
        "to_station": "100 mm",
        "low": "-27 mm",
        "high": "20 mm",
    }
    data["fuselage"] |= {"decks": [DECK], "openings": [hatch]}
    finding = amiss(data, "making.edge: deck", "caution")
    assert finding.value == pytest.approx(3.0 / 5.0, abs=0.01)
    assert finding.remedies


def test_glue_on_a_rudder_is_its_hinge() -> None:
    """Two strips of 25 mm on a rudder 102 mm high: 49 %; of 10 mm, 20 %, which is too little."""
    data = plain_data()
    data["tail"]["rudder"] = {"root_chord": "40 mm", "hinge": {"strips": 2, "strip_length": "10 mm"}}
    finding = amiss(data, "making.glue: rudder", "caution")
    assert finding.value == pytest.approx(100.0 * 20.0 / 102.0, abs=0.5)


def test_what_hangs_on_nothing_is_named() -> None:
    """A stabiliser hung 20 mm above the fuselage carries its fin and elevator, and nothing carries it."""
    assert one(check(flown(plain_data())), "making.loose").verdict == "pass"
    data = plain_data()
    data["tail"]["stabiliser"] |= {"water_line": "60 mm"}
    loose = {finding.code for finding in check(flown(data)) if finding.verdict == "fail"}
    assert {"making.loose: stabiliser", "making.loose: fin", "making.loose: elevator"} <= loose


@pytest.mark.parametrize(("station", "verdict"), [("3 mm", "info"), ("60 mm", "caution")])
def test_screws_that_cut_their_own_thread(station: str, verdict: str) -> None:
    """Into the plywood firewall without a hole: worth knowing; into a foam former: they do not hold."""
    screws = {"kind": "screws", "points": [[station, "10 mm", "10 mm"]], "pointing": "forward", "length": "3 mm"}
    data = data_with(equipment={"screws": screws})
    data["fuselage"]["formers"] = [{"name": "F1", "station": "56 mm"}]
    assert one(check(flown(data)), "making.screws: screws").verdict == verdict


def test_what_is_well_made_passes_once_for_each_question() -> None:
    """Doublers, no dowels, no gear: passes, and what does not apply."""
    data = plain_data()
    data["fuselage"]["firewall"] = {"doubler_material": "birch plywood 1.5 mm"}
    found = {finding.code: finding.verdict for finding in check(flown(data))}
    assert found == {
        "making.score": "pass",
        "making.edge": "pass",
        "making.sheet": "pass",
        "making.wire": "info",
        "making.loose": "pass",
        "making.glue": "pass",
        "making.firewall": "pass",
        "making.dowels": "info",
    }
