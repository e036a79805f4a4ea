"""Level flight from the stall up: the polars, the lattice and the weight say one thing."""

from __future__ import annotations

from functools import cache
from math import pi
from pathlib import Path

import pytest

import airframe
from airframe.flight import polars, sections
from airframe.flight.bands import exactly
from airframe.flight.whole import Flight
from airframe.model import Aeroplane

CONFIGS = Path(__file__).parents[3] / "configs"
DEMOS = ("teasel-mk1", "teasel-mk2", "plover")


@cache
def demo(name: str) -> Aeroplane:
    """A demo, read once for all tests."""
    return airframe.load(CONFIGS / f"{name}.toml")


def flight(name: str) -> Flight:
    """Its estimates."""
    return demo(name).flight


@pytest.mark.parametrize("name", DEMOS)
def test_the_polars_wake_is_the_lattices(name: str) -> None:
    """At slow cruise the polar's induced drag, its own losses taken off, is the drag left in the lattice's wake.

    The lattice's lift is the weight but for what the thrust's line and the path's angle carry: within 2 %.
    """
    one = flight(name)
    held, polar = one.cruise, one.drags.likely
    wake = one.air.lattice.wake_drag_n(held.motion, one.air.deflections(held.elevator_rad), one.air.density_kg_m3)
    lift = polar.lift_coefficient(one.cruise_m_s)
    efficiency = polar.efficiency / polars.OF_LATTICE.middle
    induced = polar.weight_n * lift / (pi * polar.aspect_ratio * efficiency)
    assert induced == pytest.approx(wake, rel=0.02)
    assert 0.85 < efficiency < 1.02


@pytest.mark.parametrize("name", DEMOS)
def test_the_air_at_cruise_drags_as_the_polar_does(name: str) -> None:
    """Thrust at trim against the polar's drag with an efficiency that loses nothing: the same within 3 %."""
    one = flight(name)
    polar = one.drags.likely
    lift = polar.lift_coefficient(one.cruise_m_s)
    wake = lift**2 / (pi * polar.aspect_ratio * (polar.efficiency / polars.OF_LATTICE.middle))
    drag = polar.weight_n / lift * (polar.profile_drag(lift) + wake)
    assert one.cruise.thrust_n == pytest.approx(drag, rel=0.03)


@pytest.mark.parametrize("name", DEMOS)
def test_power_sink_and_glide_are_one_number(name: str) -> None:
    """Power is drag times speed and weight times sink; the glide is weight over drag, its band turned round."""
    one = flight(name)
    weight = one.drags.likely.weight_n
    for point in one.level:
        assert point.power_w.middle == pytest.approx(weight * point.sink_m_s.middle, rel=1e-12)
        assert point.power_w.high == pytest.approx(point.drag_n.high * point.speed_m_s, rel=1e-12)
        assert point.glide.low == pytest.approx(weight / point.drag_n.high, rel=1e-12)
        assert point.drag_n.low < point.drag_n.middle < point.drag_n.high


@pytest.mark.parametrize("name", DEMOS)
def test_slower_flight_wants_more_up_elevator(name: str) -> None:
    """A stable aeroplane is held slower by more up elevator and more incidence, speed by speed."""
    points = flight(name).level
    assert points[0].times_stall == pytest.approx(1.0, abs=1e-9)
    elevators = [point.elevator_rad or 0.0 for point in points]
    assert elevators == sorted(elevators)
    incidences = [point.incidence_rad or 0.0 for point in points]
    assert incidences == sorted(incidences, reverse=True)


@pytest.mark.parametrize("name", DEMOS)
def test_balanced_farther_forward_it_stalls_faster(name: str) -> None:
    """The tail pushes down for a forward balance point, the wing carries that too; up elevator grows."""
    chord = demo(name).layout.mean_chord
    stations = [chord.leading_edge_mm + share * chord.length_mm for share in (0.2, 0.3, 0.4)]
    found = [flight(name).slowest(station) for station in stations]
    speeds = [one.trim.speed_m_s for one in found]
    assert speeds == sorted(speeds, reverse=True)
    assert speeds[0] > speeds[-1]
    elevators = [one.trim.elevator_rad for one in found]
    assert elevators == sorted(elevators)


def test_the_stall_by_the_lattice_lies_in_the_stalls_band() -> None:
    """The first section to reach its most, 0.9 of it on the whole wing by the handbook: they agree within 6 %."""
    for name in DEMOS:
        one = flight(name)
        assert one.slowest().trim.speed_m_s == pytest.approx(one.stall_m_s.middle, rel=0.06)


def test_a_nose_without_suction_costs_what_a_force_square_to_the_plate_does() -> None:
    """All suction lost, drag grows as that of a force square to the plate, C_L alpha, alpha of an elliptic wing.

    a = 2 pi / (1 + 2 / A) with a0 = 2 pi (Prandtl; Anderson, sec. 5.3; from memory).
    """
    layout = demo("teasel-mk2").layout
    draggy = polars.drags(layout, 0.7, 1.0).draggy
    assert draggy.nose_loss == pytest.approx(1.0 / (2.0 * pi))
    assert draggy.nose_loss == sections.SUCTION_LOST.high / (2.0 * pi)
    aspect = draggy.aspect_ratio
    slope = 2.0 * pi / (1.0 + 2.0 / aspect)
    assert 1.0 / (pi * aspect) + draggy.nose_loss == pytest.approx(1.0 / slope, rel=1e-12)


def test_without_a_lattice_the_measured_whole_wings_count() -> None:
    """No trim, no wake: then efficiency holds all that grows with lift, and no suction is counted again."""
    plain = polars.drags(demo("teasel-mk2").layout, 0.7)
    assert (plain.draggy.efficiency, plain.likely.efficiency, plain.slippery.efficiency) == (0.5, 0.7, 0.8)
    assert plain.likely.nose_loss == exactly(0.0).middle
