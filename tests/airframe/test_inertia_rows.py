"""Sums of many cases at once have the bits of each case summed alone."""

from __future__ import annotations

import numpy as np

from airframe.inertia import Body, box, combined, combined_rows, point_term


def test_many_cases_have_the_bits_of_each_alone() -> None:
    """Forty bodies in seventy cases: masses, centres and inertias equal `combined` of each case, bit by bit."""
    random = np.random.default_rng(8)
    masses, centres = random.uniform(0.0, 90.0, (40, 70)), random.normal(0.0, 300.0, (40, 70, 3))
    inertias = random.normal(0.0, 1e4, (40, 70, 3, 3))
    total, centre, inertia = combined_rows(masses, centres, inertias)
    for case in range(70):
        alone = combined([Body(masses[k, case], centres[k, case], inertias[k, case]) for k in range(40)])
        assert total[case] == alone.mass
        assert (centre[case] == alone.centre).all()
        assert (inertia[case] == alone.inertia).all()


def test_a_case_without_mass_is_nothing_at_the_origin() -> None:
    """Where all masses of a case are nothing the sum is zero at the origin; its neighbour is not touched."""
    masses = np.array([[0.0, 2.0], [0.0, 1.0]])
    centres, inertias = np.ones((2, 2, 3)), np.zeros((2, 2, 3, 3))
    total, centre, inertia = combined_rows(masses, centres, inertias)
    assert total.tolist() == [0.0, 3.0]
    assert centre.tolist() == [[0.0, 0.0, 0.0], [1.0, 1.0, 1.0]]
    assert (inertia == 0.0).all()


def test_a_box_cut_in_two_is_the_box() -> None:
    """Two half boxes add up to the whole one (parallel-axis theorem, closed form)."""
    whole, half = box(8.0, 3.0, 2.0), box(4.0, 3.0, 2.0)
    shift = np.array([2.0, 0.0, 0.0])
    made = combined([Body(half.mass, -shift, half.inertia), Body(half.mass, shift, half.inertia)])
    assert np.allclose(made.inertia, whole.inertia, rtol=1e-14)
    assert np.allclose(made.inertia, 2.0 * half.inertia + 2.0 * point_term(half.mass, shift), rtol=1e-14)
