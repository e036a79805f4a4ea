"""Speeds, glide and turns in closed form; plates by their theory and by what their tests are remembered to say."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.flight import sections, speeds
from airframe.flight.bands import Band
from airframe.flight.speeds import Polar

SLOW_FLYER = Polar(0.6, 0.22, 5.0, 0.06, 0.7, 0.95, 1.225)
G = 9.80665


def test_stall_speed() -> None:
    """V_s = sqrt(2 W / (rho S C_L)) with round numbers: 2 x 98 / (1 x 1 x 1) gives 14 m/s."""
    assert Polar(98 / G, 1.0, 6.0, 0.05, 0.7, 1.0, 1.0).stall_speed_m_s == pytest.approx(14.0, rel=1e-12)
    assert SLOW_FLYER.lift_coefficient(SLOW_FLYER.stall_speed_m_s) == pytest.approx(0.95, rel=1e-12)


def test_loadings() -> None:
    """0.6 kg on 0.25 m^2 is 2.4 kg/m^2 and, over 0.25^1.5 = 0.125, 4.8 kg/m^3; the latter ignores size."""
    polar = replace(SLOW_FLYER, area_m2=0.25)
    assert polar.wing_loading_kg_m2 == pytest.approx(2.4)
    assert polar.cubic_loading_kg_m3 == pytest.approx(4.8)
    twice = replace(polar, mass_kg=0.6 * 8, area_m2=0.25 * 4)
    assert twice.cubic_loading_kg_m3 == pytest.approx(4.8)


def test_best_glide() -> None:
    """The flattest glide is 0.5 sqrt(pi A e / C_D0), and no speed beats it (Anderson, from memory)."""
    polar = replace(SLOW_FLYER, most_lift=2.0)
    best = polar.glide_ratio(polar.flattest_glide_m_s)
    assert best == pytest.approx(0.5 * sqrt(pi * 5.0 * 0.7 / 0.06), rel=1e-12)
    assert all(polar.glide_ratio(float(v)) <= best + 1e-12 for v in np.linspace(3, 20, 200))


def test_least_sink() -> None:
    """Least power is flown 3^(1/4) slower than least drag, at sqrt(3)/2 of its glide ratio (Anderson, from memory)."""
    polar = replace(SLOW_FLYER, most_lift=5.0)
    slow, flat = polar.least_sink_speed_m_s, polar.flattest_glide_m_s
    assert flat / slow == pytest.approx(3.0**0.25, rel=1e-12)
    assert polar.glide_ratio(slow) / polar.glide_ratio(flat) == pytest.approx(sqrt(3.0) / 2.0, rel=1e-12)
    assert all(polar.sink_m_s(float(v)) >= polar.sink_m_s(slow) - 1e-12 for v in np.linspace(2, 20, 200))
    assert polar.power_w(slow) == pytest.approx(polar.sink_m_s(slow) * polar.weight_n)


def test_the_stall_bounds_the_best_speeds() -> None:
    """Where least sink would need more lift than there is, it is flown at the stall."""
    assert SLOW_FLYER.least_sink_speed_m_s == pytest.approx(SLOW_FLYER.stall_speed_m_s)


@given(st.floats(3.0, 30.0), st.floats(1.0, 75.0))
def test_turns(speed: float, bank_deg: float) -> None:
    """The lift's sideways part turns, its upright part carries: n sin(bank) g = V^2 / r, and n cos(bank) = 1."""
    bank = radians(bank_deg)
    radius = speeds.turn_radius_m(speed, bank)
    sideways = sqrt(speeds.load_factor(bank) ** 2 - 1.0) * G
    assert speed**2 / radius == pytest.approx(sideways, rel=1e-9)
    stalled = speeds.stall_speed_in_turn_m_s(speed, bank)
    assert stalled == pytest.approx(speed / sqrt(cos(bank)), rel=1e-12)


def test_a_turn_with_round_numbers() -> None:
    """At 45 degrees and 9.80665 m/s the radius is 9.80665 m and the load factor sqrt(2)."""
    assert speeds.turn_radius_m(G, pi / 4) == pytest.approx(G, rel=1e-12)
    assert speeds.load_factor(pi / 4) == pytest.approx(sqrt(2.0), rel=1e-12)


def test_plates_as_remembered() -> None:
    """0.7 to 0.8 flat, 1.0 to 1.2 with 4 to 6 % camber (Schmitz; Pelletier & Mueller: from memory, low confidence)."""
    flat = sections.most_lift("flat plate", 0.06, 80_000.0)
    assert (flat.low, flat.high) == (0.7, 0.8)
    for camber in (0.04, 0.05, 0.06):
        curved = sections.most_lift("curved plate", camber, 80_000.0)
        assert (curved.low, curved.high) == pytest.approx((1.0, 1.2))
    half = sections.most_lift("curved plate", 0.02, 80_000.0)
    assert flat.middle < half.middle < 1.1


def test_untested_reynolds_numbers_widen_the_band() -> None:
    """Below 20 000 and above 200 000 the same likely value is less sure."""
    for reynolds in (10_000.0, 400_000.0):
        band = sections.most_lift("curved plate", 0.05, reynolds)
        assert band.low < 1.0 < band.middle < 1.2 < band.high
        assert band.middle == pytest.approx(1.1)


def test_the_whole_wing_lifts_less() -> None:
    """0.9 c_l,max cos(sweep) (Raymer eq. 12.15, secondary)."""
    assert sections.wing_most_lift(Band(1.0, 1.1, 1.2)).middle == pytest.approx(0.99)
    assert sections.wing_most_lift(Band(1.0, 1.1, 1.2), pi / 3).high == pytest.approx(0.54)


def test_friction_with_round_numbers() -> None:
    """1.328 / sqrt(10^6) laminar; 0.455 / 6^2.58 turbulent; a band between."""
    assert sections.laminar_friction(1e6) == pytest.approx(1.328e-3)
    assert sections.turbulent_friction(1e6) == pytest.approx(0.455 / 6**2.58)
    band = sections.friction(1e5)
    assert band.low == sections.laminar_friction(1e5) and band.high == sections.turbulent_friction(1e5)
    with pytest.raises(ValueError, match="no flight"):
        sections.friction(0.0)


def test_a_sharp_flat_plate_loses_all_its_suction() -> None:
    """At the band's upper end a flat plate's force stands square to it: drag grows by c_l^2 / (2 pi) = c_l alpha."""
    still, lifting = (sections.profile_drag(cl, 0.0, 0.02, 8e4) for cl in (0.0, 0.5))
    assert lifting.high - still.high == pytest.approx(0.5 * (0.5 / (2 * pi)), rel=1e-9)


def test_a_curved_plate_drags_least_near_its_easiest_lift() -> None:
    """Camber moves the least drag to 4 pi f / c, where a flat plate drags more (thin-aerofoil theory)."""
    easiest = sections.easiest_lift(0.05)
    drags = [sections.profile_drag(float(cl), 0.05, 0.02, 8e4).middle for cl in np.linspace(0, 1, 51)]
    assert np.linspace(0, 1, 51)[int(np.argmin(drags))] == pytest.approx(easiest, abs=0.02)
    assert (
        sections.profile_drag(easiest, 0.05, 0.02, 8e4).middle < sections.profile_drag(easiest, 0.0, 0.02, 8e4).middle
    )


def test_a_nose_that_loses_suction_moves_the_best_speeds() -> None:
    """With k about an easiest lift of 0.5 no speed glides flatter or sinks slower than those of the closed forms."""
    polar = replace(SLOW_FLYER, most_lift=5.0, nose_loss=0.08, easiest_lift=0.5)
    flat, slow = polar.flattest_glide_m_s, polar.least_sink_speed_m_s
    others = [float(v) for v in np.linspace(2, 20, 400)]
    assert all(polar.drag_n(v) >= polar.drag_n(flat) - 1e-12 for v in others)
    assert all(polar.power_w(v) >= polar.power_w(slow) - 1e-12 for v in others)
    assert polar.profile_drag(0.5) == polar.zero_lift_drag
    assert polar.profile_drag(0.0) == pytest.approx(0.06 + 0.08 * 0.25)
