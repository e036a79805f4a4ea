"""Kicks, pulls and gusts: closed forms of models with one motion, and what the demos do."""

from __future__ import annotations

from math import cos, degrees, exp, radians, sin
from pathlib import Path

import numpy as np
import pytest

import airframe
from airframe.axes import Array
from airframe.flight import responses
from airframe.flight.motion import STATES, LinearModel, linear_model
from airframe.flight.responses import BANK, GUST_M_S, PITCH, P, Q, W

CONFIGS = Path(__file__).parents[3] / "configs"
SPEED = 10.0


def model(entries: dict[tuple[int, int], float], push: dict[int, float]) -> LinearModel:
    """A model of a few terms, with all else damped, and one control."""
    matrix = -0.001 * np.diag(np.arange(1.0, 9.0))
    for place, value in entries.items():
        matrix[place] = value
    controls = np.zeros((len(STATES), 1))
    for row, value in push.items():
        controls[row, 0] = value
    return LinearModel(matrix, controls, SPEED)


def test_a_kick_of_a_pure_roll() -> None:
    """p' = -4 p - 8 d: 10 deg of rudder make p = 2 d (1 - e^-4t) and bank = 2 d (t - (1 - e^-4t) / 4)."""
    kick = responses.rudder_kick(model({(P, P): -4.0, (BANK, P): 1.0, (BANK, BANK): 0.0}, {P: -8.0}), 0, radians(30))
    angle, times = radians(10.0), kick.response.times_s
    bank = 2.0 * angle * (times - (1.0 - np.exp(-4.0 * times)) / 4.0)
    np.testing.assert_allclose(kick.response.channels["bank deg"], np.degrees(bank), atol=1e-9)
    assert kick.bank_30_s is not None
    reached = 2.0 * angle * (kick.bank_30_s - (1.0 - exp(-4.0 * kick.bank_30_s)) / 4.0)
    assert degrees(reached) == pytest.approx(30.0, abs=1e-3)
    assert kick.roll_per_rudder == pytest.approx(2.0 * (1.0 - exp(-4.0 * kick.bank_30_s)), rel=0.01)


def test_a_kick_is_no_more_than_the_throw_and_may_not_do() -> None:
    """With 5 deg of throw half as far; a slow roller's words tell how far it got."""
    slow = model({(P, P): -4.0, (BANK, P): 1.0, (BANK, BANK): 0.0}, {P: -1.0})
    full, half = responses.rudder_kick(slow, 0, radians(10)), responses.rudder_kick(slow, 0, radians(5))
    assert half.most_roll_rad_s == pytest.approx(full.most_roll_rad_s / 2.0)
    assert half.bank_30_s is None
    assert "in 4 s" in half.response.words
    away = responses.rudder_kick(model({(P, P): -4.0, (BANK, P): 1.0}, {P: 1.0}), 0, radians(10))
    assert "does not bank" in away.response.words
    fixed = responses.rudder_kick(slow, 0, 0.0)
    assert (fixed.roll_per_rudder, fixed.bank_30_s) == (0.0, None)
    assert "does not move" in fixed.response.words


def test_a_pull_is_two_steps() -> None:
    """q' = -3 q - 6 d: it grows as the step does and dies away as e^-3t once let go; the pitch ends at 2 d T."""
    one = responses.stick_pull(model({(Q, Q): -3.0, (PITCH, Q): 1.0, (PITCH, PITCH): 0.0}, {Q: -6.0}), 0, radians(25))
    angle, times, held = responses.PULL_RAD, one.times_s, responses.PULL_S
    rate = 2.0 * angle * (1.0 - np.exp(-3.0 * np.minimum(times, held))) * np.exp(-3.0 * np.maximum(times - held, 0.0))
    np.testing.assert_allclose(one.channels["nodding rate deg/s"], np.degrees(rate), atol=1e-9)
    assert one.channels["pitch deg"][-1] == pytest.approx(degrees(2.0 * angle * held), rel=1e-9)


def test_a_gust_from_below_carries_it() -> None:
    """w' = -2 w from 1 m/s: it takes the gust's speed with a lag, height = t - (1 - e^-2t) / 2."""
    one = responses.gust_from_below(model({(W, W): -2.0}, {}))
    height = GUST_M_S * (one.times_s - (1.0 - np.exp(-2.0 * one.times_s)) / 2.0)
    np.testing.assert_allclose(one.channels["height m"], height, atol=1e-3)
    assert one.channels["incidence change deg"][0] == pytest.approx(degrees(GUST_M_S / SPEED))


def test_what_is_seen_does_not_depend_on_the_axes() -> None:
    """One aeroplane in axes that lie 0.2 rad from one another: it rises, slows and nods alike, gust and pull alike."""
    slopes = np.zeros((6, 7))
    slopes[[0, 1, 2, 3, 4, 5], [0, 1, 2, 3, 4, 5]] = [-0.1, -0.5, -3.0, -0.3, -0.05, -0.1]
    slopes[2, 0], slopes[4, 2], slopes[4, 6], slopes[2, 6] = -1.2, -0.15, -0.6, -2.0
    inertia = np.diag([0.01, 0.02, 0.03])
    seen = []
    for angle in (0.0, 0.2):
        turn = np.array([[cos(angle), 0, -sin(angle)], [0, 1, 0], [sin(angle), 0, cos(angle)]])
        both = np.kron(np.eye(2), turn)
        turned = np.column_stack([both @ slopes[:, :6] @ both.T, both @ slopes[:, 6:]])
        made = linear_model(0.6, turn @ inertia @ turn.T, turned, turn @ (SPEED, 0.0, 0.0), angle)
        seen.append((responses.stick_pull(made, 0, radians(25)), responses.gust_from_below(made)))
    for here, there in zip(*seen, strict=True):
        for name, values in here.channels.items():
            np.testing.assert_allclose(there.channels[name], values, atol=1e-9, err_msg=name)
    assert seen[0][0].channels["height m"].max() > 0.2


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_demos_answer_as_aeroplanes_do(name: str) -> None:
    """Right rudder banks right within two seconds; a pull slows it, then the nose comes back; wind from the right is
    faced and at first banks it to the left (dihedral)."""
    flight = airframe.load(CONFIGS / f"{name}.toml").flight
    assert flight.rudder_kick.bank_30_s is not None
    assert 0.4 < flight.rudder_kick.bank_30_s < 2.0
    kick, pull, below, side = flight.responses
    assert np.all(kick.channels["yaw rate deg/s"][1:25] > 0.0)
    assert pull.channels["pitch deg"].max() > 3.0
    assert pull.channels["speed change m/s"].min() < -0.5
    assert abs(pull.channels["pitch deg"][-1]) < 0.2 * pull.channels["pitch deg"].max()
    assert below.channels["height m"][-1] == pytest.approx(GUST_M_S * below.times_s[-1], rel=0.2)
    assert side.channels["heading deg"][-1] > 0.0
    assert _first_bank(side.channels["bank deg"]) < 0.0
    assert side.channels["slip deg"][0] == pytest.approx(degrees(GUST_M_S / flight.cruise_m_s), rel=1e-9)
    for one in flight.responses:
        assert all(len(values) == len(one.times_s) for values in one.channels.values())


def _first_bank(bank: Array) -> float:
    return float(bank[10])
