"""What it does after a kick of the rudder, a pull of the stick or a gust: the linear model in time; estimates.

The full inertia tensor moves in all six freedoms at once. Good until the changes are no longer small: beyond some
30 deg of bank or 10 deg of incidence the real aeroplane does less, or stalls.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, degrees, radians, sin

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.flight.motion import STATES, LinearModel
from airframe.units import System

KICK_RAD = radians(10.0)
"""Of rudder, to the right; less where the throw is less."""
PULL_RAD, PULL_S = radians(3.0), 0.5
"""Of up elevator, and for how long it is held; less where the throw is less."""
GUST_M_S = 1.0
"""A calm evening's bump (our choice, no source)."""
BANK_RAD = radians(30.0)
"""The bank to which a turn by rudder is timed."""
STEP_S = 0.02
QUICK_S, SLOW_S = 4.0, 16.0
"""How long motions across and along the plane of symmetry are watched."""
U, V, W, P, Q, R, BANK, PITCH = range(len(STATES))


@dataclass(frozen=True, eq=False)
class Response:
    """One time history, from the moment of the disturbance."""

    name: str
    """Such as "rudder kick, 10 deg to the right"."""
    times_s: Array
    """(n,) from 0 on."""
    channels: Mapping[str, Array]
    """(n,) values by name; each name ends in its unit, such as "bank deg", "speed change m/s"."""
    words: str
    """What a builder would see, with numbers."""


@dataclass(frozen=True, eq=False)
class RudderKick:
    """Rudder to the right, held: how an aeroplane without ailerons turns."""

    response: Response
    rudder_rad: float
    """How far it was moved."""
    most_roll_rad_s: float
    """The fastest roll before a bank of 30 deg, to the right."""
    bank_30_s: float | None
    """Time to a bank of 30 deg; None where it is not reached while watched."""

    @property
    def roll_per_rudder(self) -> float:
        """That roll as rad/s a radian of rudder; nothing for a rudder that does not move."""
        return self.most_roll_rad_s / self.rudder_rad if self.rudder_rad else 0.0


def rudder_kick(model: LinearModel, rudder: int, throw_rad: float) -> RudderKick:
    """The rudder's trailing edge to the right at once, and held; `rudder` is its column in the model's controls."""
    angle = max(min(KICK_RAD, throw_rad), 0.0)
    times, moved = _times(QUICK_S), np.zeros(model.controls.shape[1])
    moved[rudder] = -angle
    states = model.after(np.zeros(len(STATES)), times, moved)
    reached = _first(times, states[:, BANK], BANK_RAD)
    before = slice(None) if reached is None else times <= reached
    fastest = float(states[before, P].max())
    words = _turning(states, fastest, reached) if angle else "the rudder does not move: nothing happens"
    channels = _across(states, model.speed_m_s)
    found = Response(f"rudder kick, {degrees(angle):.0f} deg to the right and held", times, channels, words)
    return RudderKick(found, angle, fastest, reached)


def stick_pull(model: LinearModel, elevator: int, throw_rad: float, system: System = "metric") -> Response:
    """Up elevator for half a second, then let go; the words in the builder's units."""
    angle = max(min(PULL_RAD, throw_rad), 0.0)
    times, moved = _times(SLOW_S), np.zeros(model.controls.shape[1])
    moved[elevator] = -angle
    still = np.zeros(len(STATES))
    states, late = model.after(still, times, moved), times >= PULL_S
    states[late] -= model.after(still, times[late] - PULL_S, moved)
    channels = _along(states, model)
    pitch, height, speed = (channels[name] for name in ("pitch deg", "height m", "speed change m/s"))
    words = (
        f"the nose rises by {pitch.max():.0f} deg, "
        f"it gains {_height(float(height.max()), system)} and slows by {units.speed(float(-speed.min()), system)}; "
        f"after {SLOW_S:.0f} s the nose is {_offset(float(pitch[-1]))}"
    )
    return Response(f"pull of the stick, {degrees(angle):.0f} deg for {PULL_S:g} s", times, channels, words)


def gust_from_below(model: LinearModel, system: System = "metric") -> Response:
    """It flies into air that rises at 1 m/s and stays in it; the words in the builder's units."""
    times, start = _times(SLOW_S), np.zeros(len(STATES))
    start[[U, W]] = GUST_M_S * np.array([-sin(model.incidence_rad), cos(model.incidence_rad)])
    states = model.after(start, times)
    channels = _along(states, model, rising_m_s=GUST_M_S)
    pitch, speed = channels["pitch deg"], channels["speed change m/s"]
    words = (
        f"the nose moves by up to {np.abs(pitch).max():.0f} deg, "
        f"the speed by up to {units.speed(float(np.abs(speed).max()), system)}; "
        f"after {SLOW_S:.0f} s the nose is {_offset(float(pitch[-1]))}; it rides up with the air"
    )
    return Response(f"gust from below, {units.speed(GUST_M_S, system)}", times, channels, words)


def gust_from_the_side(model: LinearModel, system: System = "metric") -> Response:
    """It flies into air that drifts to the left at 1 m/s, so that the wind comes from the right."""
    times, start = _times(QUICK_S), np.zeros(len(STATES))
    start[V] = GUST_M_S
    states = model.after(start, times)
    channels = _across(states, model.speed_m_s)
    bank, heading = channels["bank deg"], channels["heading deg"]
    most = float(bank[np.abs(bank).argmax()])
    way = "into the wind" if heading[-1] > 0.0 else "off the wind"
    words = (
        f"it banks by up to {abs(most):.0f} deg to the {'right' if most > 0.0 else 'left'}, "
        f"and after {QUICK_S:.0f} s points {abs(float(heading[-1])):.0f} deg {way}"
    )
    return Response(f"gust from the right, {units.speed(GUST_M_S, system)}", times, channels, words)


def _times(length_s: float) -> Array:
    return np.linspace(0.0, length_s, round(length_s / STEP_S) + 1)


def _across(states: Array, speed_m_s: float) -> dict[str, Array]:
    """Channels of the motions to the side; slip is positive with the wind from the right."""
    return {
        "bank deg": np.degrees(states[:, BANK]),
        "roll rate deg/s": np.degrees(states[:, P]),
        "yaw rate deg/s": np.degrees(states[:, R]),
        "slip deg": np.degrees(states[:, V] / speed_m_s),
        "heading deg": np.degrees(_summed(states[:, R])),
    }


def _along(states: Array, model: LinearModel, rising_m_s: float = 0.0) -> dict[str, Array]:
    """Channels of the motions in the plane of symmetry; height counts from the undisturbed path, a gust carries it.

    Changes of speed are those along the path and down from it, whatever the body's axes.
    """
    ahead, down = cos(model.incidence_rad), sin(model.incidence_rad)
    faster = ahead * states[:, U] + down * states[:, W]
    sinking = ahead * states[:, W] - down * states[:, U]
    return {
        "pitch deg": np.degrees(states[:, PITCH]),
        "nodding rate deg/s": np.degrees(states[:, Q]),
        "incidence change deg": np.degrees(sinking / model.speed_m_s),
        "speed change m/s": faster,
        "height m": _summed(model.speed_m_s * states[:, PITCH] - sinking + rising_m_s),
    }


def _summed(rates: Array) -> Array:
    """The running integral by the trapezoidal rule."""
    total: Array = np.concatenate([[0.0], np.cumsum((rates[1:] + rates[:-1]) / 2.0 * STEP_S)])
    return total


def _first(times: Array, values: Array, limit: float) -> float | None:
    """When the values first reach a limit, straight between the samples."""
    above = np.flatnonzero(values >= limit)
    if not len(above) or above[0] == 0:
        return None
    i = int(above[0])
    share = (limit - values[i - 1]) / (values[i] - values[i - 1])
    return float(times[i - 1] + share * STEP_S)


def _turning(states: Array, fastest_rad_s: float, reached_s: float | None) -> str:
    if states[-1, BANK] <= 0.0:
        return "it yaws but does not bank that way: dihedral is what turns it"
    rolling = f"it rolls at up to {degrees(fastest_rad_s):.0f} deg/s"
    if reached_s is None:
        return f"{rolling} and banks {degrees(float(states[-1, BANK])):.0f} deg in {QUICK_S:.0f} s"
    return f"{rolling} and is banked {degrees(BANK_RAD):.0f} deg after {reached_s:.1f} s"


def _height(height_m: float, system: System) -> str:
    return f"{height_m * 1000.0 / units.MM_PER_FOOT:.0f} ft" if system == "imperial" else f"{height_m:.1f} m"


def _offset(angle_deg: float) -> str:
    if abs(angle_deg) < 0.5:
        return "back where it was"
    return f"{abs(angle_deg):.0f} deg {'higher' if angle_deg > 0.0 else 'lower'}"
