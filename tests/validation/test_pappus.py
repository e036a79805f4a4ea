"""Pappus and Guldin: a section carried along a curve through its centroid sweeps section times path length.

Source: Pappus's second centroid theorem, any calculus text (from memory). For a bent wire the path is the
centre line, so a bend of 90 deg round a mandrel is R pi / 2 long with R = mandrel radius plus half the wire.
"""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.bends import centre_line
from airframe.drawing import Revolved, Wire
from airframe.shapes import measure
from airframe.solids import exact, solid

MESH = 2e-4
EXACT = 1e-9

WIRES = {
    "straight": Wire(((0, 0, 0), (120, 0, 0)), 2.0, 4.0),
    "axle leg": Wire(((0, 0, 0), (60, 0, 0), (90, 0, -110), (130, 0, -110)), 3.0, 3.0),
    "out of plane": Wire(((0, 0, 0), (40, 0, 0), (40, 50, 0), (40, 50, -70), (0, 90, -70)), 4.0, 8.0),
    "thin": Wire(((0, 0, 0), (8, 0, 0), (8, 6, 0), (30, 6, 0)), 1.2, 1.2),
}


def developed_mm(wire: Wire) -> float:
    """Length of wire to cut, from angles and tangents alone: each corner saves R (2 tan(a / 2) - a)."""
    points = np.array(wire.points, dtype=float)
    legs = np.diff(points, axis=0)
    lengths = np.linalg.norm(legs, axis=1)
    cosines = np.einsum("ij,ij->i", legs[:-1], legs[1:]) / (lengths[:-1] * lengths[1:])
    angles = np.arccos(np.clip(cosines, -1, 1))
    radius = wire.bend_radius_mm + wire.diameter_mm / 2
    return float(lengths.sum() - radius * (2 * np.tan(angles / 2) - angles).sum())


@pytest.mark.parametrize("name", WIRES)
def test_wire_volume_is_section_times_centre_line(name: str) -> None:
    """Kernel: to rounding. Mesh: to the stated share."""
    wire = WIRES[name]
    length = developed_mm(wire)
    volume = pi * wire.diameter_mm**2 / 4 * length
    assert centre_line(wire).length() == pytest.approx(length, rel=1e-12)
    assert exact(solid(wire)).mass == pytest.approx(volume, rel=EXACT)
    assert measure(wire).body.mass == pytest.approx(volume, rel=MESH)


REFUSALS = ("too short", "lie on one another", "doubles back", "runs into itself", "inside radius")

corner = st.tuples(*[st.floats(-150.0, 150.0)] * 3)


@settings(max_examples=40, deadline=None)
@given(st.lists(corner, min_size=2, max_size=6), st.floats(0.8, 5.0), st.floats(0.0, 12.0))
def test_any_wire_that_can_be_bent_obeys_pappus(
    points: list[tuple[float, float, float]], diameter: float, radius: float
) -> None:
    """Random paths: either refused with the reason, or section times developed length."""
    wire = Wire(tuple(points), diameter, radius)
    try:
        centre_line(wire)
    except ValueError as error:
        assert any(word in str(error) for word in REFUSALS)
        return
    volume = pi * diameter**2 / 4 * developed_mm(wire)
    assert measure(wire).body.mass == pytest.approx(volume, rel=MESH)
    assert exact(solid(wire)).mass == pytest.approx(volume, rel=1e-7)


def test_polygon_turned_once_is_area_times_the_centroid_s_path() -> None:
    """A triangle (0, 10), (12, 10), (0, 19): area 54, centroid at radius 13, V = 2 pi 13 54."""
    body = exact(solid(Revolved(((0, 10), (12, 10), (0, 19)))))
    assert body.mass == pytest.approx(2 * pi * 13 * 54, rel=EXACT)
    assert measure(Revolved(((0, 10), (12, 10), (0, 19)))).body.mass == pytest.approx(2 * pi * 13 * 54, rel=MESH)


def test_torus_from_a_round_profile() -> None:
    """V = 2 pi^2 R r^2: a profile of 400 corners is within (2 pi / 400)^2 / 6 of the circle."""
    big, small = 25.0, 4.0
    profile = tuple((small * cos(t), big + small * sin(t)) for t in np.linspace(0, 2 * pi, 400, endpoint=False))
    volume = 2 * pi**2 * big * small**2
    assert measure(Revolved(profile)).body.mass == pytest.approx(volume, rel=MESH)
    # Torus about its axis: m (R^2 + 3/4 r^2) (moments of inertia of a torus, from memory).
    body = measure(Revolved(profile)).body
    assert body.inertia[0, 0] == pytest.approx(volume * (big**2 + 0.75 * small**2), rel=5e-4)


def test_direction_of_the_profile_does_not_matter() -> None:
    """Corners in either order make the same body."""
    profile = ((-8.0, 1.5), (8.0, 1.5), (8.0, 20.0), (-8.0, 20.0))
    one, other = measure(Revolved(profile)).body, measure(Revolved(profile[::-1])).body
    assert one.mass == pytest.approx(other.mass, rel=1e-12)
    assert one.mass == pytest.approx(16 * pi * (20**2 - 1.5**2), rel=MESH)
