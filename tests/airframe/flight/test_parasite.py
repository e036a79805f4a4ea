"""Drag added up from the drawing: closed forms for simple things, bands that hold, demos that look like slow flyers."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest

from airframe import config
from airframe.config import from_dict
from airframe.flight import parasite, polars, sections
from airframe.flight.atmosphere import air
from airframe.flight.bands import Band, exactly
from airframe.layout import Layout
from tests.electric import STARTER

CONFIGS = sorted((Path(__file__).parents[3] / "configs").glob("*.toml"))
STILL = air()


def layout(**tables: dict[str, Any]) -> Layout:
    """The starter with keys of its tables changed."""
    data = copy.deepcopy(STARTER)
    for name, keys in tables.items():
        data[name] = {**data.get(name, {}), **keys}
    return Layout(from_dict(data))


def areas(built: Layout) -> dict[str, Band]:
    """Drag areas by name at 8 m/s."""
    return {item.name: item.area_m2 for item in parasite.drag_items(parasite.outside(built), STILL, 8.0)}


def test_wheels_and_legs() -> None:
    """Diameter times width twice; the legs are straight wires, so a wire twice as thick drags twice."""
    built = layout()
    wheel = built.design.gear.wheel
    assert wheel is not None
    bare = wheel.diameter_mm * wheel.width_mm * 2e-6
    assert areas(built)["main wheels"].middle == pytest.approx(parasite.WHEEL.middle * bare)
    wire = built.design.gear.wire_diameter_mm
    thick = layout(gear={"wire_diameter": f"{2 * wire} mm"})
    assert areas(thick)["main legs"].middle == pytest.approx(2 * areas(built)["main legs"].middle)


def test_no_gear_no_gear_drag() -> None:
    """A hand-launched aeroplane has neither wheels nor legs in the stream."""
    assert not {"main wheels", "main legs", "third wheel", "skid"} & set(areas(layout(gear={"arrangement": "none"})))


def box(z_mm: float) -> dict[str, Any]:
    """A box 40 mm wide and 30 mm high at a water line, behind the middle of the fuselage."""
    place = {"station": "200 mm", "water_line": f"{z_mm} mm", "place": "outside"}
    return {"mass": "10 g", "size": ["40 mm", "40 mm", "30 mm"], **place}


def test_only_what_shows_drags() -> None:
    """A box far below the fuselage shows all of its front, one half below shows half of it, one inside nothing."""
    plain = layout()
    bottom = plain.water_line_mm("bottom", 200.0)
    shown = {
        z: areas(layout(equipment={**STARTER["equipment"], "pod": box(z)})).get("pod", exactly(0.0)).middle
        for z in (bottom - 100.0, bottom, bottom + 20.0)
    }
    whole, half, none = shown.values()
    assert whole == pytest.approx(parasite.BLUFF.middle * 40 * 30e-6)
    assert half == pytest.approx(whole / 2)
    assert none == 0.0


def test_the_sum() -> None:
    """Items add up, with what the joints add; low stays below high."""
    items = parasite.drag_items(parasite.outside(layout()), STILL, 8.0)
    total = parasite.drag_area_m2(items)
    assert total.middle == pytest.approx(parasite.INTERFERENCE.middle * sum(item.area_m2.middle for item in items))
    assert [item.area_m2.middle for item in items] == sorted((i.area_m2.middle for i in items), reverse=True)


def test_a_flat_tail_is_skin_and_edges() -> None:
    """Twice the friction of its area and the drag of its edges, at no lift: no suction is lost."""
    drag = sections.profile_drag(0.0, 0.0, 0.03, 9e4)
    assert drag.high == pytest.approx(2 * sections.turbulent_friction(9e4) + 0.03 * sections.EDGE_DRAG.high)


def test_the_stated_stall_goes_before_the_estimate() -> None:
    """A stall lift coefficient of your own is taken as it is."""
    assert polars.most_lift(layout(flight={"stall_lift_coefficient": 0.8}), STILL, 0.5) == exactly(0.8)
    guess = polars.most_lift(layout(), STILL, 0.5)
    assert guess.low < guess.middle < guess.high


def test_stall_speed_has_the_band_of_the_lift() -> None:
    """Most lift at the slow end, the likely polar's stall in the middle; none left where the coefficient is stated."""
    band, lift = polars.stall_speed_m_s(layout(), 0.5), polars.most_lift(layout(), STILL, 0.5)
    assert band.high / band.low == pytest.approx((lift.high / lift.low) ** 0.5)
    assert band.middle == pytest.approx(polars.drags(layout(), 0.5).likely.stall_speed_m_s)
    stated = polars.stall_speed_m_s(layout(flight={"stall_lift_coefficient": 1}), 0.5)
    assert stated.low == stated.high


def test_higher_fields_stall_faster() -> None:
    """By the root of the thinner air; the lift coefficient does not change within the tested range."""
    low, high = (polars.drags(layout(flight={"altitude": h}), 0.5).likely for h in ("0 m", "1000 m"))
    assert high.stall_speed_m_s / low.stall_speed_m_s == pytest.approx((1.2250 / 1.11164) ** 0.5, rel=1e-4)


@pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.stem)
def test_demos_fly_like_slow_flyers(path: Path) -> None:
    """Foam-board slow flyers glide 4 to 10 to 1 and stall at 5 to 9 m/s with 3.2 kg/m^2 (our expectation,
    no source)."""
    built = Layout(config.load(path))
    spread = polars.drags(built, 3.2 * built.mean_chord.area_mm2 * 1e-6)
    assert spread.slippery.zero_lift_drag < spread.likely.zero_lift_drag < spread.draggy.zero_lift_drag
    assert 5.0 < spread.likely.stall_speed_m_s < 9.0
    assert 4.0 < spread.likely.glide_ratio(spread.likely.flattest_glide_m_s) < 10.0
