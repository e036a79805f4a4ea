"""From the aeroplane's frame to body axes."""

from __future__ import annotations

import numpy as np
import pytest

from airframe.flight.axes import body_mass, to_body_axes
from airframe.inertia import Body, combined


def test_aft_right_up_become_back_right_above() -> None:
    """x points forward, y stays, z points down; the turn is proper and its own inverse."""
    turned = to_body_axes(np.eye(3))
    np.testing.assert_array_equal(turned, np.diag([-1.0, 1.0, -1.0]))
    assert np.linalg.det(turned) == 1.0
    np.testing.assert_array_equal(to_body_axes(turned), np.eye(3))


def test_a_cross_product_turns_with_its_factors() -> None:
    """Moments and rates of turning go through the same turn as forces and arms."""
    arm, force = np.array([0.3, -1.2, 0.7]), np.array([2.0, 0.4, -1.1])
    np.testing.assert_allclose(to_body_axes(np.cross(arm, force)), np.cross(to_body_axes(arm), to_body_axes(force)))


def test_mass_in_si_units_is_that_of_the_turned_points() -> None:
    """Two point masses, g and mm, against the sum over the same points in kg, m and body axes."""
    masses, points = np.array([120.0, 80.0]), np.array([[100.0, 30.0, -20.0], [400.0, -10.0, 60.0]])
    whole = combined([Body(m, p, np.zeros((3, 3))) for m, p in zip(masses, points, strict=True)])
    found = body_mass(whole)
    assert found.mass_kg == pytest.approx(0.2, rel=1e-12)
    np.testing.assert_allclose(found.centre_m, [0.22, 0.014, 0.012], rtol=1e-12)
    d = (points - whole.centre) * (-1e-3, 1e-3, -1e-3)
    tensor = sum(m * 1e-3 * (p @ p * np.eye(3) - np.outer(p, p)) for m, p in zip(masses, d, strict=True))
    np.testing.assert_allclose(found.inertia_kg_m2, tensor, rtol=1e-12, atol=1e-18)
    assert (
        found.inertia_kg_m2[0, 2] < 0.0
    )  # minus the sum of m x z, and the rear mass (x < 0) is the higher one (z < 0)
