"""Hinge moments of flaps on short surfaces: handbook form, and the estimate beside the lattice's own loads.

5.36: H = C_h q S_e c_e, C_h = C_h0 + C_h alpha alpha + C_h delta delta (Etkin & Reid ch. 2, from memory); C_h0 = 0 for
a flat plate. Slopes in the plane are Glauert's; what a short span takes from them is lifting line (USAF DATCOM 6.1.6,
from memory).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import radians

import numpy as np
import pytest

from airframe.flight.lattice import Lattice
from airframe.flight.panels import Edge, cut, even
from airframe.flight.throws import Control, hinge_moment_slopes
from tests.plates import half

STRIPS, ROWS = 12, 12
"""Of a half span, and of each of the fixed and the moving chord; twice the rows move no slope by more than 3 %."""
INCIDENCE, DEFLECTION = radians(5.0), radians(25.0)
"""Usual full throw in a pull-out."""


@cache
def lattice_slopes(aspect: float, share: float) -> tuple[float, float]:
    """C_h alpha and C_h delta of a rectangular tail of span 1 m with a flap over all of it, from the panels' forces."""
    chord = 1.0 / aspect
    hinge = (1.0 - share) * chord
    cuts = np.concatenate([even(ROWS) * (1.0 - share), 1.0 - share + share * even(ROWS)[1:]])
    plain = half(1.0, chord, chord, (STRIPS, 2 * ROWS))
    start, end = (Edge(edge.leading_m, chord, cuts) for edge in (plain.start, plain.end))
    right = replace(plain, start=start, end=end, moving={"elevator": np.repeat([0.0, 1.0], ROWS)})
    lattice = Lattice(cut([right.mirrored(), right]))
    flap = np.any(lattice.panels.tips["elevator"] != 0.0, axis=1)
    slopes = lattice.loads((1.0, 0, 0, 0, 0, 0), (0.0,), 1.0, (hinge, 0.0, 0.0), only=flap).slopes
    unit = 0.5 * share * chord * share * chord
    return float(slopes[4, 2] / unit), float(slopes[4, 6] / unit)


def estimated(aspect: float, share: float, deflection: float, incidence: float) -> float:
    """C_h of the upper end of the estimate's band, which is theory without relief; its size."""
    area, chord = share / aspect, share / aspect
    moment = Control(area, chord, share, aspect).moment_n_m(1.0, 1.0, deflection, incidence)
    return moment.high / (0.5 * area * chord)


@pytest.mark.parametrize("share", [0.3, 0.45])
def test_5_36_the_moment_is_linear_in_both_angles(share: float) -> None:
    """q S_e c_e times a sum of two slopes: speed counts squared, area and chord once, the angles each by themselves."""
    control = Control(0.02, 0.05, share, 4.0)
    by_both = control.moment_n_m(9.0, 1.2, 0.3, 0.1).middle
    by_each = control.moment_n_m(9.0, 1.2, 0.3, 0.0).middle + control.moment_n_m(9.0, 1.2, 0.0, 0.1).middle
    assert by_both == pytest.approx(by_each, rel=1e-12)
    larger = replace(control, area_m2=0.06, chord_m=0.10).moment_n_m(18.0, 0.6, 0.3, 0.1).middle
    assert larger == pytest.approx(3.0 * 2.0 * 4.0 * 0.5 * by_both, rel=1e-12)


@pytest.mark.parametrize("share", [0.3, 0.4])
def test_5_36_a_very_long_surface_is_that_of_the_plane(share: float) -> None:
    """At A = 200 lattice and estimate are Glauert's slopes within 4 %: the flap's load is a logarithm at its hinge."""
    plane = np.abs(hinge_moment_slopes(share))
    np.testing.assert_allclose(np.abs(lattice_slopes(200.0, share)), plane, rtol=0.04)
    by_estimate = estimated(200.0, share, 0.0, 1.0), estimated(200.0, share, 1.0, 0.0)
    np.testing.assert_allclose(by_estimate, plane, rtol=0.01)


@pytest.mark.parametrize("aspect", [2.6, 4.0, 6.0])
@pytest.mark.parametrize("share", [0.3, 0.4])
def test_5_36_the_lattice_lies_within_the_band(aspect: float, share: float) -> None:
    """At full throw in a pull-out the lattice has 0.78 to 0.95 of the estimate's upper end, whose band begins at 0.6.

    The line sees no curved flow along a short chord, which relieves the flap too: both slopes lie above the lattice's.
    """
    by_incidence, by_deflection = np.abs(lattice_slopes(aspect, share))
    found = by_incidence * INCIDENCE + by_deflection * DEFLECTION
    assert 0.78 < found / estimated(aspect, share, DEFLECTION, INCIDENCE) < 0.95
    assert by_incidence < estimated(aspect, share, 0.0, 1.0)
    assert by_deflection < estimated(aspect, share, 1.0, 0.0)


@pytest.mark.parametrize("aspect", [2.6, 4.0, 6.0])
@pytest.mark.parametrize("share", [0.3, 0.4])
def test_5_36_a_short_surface_relieves_incidence_more_than_deflection(aspect: float, share: float) -> None:
    """Of the plane's slope by incidence A / (A + 2) is left by lifting line; of that by deflection always more."""
    left = aspect / (aspect + 2.0)
    by_incidence, by_deflection = np.array(lattice_slopes(aspect, share)) / hinge_moment_slopes(share)
    assert by_incidence < left < by_deflection
    plane = np.abs(hinge_moment_slopes(share))
    assert estimated(aspect, share, 0.0, 1.0) == pytest.approx(left * plane[0], rel=1e-9)
    assert estimated(aspect, share, 1.0, 0.0) > 1.1 * left * plane[1]
