"""Findings on the ground: the sums behind them, whole designs, and remedies that are applied."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan, cos, degrees, isfinite, pi, radians, sin, sqrt, tan
from typing import Any

import numpy as np
import pytest
from shapely import unary_union
from shapely.geometry import Polygon

from airframe import config
from airframe.checks import changes, ground, mending, remedies, rounding, whole
from airframe.checks.contact import Foot
from airframe.checks.finding import Finding
from airframe.checks.standing import Standing
from airframe.checks.surface import shadow
from airframe.checks.tipping import (
    SideArea,
    drag_to_nose_over,
    lateral_g,
    line_angle_deg,
    thrust_to_nose_over_n,
    tipping_turn_m,
    tipping_wind_m_s,
    with_battery,
    worst_overturn_rad,
)
from airframe.flight.propeller import static_thrust_n
from airframe.model import Aeroplane
from airframe.schema.limits_ground import GroundLimits
from airframe.store import MemoryStore
from tests.mending import assert_mended, flown
from tests.rolling import NOSE_WHEEL_GEAR, TAIL_WHEEL_GEAR, belly, nose_wheel, rolling_data, tail_wheel

STORE = MemoryStore()
"""Shapes built once for all of these tests."""
G = 9.80665


def spike(x: float, y: float) -> Foot:
    return Foot("spike", ((x, y, -100.0),), 0.0, axle=None)


def stood(track: float = 160.0, base: float = 500.0, behind: float = 60.0, height: float = 140.0) -> Standing:
    """Three points 100 below the thrust line, the third aft; the balance point so far behind and above."""
    feet = (spike(0.0, track / 2.0), spike(0.0, -track / 2.0), spike(base, 0.0))
    return Standing(feet, (behind, 0.0, height - 100.0), 500.0)


def asked(design: Any) -> dict[str, Finding]:
    return {finding.code: finding for finding in ground.findings(Aeroplane(design, STORE))}


# --- sums -----------------------------------------------------------------------------------------------


def test_lateral_acceleration() -> None:
    """Sideways, at the line's slant s, it takes d / (h cos s) g."""
    one = stood()
    slant = atan(80.0 / 500.0)
    inside = 440.0 * sin(slant)
    assert worst_overturn_rad(one) == pytest.approx(atan(140.0 / inside))
    assert lateral_g(one) == pytest.approx(inside / 140.0 / cos(slant))


def test_turn() -> None:
    """r = v^2 / a: 3 m/s at half a g is a turn of 1.835 m; no margin at all tips in any turn."""
    assert tipping_turn_m(0.5, 3.0) == pytest.approx(9.0 / (0.5 * G))
    assert not isfinite(tipping_turn_m(0.0, 3.0))


def test_wind() -> None:
    """A force at the balance point's own height needs lateral_g weights: V = sqrt(2 F / (rho S C))."""
    one = stood()
    side = SideArea(80_000.0, (60.0, 0.0, 40.0))
    force = lateral_g(one) * 0.5 * G
    assert tipping_wind_m_s(one, side, 1.1) == pytest.approx(sqrt(2.0 * force / (1.225 * 0.08 * 1.1)))
    twice_as_high = SideArea(80_000.0, (60.0, 0.0, 180.0))
    assert tipping_wind_m_s(one, twice_as_high, 1.1) == pytest.approx(tipping_wind_m_s(one, side, 1.1) / sqrt(2.0))


def test_battery_swapped() -> None:
    """M' c' = M c - m0 c0 + m1 c1, by hand: 500 g at 60, 100 g at 20 out, 150 g at 30 in: 59.09 mm."""
    changed = with_battery(stood(), 100.0, np.array([20.0, 0.0, 0.0]), 150.0, np.array([30.0, 0.0, 10.0]))
    assert changed.mass_g == 550.0
    assert changed.cg == pytest.approx(((500 * 60 - 2000 + 4500) / 550, 0.0, (500 * 40 + 1500) / 550))


def test_nosing_over() -> None:
    """Tail wheel, level: drag of d / h of the weight; thrust T at height z needs T z = W d."""
    one = stood()
    assert line_angle_deg(one) == pytest.approx(degrees(atan(60.0 / 140.0)))
    assert drag_to_nose_over(one, is_nose_wheel=False) == pytest.approx(60.0 / 140.0)
    thrust = thrust_to_nose_over_n(one, (-40.0, 0.0, 0.0), (-1.0, 0.0, 0.0))
    assert thrust == pytest.approx(one.weight_n * 60.0 / 100.0)


def test_nose_wheel_braked() -> None:
    """Nose wheel ahead of the balance point by d: drag of d / h of the weight tips it over the nose wheel."""
    feet = (spike(0.0, 100.0), spike(0.0, -100.0), spike(-250.0, 0.0))
    one = Standing(feet, (-40.0, 0.0, 30.0), 500.0)
    assert drag_to_nose_over(one, is_nose_wheel=True) == pytest.approx(210.0 / 130.0)


def test_momentum_theory() -> None:
    """T = 2 rho A v^2 with the v that makes P = T v: both sides by hand for 50 W and 9 in."""
    thrust = static_thrust_n(50.0, 0.2286, 1.225)
    area = pi * 0.2286**2 / 4.0
    speed = 50.0 / thrust
    assert thrust == pytest.approx(2.0 * 1.225 * area * speed**2)


def test_shadow_of_overlapping_squares() -> None:
    """Two squares of 100 that share a quarter: 17500 mm^2, and the centre by hand; overlaps count once."""
    squares = [square(0.0, 0.0, 100.0), square(50.0, 50.0, 100.0)]
    area, x, z = shadow(squares, column_mm=2.0)
    assert area == pytest.approx(17_500.0, rel=1e-9)
    assert x == pytest.approx((50 * 10_000 + 100 * 10_000 - 75 * 2_500) / 17_500, rel=1e-9)
    assert z == pytest.approx(x, rel=1e-9)


def square(x: float, z: float, side: float) -> np.ndarray:
    a, b, c, d = (x, z), (x + side, z), (x + side, z + side), (x, z + side)
    return np.array([[a, b, c], [a, c, d]])


def test_shadow_against_a_polygon_union() -> None:
    """Of random triangles the shadow is the polygon library's union, area and centre, better with finer columns."""
    random = np.random.default_rng(7)
    triangles = random.uniform(0.0, 300.0, (40, 1, 2)) + random.uniform(-40.0, 40.0, (40, 3, 2))
    union = unary_union([Polygon(triangle) for triangle in triangles])
    errors = []
    for column in (4.0, 0.25):
        area, x, z = shadow([triangles], column)
        assert (x, z) == pytest.approx((union.centroid.x, union.centroid.y), abs=column / 4.0)
        errors.append(abs(area / union.area - 1.0))
    assert errors[0] < 1e-2
    assert errors[1] < errors[0] / 4.0


def test_no_shadow() -> None:
    """Nothing, or triangles seen edge on, cover nothing."""
    assert shadow([]) == (0.0, 0.0, 0.0)
    assert shadow([np.array([[[0.0, 0.0], [50.0, 0.0], [100.0, 0.0]]])])[0] == 0.0


def test_standing_moved() -> None:
    """Another track, height or axle puts the wheels there, and takes the balance point along by the mass that moves."""
    one = Standing(stood().feet, (60.0, 0.0, 40.0), 500.0, main_share=0.1)
    assert one.with_track(300.0).track_mm == pytest.approx(300.0)
    assert one.with_track(300.0).cg == one.cg
    assert one.with_axle(-20.0).axle_mm == pytest.approx(-20.0)
    assert one.with_axle(-20.0).cg[0] == pytest.approx(58.0)
    lower = one.with_height(120.0, third_too=True)
    assert [foot.centre[2] for foot in lower.feet] == pytest.approx([-120.0] * 3)
    assert lower.main_height_mm == pytest.approx(120.0)
    assert lower.cg[2] == pytest.approx(38.0)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        (rounding.more(212.1, "metric"), "214 mm"),
        (rounding.less(212.1, "metric"), "210 mm"),
        (rounding.more(212.1, "imperial"), "8.45 in"),
        (rounding.less(25.4, "imperial"), "0.9 in"),
        (rounding.near(101.2, "metric"), "101 mm"),
        (rounding.thicker(2.2, "metric"), "2.5 mm"),
        (rounding.thicker(2.2, "imperial"), "3/32 in"),
        (changes.item_key("motor", "shaft_length"), "equipment.motor.shaft_length"),
        (changes.item_key("big motor", "shaft_length"), 'equipment."big motor".shaft_length'),
    ],
)
def test_what_a_remedy_says(typed: str, expected: str) -> None:
    """Rounded to the safe side, a reserve beyond the sum's own number, as a builder types it."""
    assert typed == expected


def test_least_change() -> None:
    """The limit itself, from either side; None if the end does not pass."""
    assert remedies.least_change(lambda v: v >= 70.0, 10.0, 200.0) == pytest.approx(70.0, abs=1e-4)
    assert remedies.least_change(lambda v: v <= 70.0, 200.0, 10.0) == pytest.approx(70.0, abs=1e-4)
    assert remedies.least_change(lambda v: v >= 70.0, 10.0, 60.0) is None
    assert remedies.first_that_passes(lambda v: v > 12.5, 10.0, 1.0, 5.0) == 13.0
    assert remedies.first_that_passes(lambda v: v > 12.5, 10.0, 1.0, 2.0) is None


def test_limits_are_in_order() -> None:
    """A range with its ends changed over is refused by name."""
    with pytest.raises(ValueError, match="nose_load_low must lie below nose_load_high"):
        GroundLimits.model_validate({"nose_load_low": "30 %"})


# --- whole designs --------------------------------------------------------------------------------------


def test_without_gear() -> None:
    """A belly lander gets one line that says what does not apply."""
    (only,) = ground.findings(Aeroplane(belly(), STORE))
    assert (only.code, only.verdict) == ("ground", "info")
    assert "do not apply" in only.message


def test_tail_wheel_design() -> None:
    """Loads, attitude, wheel line and overturn angle of a whole design, each from its own numbers by hand."""
    aeroplane = Aeroplane(tail_wheel(), STORE)
    found = {finding.code: finding for finding in ground.findings(aeroplane)}
    x, y, z = aeroplane.cg_mm
    base, rise = 590.0 - 100.0, (-45.0 + 12.0) - (-140.0 + 25.0)
    pitch = atan(rise / base) + np.arcsin((25.0 - 12.0) / sqrt(base**2 + rise**2))
    assert found["ground.attitude"].value == pytest.approx(degrees(pitch), abs=1e-3)
    assert found["ground.wheel-line"].value == pytest.approx(degrees(atan((x - 100.0) / (z + 140.0))), abs=1e-3)
    # In the ground's frame: aft along it, up from it, from the main wheels' contact.
    aft = (x - 100.0) * cos(pitch) + (z + 115.0) * sin(pitch)
    up = -(x - 100.0) * sin(pitch) + (z + 115.0) * cos(pitch) + 25.0
    wheelbase = base * cos(pitch) + rise * sin(pitch)
    assert found["ground.third-load"].value == pytest.approx(100.0 * aft / wheelbase, abs=1e-3)
    slant = atan(90.0 / wheelbase)
    inside = (wheelbase - aft) * sin(slant) - abs(y) * cos(slant)
    assert found["ground.overturn"].value == pytest.approx(degrees(atan(up / inside)), abs=1e-3)


def test_nose_wheel_design() -> None:
    """Level on three equal wheels: nose load by moments, tip-back by the wheel line, both by hand."""
    aeroplane = Aeroplane(nose_wheel(), STORE)
    found = {finding.code: finding for finding in ground.findings(aeroplane)}
    x, _, z = aeroplane.cg_mm
    assert found["ground.third-load"].value == pytest.approx(100.0 * (240.0 - x) / 200.0, abs=1e-3)
    assert found["ground.tip-back"].value == pytest.approx(degrees(atan((240.0 - x) / (z + 140.0))), abs=1e-3)
    strike, tip = found["ground.tail-strike"].value, found["ground.tip-back"]
    assert strike is not None and tip.limit[0] == pytest.approx(max(15.0, strike), abs=1e-3)


def test_edges_spread_to_the_next_mark_outwards() -> None:
    """Half millimetres, or twentieths of an inch: 12.3 to 17.6 mm are 0.484 to 0.693 in; what is on a mark stays."""
    assert rounding.spread(12.3, 17.6, "metric") == (12.0, 18.0)
    assert rounding.spread(-22.5, 22.5, "metric") == (-22.5, 22.5)
    assert rounding.spread(12.3, 17.6, "imperial") == pytest.approx((0.45 * 25.4, 0.7 * 25.4))


def test_a_remedy_at_the_cost_of_another_check_says_so() -> None:
    """Wheels too near the balance point: further aft they stand, but the nose wheel carries more."""
    data = rolling_data(NOSE_WHEEL_GEAR, gear={"axle_station": "170 mm"})

    def rebuild(settings: Sequence[str]) -> Aeroplane:
        return Aeroplane(config.from_dict(data, settings), STORE)

    before = asked(rebuild(()).design)
    tried = {finding.code: finding for finding in whole.run(rebuild(()), rebuild)}["ground.tip-back"]
    (line,) = tried.remedies[0].settings
    after = asked(rebuild([line]).design)
    assert (before["ground.tip-back"].verdict, before["ground.third-load"].verdict) == ("fail", "pass")
    assert (after["ground.tip-back"].verdict, after["ground.third-load"].verdict) == ("pass", "fail")
    cost = after["ground.third-load"].message.rstrip(".")
    assert tried.remedies[0].text.endswith(f", at the cost of a failed check: {cost}")
    assert mending.worse(list(before.values()), list(after.values())) == ["ground.third-load"]


def test_the_side_area_is_told_in_the_designs_units() -> None:
    """The same area twice: cm^2 / 6.4516 = in^2."""
    shown = [asked(tail_wheel(units=system))["ground.wind"].message for system in ("metric", "imperial")]
    metric, imperial = (float(text.split("side area ")[1].split()[0]) for text in shown)
    assert "in^2" in shown[1] and "cm" not in shown[1]
    assert imperial == pytest.approx(metric / 6.4516, abs=0.6)


def test_tail_strike_of_a_plain_tail() -> None:
    """The fuselage's lower rear corner, a = 360 aft of the axle and b = 115 above, touches at atan(b/a) + asin(R/r)."""
    found = asked(nose_wheel())["ground.tail-strike"].value
    a, b = 600.0 - 240.0, 0.0 + 140.0 - 25.0
    assert found is not None
    assert found == pytest.approx(degrees(atan(b / a) + np.arcsin(25.0 / sqrt(a * a + b * b))), abs=1e-3)


def test_it_does_not_stand() -> None:
    """Main wheels behind the balance point of a tail-wheel aeroplane: it fails, and is told where they belong."""
    found = asked(
        tail_wheel(gear={"axle_station": "220 mm", "plate": {"from_station": "150 mm", "to_station": "200 mm"}})
    )
    stands = found["ground.stands"]
    assert stands.verdict == "fail" and stands.value is not None and stands.value < 0.0
    assert "does not stand" in stands.message
    assert stands.remedies and "gear.axle_station" in stands.remedies[0].settings[0]
    assert all(finding.value is None or isfinite(finding.value) for finding in found.values())


def test_stated_thrust() -> None:
    """A thrust that the design states is the limit, and no estimate is made."""
    found = asked(tail_wheel(limits={"ground": {"static_thrust": "1 N"}}))["ground.full-throttle"]
    assert found.verdict == "pass" and found.limit[0] == 1.0
    assert "as limits.ground.static_thrust states" in found.message


def test_thrust_is_that_of_the_flight_estimates() -> None:
    """Once kv, cells and capacity are stated, full throttle pulls what `airframe flight` says; measured, just that."""
    said = {"motor": {"kv": "1200 rpm/V"}, "battery": {"options": {"large": {"cells": 2, "capacity": "1000 mAh"}}}}
    design = tail_wheel(equipment=said)
    figures = Aeroplane(design, STORE).flight.power()
    assert not isinstance(figures, str)
    found = asked(design)["ground.full-throttle"]
    assert found.limit[0] == pytest.approx(figures.static_thrust_n.middle, abs=1e-4)
    measured = asked(tail_wheel(equipment=said, flight={"measured_thrust": "4 N"}))["ground.full-throttle"]
    assert measured.limit[0] == pytest.approx(4.0, abs=1e-4) and "what you measured" in measured.message


def test_without_motor() -> None:
    """Without a propeller there is no thrust, and nothing is said of it."""
    items = {"motor": {"fitted": False}, "propeller": {"fitted": False}}
    assert "ground.full-throttle" not in asked(tail_wheel(equipment=items))


def test_skid() -> None:
    """A skid stands like a tail wheel."""
    gear = {key: value for key, value in TAIL_WHEEL_GEAR.items() if key != "tail_wheel"}
    gear["skid"] = {"front_station": "540 mm", "contact_station": "585 mm", "height": "50 mm"}
    found = {
        finding.code: finding for finding in ground.findings(Aeroplane(config.from_dict(rolling_data(gear)), STORE))
    }
    assert found["ground.stands"].verdict == "pass"
    assert "skid" in found["ground.third-load"].message


def test_estimates_never_fail() -> None:
    """What rests on an assumed speed, thrust or coefficient cautions at worst, and says that it is an estimate."""
    tippy = asked(tail_wheel(gear={"track": "110 mm", "axle_station": "140 mm", "height": "160 mm"}))
    for code in ("ground.turn", "ground.grass", "ground.wind", "ground.nose-over", "ground.full-throttle"):
        assert tippy[code].verdict != "fail"
        assert tippy[code].message.startswith("Estimate")


def test_slow_flyer_with_narrow_and_wide_fuselage() -> None:
    """A 2 in fuselage with wheels close to it is tippy; a 3 in one with longer, outspread legs is not.

    Common practice, no source.
    """
    narrow = asked(tail_wheel(fuselage={"width": "2 in"}, gear={"track": "4.5 in"}))["ground.overturn"]
    wide = asked(tail_wheel(fuselage={"width": "3 in"}, gear={"track": "9.5 in"}))["ground.overturn"]
    assert narrow.verdict == "fail" and narrow.value is not None and narrow.value > 63.0
    assert wide.verdict == "pass"


VARIANTS: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "tail wheel": (TAIL_WHEEL_GEAR, {}),
    "narrow, axle aft": (TAIL_WHEEL_GEAR, {"gear": {"track": "120 mm", "axle_station": "135 mm", "height": "128 mm"}}),
    "axle forward, low": (TAIL_WHEEL_GEAR, {"gear": {"axle_station": "60 mm", "height": "116 mm"}}),
    "inches": (TAIL_WHEEL_GEAR, {"units": "imperial", "gear": {"track": "6 in"}}),
    "nose wheel": (NOSE_WHEEL_GEAR, {}),
    "nose wheel, axle forward": (
        NOSE_WHEEL_GEAR,
        {"gear": {"axle_station": "175 mm", "nose_wheel": {"axle_station": "10 mm"}}},
    ),
}


@pytest.mark.parametrize("variant", VARIANTS)
def test_every_remedy_mends_its_finding(variant: str) -> None:
    """Each remedy that is a setting, applied, turns its finding to pass."""
    gear, changes = VARIANTS[variant]
    data = rolling_data(gear, **changes)
    advised = [one for one in ground.findings(flown(data)) if any(remedy.settings for remedy in one.remedies)]
    assert advised
    for finding in advised:
        assert_mended(data, ground.findings, finding)


def test_lowering_the_balance_point_is_worked_out_too() -> None:
    """By as much as it says, the overturn angle comes to its limit: h falls until atan(h / d) = 55 deg."""
    one = stood()
    limit = radians(55.0)
    inside = 440.0 * sin(atan(80.0 / 500.0))
    drop = remedies.least_change(lambda v: worst_overturn_rad(one.lowered(v)) <= limit, 0.0, 130.0)
    assert drop == pytest.approx(140.0 - inside * tan(limit), abs=1e-3)


@pytest.mark.parametrize("design", [tail_wheel(), nose_wheel()], ids=["tail wheel", "nose wheel"])
def test_feet_alone_say_the_same_as_with_the_outline(design: Any) -> None:
    """What is asked of the feet only is what the whole check finds of them."""
    aeroplane = Aeroplane(design, STORE)
    every = ground.findings(aeroplane, with_remedies=False)
    of_feet = [finding for finding in every if finding.code.split(":")[0] in ground.OF_FEET]
    assert 0 < len(of_feet) < len(every)
    assert ground.findings(aeroplane, with_remedies=False, with_outline=False) == of_feet
