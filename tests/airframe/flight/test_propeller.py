"""Propellers against momentum theory and published static tests."""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.flight import propeller_trends
from airframe.flight.propeller import PropellerModel, ideal_power, static_thrust_n

RHO = 1.225
SLOW = PropellerModel(0.254, 0.254 * 0.47, 0.1185, 0.0480)
"""The published slow-flight propeller, 10 in by 4.7 in (Brandt & Selig, AIAA 2011-1255, secondary)."""
PITCHES = st.floats(0.25, 1.0)


def test_momentum_theory() -> None:
    """0.254 m, 100 W: 10.75 N at best, 7.65 N at a figure of merit of 0.6 (Leishman ch. 2; numbers recomputed)."""
    assert static_thrust_n(100.0, 0.254, RHO) == pytest.approx(10.75, abs=0.005)
    assert static_thrust_n(100.0, 0.254, RHO, 0.6) == pytest.approx(7.65, abs=0.005)
    best = static_thrust_n(100.0, 0.254, RHO)
    induced = sqrt(best / (2.0 * RHO * pi * 0.254**2 / 4.0))
    assert best * induced == pytest.approx(100.0, rel=1e-12)


def test_the_published_propeller() -> None:
    """At 6000 rpm it pulls 6.04 N for 62.2 W: a figure of merit of 0.678 (derived from the published means)."""
    turns = 6000 * 2 * pi / 60
    assert SLOW.thrust_n(turns, 0.0, RHO) == pytest.approx(6.04, abs=0.01)
    assert SLOW.power_w(turns, 0.0, RHO) == pytest.approx(62.2, abs=0.1)
    assert SLOW.figure_of_merit == pytest.approx(0.678, abs=0.0005)
    assert SLOW.thrust_n(turns, 0.0, RHO) / turns**2 == pytest.approx(1.530e-5, rel=1e-3)


@given(st.floats(0.0, 20.0), st.floats(50.0, 1500.0))
def test_turns_for_a_pull(speed: float, turns: float) -> None:
    """The pull at some turns asks for those turns."""
    pull = SLOW.thrust_n(turns, speed, RHO)
    if pull > 1e-3:
        assert SLOW.turns_rad_s(pull, speed, RHO) == pytest.approx(turns, rel=1e-9)


@given(PITCHES, st.floats(0.3, 0.85))
def test_standing_still_it_does_what_was_given(pitch: float, merit: float) -> None:
    """At no speed the coefficients are those it was made of."""
    thrust, _ = propeller_trends.static_coefficients(pitch)
    model = PropellerModel(0.23, 0.23 * pitch, thrust, ideal_power(thrust) / merit)
    assert model.thrust_coefficient(0.0) == pytest.approx(thrust, rel=1e-9)
    assert model.power_coefficient(0.0) == pytest.approx(model.static_power, rel=1e-9)


@given(PITCHES)
def test_thrust_fades_to_nothing_at_its_pitch(pitch: float) -> None:
    """Thrust falls all the way and ends where it advances 1.2 pitches a turn; at its best it wastes
    a tenth or more."""
    model = propeller_trends.estimated(0.23, 0.23 * pitch).likely
    advances = np.linspace(0.0, model.no_thrust_advance, 40)
    thrusts = [model.thrust_coefficient(float(j)) for j in advances]
    assert all(a > b for a, b in pairwise(thrusts))
    assert thrusts[-1] == pytest.approx(0.0, abs=1e-9)
    assert model.thrust_coefficient(model.no_thrust_advance * 1.1) < 0.0
    assert 0.2 < max(model.efficiency(float(j)) for j in advances[:-1]) < 0.9


@given(PITCHES, st.floats(0.0, 0.8))
def test_blades_and_momentum_agree(pitch: float, share: float) -> None:
    """The thrust is what momentum gives for its inflow: c_t = 2 inflow (inflow - climb), by ideal power too."""
    model = PropellerModel(0.23, 0.23 * pitch, 0.1, ideal_power(0.1))
    advance = share * model.no_thrust_advance
    thrust = model.thrust_coefficient(advance) * 4 / pi**3
    climb = advance / pi
    inflow = climb / 2 + sqrt(climb**2 / 4 + thrust / 2)
    assert model.power_coefficient(advance) * 4 / pi**4 == pytest.approx(thrust * inflow, rel=1e-9)


def test_the_trend_goes_through_the_published_propeller() -> None:
    """Diameter and pitch of the tested propeller give its own coefficients."""
    assert propeller_trends.static_coefficients(0.47) == pytest.approx((0.1185, 0.0480), rel=1e-12)


@given(PITCHES, st.sampled_from([2, 3, 4]))
def test_trends(pitch: float, blades: int) -> None:
    """More pitch never takes less power nor pulls less; more blades pull more; nobody beats momentum theory."""
    thrust, power = propeller_trends.static_coefficients(pitch, blades)
    coarser = propeller_trends.static_coefficients(pitch + 0.05, blades)
    more = propeller_trends.static_coefficients(pitch, blades + 1)
    assert coarser[0] >= thrust and coarser[1] > power
    assert more[0] > thrust and more[1] > power
    assert ideal_power(thrust) < power


def test_the_guess_spans_the_likely_one() -> None:
    """The corners lie on both sides of the likely propeller, in thrust and in figure of merit."""
    guess = propeller_trends.estimated(0.229, 0.127)
    thrusts = [one.static_thrust for one in guess.others]
    merits = [one.figure_of_merit for one in guess.others]
    assert min(thrusts) < guess.likely.static_thrust < max(thrusts)
    assert min(merits) < guess.likely.figure_of_merit < max(merits) <= 0.85 + 1e-12


def test_the_impossible_is_refused() -> None:
    """More thrust than the power allows, or than the pitch allows, is a wrong measurement."""
    with pytest.raises(ValueError, match="power coefficient of at least"):
        PropellerModel(0.25, 0.12, 0.12, 0.02)
    with pytest.raises(ValueError, match="of this pitch"):
        PropellerModel(0.25, 0.02, 0.12, 0.08)
