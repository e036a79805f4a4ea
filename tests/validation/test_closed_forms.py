"""Bodies with a closed form, drawn, meshed and weighed by the tool.

Formulas: "List of moments of inertia" and its tensor table (verified there) unless another source
stands beside the test. Unit density: mass is the volume. Own frames are ours: rods and turned bodies lie along x.
"""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest

from airframe import inertia
from airframe.axes import Point
from airframe.drawing import Block, Panel, Revolved, Rod, loop
from airframe.inertia import Body
from airframe.shapes import measure

FLAT = 1e-12
"""Bodies with flat faces are exact."""
ROUND = 2e-4
"""Volume of bodies meshed with chords of 0.025 rad: (0.025^2) / 6 is 1.04e-4."""
ROUND_INERTIA = 3e-4


def assert_body(body: Body, mass: float, centre: Point, moments: Point, mass_share: float, moment_share: float) -> None:
    """Mass, centre and the three moments about the centre; all products vanish."""
    assert body.mass == pytest.approx(mass, rel=mass_share)
    np.testing.assert_allclose(body.centre, centre, atol=1e-9)
    np.testing.assert_allclose(np.diag(body.inertia), moments, rtol=moment_share)
    products = body.inertia - np.diag(np.diag(body.inertia))
    np.testing.assert_allclose(products, 0.0, atol=1e-9 * max(moments))


def ball(radius: float, steps: int = 160) -> list[tuple[float, float]]:
    """Half a circle of corners from +x to -x, on the sphere."""
    return [
        (radius * cos(pi * k / steps), radius * sin(pi * k / steps) if 0 < k < steps else 0.0) for k in range(steps + 1)
    ]


def test_1_1_box() -> None:
    """V = abc, Ixx = m (b^2 + c^2) / 12 and so on; the same from the closed form the package keeps."""
    a, b, c = 30.0, 20.0, 50.0
    m = a * b * c
    moments = m * (b * b + c * c) / 12, m * (a * a + c * c) / 12, m * (a * a + b * b) / 12
    for body in (measure(Block((a, b, c))).body, inertia.box(a, b, c)):
        assert_body(body, m, (0, 0, 0), moments, FLAT, FLAT)


def test_1_2_solid_cylinder() -> None:
    """Along its axis m r^2 / 2, across m (3 r^2 + h^2) / 12."""
    r, h = 6.0, 40.0
    m = pi * r * r * h
    moments = m * r * r / 2, m * (3 * r * r + h * h) / 12, m * (3 * r * r + h * h) / 12
    assert_body(measure(Rod(h, 2 * r)).body, m, (0, 0, 0), moments, ROUND, ROUND_INERTIA)
    assert_body(inertia.tube(h, r), m, (0, 0, 0), moments, FLAT, FLAT)


def test_1_3_hollow_cylinder() -> None:
    """Along its axis m (r1^2 + r2^2) / 2, across m (3 (r1^2 + r2^2) + h^2) / 12."""
    r1, r2, h = 4.0, 6.0, 40.0
    m = pi * (r2**2 - r1**2) * h
    across = m * (3 * (r1**2 + r2**2) + h * h) / 12
    moments = m * (r1**2 + r2**2) / 2, across, across
    assert_body(measure(Rod(h, 2 * r2, 2 * r1)).body, m, (0, 0, 0), moments, ROUND, ROUND_INERTIA)
    assert_body(inertia.tube(h, r2, r1), m, (0, 0, 0), moments, FLAT, FLAT)


def test_1_4_solid_sphere() -> None:
    """2/5 m r^2 on every axis."""
    r = 20.0
    m = 4 / 3 * pi * r**3
    moment = 2 / 5 * m * r * r
    # 160 straight sides for half a circle lose another (pi / 160)^2 / 4 or so of the volume.
    assert_body(measure(Revolved(tuple(ball(r)))).body, m, (0, 0, 0), (moment,) * 3, 3e-4, 5e-4)


def test_1_5_thin_spherical_shell() -> None:
    """2/3 m r^2 on every axis, m = 4 pi r^2 t as the thickness goes to nothing: t / r is 1/2000 here."""
    r, t = 20.0, 0.01
    wall = ball(r + t / 2) + ball(r - t / 2)[::-1]
    m = 4 * pi * r * r * t
    # The two halves of the wall would meet on the axis; a pinhole keeps the profile a simple ring.
    wall = [(x, max(y, 1e-3)) for x, y in wall]
    body = measure(Revolved(tuple(wall))).body
    assert body.mass == pytest.approx(m, rel=5e-4)
    np.testing.assert_allclose(np.diag(body.inertia) / body.mass, 2 / 3 * r * r, rtol=5e-4)


def test_1_6_slender_rod() -> None:
    """m l^2 / 12 at the centre, m l^2 / 3 at the end, nothing along it (also OpenStax University Physics 1, 10.5)."""
    length = 90.0
    body = inertia.polyline([(0, 0, 0), (length, 0, 0)])
    assert_body(body, length, (length / 2, 0, 0), (0, length**3 / 12, length**3 / 12), FLAT, FLAT)
    np.testing.assert_allclose(np.diag(inertia.about(body, (0, 0, 0))), (0, length**3 / 3, length**3 / 3), rtol=FLAT)
    # A real wire tends to it: 0.1 mm thick, 90 mm long.
    wire = measure(Rod(length, 0.1)).body
    assert wire.inertia[1, 1] / wire.mass == pytest.approx(length**2 / 12, rel=1e-5)


@pytest.mark.parametrize(
    ("about", "along", "across_h", "across_r"),
    [(0.0, 3 / 10, 3 / 5, 3 / 20), (1.0, 3 / 10, 1 / 10, 3 / 20), (0.75, 3 / 10, 3 / 80, 12 / 80)],
    ids=["1.7 apex", "1.8 base", "1.9 centre"],
)
def test_1_7_to_1_9_solid_cone(about: float, along: float, across_h: float, across_r: float) -> None:
    """Three reference points: apex and base (tensor table), centre (Meriam & Kraige App. D, from memory)."""
    r, h = 12.0, 30.0
    body = measure(Revolved(((0, 0), (h, 0), (h, r)))).body
    m = pi * r * r * h / 3
    assert body.mass == pytest.approx(m, rel=ROUND)
    np.testing.assert_allclose(body.centre, (3 / 4 * h, 0, 0), atol=1e-9)
    across = m * (across_h * h * h + across_r * r * r)
    moments = np.diag(inertia.about(body, (about * h, 0, 0)))
    np.testing.assert_allclose(moments, (m * along * r * r, across, across), rtol=ROUND_INERTIA)


def test_1_10_isosceles_prism() -> None:
    """Base b, height h, length L: V = b h L / 2 and I from bh^3/36 and hb^3/48 (handbook, from memory; recomputed)."""
    b, h, length = 24.0, 30.0, 7.0
    body = measure(Panel(loop([(-b / 2, 0), (b / 2, 0), (0, h)]), length)).body
    m = b * h * length / 2
    moments = (
        m * (h * h / 18 + length**2 / 12),
        m * (b * b / 24 + length**2 / 12),
        m * (h * h / 18 + b * b / 24),
    )
    assert_body(body, m, (0, h / 3, -length / 2), moments, FLAT, 1e-11)


def test_1_11_and_1_12_right_prism_has_a_positive_tensor_element() -> None:
    """Legs a = 3, b = 2, L = 5: numbers recomputed; the element Ixy = +m ab / 36 is minus the product (from memory)."""
    a, b, length = 3.0, 2.0, 5.0
    body = measure(Panel(loop([(0, 0), (a, 0), (0, b)]), length)).body
    assert body.mass == pytest.approx(15.0, rel=FLAT)
    np.testing.assert_allclose(body.centre, (1, 2 / 3, -2.5), rtol=1e-9)
    expected = np.array([[2.305556, 0.166667, 0], [0.166667, 2.583333, 0], [0, 0, 0.722222]])
    np.testing.assert_allclose(body.inertia / body.mass, expected, atol=5e-7)
    assert body.inertia[0, 1] == pytest.approx(body.mass * a * b / 36, rel=1e-9)


def test_thin_plates_follow_the_perpendicular_axis_theorem() -> None:
    """Izz = Ixx + Iyy for a lamina; rectangle b h^3 / 12 (any statics text, from memory), hole taken out."""
    outer = np.array([(0, 0, 0), (60, 0, 0), (60, 40, 0), (0, 40, 0)], dtype=float)
    body = inertia.lamina([outer])
    assert_body(body, 2400.0, (30, 20, 0), (60 * 40**3 / 12, 40 * 60**3 / 12, 2400 * (60**2 + 40**2) / 12), FLAT, 1e-11)
    hole = np.array([(10, 10, 0), (10, 20, 0), (20, 20, 0), (20, 10, 0)], dtype=float)
    rest = inertia.combined([inertia.lamina([outer, hole]), inertia.lamina([hole[::-1]])])
    np.testing.assert_allclose(rest.inertia, body.inertia, rtol=1e-11, atol=1e-6)


def test_lamina_in_any_plane() -> None:
    """A tilted plate has the tilted tensor."""
    ring = np.array([(0, 0, 0), (60, 0, 0), (50, 40, 0), (0, 30, 0)], dtype=float)
    tilt = np.array([[1, 0, 0], [0, 0.6, -0.8], [0, 0.8, 0.6]])
    flat, tilted = inertia.lamina([ring]), inertia.lamina([ring @ tilt.T + (1, 2, 3)])
    expected = flat.placed(tilt, (1, 2, 3))
    np.testing.assert_allclose(tilted.centre, expected.centre, atol=1e-12)
    np.testing.assert_allclose(tilted.inertia, expected.inertia, rtol=0, atol=1e-9 * np.trace(flat.inertia))


def test_principal_axes_are_those_that_were_turned() -> None:
    """A box turned by a known rotation has its own sides as principal axes."""
    turn = np.array([[2, -1, 2], [2, 2, -1], [-1, 2, 2]]) / 3.0
    body = inertia.box(50.0, 30.0, 10.0).placed(turn, (5, 6, 7))
    moments, axes = inertia.principal(body.inertia)
    np.testing.assert_allclose(moments, np.diag(inertia.box(50.0, 30.0, 10.0).inertia), rtol=1e-12)
    np.testing.assert_allclose(np.abs(axes.T @ turn), np.eye(3), atol=1e-9)
    assert np.linalg.det(axes) == pytest.approx(1.0)


def test_tensor_of_no_real_body_is_told_apart() -> None:
    """Triangle inequality of principal moments: a lamina is just allowed, anything beyond is not."""
    assert inertia.is_physical(np.diag([1.0, 2.0, 3.0]))
    assert not inertia.is_physical(np.diag([1.0, 2.0, 3.01]))
    assert not inertia.is_physical(np.diag([-1.0, 2.0, 2.0]))
