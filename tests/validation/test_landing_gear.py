"""Landing-gear geometry and wire stiffness against handbook values and rules.

Currey, Aircraft Landing Gear Design, AIAA 1988; Raymer, Aircraft Design: A Conceptual Approach, ch. 11 (read in a
digest: secondary); 14 CFR 23.925 as it stood before the 2017 rewrite of Part 23; Shigley and Roark from memory.
"""

from __future__ import annotations

from math import atan, degrees, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from airframe.checks import propeller_ground, propeller_structure
from airframe.checks.contact import LEVEL, Foot, resting, tipping_line, triangle_lines, wheel_line_rad
from airframe.checks.gear_frame import BracedLeg, Chain, Elastic, flexibility
from airframe.checks.nosing import BEST_NOSE_PERCENT
from airframe.checks.standing import Standing
from airframe.checks.tipping import worst_overturn_rad
from airframe.schema.limits_ground import GroundLimits, PropellerLimits
from airframe.units import STANDARD_GRAVITY_M_S2

LIMITS = GroundLimits()


def spike(x: float, y: float) -> Foot:
    return Foot("spike", ((x, y, 0.0),), 0.0, axle=None)


def test_overturn_example() -> None:
    """h 0.12, T 0.24, B 0.30, l_n 0.25 m: delta 21.80 deg, d 0.09285 m, angle 52.27 deg (3.1, 3.4; recomputed)."""
    track, base, nose_to_cg, height = 240.0, 300.0, 250.0, 120.0
    delta = atan(track / (2.0 * base))
    assert degrees(delta) == pytest.approx(21.80, abs=0.005)
    feet = (spike(base, track / 2.0), spike(base, -track / 2.0), spike(0.0, 0.0))
    cg = (nose_to_cg, 0.0, height)
    sides = [line for ends, line in triangle_lines(resting(feet), cg).items() if 2 in ends]
    assert [line.inside_mm for line in sides] == pytest.approx([92.85, 92.85], abs=0.005)
    assert [line.inside_mm for line in sides] == pytest.approx([nose_to_cg * sin(delta)] * 2)
    assert degrees(worst_overturn_rad(Standing(feet, cg, 500.0))) == pytest.approx(52.27, abs=0.005)


def test_overturn_of_a_tail_wheel_gear() -> None:
    """The same formula with the length from the tail wheel (3.5, from memory): the same triangle, turned round."""
    feet = (spike(0.0, 120.0), spike(0.0, -120.0), spike(300.0, 0.0))
    assert degrees(worst_overturn_rad(Standing(feet, (50.0, 0.0, 120.0), 500.0))) == pytest.approx(52.27, abs=0.005)


def test_overturn_limits() -> None:
    """55 deg is the stricter limit in use (3.3, secondary), 63 deg Raymer's on land (3.2, secondary)."""
    assert degrees(LIMITS.overturn_rad) == pytest.approx(55.0)
    assert degrees(LIMITS.overturn_on_bump_rad) == pytest.approx(63.0)


def test_lateral_angle_seen_from_behind() -> None:
    """Wheels at 25 deg from the balance point seen from behind (3.7, secondary): 65 deg about a fore-and-aft line."""
    height = 100.0
    line = tipping_line(
        (0, height * tan(radians(25.0)), 0), (-1, height * tan(radians(25.0)), 0), (0, 0, height), LEVEL
    )
    assert degrees(line.overturn_rad) == pytest.approx(90.0 - 25.0)


def test_wheel_line_limits() -> None:
    """Tail wheel 16 to 25 deg (3.6), nose wheel 15 to 25 deg (3.9): Raymer, ch. 11 (secondary)."""
    lows = [LIMITS.wheel_line_low_rad, LIMITS.tip_back_low_rad]
    highs = [LIMITS.wheel_line_high_rad, LIMITS.tip_back_high_rad]
    assert [degrees(v) for v in lows] == pytest.approx([16.0, 15.0])
    assert [degrees(v) for v in highs] == pytest.approx([25.0, 25.0])
    assert degrees(wheel_line_rad((0, 0, 0), (100.0 * tan(radians(16.0)), 0, 100.0), LEVEL)) == pytest.approx(16.0)


def test_attitude_limits_hold_raymers() -> None:
    """Raymer's tail-down attitude of 10 to 15 deg (3.8, secondary) lies within ours, two degrees wider each way."""
    assert degrees(LIMITS.tail_down_low_rad) == pytest.approx(10.0 - 2.0)
    assert degrees(LIMITS.tail_down_high_rad) == pytest.approx(15.0 + 2.0)


def test_nose_load_limits() -> None:
    """8 to 15 % is best, 5 and 20 % are the limits (3.10, secondary)."""
    assert BEST_NOSE_PERCENT == (8.0, 15.0)
    assert (LIMITS.nose_load_low_share, LIMITS.nose_load_high_share) == pytest.approx((0.05, 0.20))


def test_static_loads() -> None:
    """Main gear W N_a / B, nose gear W M_a / B, with N_a, M_a from the balance point (3.11, secondary)."""
    base, to_nose = 260.0, 220.0
    feet = (spike(base, 100.0), spike(base, -100.0), spike(0.0, 0.0))
    right, left, nose = Standing(feet, (to_nose, 0.0, 90.0), 600.0).shares
    assert right + left == pytest.approx(to_nose / base)
    assert nose == pytest.approx((base - to_nose) / base)


def test_braking_load() -> None:
    """Braking at 10 ft/s^2 adds 10 H W / (g B) to the nose wheel, g in ft/s^2 (3.11, secondary).

    The plumb line leans forward by atan(a / g): so the load moves by H tan of it over B.
    """
    base, to_nose, height, g = 260.0, 220.0, 90.0, 32.174
    feet = (spike(base, 100.0), spike(base, -100.0), spike(0.0, 0.0))
    stance = resting(feet)
    lean = atan(10.0 / g)
    leaned = type(stance)(np.array([sin(lean), 0.0, np.cos(lean)]), 0.0, stance.points)
    added = leaned.shares((to_nose, 0.0, height))[2] - stance.shares((to_nose, 0.0, height))[2]
    assert added == pytest.approx(10.0 * height / (g * base))


def test_rules_are_quoted_as_they_stood() -> None:
    """23.925 (3.12, 3.13) is called pre-2017, and its full-size inches are not our limits (3.22)."""
    for rule in (propeller_ground._RULE, propeller_structure._RULE):
        assert "14 CFR 23.925" in rule and "(pre-2017)" in rule
    ours = PropellerLimits()
    assert ours.ground_clearance_mm < 7.0 * 25.4
    assert ours.axial_gap_mm < 0.5 * 25.4
    assert ours.radial_gap_mm < 1.0 * 25.4
    assert propeller_ground.HARD == 1.5


def test_drop_example() -> None:
    """Two 3 mm legs, 100 mm straight cantilevers, E = 207 GPa: k = 4938 N/m (10.11, recomputed).

    Half a kilogram dropped by 50 mm on them: k x^2 / 2 = W (h + x), n = 1 + sqrt(1 + 2 h k / W) (3.25, from memory), so
    11.1 times its weight, 11.0 mm down, and 1025 MPa in the wire, 0.57 of what it bears at least (4.4, 3.175 mm).
    """
    length, diameter, weight, drop = 100.0, 3.0, 0.5 * STANDARD_GRAVITY_M_S2, 50.0
    leg = Chain(((0.0, 0.0, 0.0), (0.0, length, 0.0)), diameter, Elastic(207.0e3, 79.3e3))
    stiffness = 2.0 / flexibility(BracedLeg(leg, (0.0, length, 0.0)))[2][2]
    assert 1000.0 * stiffness == pytest.approx(4938.0, abs=1.0)
    factor = 1.0 + sqrt(1.0 + 2.0 * drop * stiffness / weight)
    down = factor * weight / stiffness
    assert (factor, down) == (pytest.approx(11.1, abs=0.05), pytest.approx(11.0, abs=0.05))
    stress = 32.0 * factor * weight / 2.0 * length / (pi * diameter**3)
    assert stress == pytest.approx(1025.0, abs=1.0)
    assert stress / 1800.0 == pytest.approx(0.57, abs=5e-3)


def test_portal_frame() -> None:
    """A fixed portal pushed sideways at its beam: sway P h^3 (3k + 2) / (12 E I1 (6k + 1)), k = (I2 / I1)(h / L).

    Kleinlogel, Rigid Frame Formulas, fixed-base rectangular frame, from memory; it neglects stretching, which the
    frame library does not: hence a tolerance of a thousandth for slender members. Limits: k = 0 is two cantilevers.
    """
    from Pynite import FEModel3D

    e, g, push = 200.0e3, 80.0e3, 1.0
    height, span, column, beam = 400.0, 600.0, 4.0, 5.0
    model = FEModel3D()
    model.add_material("steel", e, g, 0.25, 0.0)
    for name, d in (("column", column), ("beam", beam)):
        i = pi * d**4 / 64.0
        model.add_section(name, pi * d * d / 4.0, i, i, 2.0 * i)
    corners = {"A": (0, 0, 0), "B": (0, 0, height), "C": (span, 0, height), "D": (span, 0, 0)}
    for name, (x, y, z) in corners.items():
        model.add_node(name, x, y, z)
    for start, end, section in (("A", "B", "column"), ("B", "C", "beam"), ("C", "D", "column")):
        model.add_member(start + end, start, end, "steel", section)
    for foot in ("A", "D"):
        model.def_support(foot, *[True] * 6)
    model.add_node_load("B", "FX", push)
    model.analyze_linear(sparse=False)
    i1, i2 = pi * column**4 / 64.0, pi * beam**4 / 64.0
    k = i2 / i1 * height / span
    sway = push * height**3 * (3.0 * k + 2.0) / (12.0 * e * i1 * (6.0 * k + 1.0))
    assert model.nodes["B"].DX["Combo 1"] == pytest.approx(sway, rel=1e-3)
    foot = push * height / 2.0 * (3.0 * k + 1.0) / (6.0 * k + 1.0)
    assert abs(model.nodes["A"].RxnMY["Combo 1"]) == pytest.approx(foot, rel=1e-3)
