"""A small foam-board slow flyer weighs, and balances, about as the trade says that such a model does."""

from __future__ import annotations

from pathlib import Path

import pytest

from airframe.config import load
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from airframe.units import G_PER_OUNCE, MM_PER_INCH
from tests.overlaps import overlaps

FILE = Path(__file__).parent / "slow_flyer.toml"
TARGET_MM = 1.5 * MM_PER_INCH
"""Balance point behind the leading edge: common practice, no source."""


@pytest.fixture(scope="module")
def bare() -> Aeroplane:
    """With motor, servos and receiver; no battery, no camera."""
    return Aeroplane(load(FILE))


def with_battery_at(station_mm: float) -> Aeroplane:
    return Aeroplane(load(FILE, ["equipment.battery.fitted=true", f'equipment.battery.station="{station_mm:.4f} mm"']))


def test_it_is_of_the_size_that_is_spoken_of(bare: Aeroplane) -> None:
    """36 to 40 in span, a 3 in fuselage of 3/16 in board, sixty parts or more that keep out of one another."""
    design = bare.design
    assert 36.0 <= 2 * sum(panel.span_mm for panel in design.wing.panels) / MM_PER_INCH <= 40.0
    assert design.fuselage.width_mm == pytest.approx(3.0 * MM_PER_INCH)
    assert bare.layout.side_thickness_mm == pytest.approx(3.0 / 16.0 * MM_PER_INCH)
    assert len(bare.parts) >= 60
    assert overlaps(bare.parts, 30.0) == {}


def test_its_finished_airframe_weighs_about_12_oz(bare: Aeroplane) -> None:
    """With motor, servos and receiver about 12 oz (common practice, no source): 9 to 15 oz is that neighbourhood."""
    assert 9.0 <= bare.statement.whole.mass / G_PER_OUNCE <= 15.0


def test_a_figure_goes_between_the_sides(bare: Aeroplane) -> None:
    """2 5/8 in clear inside a 3 in fuselage of 3/16 in board: a 2 1/2 in figure fits (common practice, no source)."""
    clear = 2.0 * bare.layout.inner_half_width_mm(bare.design.wing.station_mm)
    assert clear == pytest.approx(2.625 * MM_PER_INCH)
    assert clear > 2.5 * MM_PER_INCH


def test_the_battery_brings_the_balance_point_where_it_belongs(bare: Aeroplane) -> None:
    """Shifting the battery along the long nose puts the balance point 1 1/2 in behind the leading edge.

    (common practice, no source). The station from moments about the firewall: M x + m x_b = (M + m) x_target.
    """
    whole, battery = bare.statement.whole, bare.design.equipment["battery"]
    assert isinstance(battery, Battery)
    mass, (length, _, _) = battery.chosen().mass_g, battery.chosen().size
    wanted = bare.design.wing.station_mm + TARGET_MM
    station = ((whole.mass + mass) * wanted - whole.mass * float(whole.centre[0])) / mass
    tray = next(shelf for shelf in bare.design.fuselage.shelves if shelf.name == "battery tray")
    assert tray.from_station_mm <= station - length / 2.0
    assert station + length / 2.0 <= bare.design.wing.station_mm
    flying = with_battery_at(station)
    assert flying.cg_behind_leading_edge_mm == pytest.approx(TARGET_MM, abs=1e-3)
    assert overlaps(flying.parts, 30.0) == {}
