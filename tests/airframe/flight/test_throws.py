"""Linkages, hinge moments and push-rods against closed forms, and against the trade's experience."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.flight import throws
from airframe.flight.bands import Band, exactly
from airframe.flight.linkage import Linkage, LinkageLocks, straight_linkage
from airframe.flight.throws import Control

TURNS = st.floats(-0.7, 0.7)
RHO = 1.225


@given(TURNS, st.floats(5.0, 30.0), st.floats(50.0, 500.0))
def test_a_parallelogram_turns_alike(turn: float, arm: float, rod: float) -> None:
    """Equal arms on parallel axes: the surface turns as the servo does, exactly."""
    assert straight_linkage(arm, arm, rod).surface_rad(turn) == pytest.approx(turn, abs=1e-9)


@given(TURNS, st.floats(8.0, 20.0), st.floats(20.0, 30.0), st.floats(80.0, 400.0), st.floats(-0.4, 0.4))
def test_the_rod_keeps_its_length(turn: float, arm: float, horn: float, along: float, lean: float) -> None:
    """Wherever the servo is, the distance between the two holes is the rod's."""
    linkage = Linkage(arm, horn, along, 3.0, -lean, lean)
    surface = linkage.surface_rad(turn)
    ax, ay = arm * sin(turn - lean), arm * cos(turn - lean)
    bx, by = along + horn * sin(surface + lean), 3.0 + horn * cos(surface + lean)
    assert hypot(bx - ax, by - ay) == pytest.approx(linkage.rod, rel=1e-9)
    assert linkage.surface_rad(0.0) == pytest.approx(0.0, abs=1e-9)


@given(TURNS, st.floats(8.0, 20.0), st.floats(20.0, 30.0))
def test_gain_is_the_slope(turn: float, arm: float, horn: float) -> None:
    """The gain is the derivative of the surface's angle; the rod's lever is what virtual work makes of it."""
    linkage = straight_linkage(arm, horn, 200.0)
    step = 1e-6
    slope = (linkage.surface_rad(turn + step) - linkage.surface_rad(turn - step)) / (2 * step)
    assert linkage.gain(turn) == pytest.approx(slope, rel=1e-6)


def test_square_arms_gain_their_ratio() -> None:
    """At rest, both arms square to the rod: surface a servo radian is arm over horn, and the lever is the horn."""
    linkage = straight_linkage(12.0, 24.0, 300.0)
    assert linkage.gain(0.0) == pytest.approx(0.5, rel=1e-12)
    assert linkage.rod_arm(0.0) == pytest.approx(24.0, rel=1e-12)


def test_a_long_rod_moves_both_holes_alike() -> None:
    """With a rod far longer than the arms: horn sin(surface) = arm sin(servo)."""
    linkage = straight_linkage(12.0, 24.0, 1e6)
    assert 24.0 * sin(linkage.surface_rad(0.7)) == pytest.approx(12.0 * sin(0.7), rel=1e-4)


def test_a_linkage_locks() -> None:
    """A long arm on a short horn runs out of horn."""
    with pytest.raises(LinkageLocks, match="locks"):
        straight_linkage(24.0, 12.0, 300.0).surface_rad(1.0)


def test_a_whole_plate_hinged_at_its_nose() -> None:
    """Lift 2 pi a quarter chord behind the hinge: -pi / 2, by incidence and by deflection."""
    assert throws.hinge_moment_slopes(1.0) == pytest.approx((-pi / 2, -pi / 2), rel=1e-9)


@pytest.mark.parametrize("share", [0.2, 0.35, 0.5, 0.8])
def test_flaps_against_the_load_summed_up(share: float) -> None:
    """The series is the moment of the exact load, whose sum is a logarithm at the hinge, integrated by steps."""
    hinge = np.arccos(2 * share - 1)
    edges = np.linspace(hinge, np.pi, 400_001)
    t = (edges[1:] + edges[:-1]) / 2
    nose = (1 + np.cos(t)) / np.sin(t)
    bent = (np.pi - hinge) / np.pi * nose + np.log(np.abs(np.sin((t + hinge) / 2) / np.sin((t - hinge) / 2))) / np.pi
    lever = (np.cos(hinge) - np.cos(t)) / 2 * np.sin(t) / 2 * np.diff(edges)
    expected = [-float(np.sum(4 * load * lever)) / share**2 for load in (nose, bent)]
    assert throws.hinge_moment_slopes(share) == pytest.approx(expected, rel=2e-4)


def test_hinge_moments_grow_as_they_must() -> None:
    """With the square of speed, with deflection; incidence adds; the band ends at thin-aerofoil theory."""
    control = Control(area_m2=0.02, chord_m=0.05, chord_share=0.4, aspect_ratio=4.0)
    slow = control.moment_n_m(8.0, RHO, 0.4, 0.0)
    assert control.moment_n_m(16.0, RHO, 0.4, 0.0).high == pytest.approx(4 * slow.high)
    assert control.moment_n_m(8.0, RHO, 0.4, 0.1).middle > slow.middle
    by_incidence, by_deflection = (abs(slope) for slope in throws.hinge_moment_slopes(0.4))
    # a third of what lifts as much as the deflection is downwash: 2 / (4 + 2)
    coefficient = (by_deflection - by_incidence * throws.flap_effectiveness(0.4) / 3.0) * 0.4
    assert slow.high == pytest.approx(coefficient * RHO * 32.0 * 0.02 * 0.05)


def test_a_whole_moving_plate_feels_the_sum_of_both_angles() -> None:
    """Hinged at its nose it has no flap: pi / 2 (alpha + delta) A / (A + 2), lifting line of the elliptic wing."""
    control = Control(area_m2=0.02, chord_m=0.05, chord_share=1.0, aspect_ratio=3.0)
    expected = pi / 2 * (0.3 + 0.1) * 3.0 / 5.0 * RHO * 32.0 * 0.02 * 0.05
    assert control.moment_n_m(8.0, RHO, 0.3, 0.1).high == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("share", "effect"), [(0.5, 0.5 + 1.0 / pi), (1.0, 1.0)])
def test_what_a_flap_lifts(share: float, effect: float) -> None:
    """Of half the chord 1/2 + 1 / pi of what the whole would, of all of it all (Glauert, thin aerofoil)."""
    assert throws.flap_effectiveness(share) == pytest.approx(effect, rel=1e-12)


def test_work_in_is_work_out() -> None:
    """Torque times servo angle is moment times surface angle; equal to rod force times the servo's lever."""
    linkage = straight_linkage(12.0, 24.0, 200.0)
    moment = exactly(0.024)
    torque = throws.servo_torque_n_m(moment, linkage.gain(0.5)).middle
    rod = 0.024 / (linkage.rod_arm(0.5) / 1000.0)
    surface = linkage.surface_rad(0.5)
    ax, ay = 12.0 * sin(0.5), 12.0 * cos(0.5)
    bx, by = 200.0 + 24.0 * sin(surface), -12.0 + 24.0 * cos(surface)
    lever = abs(ax * (by - ay) - ay * (bx - ax)) / hypot(bx - ax, by - ay)
    assert torque == pytest.approx(rod * lever / 1000.0, rel=1e-9)


def test_torque_margin() -> None:
    """A servo of 0.15 N m against 0.03 to 0.05 N m has 3 to 5 times what it needs."""
    margin = throws.torque_margin(0.15, Band(0.03, 0.04, 0.05))
    assert (margin.low, margin.middle, margin.high) == pytest.approx((3.0, 3.75, 5.0))


def test_euler() -> None:
    """pi^3 E d^4 / (64 L^2): 2 mm of music wire, 200 mm free, E 190 GPa: 36.8 N (recomputed)."""
    assert throws.buckling_force_n(0.002, 0.2) == pytest.approx(pi**3 * 190e9 * 0.002**4 / (64 * 0.2**2), rel=1e-12)
    assert throws.buckling_force_n(0.002, 0.2) == pytest.approx(36.8, abs=0.05)
    assert throws.unguided_diameter_m(0.2, 36.8 / 2, 2.0) == pytest.approx(0.002, rel=1e-3)


def test_thick_wire_over_a_short_run_needs_no_guides() -> None:
    """2 mm wire over 250 mm bears a slow flyer's elevator at full throw several times over; 0.8 mm over 500 mm does
    not even bear it once (common practice, no source: thicker wire and a short run need no guides)."""
    elevator = Control(area_m2=0.018, chord_m=0.045, chord_share=0.4, aspect_ratio=4.0)
    force = elevator.moment_n_m(13.0, RHO, radians(25.0), radians(5.0)).high / 0.024
    assert throws.buckling_force_n(0.002, 0.25) > 3.0 * force
    assert throws.buckling_force_n(0.0008, 0.5) < force


def test_slow_flight_wants_large_throws() -> None:
    """The moment for a given hinge load allows four times the throw at half the speed (common practice, no source:
    slow flight wants large throws, and they cost the servo no more)."""
    elevator = Control(area_m2=0.018, chord_m=0.045, chord_share=0.4, aspect_ratio=4.0)
    fast, slow = elevator.moment_n_m(12.0, RHO, 0.1, 0.0), elevator.moment_n_m(6.0, RHO, 0.4, 0.0)
    assert slow.middle == pytest.approx(fast.middle)
