"""Handbook formulas of lift, downwash, neutral point and static margin beside the lattice and the linear model.

Raymer, Aircraft Design (by a digest); USAF DATCOM 4.4.1 (factors by a course's code, constants from memory); Glauert's
table; Drela's short form of the neutral point (all three from memory); Nelson's aeroplane (each as said beside it).
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sqrt, tan
from pathlib import Path

import numpy as np
import pytest

import airframe
from airframe.flight.derivatives import derivatives
from airframe.flight.lattice import Lattice, Loads
from airframe.flight.panels import Panels, Sheet, cut
from airframe.flight.plan import Plan
from tests.plates import ellipse, half, lift_slope, wing

CONFIGS = Path(__file__).parents[2] / "configs"
AHEAD = (1.0, 0.0, 0.0, 0.0, 0.0, 0.0)
ASPECT = 6.0


def tail(span: float, chord: float, quarter: float, height: float) -> list[Sheet]:
    """A rectangular tail plane with its quarter chord at a station."""
    right = half(span, chord, chord, (8, 4))
    offset = np.array([quarter - 0.25 * chord, 0.0, height])
    start, end = (replace(edge, leading_m=edge.leading_m + offset) for edge in (right.start, right.end))
    right = replace(right, surface="tail", start=start, end=end)
    return [right.mirrored(), right]


def rectangle() -> list[Sheet]:
    """A wing of span 1 m and aspect ratio 6, leading edge at 0."""
    right = half(1.0, 1.0 / ASPECT, 1.0 / ASPECT, (16, 4))
    return [right.mirrored(), right]


def together(front: Panels, behind: list[Sheet]) -> Panels:
    """Panels with a tail behind them."""
    rear = cut(behind)
    fields = ("start", "end", "middle", "control", "normal", "chord")
    joined = {name: np.concatenate([getattr(front, name), getattr(rear, name)]) for name in fields}
    surface = np.concatenate([front.surface, rear.surface + 1])
    strip = np.concatenate([front.strip, rear.strip + front.strip.max() + 1])
    return replace(front, **joined, surface=surface, strip=strip, names=("wing", "tail"))


def downwash(front: Panels, behind: list[Sheet]) -> float:
    """What the wing takes from the tail's lift slope."""
    both, alone = Lattice(together(front, behind)), Lattice(cut(behind))
    with_wing = both.loads(AHEAD, (), 1.0, only=both.panels.of("tail")).slopes[2, 2]
    return float(1.0 - with_wing / alone.loads(AHEAD, (), 1.0).slopes[2, 2])


def swept(aspect: float, sweep_rad: float) -> float:
    """5.4: 2 pi A / (2 + sqrt(4 + A^2 (1 + tan^2 sweep))) at low speed, section slope 2 pi (Raymer 12.6, secondary)."""
    return 2.0 * pi * aspect / (2.0 + sqrt(4.0 + aspect**2 * (1.0 + tan(sweep_rad) ** 2)))


def datcom_downwash(aspect: float, taper: float, arm_spans: float, height_spans: float, sweep_rad: float) -> float:
    """5.21: 4.44 (K_A K_taper K_H sqrt(cos sweep))^1.19."""
    by_aspect = 1.0 / aspect - 1.0 / (1.0 + aspect**1.7)
    by_place = (1.0 - abs(height_spans)) / (2.0 * arm_spans) ** (1.0 / 3.0)
    return float(4.44 * (by_aspect * (10.0 - 3.0 * taper) / 7.0 * by_place * sqrt(cos(sweep_rad))) ** 1.19)


def short_neutral_point(aspect: float, tail_aspect: float, volume: float) -> float:
    """5.31: a quarter + (1 + 2 / A) / (1 + 2 / A_h) (1 - 4 / (A + 2)) V_h, in chords behind the leading edge."""
    return 0.25 + (1.0 + 2.0 / aspect) / (1.0 + 2.0 / tail_aspect) * (1.0 - 4.0 / (aspect + 2.0)) * volume


def test_5_6_a_swept_wing() -> None:
    """A = 5 swept 45 deg: 3.3605 by the formula; the lattice of a rectangular one lies within 6 % below, as unswept."""
    assert swept(5.0, radians(45.0)) == pytest.approx(3.3605, abs=5e-5)
    slope = lift_slope(wing(5.0, sweep_deg=45.0), 5.0)
    assert 0.94 * swept(5.0, radians(45.0)) < slope < swept(5.0, radians(45.0))


# 5.7 in full: A, slope, tau, delta by the series of 100 terms (recomputed); 5.8: A / a0, tau, delta as printed.
SERIES = [
    (3, 3.6314, 0.0954, 0.0189), (4, 4.0284, 0.1195, 0.0285), (5, 4.3141, 0.1411, 0.0384), (6, 4.5304, 0.1607, 0.0483),
    (7, 4.7004, 0.1786, 0.0581), (9, 4.9512, 0.2106, 0.0769), (10, 5.0468, 0.2249, 0.0859),
    (12, 5.1991, 0.2511, 0.1031),
]  # fmt: skip
PRINTED = [
    (0.5, 0.10, 0.019), (0.75, 0.14, 0.034), (1.0, 0.17, 0.049), (1.25, 0.20, 0.063), (1.5, 0.22, 0.076),
    (1.75, 0.24, 0.088),
]  # fmt: skip


@pytest.mark.parametrize(("aspect", "slope", "tau", "delta"), SERIES)
def test_5_7_rectangular_wings_in_the_lattice(aspect: float, slope: float, tau: float, delta: float) -> None:
    """5.2 ties tau to the slope; a real chord lies below the line's slope by 3 to 14 %, its drag nearer the least."""
    assert 2.0 * pi / (1.0 + 2.0 / aspect * (1.0 + tau)) == pytest.approx(slope, abs=6e-4)
    panels = wing(aspect)
    found = lift_slope(panels, aspect)
    assert 0.86 * slope < found < 0.97 * slope
    wake = Lattice(panels).wake_drag_n((1.0, 0.0, 1.0, 0.0, 0.0, 0.0), (), 1.0) * 2.0 * aspect
    assert 0.0 < wake * pi * aspect / found**2 - 1.0 < delta


@pytest.mark.parametrize(("ratio", "tau", "delta"), PRINTED)
def test_5_8_glauerts_printed_table(ratio: float, tau: float, delta: float) -> None:
    """Few terms, remembered to 0.01: the recomputed table at the same A / a0, straight between its rows."""
    aspects, _, taus, deltas = np.array(SERIES).T
    assert np.interp(2.0 * pi * ratio, aspects, taus) == pytest.approx(tau, abs=0.01)
    assert np.interp(2.0 * pi * ratio, aspects, deltas) == pytest.approx(delta, abs=0.01)


def test_5_20_downwash_far_behind_an_elliptic_wing() -> None:
    """2 a / (pi A) with the lattice's own slope, in the wake's plane far behind: within 5 %."""
    panels = ellipse(ASPECT)
    far = downwash(panels, tail(0.1, 0.02, 80.0, 0.0))
    assert far == pytest.approx(2.0 * lift_slope(panels, ASPECT) / (pi * ASPECT), rel=0.05)


def test_5_22_handbook_downwash_brackets_the_lattices() -> None:
    """A = 6, half a span behind, no height: 0.3606 by DATCOM, 0.4805 far behind by Helmbold's slope; between them."""
    by_handbook = datcom_downwash(ASPECT, 1.0, 0.5, 0.0, 0.0)
    far = 2.0 * 4.5287 / (pi * ASPECT)
    assert by_handbook == pytest.approx(0.3606, abs=5e-5)
    assert far == pytest.approx(0.4805, abs=5e-5)
    found = downwash(cut(rectangle()), tail(0.05, 0.02, 0.25 / ASPECT + 0.5, 0.0))
    assert by_handbook < found < far


@pytest.mark.parametrize("arm", [0.4, 0.5, 0.6])
@pytest.mark.parametrize("height", [0.0, 0.05, 0.1])
def test_5_32_neutral_point_of_wing_and_tail(arm: float, height: float) -> None:
    """A = 6, A_h = 4, V_h = 0.45: 0.450 chords by the short form; the lattice within 0.03 whatever arm and height."""
    assert short_neutral_point(ASPECT, 4.0, 0.45) == pytest.approx(0.450, abs=5e-4)
    chord = 1.0 / ASPECT
    area = 0.45 / ASPECT * chord / arm
    span = sqrt(4.0 * area)
    behind = tail(span, span / 4.0, 0.25 * chord + arm, height)
    slopes = Lattice(cut([*rectangle(), *behind])).loads(AHEAD, (), 1.0).slopes
    assert slopes[4, 2] / slopes[2, 2] / chord == pytest.approx(0.450, abs=0.03)


def test_6_12_static_margin_of_nelsons_aeroplane() -> None:
    """-C_m alpha / C_L alpha = 0.683 / 4.44 = 0.154; balanced at 29.5 % its neutral point is at 44.9 % (recomputed)."""
    speed, density, area, chord = 176.0, 0.002378, 184.0, 5.7
    pressure = 0.5 * density * speed**2 * area
    slopes = np.zeros((6, 6))
    slopes[0, [0, 2]] = np.array([-2.0 * 0.05, 0.41 - 0.33]) * pressure / speed
    slopes[2, [0, 2]] = np.array([-2.0 * 0.41, -(4.44 + 0.05)]) * pressure / speed
    slopes[4, 2] = -0.683 * pressure * chord / speed
    wrench = np.array([-0.05, 0.0, -0.41, 0.0, 0.0, 0.0]) * pressure
    found = derivatives(Loads(wrench, slopes), (speed, 0.0, 0.0), density, Plan(area, 33.4, chord, 0.0), ())
    assert found.slope("C_L", "alpha") == pytest.approx(4.44, rel=1e-12)
    assert found.slope("C_D", "alpha") == pytest.approx(0.33, rel=1e-12)
    assert found.static_margin == pytest.approx(0.154, abs=5e-4)
    assert 0.295 + found.static_margin == pytest.approx(0.449, abs=5e-4)


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_6_21_to_6_30_roll_radius_of_the_demos(name: str) -> None:
    """2 k_x / span between 0.20 and 0.38, as of propeller aeroplanes of every class (Raymer 16.1, secondary).

    Those of pitch and yaw are larger than any there, 0.50 to 0.55: the light foam has its weights at both ends.
    """
    aeroplane = airframe.load(CONFIGS / f"{name}.toml")
    roll, _, _ = aeroplane.statement.radii_of_gyration_mm()
    assert 0.20 < 2.0 * roll / aeroplane.layout.mean_chord.span_mm < 0.38
