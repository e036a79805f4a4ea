"""The air at the tail: momentum theory with round numbers, open gaps, and what both do to the neutral point."""

from __future__ import annotations

from math import pi, sqrt
from pathlib import Path

import numpy as np
import pytest

import airframe
from airframe import config
from airframe.flight import tail_air
from airframe.flight.bands import Band, exactly
from airframe.flight.tail_air import TailAir, slipstream_pressure, slipstream_radius_m
from airframe.flight.tail_air import tail_air as air_at
from airframe.layout import Layout

MK2 = Path(__file__).parents[3] / "configs" / "teasel-mk2.toml"


def test_slipstream_by_momentum_theory() -> None:
    """Thrust is mass flow times the speed gained: T = rho A (V + V_s) / 2 (V_s - V) (Rankine, Froude; from memory)."""
    thrust, speed, density, diameter = 2.0, 9.0, 1.2, 0.25
    fast = speed * sqrt(slipstream_pressure(thrust, speed, density, diameter))
    area = pi / 4.0 * diameter**2
    assert density * area * (speed + fast) / 2.0 * (fast - speed) == pytest.approx(thrust, rel=1e-12)
    radius = slipstream_radius_m((fast / speed) ** 2, diameter)
    assert pi * radius**2 * fast == pytest.approx(area * (speed + fast) / 2.0, rel=1e-12)


def test_no_thrust_is_no_slipstream() -> None:
    """Gliding, the best there is is free air; a propeller without pull has a stream of its own width."""
    assert slipstream_pressure(0.0, 9.0, 1.2, 0.25) == 1.0
    assert slipstream_radius_m(1.0, 0.25) == 0.125
    assert air_at(Layout(config.load(MK2)), 0.0, 9.0, 1.2, 0.4).pressure == Band(tail_air.SLOW_WAKE, 1.0, 1.0)


def test_a_stream_wider_than_the_tail_covers_all_of_it() -> None:
    """Of a very narrow tail the high end is the stream's whole pressure; of a wide one in proportion to its span."""
    layout = Layout(config.load(MK2))
    narrow, wide, wider = (air_at(layout, 1.0, 9.0, 1.2, span).pressure.high for span in (0.01, 0.5, 1.0))
    disk_m = next(item.diameter_mm for item in layout.design.equipment.values() if item.kind == "propeller") * 1e-3
    assert narrow == pytest.approx(slipstream_pressure(1.0, 9.0, 1.2, disk_m), rel=1e-12)
    assert wide - 1.0 == pytest.approx(2.0 * (wider - 1.0), rel=1e-12)


def test_gaps_and_air_multiply() -> None:
    """Low with low, high with high."""
    assert TailAir(Band(0.7, 0.8, 0.9), Band(0.9, 1.0, 1.1)).share == Band(0.7 * 0.9, 0.8, 0.9 * 1.1)
    assert TailAir(exactly(1.0), exactly(1.0)).share == exactly(1.0)


def test_open_gaps_take_a_fifth_of_the_tail() -> None:
    """The tail's loads are 0.8 of the lattice's (Raymer ch. 16, by a digest), the wing's the same; the neutral point
    comes forward."""
    sealed, open_ = (airframe.load(MK2, [f'flight.hinge_gaps="{gaps}"']).flight for gaps in ("sealed", "open"))
    motion, still = sealed.cruise.motion, sealed.air.deflections()
    whole, less = sealed._bare.loads(motion, still), open_._bare.loads(motion, still)
    air = sealed.air
    tail = air.lattice.loads(motion, still, air.density_kg_m3, air.about_m, ~air.lattice.panels.of("wing"))
    np.testing.assert_allclose(whole.slopes - less.slopes, 0.2 * tail.slopes, atol=1e-12 * np.abs(whole.slopes).max())
    assert open_.neutral_point_mm < sealed.neutral_point_mm


def test_more_air_at_the_tail_moves_the_neutral_point_aft() -> None:
    """Slow wake forward, slipstream aft; the likely one between, all within the spread that is told of it."""
    flight = airframe.load(MK2).flight
    points = flight.neutral_points_mm
    assert points.low < points.middle < points.high
    assert points.middle == flight.neutral_point_mm
    chord = flight.layout.mean_chord.length_mm
    assert points.high - points.low < 0.10 * chord
