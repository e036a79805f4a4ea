"""The flight estimates of the demos, gathered."""

from __future__ import annotations

from functools import cache
from math import degrees, exp
from pathlib import Path

import pytest

import airframe
from airframe.flight.modes import named
from airframe.flight.power_figures import PowerFigures
from airframe.flight.trim import speed_for_lift
from airframe.flight.whole import Flight

CONFIGS = Path(__file__).parents[3] / "configs"


@cache
def flight(name: str) -> Flight:
    """The estimates, worked out once for all tests."""
    aeroplane = airframe.load(CONFIGS / f"{name}.toml")
    return Flight(aeroplane.layout, aeroplane.statement.whole)


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_a_slow_flyer_flies_slowly(name: str) -> None:
    """Stall between 5 and 9 m/s, as weight over area and a plate's lift ask for; lift equals weight at the stall."""
    one = flight(name)
    assert 5.0 < one.stall_m_s.low < one.stall_m_s.middle < one.stall_m_s.high < 9.0
    most = one.drags.likely.most_lift
    assert one.stall_m_s.middle == pytest.approx(speed_for_lift(one.air, one.mass_kg, most), rel=0.01)


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_neutral_point_and_margin_agree(name: str) -> None:
    """Moving the balance point to where a margin is promised gives that margin; the demos are stable."""
    one = flight(name)
    for margin in (0.0, 0.05, 0.2):
        assert one.static_margin((one.station_for_margin(margin), 0.0, 0.0)) == pytest.approx(margin, abs=1e-12)
    assert 0.03 < one.static_margin() < 0.35


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_motions_are_those_of_an_aeroplane(name: str) -> None:
    """Five motions; the nod and the roll die away at once, the phugoid is slower than the nod by far."""
    one = flight(name)
    nod, swoop, roll = (named(one.modes, which) for which in ("short period", "phugoid", "roll"))
    assert nod.is_stable and roll.is_stable
    assert swoop.natural_rad_s < 0.5 * nod.natural_rad_s
    assert named(one.modes, "Dutch roll").is_swing


def test_spiral_rule_and_spiral_motion_point_the_same_way() -> None:
    """Teasel's polyhedral wing brings a bank back, by the rule and by the motion; Plover's flat one does neither."""
    for name, is_steady in (("teasel-mk2", True), ("plover", False)):
        one = flight(name)
        assert (one.spiral_rule > 5.0) == is_steady
        assert named(one.modes, "spiral").is_stable == is_steady


def test_three_cells_pull_more_than_two() -> None:
    """On the 3-cell battery thrust, current and top speed are higher; a design without a motor constant says so."""
    two, three = (flight("teasel-mk2").power(option) for option in ("2-cell", "3-cell"))
    assert isinstance(two, PowerFigures) and isinstance(three, PowerFigures)
    assert three.static_thrust_n.middle > 1.5 * two.static_thrust_n.middle
    assert three.static_current_a.middle > two.static_current_a.middle
    assert two.top_speed_m_s is not None and three.top_speed_m_s is not None
    assert three.top_speed_m_s.middle > two.top_speed_m_s.middle
    missing = flight("plover").power()
    assert isinstance(missing, str) and "kv" in missing


def test_the_fastest_is_a_guess_without_a_motors_data() -> None:
    """The high end of the top of level flight, which hinges and push-rods must bear; else twice slow cruise."""
    known, unknown = flight("teasel-mk2"), flight("plover")
    assert known.top_speed_m_s is not None and known.fastest_m_s == known.top_speed_m_s.high
    assert unknown.top_speed_m_s is None and unknown.fastest_m_s == 2.0 * unknown.cruise_m_s


def test_trim_needs_little_elevator() -> None:
    """At slow cruise the demo is held by a few degrees, with most of the up throw left."""
    assert abs(degrees(flight("teasel-mk2").cruise.elevator_rad)) < 8.0


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_the_ground_saves_some_of_the_drag_of_lift(name: str) -> None:
    """Between two rules of the handbooks for a wing at a height h over its span b, both from memory:

    McCormick's 1 - (16 h/b)^2 / (1 + (16 h/b)^2) is low, Wieselsberger's exp(-2.48 (2 h/b)^0.768) high.
    """
    one = flight(name)
    near, gear = one.near_ground, one.layout.design.gear
    assert near.wing_height_m == pytest.approx(
        (one.layout.wing_place.apply((0.0, 0.0, 0.0))[2] + gear.height_mm) / 1e3, abs=0.03
    )
    ratio = near.wing_height_m / one.air.wing.span_m
    low, high = 1.0 / (1.0 + (16.0 * ratio) ** 2), exp(-2.48 * (2.0 * ratio) ** 0.768)
    assert low < near.saved_share < high
