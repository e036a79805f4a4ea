"""The motor's three constants and the pack's resistance, against closed forms and a worked example."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.flight.bands import Band, around, exactly
from airframe.flight.battery import NOMINAL_V, Pack, estimated_limit_a, estimated_resistance_ohm
from airframe.flight.motor import MotorModel
from airframe.flight.roots import NoRoot, bracketed_root

MOTOR = MotorModel(kv_rad_s_v=1000 * 2 * pi / 60, resistance_ohm=0.09, no_load_current_a=0.7)
PACK = Pack(cells=3, capacity_c=1.3 * 3600, resistance_ohm=0.036)


def test_the_worked_example() -> None:
    """12 V, 9 V of back-EMF, 6 ohm: 0.5 A running and 2.0 A stalled (D. Davis, Eastern Illinois Univ., 2003)."""
    motor = MotorModel(kv_rad_s_v=10.0, resistance_ohm=6.0, no_load_current_a=0.0)
    assert motor.current_a(12.0, 90.0) == pytest.approx(0.5, rel=1e-12)
    assert motor.stall_current_a(12.0) == pytest.approx(2.0, rel=1e-12)


@given(st.floats(1.0, 40.0), st.floats(5.0, 15.0))
def test_efficiency_is_power_out_over_power_in(current: float, volts: float) -> None:
    """(1 - I0/i)(1 - iR/V) is torque times speed over volts times amperes (Drela 2007, from memory)."""
    out = MOTOR.shaft_power_w(volts, current)
    assert MOTOR.efficiency(volts, current) == pytest.approx(out / (volts * current), rel=1e-9)
    assert MOTOR.current_a(volts, MOTOR.speed_rad_s(volts, current)) == pytest.approx(current, rel=1e-9)


def test_the_best_current_is_the_best() -> None:
    """sqrt(V I0 / R): no other current is more efficient."""
    best = MOTOR.best_current_a(11.1)
    assert best == pytest.approx(np.sqrt(11.1 * 0.7 / 0.09), rel=1e-12)
    others = np.linspace(0.8, 60.0, 400)
    assert all(MOTOR.efficiency(11.1, float(i)) <= MOTOR.efficiency(11.1, best) + 1e-15 for i in others)


def test_idling_gives_no_torque() -> None:
    """At the idling current nothing is left for the shaft."""
    assert MOTOR.torque_n_m(0.7) == 0.0


def test_a_pack_sags_by_ohms_law() -> None:
    """Three cells of 3.7 V (hobby guide, secondary) behind 36 mohm at 10 A: 11.1 - 0.36 V."""
    assert PACK.rest_v == pytest.approx(3 * NOMINAL_V)
    assert PACK.loaded_v(10.0) == pytest.approx(11.1 - 0.36)
    assert PACK.sag_v(10.0) == pytest.approx(0.36)
    at_cut_off = PACK.current_at_cut_off_a()
    assert PACK.loaded_v(at_cut_off) / 3 == pytest.approx(3.4)


def test_how_long_a_charge_lasts() -> None:
    """1.3 Ah, 80 % of it, at 5.2 A: 0.2 h; without current there is no answer."""
    assert PACK.duration_s(5.2, 0.8) == pytest.approx(720.0)
    with pytest.raises(ValueError, match="no current"):
        PACK.duration_s(0.0, 0.8)


def test_estimates_of_a_pack() -> None:
    """Resistance grows with cells and shrinks with capacity; an unstated limit is 20 C (common practice, no source)."""
    assert estimated_resistance_ohm(3, 3600.0) == pytest.approx(0.036)
    assert estimated_resistance_ohm(2, 7200.0) == pytest.approx(0.012)
    assert estimated_limit_a(1.3 * 3600.0) == pytest.approx(26.0)


def test_bands() -> None:
    """Bands add, scale and mix end by end, and refuse to be upside down."""
    band = Band(1.0, 2.0, 4.0)
    assert band.times(2.0).plus(exactly(1.0)) == Band(3.0, 5.0, 9.0)
    assert band.towards(exactly(0.0), 0.5) == Band(0.5, 1.0, 2.0)
    assert around(3.0, [1.0, 4.0]) == Band(1.0, 3.0, 4.0)
    with pytest.raises(ValueError, match="low <= middle <= high"):
        Band(2.0, 1.0, 3.0)


@given(st.floats(-5.0, 5.0), st.floats(0.1, 50.0))
def test_a_root_is_found(root: float, steepness: float) -> None:
    """A smooth crossing is found to a few roundings, however steep or curved."""
    found = bracketed_root(lambda x: np.expm1(steepness * (x - root) / 10.0), -7.0, 9.0)
    assert found == pytest.approx(root, abs=1e-9)


def test_no_root_is_said() -> None:
    """One sign at both ends is refused; a root at an end is taken."""
    with pytest.raises(NoRoot):
        bracketed_root(lambda x: x * x + 1.0, -1.0, 1.0)
    assert bracketed_root(lambda x: x, 0.0, 1.0) == 0.0
    assert bracketed_root(lambda x: x - 1.0, 0.0, 1.0) == 1.0
