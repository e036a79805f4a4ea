"""The demo aeroplanes in the air: plausible numbers, plausible motions (bands from memory, wide on purpose)."""

from __future__ import annotations

from math import degrees
from pathlib import Path

import numpy as np
import pytest

from airframe import config
from airframe.flight import modes, trim
from airframe.flight.air import around
from airframe.flight.axes import body_mass
from airframe.inertia import Body
from airframe.layout import Layout

CONFIGS = Path(__file__).parents[3] / "configs"
DEMOS = ("teasel-mk1", "teasel-mk2", "plover")


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_flies(name: str) -> None:
    """Balanced at 30 % of the mean chord, 0.7 kg, 9 m/s: stable both ways, tail volumes and margin as models have them.

    Bands for models and gliders: V_h 0.30 to 0.60 (here to 0.7), V_v 0.02 to 0.05, margin 0.05 to 0.40 (5.26, memory).
    """
    layout = Layout(config.load(CONFIGS / f"{name}.toml"))
    chord = layout.mean_chord
    centre = (chord.leading_edge_mm + 0.3 * chord.length_mm, 0.0, 0.0)
    air, thrust = around(layout, centre, drag_area_m2=0.007), trim.thrust_line(layout)
    assert 0.30 < air.volumes.horizontal < 0.70
    assert 0.02 < air.volumes.vertical < 0.05
    found = trim.level(air, 0.7, 9.0, thrust)
    assert 0.05 < found.derivatives.static_margin < 0.40
    assert abs(degrees(found.elevator_rad)) < 10.0
    assert 0.2 < found.thrust_n < 2.0
    mass = body_mass(Body(700.0, np.array(centre), np.array([[1.6e7, 0, -1e6], [0, 3e7, 0], [-1e6, 0, 4.4e7]])))
    motions = modes.modes(trim.linear(air, mass, found, thrust))
    assert [mode.name for mode in motions] == ["short period", "phugoid", "Dutch roll", "roll", "spiral"]
    assert all(mode.is_stable for mode in motions[:4])
    assert 0.3 < modes.named(motions, "Dutch roll").period_s < 3.0


def test_a_rudder_kick_banks_the_polyhedral_wing() -> None:
    """10 deg of rudder to the right yaws it to the right, and dihedral then rolls it that way: how it turns at all."""
    layout = Layout(config.load(CONFIGS / "teasel-mk1.toml"))
    air, thrust = around(layout, (224.0, 0.0, -4.0), drag_area_m2=0.007), trim.thrust_line(layout)
    mass = body_mass(
        Body(740.0, np.array([224.0, 0, -4]), np.array([[1.9e7, 0, -2e6], [0, 3.3e7, 0], [-2e6, 0, 4.8e7]]))
    )
    model = trim.linear(air, mass, trim.level(air, 0.74, 8.0, thrust), thrust)
    states = model.after(np.zeros(8), [0.5, 1.0], air.deflections(rudder_rad=-np.radians(10.0)))
    yaw_rate, bank = states[:, 5], states[:, 6]
    assert np.all(yaw_rate > 0.0)
    assert degrees(bank[1]) > 5.0
    assert bank[1] > bank[0]
