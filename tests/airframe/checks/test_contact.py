"""How three feet rest on the ground, and how near the aeroplane is to tipping: against hand-worked triangles."""

from __future__ import annotations

from math import acos, asin, atan, atan2, cos, degrees, hypot, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.axes import about_y, about_z
from airframe.checks.contact import (
    LEVEL,
    Foot,
    held,
    level_forward,
    level_right,
    pitch_at_touch,
    pitched,
    resting,
    tipping_line,
    triangle_lines,
    wheel_line_rad,
)

EXACT = 1e-9
"""mm, rad: closed forms in double precision."""


def wheel(x: float, y: float, z: float, radius: float) -> Foot:
    return Foot("wheel", ((x, y, z),), radius)


def spike(x: float, y: float, z: float) -> Foot:
    """A foot of no size."""
    return Foot("spike", ((x, y, z),), 0.0, axle=None)


def tripod(track: float, base: float) -> tuple[Foot, Foot, Foot]:
    """Three points at height 0, the third one aft."""
    return spike(0.0, track / 2.0, 0.0), spike(0.0, -track / 2.0, 0.0), spike(base, 0.0, 0.0)


def test_equal_wheels_stand_level() -> None:
    """Equal wheels with axles at one height stand level, a radius below their axles."""
    stance = resting((wheel(0, 90, -60, 25), wheel(0, -90, -60, 25), wheel(400, 0, -60, 25)))
    assert stance.up == pytest.approx(LEVEL, abs=EXACT)
    assert stance.ground_mm == pytest.approx(-85.0, abs=EXACT)
    assert stance.pitch_rad == pytest.approx(0.0, abs=EXACT)


@given(st.floats(15, 40), st.floats(5, 15), st.floats(-60, 120))
def test_tangent_to_wheels_of_two_sizes(main: float, small: float, rise: float) -> None:
    """The ground makes asin((R - r) / L) with the line of the axles, which lies at atan(rise / base)."""
    base = 450.0
    stance = resting((wheel(0, 80, -100, main), wheel(0, -80, -100, main), wheel(base, 0, -100 + rise, small)))
    expected = atan2(rise, base) + asin((main - small) / hypot(base, rise))
    assert stance.pitch_rad == pytest.approx(expected, abs=EXACT)
    for foot, radius in ((np.array([0, 80, -100]), main), (np.array([base, 0, -100 + rise]), small)):
        assert stance.height_mm(foot) == pytest.approx(radius, abs=1e-7)


@given(st.floats(0, 40))
def test_bump_under_one_foot(bump: float) -> None:
    """A bump b under the right foot turns the plumb line by b / track across, b / (2 base) fore and aft."""
    track, base = 200.0, 500.0
    stance = resting(tripod(track, base), (bump, 0.0, 0.0))
    assert stance.up[1] == pytest.approx(bump / track, abs=EXACT)
    assert stance.up[0] == pytest.approx(-bump / (2.0 * base), abs=EXACT)


def test_feet_in_one_line_do_not_stand() -> None:
    """Three feet in a line are refused."""
    with pytest.raises(ValueError, match="in one line"):
        resting((spike(0, 50, 0), spike(0, -50, 0), spike(0, 0, 0)))


def test_skid_touches_where_it_is_lowest() -> None:
    """Of balls along a wire, the lowest one for this attitude touches."""
    skid = Foot("skid", ((500.0, 0.0, -40.0), (520.0, 0.0, -42.0), (540.0, 0.0, -30.0)), 1.0, axle=None)
    assert skid.lowest(LEVEL) == pytest.approx((520.0, 0.0, -43.0), abs=EXACT)
    assert skid.lowest(pitched(radians(40.0)))[0] == pytest.approx(540.0 + sin(radians(40.0)), abs=EXACT)
    assert skid.lowest(pitched(radians(-20.0)))[0] == pytest.approx(500.0 - sin(radians(20.0)), abs=EXACT)


@given(st.floats(-50, 550), st.floats(-80, 80), st.floats(10, 200))
def test_shares_balance(x: float, y: float, height: float) -> None:
    """Loads add up to the weight and have its moments about both axes: third = x / base, sides by y / track."""
    track, base = 200.0, 500.0
    right, left, third = resting(tripod(track, base)).shares((x, y, height))
    assert third == pytest.approx(x / base, abs=EXACT)
    assert right - left == pytest.approx(y / (track / 2.0), abs=EXACT)
    assert right + left + third == pytest.approx(1.0, abs=EXACT)


def test_shares_with_the_nose_up() -> None:
    """Nose up by t, the plumb line through a balance point h above the feet's plane meets it h tan t further aft."""
    pitch, height = radians(12.0), 130.0
    feet = tripod(200.0, 500.0)
    stance = resting(feet)
    tilted = type(stance)(pitched(pitch), stance.ground_mm, stance.points)
    assert tilted.shares((60.0, 0.0, height))[2] == pytest.approx((60.0 + height * tan(pitch)) / 500.0, abs=EXACT)


def lines_of(track: float, base: float, cg: tuple[float, float, float]) -> dict[str, float]:
    found = triangle_lines(resting(tripod(track, base)), cg)
    return {"sides" if 2 in ends else "main": degrees(line.overturn_rad) for ends, line in found.items()}


def test_hand_worked_tail_wheel_triangle() -> None:
    """Track 160, base 600, balance point 60 behind the mains and 150 up: 540 x 80 / 605.3 = 71.37 inside."""
    found = lines_of(160.0, 600.0, (60.0, 0.0, 150.0))
    inside = 540.0 * sin(atan(80.0 / 600.0))
    assert inside == pytest.approx(71.37, abs=0.01)
    assert found["sides"] == pytest.approx(degrees(atan(150.0 / inside)), abs=1e-9)
    assert found["main"] == pytest.approx(degrees(atan(150.0 / 60.0)), abs=1e-9)


def test_hand_worked_nose_wheel_triangle() -> None:
    """The same triangle turned round: the sums do not care which end the third point is at."""
    track, base, ahead, height = 240.0, 300.0, 50.0, 120.0
    feet = (spike(0, track / 2, 0), spike(0, -track / 2, 0), spike(-base, 0, 0))
    lines = triangle_lines(resting(feet), (-ahead, 0.0, height))
    inside = (base - ahead) * sin(atan(track / 2.0 / base))
    sides = [line for ends, line in lines.items() if 2 in ends]
    assert [line.inside_mm for line in sides] == pytest.approx([inside, inside], abs=EXACT)
    assert [line.overturn_rad for line in sides] == pytest.approx([atan(height / inside)] * 2, abs=EXACT)


def test_outside_the_triangle() -> None:
    """A balance point outside a line has an overturn angle past the upright, and nothing more is needed to tip it."""
    line = tipping_line((0, 0, 0), (1, 0, 0), (0, -20.0, 20.0), LEVEL)
    assert line.inside_mm == pytest.approx(-20.0)
    assert line.overturn_rad == pytest.approx(3.0 * pi / 4.0)
    assert line.force_to_tip((0, -1, 0)) == 0.0


@given(st.floats(5, 200), st.floats(5, 200), st.floats(0, 80))
def test_acceleration_that_tips(inside: float, height: float, skew_deg: float) -> None:
    """Square to the line it is d / h; at an angle to that, 1 / cos of it more; the other way, never."""
    line = tipping_line((0, 0, 0), (1, 0, 0), (30.0, inside, height), LEVEL)
    skew = radians(skew_deg)
    assert line.force_to_tip((sin(skew), -cos(skew), 0.0)) == pytest.approx(inside / height / cos(skew), rel=1e-9)
    assert line.force_to_tip((0.0, 1.0, 0.0)) == float("inf")
    assert line.force_to_tip((0.0, -1.0, 0.0), (5.0, 0.0, 2.0 * height)) == pytest.approx(inside / (2.0 * height))


@given(st.floats(20, 100), st.floats(30, 200), st.floats(-3, 3), st.floats(0, 0.3))
def test_tilting_the_ground_by_the_margin_tips_it(inside: float, height: float, turn: float, pitch: float) -> None:
    """With the ground tilted about the line by 90 deg less the overturn angle, the balance point stands above it.

    The line lies level here; the whole picture is turned first, and nothing changes.
    """
    place = about_z(turn).after(about_y(pitch))
    start, end, cg = place.apply([(0, 0, 0), (1, 0, 0), (40.0, inside, height)])
    up = place.turn(LEVEL)
    line = tipping_line(start, end, cg, up)
    margin = pi / 2.0 - line.overturn_rad
    tilted = up * cos(margin) + np.cross(up, line.along) * sin(margin)
    assert tipping_line(start, end, cg, tilted).inside_mm == pytest.approx(0.0, abs=1e-7)


@given(st.floats(20, 400), st.floats(-30, 150), st.booleans())
def test_pitch_at_touch_is_tangent(reach: float, above: float, behind: bool) -> None:
    """At the angle found, the point is as far below the axle as the tyre's bottom: both touch."""
    foot = wheel(100.0, 80.0, -60.0, 25.0)
    point = np.array([[100.0 + (reach + 26.0) * (1 if behind else -1), 0.0, -60.0 + above]])
    pitch = float(pitch_at_touch(point, foot, behind)[0])
    up = pitched(pitch)
    assert float(point[0] @ up) == pytest.approx(float(foot.centre @ up) - 25.0, abs=1e-7)
    assert (pitch > 0.0) == behind or above < -25.0


def test_pitch_at_touch_closed_form() -> None:
    """A point at axle height, a aft, touches at asin(R / a); one within the tyre or on the other side never does."""
    foot = wheel(0.0, 0.0, 0.0, 25.0)
    points = np.array([[250.0, 0.0, 0.0], [10.0, 0.0, 0.0], [-250.0, 0.0, 0.0]])
    found = pitch_at_touch(points, foot, behind=True)
    assert found[0] == pytest.approx(asin(0.1), abs=EXACT)
    assert np.isinf(found[1:]).all()


def test_wheel_line() -> None:
    """A balance point as far behind the contact as above it is at 45 deg, ahead at -45 deg; pitch subtracts."""
    assert wheel_line_rad((0, 0, 0), (100, 0, 100), LEVEL) == pytest.approx(pi / 4.0)
    assert wheel_line_rad((0, 0, 0), (-100, 0, 100), LEVEL) == pytest.approx(-pi / 4.0)
    assert wheel_line_rad((0, 0, 0), (100, 0, 100), pitched(0.2)) == pytest.approx(pi / 4.0 + 0.2)


def test_directions() -> None:
    """Right and forward are level, square to each other, and to the right wing and nose with the fuselage level."""
    assert level_right(LEVEL) == pytest.approx((0, 1, 0))
    assert level_forward(LEVEL) == pytest.approx((-1, 0, 0))
    up = pitched(0.3)
    assert float(level_forward(up) @ up) == pytest.approx(0.0, abs=EXACT)
    assert acos(float(level_forward(up) @ np.array([-1, 0, 0]))) == pytest.approx(0.3)


def test_held_on_the_main_wheels() -> None:
    """Held at an attitude, the ground is a radius below the axles."""
    stance = held((wheel(100, 80, -60, 25), wheel(100, -80, -60, 25)), 0.2)
    assert stance.height_mm((100.0, 0.0, -60.0)) == pytest.approx(25.0, abs=EXACT)
    assert stance.pitch_rad == pytest.approx(0.2, abs=EXACT)
