"""Bent wires as frames, against closed forms of beam theory (Castigliano; Shigley and Roark, from memory)."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from airframe.bends import centre_line
from airframe.checks.gear_frame import (
    BracedLeg,
    Chain,
    Elastic,
    clamped,
    elastic,
    flexibility,
    path_of,
    with_point,
)
from airframe.drawing import Wire, points3

E, G = 200.0e3, 80.0e3
METAL = Elastic(E, G)
BEAM = 1e-9
"""Relative: straight beams are exact in the stiffness method."""


def second_moment(diameter: float) -> float:
    return pi * diameter**4 / 64.0


def give(path: object, diameter: float = 3.0, metal: Elastic = METAL, brace: Chain | None = None) -> np.ndarray:
    """Flexibility at the end of a path."""
    points = points3(path)  # type: ignore[arg-type]
    return np.array(flexibility(BracedLeg(Chain(points, diameter, metal), points[-1], brace)))


def test_cantilever() -> None:
    """A straight wire: L^3 / (3 E I) across (Shigley, Table A-9, from memory), L / (E A) along."""
    length, d = 100.0, 3.0
    found = give([(0, 0, 0), (0, 0, -length)], d)
    across = length**3 / (3.0 * E * second_moment(d))
    along = length / (E * pi * d**2 / 4.0)
    assert found == pytest.approx(np.diag([across, across, along]), rel=BEAM, abs=1e-12)


def test_reference_wire() -> None:
    """2 mm, 100 mm, 10 N, E = 207 GPa: 20.5 mm (reference value 10.6, recomputed)."""
    found = give([(0, 0, 0), (100, 0, 0)], 2.0, Elastic(207.0e3, 79.3e3))
    assert 10.0 * found[2, 2] == pytest.approx(20.5, abs=0.05)


def test_bending_and_torsion_of_an_l() -> None:
    """Legs a, then b square to it, load square to both: a^3/3EI + b^3/3EI + b^2 a/GJ (Castigliano)."""
    a, b, d = 60.0, 80.0, 3.0
    i = second_moment(d)
    found = give([(0, 0, 0), (a, 0, 0), (a, b, 0)], d)
    assert found[2, 2] == pytest.approx((a**3 + b**3) / (3.0 * E * i) + b * b * a / (G * 2.0 * i), rel=BEAM)


def test_in_plane_coupling_of_an_l() -> None:
    """In its plane, along the first leg: b^3/3EI + b^2 a/EI + a/EA; loads along the two legs couple by -a^2 b/2EI."""
    a, b, d = 60.0, 80.0, 3.0
    i, area = second_moment(d), pi * d**2 / 4.0
    found = give([(0, 0, 0), (a, 0, 0), (a, b, 0)], d)
    assert found[0, 0] == pytest.approx(b**3 / (3.0 * E * i) + b * b * a / (E * i) + a / (E * area), rel=BEAM)
    assert found[0, 1] == pytest.approx(-(a**2) * b / (2.0 * E * i), rel=BEAM)


def quarter(beams: int, radius: float = 50.0) -> np.ndarray:
    """A quarter circle in the x-z plane, held at its start."""
    angles = np.linspace(0.0, pi / 2.0, beams + 1)
    return give(np.column_stack([radius * np.sin(angles), 0.0 * angles, radius * (np.cos(angles) - 1.0)]))


def test_quarter_circle_converges() -> None:
    """Out of plane R^3 (pi/4EI + (3pi/4 - 2)/GJ) (Castigliano): the error falls fourfold as the beams are halved."""
    radius, i = 50.0, second_moment(3.0)
    exact = radius**3 * (pi / (4.0 * E * i) + (0.75 * pi - 2.0) / (G * 2.0 * i))
    errors = [abs(quarter(beams)[1, 1] / exact - 1.0) for beams in (4, 8, 16)]
    assert errors[0] < 0.03
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.1)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.1)


def test_reciprocity() -> None:
    """Flexibility is symmetric and positive definite for any bent wire (Maxwell and Betti)."""
    wire = Wire(points3([(0, 10, 0), (0, 40, 0), (30, 80, -90), (30, 110, -90)]), 3.0, 6.0)
    found = give(path_of(wire))
    assert found == pytest.approx(found.T, rel=1e-9, abs=1e-12)
    assert np.linalg.eigvalsh(found).min() > 0.0


def test_thickness_counts_by_its_fourth_power() -> None:
    """Twice as thick gives a sixteenth, where bending and torsion are all there is."""
    path = [(0, 0, 0), (60, 0, 0), (60, 80, 0)]
    assert give(path, 2.0)[2, 2] / give(path, 4.0)[2, 2] == pytest.approx(16.0, rel=1e-9)


def test_a_brace_beside_the_leg_halves_what_it_gives() -> None:
    """An equal wire beside it, bound at the end, takes half of a load square to both; in their plane it takes more."""
    leg = [(0, 0, 0), (0, 0, -120)]
    brace = Chain(((3.0, 0.0, 0.0), (3.0, 0.0, -119.0), (3.0, 0.0, -120.0)), 3.0, METAL)
    alone, braced = give(leg), give(leg, brace=brace)
    assert braced[1, 1] == pytest.approx(alone[1, 1] / 2.0, rel=0.02)
    assert braced[0, 0] < alone[0, 0] / 2.0


def test_path_keeps_the_length_of_the_wire() -> None:
    """Chords fall short of the arcs by angle^2 / 24 of each chord's own: less than a thousandth here."""
    wire = Wire(points3([(0, 0, 0), (0, 60, 0), (0, 90, -80), (0, 130, -80)]), 3.0, 6.0)
    lengths = np.linalg.norm(np.diff(path_of(wire), axis=0), axis=1)
    assert lengths.sum() == pytest.approx(centre_line(wire).length(), rel=1e-3)
    assert lengths.sum() < centre_line(wire).length()
    assert np.linalg.norm(np.diff(path_of(wire, 64), axis=0), axis=1).sum() == pytest.approx(
        centre_line(wire).length(), rel=1e-5
    )


def test_with_point() -> None:
    """A corner is put where the path passes nearest, and none where there is one already."""
    path, number = with_point([(0, 0, 0), (10, 0, 0), (10, 10, 0)], (4, 3, 0))
    assert number == 1 and path[1] == pytest.approx((4, 0, 0)) and len(path) == 4
    path, number = with_point([(0, 0, 0), (10, 0, 0), (10, 10, 0)], (10, 0, 0))
    assert number == 1 and len(path) == 3


def test_clamped_where_the_plate_ends() -> None:
    """The path starts anew where it first passes the butt line; one that never does stays whole."""
    path = np.array([(5.0, 6.0, 0.0), (5.0, 40.0, 0.0), (5.0, 80.0, -90.0)])
    assert clamped(path, 30.0) == ((5.0, 30.0, 0.0), (5.0, 40.0, 0.0), (5.0, 80.0, -90.0))
    assert len(clamped(path, 100.0)) == 3


def test_elastic_constants() -> None:
    """Music wire: E 193 to 203.4 GPa, G 80 to 82.7 GPa, more when thinner (Shigley, Table 10-5, from memory)."""
    found = [elastic("music wire", d) for d in (0.5, 1.0, 2.0, 3.0, 4.0)]
    moduli = [(one.e_mpa, one.g_mpa) for one in found if one is not None]
    assert moduli == sorted(moduli, reverse=True)
    assert all(193.0e3 <= e <= 203.4e3 and 80.0e3 <= g <= 82.7e3 for e, g in moduli)
    assert elastic("balsa", 3.0) is None
