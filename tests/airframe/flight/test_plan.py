"""Tail volumes, equivalent dihedral and the rules of thumb for a spiral."""

from __future__ import annotations

from dataclasses import replace
from math import degrees, radians

import numpy as np
import pytest

from airframe.flight.panels import Edge, Sheet, even, even_strips
from airframe.flight.plan import equivalent_dihedral, plan, spiral_rule, tail_volumes
from tests.plates import flat_normal, half


def _panel(start: tuple[float, float, float], end: tuple[float, float, float], chord: float = 0.2) -> Sheet:
    edges = [Edge(np.array(point), chord, even(1)) for point in (start, end)]
    return Sheet("wing", edges[0], edges[1], even_strips(2), flat_normal(start, end)[None, :])


def test_plan_of_a_tapered_wing() -> None:
    """Span 2, chords 0.4 and 0.2: area 0.6, mean chord 2/3 (a + b - ab / (a + b)) = 0.31111, aspect 2^2 / 0.6."""
    right = half(2.0, 0.4, 0.2, (4, 1))
    found = plan([right.mirrored(), right], "wing")
    assert found.area_m2 == pytest.approx(0.6)
    assert found.mean_chord_m == pytest.approx(2.0 / 3.0 * (0.6 - 0.08 / 0.6))
    assert found.aspect == pytest.approx(4.0 / 0.6)
    assert found.span_m == pytest.approx(2.0)


def test_5_23_tail_volumes() -> None:
    """S_h l_h / (S c) and S_v l_v / (S b): 0.06 x 0.5 / (0.2 x 0.2) and 0.02 x 0.55 / (0.2 x 1.0)."""
    wing = plan([sheet for right in [half(1.0, 0.2, 0.2, (2, 1))] for sheet in (right.mirrored(), right)], "wing")
    stabiliser = replace(wing, area_m2=0.06, quarter_chord_m=wing.quarter_chord_m + 0.5)
    fin = replace(wing, area_m2=0.02, quarter_chord_m=wing.quarter_chord_m + 0.55)
    found = tail_volumes(wing, stabiliser, fin)
    assert found.horizontal == pytest.approx(0.75)
    assert found.vertical == pytest.approx(0.055)


def test_5_43_equivalent_dihedral_of_a_polyhedral_wing() -> None:
    """Half span 0.5, flat to 0.3, tips 15 deg: 9.60 deg by uniform, 7.68 deg by elliptic loading (derived)."""
    rise = 0.2 * np.tan(radians(15.0))
    wing = [_panel((0, 0, 0), (0, 0.3, 0)), _panel((0, 0.3, 0), (0, 0.5, rise))]
    found = equivalent_dihedral([sheet.mirrored() for sheet in wing] + wing)
    assert degrees(found.uniform_rad) == pytest.approx(9.60, abs=5e-3)
    assert degrees(found.elliptic_rad) == pytest.approx(15.0 * 0.64**1.5, rel=1e-9)


def test_a_plain_v_is_its_own_equivalent() -> None:
    """Whatever the taper, under either loading."""
    found = equivalent_dihedral([half(1.0, 0.3, 0.1, (2, 1), dihedral_rad=0.12)])
    assert (found.uniform_rad, found.elliptic_rad) == pytest.approx((0.12, 0.12))


def test_5_45_spiral_rule() -> None:
    """Arm 0.55 spans, 8 deg, lift coefficient 0.6: 7.33 (rule from memory, not found; arithmetic recomputed)."""
    assert spiral_rule(0.55, 1.0, radians(8.0), 0.6) == pytest.approx(7.33, abs=5e-3)


def test_a_missing_surface_is_named() -> None:
    """A plan of what is not there is refused."""
    with pytest.raises(ValueError, match="canard"):
        plan([half(1.0, 0.2, 0.2, (2, 1))], "canard")
