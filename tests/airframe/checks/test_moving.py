"""Control surfaces, push-rods and wheels: closed forms, and sweeps on small aeroplanes."""

from __future__ import annotations

from math import cos, degrees, pi, radians, sin, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.axes import about_x, at
from airframe.checks import bevels, moving, moving_tail, push_rods, wheels_free
from airframe.checks.bevels import throw_allowed_rad
from airframe.checks.finding import Finding
from airframe.checks.moving_tail import risen_mm
from airframe.checks.pairs import Pairs
from airframe.checks.sweeps import Nearest, steps, sweep, swung, tightest
from airframe.drawing import Block, Part
from airframe.layout import Layout
from airframe.materials import MATERIALS
from airframe.model import Aeroplane
from airframe.parts.tail_lines import HingeLine, hinge_lines
from tests.designs import plain, plain_data
from tests.fittings import gear_data
from tests.mending import assert_mended, data_with, flown, one

SINGLE_MM = 1e-4
"""Display meshes hold single precision."""
angles = st.floats(-3.0, 3.0)


def _tail(aeroplane: Aeroplane) -> list[Finding]:
    return moving_tail.findings(Pairs(aeroplane))


def _bevels(aeroplane: Aeroplane) -> list[Finding]:
    return list(bevels.findings(aeroplane.layout))


def _rods(aeroplane: Aeroplane) -> list[Finding]:
    return push_rods.findings(Pairs(aeroplane))


def with_tail(**tables: dict[str, Any]) -> dict[str, Any]:
    """The plain design with keys of its tail's tables changed."""
    data = plain_data()
    for name, changes in tables.items():
        data["tail"][name] = {**data["tail"].get(name, {}), **changes}
    return data


# --- hinge lines and sweeps -----------------------------------------------------------------------------------


@given(angles, st.tuples(*[st.floats(-200, 200)] * 3))
@settings(max_examples=50, deadline=None)
def test_a_swing_keeps_the_hinge_line_and_all_distances(angle: float, point: tuple[float, float, float]) -> None:
    """Points of the line stay; the distance of any point from it stays; two swings add up."""
    axis = np.array([1.0, 2.0, -2.0]) / 3.0
    hinge = HingeLine((10.0, -5.0, 30.0), (float(axis[0]), float(axis[1]), float(axis[2])))
    place = swung(at(), hinge, angle)
    on_line = np.array(hinge.point) + 70.0 * axis
    assert place.apply(on_line) == pytest.approx(on_line, abs=1e-6)
    before, after = np.array(point) - hinge.point, place.apply(point) - hinge.point
    assert np.linalg.norm(np.cross(after, axis)) == pytest.approx(np.linalg.norm(np.cross(before, axis)), abs=1e-6)
    twice = swung(place, hinge, 0.4)
    assert twice.apply(point) == pytest.approx(swung(at(), hinge, angle + 0.4).apply(point), abs=1e-5)


def test_the_hinge_lines_lie_where_the_glue_is_and_swing_the_named_way() -> None:
    """Elevator: half the gap aft of the stabiliser, on its upper face, positive up; rudder positive to the right."""
    layout = Layout(plain())
    lines = hinge_lines(layout)
    place = layout.stabiliser_place
    assert lines["elevator"].point == pytest.approx(tuple(place.apply((90.5, 0.0, 5.0))), abs=1e-5)
    aft = place.turn((1.0, 0.0, 0.0))
    up, right = place.turn((0.0, 0.0, 1.0)), np.array([0.0, 1.0, 0.0])
    for name, way in (("elevator", up), ("rudder", right)):
        edge = np.array(lines[name].point) + 40.0 * aft
        moved = swung(at(), lines[name], radians(20.0)).apply(edge) - lines[name].point
        assert float(moved @ way) == pytest.approx(40.0 * sin(radians(20.0)), abs=1e-4)


@given(st.floats(-1.2, -0.02), st.floats(0.02, 1.2), st.floats(0.02, 0.5))
def test_steps_cover_the_throw(low: float, high: float, step: float) -> None:
    """Both ends and the middle are among them, no two further apart than a step."""
    found = steps(low, high, step)
    assert found[0] == low and found[-1] == high and 0.0 in found
    assert max(np.diff(found)) <= step + 1e-9


def test_a_sweep_finds_the_least_gap_and_its_angle() -> None:
    """A bar of 100 mm, 2 mm thick, pivoted at its end, rises 100 sin a + cos a: at 30 deg 50.87 mm, under 52 mm."""
    pairs = Pairs(flown(plain_data()))
    bought = MATERIALS["bought item"]
    bar = Part("bar", "payload", Block((100.0, 10.0, 2.0)), at(50.0), bought)
    lid = Part("lid", "payload", Block((200.0, 50.0, 2.0)), at(50.0, 0.0, 53.0), bought)
    hinge = HingeLine((0.0, 0.0, 0.0), (0.0, -1.0, 0.0))
    near = sweep(pairs, [bar], hinge, steps(0.0, radians(30.0), radians(5.0)), [lid], 5.0)
    assert near.gap_mm == pytest.approx(52.0 - 100.0 * sin(radians(30.0)) - cos(radians(30.0)), abs=SINGLE_MM)
    assert (degrees(near.angle_rad), near.part, near.other) == (pytest.approx(30.0), "bar", "lid")


def test_a_hit_is_tighter_than_any_gap() -> None:
    """Overlap first, then gap."""
    hit, near = Nearest(0.0, 3.0, "a", "b", 0.2), Nearest(0.0, 0.0, "a", "c", 0.1)
    assert tightest([near, hit]) is hit


# --- bevels ---------------------------------------------------------------------------------------------------


@given(st.floats(0.0, 1.1), st.floats(1.0, 12.0))
def test_without_a_gap_the_throw_is_the_bevel(bevel: float, thickness: float) -> None:
    """The bevelled face then lies flat against the fixed edge."""
    assert throw_allowed_rad(bevel, 0.0, thickness) == pytest.approx(bevel, abs=1e-9)


@given(st.floats(0.0, 1.0), st.floats(0.05, 3.0), st.floats(2.0, 12.0))
def test_at_the_allowed_throw_the_far_edge_is_on_the_end_face(bevel: float, gap: float, thickness: float) -> None:
    """Turn the far edge (g/2 + t tan b, -t) by that angle: it lies at -g/2; a gap allows more than the bevel."""
    angle = throw_allowed_rad(bevel, gap, thickness)
    assert angle > bevel
    if angle < pi / 2.0:
        reach = gap / 2.0 + thickness * tan(bevel)
        assert reach * cos(angle) - thickness * sin(angle) == pytest.approx(-gap / 2.0, abs=1e-9)


def test_a_shallow_bevel_fails_and_is_told_how_deep() -> None:
    """25 deg down with a bevel of 10 deg and a gap of 0.2 mm in 5 mm sheet: tan 10 deg leaves too little."""
    data = with_tail(elevator={"hinge": {"bevel": "10 deg", "gap": "0.2 mm"}})
    finding = one(_bevels(flown(data)), "moving.bevel: elevator")
    assert finding.verdict == "fail"
    assert finding.remedies[0].settings == ('tail.elevator.hinge.bevel="26 deg"',)
    assert_mended(data, _bevels, finding)


def test_what_only_the_gap_allows_is_a_caution() -> None:
    """A bevel of 24 deg for 25: common practice is as much bevel as throw (no source)."""
    data = with_tail(elevator={"hinge": {"bevel": "24 deg", "gap": "1 mm"}})
    assert one(_bevels(flown(data)), "moving.bevel: elevator").verdict == "caution"
    assert_mended(data, _bevels, one(_bevels(flown(data)), "moving.bevel: elevator"))


# --- tail -----------------------------------------------------------------------------------------------------


def test_how_high_a_surface_rises() -> None:
    """All of it under a long rudder: c sin a; cut off where a short one ends: r tan a."""
    a = radians(25.0)
    assert risen_mm(50.0, 100.0, a) == pytest.approx(50.0 * sin(a))
    assert risen_mm(50.0, 20.0, a) == pytest.approx(20.0 * tan(a))
    assert risen_mm(50.0, -3.0, a) == 0.0


def test_an_elevator_that_rises_into_the_rudder_is_found_and_mended() -> None:
    """40.5 mm from its hinge line, 25 deg up, rise 17.1 mm; the rudder begins at 8 mm; with the gap 19 mm would do."""
    finding = one(_tail(flown(plain_data())), "moving.elevator_rudder")
    assert finding.verdict == "fail"
    assert 'tail.rudder.root_clearance="19 mm"' in finding.remedies[0].settings
    assert_mended(plain_data(), _tail, finding)


def test_a_rudder_well_above_the_elevator_is_free() -> None:
    """With 20 mm of clearance, about 20 - 16.9 mm are left between the two."""
    data = with_tail(rudder={"root_clearance": "20 mm"})
    finding = one(_tail(flown(data)), "moving.elevator_rudder")
    assert finding.verdict == "pass"
    assert finding.value == pytest.approx(20.0 - 40.0 * sin(radians(25.0)), abs=0.3)


def test_an_elevator_over_the_fuselages_end_hits_it_going_down() -> None:
    """The hinge is 5 mm ahead of the fuselage's end, the elevator lies on its edges: move the tail aft."""
    data = plain_data()
    finding = one(_tail(flown(data)), "moving.elevator")
    assert finding.verdict == "fail"
    assert_mended(data, _tail, finding)


def test_the_fin_may_end_at_the_elevators_hinge() -> None:
    """Its rear edge is flush with the stabiliser's: the hinge's own gap there is no finding."""
    data = with_tail(stabiliser={"station": "515 mm"}, fin={"station": "515 mm"})
    assert one(_tail(flown(data)), "moving.elevator").verdict == "pass"


def test_a_fin_beyond_the_elevators_hinge_is_hit() -> None:
    """Set 6 mm further aft the fin stands over the elevator, which rises into it at once: it belongs further ahead."""
    data = with_tail(stabiliser={"station": "515 mm"}, fin={"station": "521 mm"})
    finding = one(_tail(flown(data)), "moving.elevator")
    assert (finding.verdict, finding.parts) == ("fail", ("elevator", "fin"))
    assert finding.remedies[0].settings[0].startswith("tail.fin.station=")
    assert_mended(data, _tail, finding)


# --- push-rods and wheels -------------------------------------------------------------------------------------


def with_rod(former: dict[str, Any]) -> dict[str, Any]:
    """A servo, and a rod level inside the fuselage through one former; its far end just lies there."""
    servo = {"mass": "9 g", "size": ["23 mm", "12 mm", "24 mm"], "station": "200 mm", "group": "controls"}
    rod = {"kind": "push-rod", "from_point": ["212 mm", "6 mm", "10 mm"], "to_point": ["400 mm", "6 mm", "10 mm"]}
    data = data_with(equipment={"servo": servo, "rod": rod})
    data["fuselage"]["formers"] = [{"name": "F1", "station": "300 mm", **former}]
    return data


def test_a_push_rod_needs_a_window() -> None:
    """Through a whole former it does not go; a window is proposed, and does."""
    data = with_rod({})
    finding = one(_rods(flown(data)), "moving.push_rod: rod")
    assert finding.verdict == "fail" and "former F1" in finding.message
    assert_mended(data, _rods, finding)
    assert one(_rods(flown(with_rod({"rim": "12 mm"}))), "moving.push_rod: rod").verdict == "pass"


def test_a_push_rod_near_a_windows_edge_is_a_caution() -> None:
    """Inside 30 - 23 = 7 mm of half window at 6 + 0.6 mm: 0.4 mm are left."""
    finding = one(_rods(flown(with_rod({"rim": "23 mm"}))), "moving.push_rod: rod")
    assert (finding.verdict, finding.value) == ("caution", pytest.approx(0.4, abs=0.02))
    assert_mended(with_rod({"rim": "23 mm"}), _rods, finding)


def test_half_a_remedy_is_none() -> None:
    """A window does not help a rod that meets a camera as well: nothing is proposed."""
    data = with_rod({})
    tin = {"mass": "9 g", "size": ["20 mm", "20 mm", "20 mm"], "station": "250 mm"}
    a, b = (data["equipment"]["rod"][end] for end in ("from_point", "to_point"))
    assert a[1:] == b[1:]
    data["equipment"]["tin"] = tin | {"butt_line": a[1], "water_line": a[2]}
    finding = one(_rods(flown(data)), "moving.push_rod: rod")
    assert {"former F1", "tin"} <= set(finding.parts)
    assert finding.remedies == ()


def test_wheels_are_free_or_not_there() -> None:
    """An ordinary gear's wheels turn; without a gear the question does not apply."""
    geared = flown(data_with(gear=gear_data()))
    assert one(wheels_free.findings(Pairs(geared)), "moving.wheels").verdict == "pass"
    assert one(wheels_free.findings(Pairs(flown(plain_data()))), "moving.wheels").verdict == "info"


def test_a_wheel_that_rubs_is_found() -> None:
    """A tin in the wheel's way: 30 mm of radius at butt line 100 mm."""
    tin = {"mass": "9 g", "size": ["20 mm", "20 mm", "20 mm"], "station": "120 mm", "butt_line": "100 mm"}
    tin |= {"water_line": "-85 mm", "place": "outside"}
    aeroplane = flown(data_with(gear=gear_data(), equipment={"tin": tin}))
    finding = one(wheels_free.findings(Pairs(aeroplane)), "moving.wheels")
    assert (finding.verdict, finding.parts) == ("fail", ("main wheel right", "tin"))


def test_all_of_moving_together_on_a_plain_design() -> None:
    """Every question is answered once."""
    codes = [finding.code for finding in moving.findings(flown(plain_data()))]
    assert len(codes) == len(set(codes)) == 6


def test_turned_places_keep_their_shape() -> None:
    """A swing is a rotation: it mirrors nothing."""
    assert not swung(about_x(0.3), HingeLine((1.0, 2.0, 3.0), (0.0, 0.0, 1.0)), 1.0).is_mirrored
