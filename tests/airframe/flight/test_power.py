"""Operating points against closed forms, measurements and the trade's experience."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.flight.battery import Pack
from airframe.flight.motor import MotorModel
from airframe.flight.power import PowerTrain, anchored, operating_point, throttle_for
from airframe.flight.propeller import PropellerModel
from airframe.flight.roots import NoRoot

RHO = 1.225
MOTOR = MotorModel(960 * 2 * pi / 60, 0.095, 0.6)
PACK = Pack(3, 1.3 * 3600, 0.036)
PROPELLER = PropellerModel(0.2286, 0.127, 0.115, 0.05)
TRAIN = PowerTrain(MOTOR, PACK, PROPELLER, 0.004, 18.0)


@given(st.floats(0.2, 1.0))
def test_standing_still_is_a_quadratic(throttle: float) -> None:
    """Torque c Omega^2 against (throttle V - Omega / Kv) / R Kv: the turns are the quadratic's root."""
    drag = 0.05 * RHO * 0.2286**5 / (2 * pi) ** 3
    ohm = 0.095 + 0.004 + throttle**2 * 0.036
    kv = MOTOR.kv_rad_s_v
    a, b = drag * kv * ohm, 1.0 / kv
    c = throttle * 11.1 - 0.6 * ohm
    turns = (sqrt(b * b + 4 * a * c) - b) / (2 * a)
    point = operating_point(TRAIN, 0.0, RHO, throttle)
    assert point.turns_rad_s == pytest.approx(turns, rel=1e-9)
    assert point.motor_current_a == pytest.approx((throttle * 11.1 - turns / kv) / ohm, rel=1e-9)
    assert point.battery_current_a == pytest.approx(throttle * point.motor_current_a)


@given(st.floats(0.0, 25.0), st.floats(0.1, 1.0))
def test_power_is_accounted_for(speed: float, throttle: float) -> None:
    """What leaves the cells is shaft power, idling losses and heat in three resistances, to the last watt."""
    point = operating_point(TRAIN, speed, RHO, throttle)
    i, drawn = point.motor_current_a, point.battery_current_a
    heat = i**2 * (0.095 + 0.004) + drawn**2 * 0.036
    idling = 0.6 * point.turns_rad_s / MOTOR.kv_rad_s_v
    if i > 0.0:
        assert 11.1 * drawn == pytest.approx(point.shaft_power_w + idling + heat, rel=1e-8, abs=1e-9)


def test_thrust_and_current_fall_with_speed() -> None:
    """At full throttle thrust and current fall, turns rise (thrust falls with speed: Drela, MIT Lab 3, 2006)."""
    points = [operating_point(TRAIN, v, RHO) for v in (0.0, 4.0, 8.0, 12.0, 16.0)]
    for slower, faster in pairwise(points):
        assert faster.thrust_n < slower.thrust_n
        assert faster.battery_current_a < slower.battery_current_a
        assert faster.turns_rad_s > slower.turns_rad_s
        assert faster.efficiency < 1.0


def test_a_dive_drives_the_propeller() -> None:
    """Far beyond its pitch speed the propeller brakes, and the motor draws nothing."""
    point = operating_point(TRAIN, 60.0, RHO)
    assert point.thrust_n < 0.0
    assert point.battery_current_a == 0.0


def test_a_motor_that_idles_at_more_than_can_flow() -> None:
    """3.7 V through 10 ohm is 0.37 A; a motor that idles at 1 A does not turn."""
    stuck = PowerTrain(MotorModel(100.0, 10.0, 1.0), Pack(1, 3600.0, 0.01), PROPELLER)
    with pytest.raises(NoRoot, match="does not turn"):
        operating_point(stuck)


def test_throttle_for_a_thrust() -> None:
    """Half the full thrust takes less than full throttle and gives just that thrust; more than there is: no root."""
    full = operating_point(TRAIN, 6.0, RHO)
    point = throttle_for(TRAIN, full.thrust_n / 2, 6.0, RHO)
    assert point.thrust_n == pytest.approx(full.thrust_n / 2, rel=1e-8)
    assert 0.0 < point.throttle < 1.0
    assert point.battery_current_a < full.battery_current_a / 2
    with pytest.raises(NoRoot):
        throttle_for(TRAIN, full.thrust_n * 1.01, 6.0, RHO)


@given(st.floats(0.0, 15.0), st.floats(0.15, 0.999))
def test_throttle_is_solved_backwards(speed: float, throttle: float) -> None:
    """The thrust of any operating point that pulls asks for just that point again, by closed form.

    At full throttle itself rounding may ask for a hair more than there is.
    """
    point = operating_point(TRAIN, speed, RHO, throttle)
    if point.thrust_n > 1e-3:
        again = throttle_for(TRAIN, point.thrust_n, speed, RHO)
        for name in ("throttle", "turns_rad_s", "motor_current_a", "battery_current_a", "battery_v", "shaft_power_w"):
            assert getattr(again, name) == pytest.approx(getattr(point, name), rel=1e-7, abs=1e-7), name


def test_anchored_on_both_measurements() -> None:
    """Thrust and current that were measured come out again, whatever the propeller was thought to do."""
    train = anchored(TRAIN, 6.5, 11.0, RHO)
    point = operating_point(train, 0.0, RHO)
    assert point.thrust_n == pytest.approx(6.5, rel=1e-9)
    assert point.battery_current_a == pytest.approx(11.0, rel=1e-9)


@pytest.mark.parametrize(("thrust", "current"), [(5.5, None), (None, 9.0)])
def test_anchored_on_one_measurement(thrust: float | None, current: float | None) -> None:
    """The one that was measured comes out, at the propeller's own figure of merit."""
    train = anchored(TRAIN, thrust, current, RHO)
    point = operating_point(train, 0.0, RHO)
    assert train.propeller.figure_of_merit == pytest.approx(PROPELLER.figure_of_merit, rel=1e-9)
    if thrust is not None:
        assert point.thrust_n == pytest.approx(thrust, rel=1e-8)
    if current is not None:
        assert point.battery_current_a == pytest.approx(current, rel=1e-9)


def test_nothing_measured_changes_nothing() -> None:
    """Without measurements the train stays as it is."""
    assert anchored(TRAIN) is TRAIN


@pytest.mark.parametrize(
    ("thrust", "current", "says"),
    [(20.0, 8.0, "power coefficient"), (4.0, 0.5, "idles"), (4.0, 300.0, "let through"), (90.0, None, "more than")],
)
def test_impossible_measurements(thrust: float, current: float | None, says: str) -> None:
    """A measurement that no propeller explains is refused with the reason."""
    with pytest.raises(ValueError, match=says):
        anchored(TRAIN, thrust, current, RHO)


def test_two_cells_against_three() -> None:
    """Two cells pull about half as much: thrust goes with the square of turns, turns nearly with volts (closed form
    without losses: (2/3)^2 = 0.44; losses that grow with current lift it)."""
    two = replace(TRAIN, pack=Pack(2, 1.3 * 3600, 0.024))
    ratio = operating_point(two, 0.0, RHO).thrust_n / operating_point(TRAIN, 0.0, RHO).thrust_n
    assert 4 / 9 < ratio < 0.6
    lossless = MotorModel(MOTOR.kv_rad_s_v, 1e-7, 0.0)
    ideal = [PowerTrain(lossless, Pack(n, 4000.0, 1e-7), PROPELLER) for n in (2, 3)]
    thrusts = [operating_point(one, 0.0, RHO).thrust_n for one in ideal]
    assert thrusts[0] / thrusts[1] == pytest.approx(4 / 9, rel=1e-4)


def test_a_slow_flyer_flies_on_two_or_three_cells() -> None:
    """A motor sold for models of 1 to 1.5 lb pulls more than half the weight of a 0.45 kg slow flyer on two cells
    (common practice, no source)."""
    weight = 0.45 * 9.80665
    two = operating_point(replace(TRAIN, pack=Pack(2, 1.3 * 3600, 0.024)), 0.0, RHO)
    three = operating_point(TRAIN, 0.0, RHO)
    assert 0.5 * weight < two.thrust_n < three.thrust_n < 2.5 * weight
    assert three.battery_current_a < 18.0
