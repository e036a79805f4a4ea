"""Munk's moments of a slender fuselage."""

from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest

from airframe.flight.hull import Hull, fullness, hull
from airframe.layout import Layout
from tests.designs import plain


@pytest.mark.parametrize(
    ("slenderness", "along", "across"), [(2.0, 0.209, 0.702), (4.0, 0.082, 0.860), (10.0, 0.021, 0.960)]
)
def test_fullness_of_spheroids(slenderness: float, along: float, across: float) -> None:
    """k2 - k1 by Lamb's table of inertia coefficients (Hydrodynamics, art. 115; from memory): within 2e-3."""
    assert fullness(slenderness) == pytest.approx(across - along, abs=2e-3)


def test_fullness_at_its_ends() -> None:
    """A ball is turned by nothing, a thread fully."""
    assert fullness(1.0) == 0.0
    assert fullness(1.0 + 1e-3) == pytest.approx(0.0, abs=1e-3)
    assert fullness(inf) == 1.0
    assert fullness(1e4) == pytest.approx(1.0, abs=1e-5)


def test_volumes_of_a_box_fuselage() -> None:
    """70 mm wide over 600 mm; 80 mm high to 350 mm, then down to 40 mm: pi / 4 times the squares' integrals."""
    found = hull(Layout(plain()))
    assert found.pitch_volume_m3 == pytest.approx(pi / 4.0 * 0.070**2 * 0.600, rel=1e-9)
    tapered = 0.250 / 3.0 * (0.080**2 + 0.080 * 0.040 + 0.040**2)
    assert found.yaw_volume_m3 == pytest.approx(pi / 4.0 * (0.080**2 * 0.350 + tapered), rel=1e-4)


def test_moments_turn_the_body_across_the_flow() -> None:
    """k rho V u w noses up with incidence, -k rho V u v turns away from a slip; slopes by finite differences."""
    body = Hull(0.002, 0.003, 0.9)
    motion = np.array([8.0, 0.4, 0.6, 0.1, 0.2, 0.3])
    loads = body.loads(motion, 1.2, 2)
    assert loads.wrench[4] == pytest.approx(0.9 * 1.2 * 0.002 * 8.0 * 0.6)
    assert loads.wrench[5] == pytest.approx(-0.9 * 1.2 * 0.003 * 8.0 * 0.4)
    assert loads.slopes.shape == (6, 8)
    step = 1e-4
    differences = [
        (body.loads(motion + step * e, 1.2).wrench - body.loads(motion - step * e, 1.2).wrench) / (2 * step)
        for e in np.eye(6)
    ]
    np.testing.assert_allclose(loads.slopes[:, :6], np.transpose(differences), atol=1e-12)
