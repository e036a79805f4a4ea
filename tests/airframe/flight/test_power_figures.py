"""Top speed, climb, cruise and their bands; the train that a design states."""

from __future__ import annotations

import copy
from dataclasses import replace
from math import pi
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.config import from_dict
from airframe.flight import performance, propeller_trends, trains
from airframe.flight.atmosphere import air
from airframe.flight.battery import Pack
from airframe.flight.motor import MotorModel
from airframe.flight.performance import best_climb, cruise, top_speed_m_s
from airframe.flight.power import PowerTrain, end_of_thrust_m_s, operating_point
from airframe.flight.power_figures import Drags, Guess, power_figures
from airframe.flight.propeller import PropellerModel
from airframe.flight.roots import NoRoot
from airframe.flight.speeds import Polar
from airframe.flight.trains import NotStated, train_guess
from airframe.model import Aeroplane
from tests.electric import electric

TRAIN = PowerTrain(
    MotorModel(960 * 2 * pi / 60, 0.095, 0.6),
    Pack(3, 1.3 * 3600, 0.036, 26.0),
    PropellerModel(0.2286, 0.127, 0.115, 0.05),
    0.004,
    18.0,
)
POLAR = Polar(0.62, 0.24, 5.0, 0.07, 0.65, 0.95, 1.225)
DRAGS = Drags(POLAR, replace(POLAR, zero_lift_drag=0.05), replace(POLAR, zero_lift_drag=0.1))


def test_at_top_speed_thrust_is_drag() -> None:
    """Thrust and drag balance there, and no faster speed has thrust to spare."""
    top = top_speed_m_s(TRAIN, POLAR)
    assert operating_point(TRAIN, top).thrust_n == pytest.approx(POLAR.drag_n(top), rel=1e-8)
    for faster in (1.01, 1.2):
        assert operating_point(TRAIN, top * faster).thrust_n < POLAR.drag_n(top * faster)
    assert POLAR.stall_speed_m_s < top < end_of_thrust_m_s(TRAIN, 1.225)


def test_thrust_ends_where_it_says() -> None:
    """At the end of thrust the propeller advances 1.2 pitches a turn."""
    point = operating_point(TRAIN, end_of_thrust_m_s(TRAIN, 1.225))
    assert point.thrust_n == pytest.approx(0.0, abs=1e-8)
    assert point.speed_m_s / (point.turns_rad_s / (2 * pi)) == pytest.approx(1.2 * 0.127, rel=1e-6)


def test_no_speed_climbs_faster() -> None:
    """The climb is spare power over weight, and the best of all speeds to a thousandth."""
    climb = best_climb(TRAIN, POLAR)
    for step in range(60):
        speed = POLAR.stall_speed_m_s * (1 + step / 30)
        spare = operating_point(TRAIN, speed).thrust_n - POLAR.drag_n(speed)
        assert spare * speed / POLAR.weight_n <= climb.rate_m_s * 1.001
    assert climb.rate_m_s > 1.0


def test_too_heavy_to_fly() -> None:
    """Ten times the mass: no level flight at any speed, and the best climb is a sink."""
    heavy = replace(POLAR, mass_kg=6.2)
    with pytest.raises(NoRoot):
        top_speed_m_s(TRAIN, heavy)
    assert best_climb(TRAIN, heavy).rate_m_s < 0.0
    figures = power_figures(Guess(TRAIN), Drags(heavy, heavy, heavy), 0.8)
    assert figures.top_speed_m_s is None and figures.cruise_time_s is None
    assert figures.climb_rate_m_s.high < 0.0


def test_cruise_flies_level_as_long_as_the_charge_lasts() -> None:
    """Thrust is drag, time is usable charge over current, distance is time times speed; not below the stall."""
    flown = cruise(TRAIN, POLAR, 0.8)
    assert flown.point.thrust_n == pytest.approx(POLAR.drag_n(flown.point.speed_m_s), rel=1e-8)
    assert flown.point.speed_m_s == pytest.approx(performance.SLOW_CRUISE * POLAR.stall_speed_m_s)
    assert flown.duration_s == pytest.approx(0.8 * 4680 / flown.point.battery_current_a)
    assert flown.distance_m == pytest.approx(flown.duration_s * flown.point.speed_m_s)
    with pytest.raises(ValueError, match="does not carry"):
        cruise(TRAIN, POLAR, 0.8, 0.9 * POLAR.stall_speed_m_s)


def test_bands_hold_the_likely_and_the_limits() -> None:
    """Every band holds its likely value; drag moves top speed; limits are told against the current."""
    figures = power_figures(Guess(TRAIN, (replace(TRAIN, controller_ohm=0.05),)), DRAGS, 0.8)
    assert figures.top_speed_m_s is not None and figures.cruise_time_s is not None
    assert figures.top_speed_m_s.low < figures.top_speed_m_s.middle < figures.top_speed_m_s.high
    assert figures.cruise_time_s.low < figures.cruise_time_s.middle < figures.cruise_time_s.high
    assert figures.climb_rate_m_s.middle == figures.climb.rate_m_s
    controller, battery = figures.limits
    assert (controller.what, controller.limit_a, battery.limit_a) == ("speed controller", 18.0, 26.0)
    assert controller.use.middle == pytest.approx(figures.static_current_a.middle / 18.0)
    assert figures.thrust_to_weight.middle == pytest.approx(figures.static_thrust_n.middle / POLAR.weight_n)


def test_a_guess_that_full_throttle_does_not_carry_shortens_the_time() -> None:
    """It flies on full throttle till the charge is out: no band of time ends at the likely one for want of a worse."""
    draggy = replace(POLAR, zero_lift_drag=1.0)
    speed = performance.SLOW_CRUISE * POLAR.stall_speed_m_s
    with pytest.raises(NoRoot):
        cruise(TRAIN, draggy, 0.8, speed)
    figures = power_figures(Guess(TRAIN), replace(DRAGS, draggy=draggy), 0.8)
    assert figures.cruise_current_a is not None and figures.cruise_time_s is not None
    full = operating_point(TRAIN, speed).battery_current_a
    assert figures.cruise_current_a.high == full > 2.0 * figures.cruise_current_a.middle
    assert figures.cruise_time_s.low == pytest.approx(0.8 * 4680 / full)


def design_of(**changes: dict[str, Any] | None) -> Any:
    """The electric starter, unmeasured, with keys of its equipment changed; None takes a key away."""
    data = copy.deepcopy(electric())
    data["flight"] = {}
    for name, keys in changes.items():
        for key, value in (keys or {}).items():
            data["equipment"][name].pop(key, None)
            if value is not None:
                data["equipment"][name][key] = value
    return data


def test_everything_stated_leaves_nothing_to_guess() -> None:
    """With all constants given there is one train, in SI."""
    guess = train_guess(from_dict(design_of()), next(iter(electric()["equipment"]["battery"]["options"])))
    assert guess.others == ()
    train = guess.likely
    assert train.motor == MotorModel(pytest.approx(960 * 2 * pi / 60), 0.095, 0.6)
    assert train.pack.capacity_c == pytest.approx(4680.0)
    assert (train.controller_ohm, train.controller_limit_a) == (0.004, 18.0)
    assert (train.propeller.static_thrust, train.propeller.static_power) == (0.1, 0.04)


def test_what_is_not_stated_is_guessed_both_ways() -> None:
    """Without coefficients and resistances the static thrust has a band on both sides of the likely one."""
    bare = {"thrust_coefficient": None, "power_coefficient": None}
    guess = train_guess(from_dict(design_of(propeller=bare, motor={"resistance": None, "no_load_current": None})))
    assert len(guess.others) == 4 + 2
    figures = power_figures(guess, DRAGS, 0.8)
    assert figures.static_thrust_n.low < figures.static_thrust_n.middle < figures.static_thrust_n.high
    assert figures.static_current_a.low < figures.static_current_a.middle < figures.static_current_a.high


def test_measurements_anchor_every_guess() -> None:
    """Whatever was guessed, the measured thrust and current come out with the battery they were measured with."""
    data = design_of(propeller={"thrust_coefficient": None, "power_coefficient": None})
    data["flight"] = {"measured_thrust": "500 gf", "measured_current": "8 A"}
    guess = train_guess(from_dict(data))
    for train in (guess.likely, *guess.others):
        point = operating_point(train, 0.0, air().density_kg_m3)
        assert point.thrust_n == pytest.approx(0.5 * 9.80665, rel=1e-8)
        assert point.battery_current_a == pytest.approx(8.0, rel=1e-8)


@pytest.mark.parametrize(
    ("name", "key", "says"), [("motor", "kv", "motor's kv"), ("battery", "options.capacity", "battery's capacity")]
)
def test_what_is_needed_is_asked_for(name: str, key: str, says: str) -> None:
    """Without Kv or capacity there is no answer but a request that names them."""
    data = design_of()
    tables = data["equipment"][name]
    for table in tables["options"].values() if key.startswith("options") else [tables]:
        del table[key.rsplit(".", 1)[-1]]
    with pytest.raises(NotStated, match=says):
        train_guess(from_dict(data))


def test_without_a_motor() -> None:
    """A glider has no power train; an unknown battery has no cells."""
    data = design_of(motor={"fitted": False})
    with pytest.raises(NotStated, match="no motor"):
        train_guess(from_dict(data))
    with pytest.raises(NotStated, match="no battery option '9-cell'"):
        train_guess(from_dict(design_of()), "9-cell")


@pytest.mark.parametrize(
    ("measured", "changes", "says"),
    [
        ({"measured_thrust": "200 ozf", "measured_current": "10 A"}, {}, "check measured_thrust and measured_current"),
        ({"measured_thrust": "200 ozf"}, {}, "check measured_thrust and measured_current"),
        ({"measured_current": "0.2 A"}, {}, "no more than the motor idles at"),
        ({}, {"propeller": {"thrust_coefficient": 0.2, "power_coefficient": 0.01}}, "check its thrust_coefficient"),
        ({}, {"motor": {"no_load_current": "90 A"}}, "it idles at more current than can flow"),
    ],
)
def test_numbers_that_cannot_be_are_told_and_never_stop_the_estimates(
    measured: dict[str, str], changes: dict[str, Any], says: str
) -> None:
    """A slip of the unit leaves the figures of power out, in words that name the keys to look at."""
    data = design_of(**changes)
    data["flight"] = measured
    told = Aeroplane(from_dict(data)).flight.power()
    assert isinstance(told, str) and says in told


def test_a_guessed_motor_is_plausible() -> None:
    """46 g at 960 rpm/V: about 0.1 ohm and 0.6 A idling, as such motors are labelled (common practice, no source)."""
    motor = trains.estimated_motor(960 * 2 * pi / 60, 46.0)
    assert 0.05 < motor.resistance_ohm < 0.2
    assert 0.3 < motor.no_load_current_a < 1.2


def test_a_motor_that_states_only_its_kv_is_guessed_by_its_mass() -> None:
    """The likely train has the motor of that mass; the other two are as much stiffer and softer as such motors are."""
    data = design_of(motor={"resistance": None, "no_load_current": None})
    mass = from_dict(data).equipment["motor"].mass_g  # type: ignore[union-attr]
    guess = train_guess(from_dict(data))
    kv = guess.likely.motor.kv_rad_s_v
    assert guess.likely.motor == trains.estimated_motor(kv, mass)
    others = {train.motor for train in guess.others if train.motor != guess.likely.motor}
    assert others == {trains.estimated_motor(kv, mass, stiffness) for stiffness in trains.STIFFNESS_SPREAD}


@pytest.mark.parametrize(("left_out", "stated"), [("power", "thrust"), ("thrust", "power")])
def test_one_coefficient_alone_keeps_the_usual_merit(left_out: str, stated: str) -> None:
    """The stated one stands; the other follows from the trend's figure of merit, with its spread."""
    keys = {f"{left_out}_coefficient": None, f"{stated}_coefficient": 0.05}
    guess = train_guess(from_dict(design_of(propeller=keys)))
    bare = {"thrust_coefficient": None, "power_coefficient": None}
    trend = train_guess(from_dict(design_of(propeller=bare))).likely.propeller
    likely = guess.likely.propeller
    assert getattr(likely, f"static_{stated}") == 0.05
    assert likely.figure_of_merit == pytest.approx(trend.figure_of_merit)
    assert len({round(one.propeller.figure_of_merit, 6) for one in guess.others}) == 2


MAGNITUDES = st.floats(-6.0, 3.0)


@settings(max_examples=40, deadline=None)
@given(st.lists(MAGNITUDES, min_size=6, max_size=6), st.integers(1, 12), st.floats(0.05, 3.0))
def test_any_train_has_an_answer(powers: list[float], cells: int, pitch: float) -> None:
    """Whatever the constants, there are figures with ordered bands or a ValueError in words; nothing else."""
    kv, ohm, idle, charge, inner, mass = (10.0**power for power in powers)
    try:
        model = PropellerModel(0.2, 0.2 * pitch, *propeller_trends.static_coefficients(pitch))
        train = PowerTrain(MotorModel(kv, ohm, idle), Pack(cells, charge, inner), model)
        figures = power_figures(Guess(train), Drags(*(replace(POLAR, mass_kg=mass),) * 3), 0.8)
    except ValueError as error:
        assert str(error)
    else:
        assert figures.static_thrust_n.middle > 0.0
