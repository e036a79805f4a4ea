"""Handbook formulas of lift, downwash, neutral point and static margin beside the lattice and the linear model.

Raymer, Aircraft Design (by a digest); USAF DATCOM 4.4.1 (factors by a course's code, constants from memory); Glauert's
table; Drela's short form of the neutral point (all three from memory); Nelson's aeroplane (each as said beside it).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from airframe.flight.controls import control
from airframe.flight.derivatives import derivatives
from airframe.flight.lattice import Lattice, Loads
from airframe.flight.panels import Panels, Sheet, cut
from airframe.flight.plan import Plan, plan
from airframe.flight.surfaces import tail_sheets
from airframe.layout import Layout
from tests.designs import plain
from tests.plates import ellipse, half, lift_slope, wing

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


@pytest.mark.parametrize("arm", [0.4, 0.6])
@pytest.mark.parametrize("height", [0.0, 0.1])
def test_5_30_neutral_point_by_its_parts(arm: float, height: float) -> None:
    """h_n = h_wing + V_h (a_t / a) (1 - downwash) (Etkin & Reid, from memory), every part of it by the lattice.

    a is the whole aeroplane's slope and V_h counts from the wing's centre to the tail's. What is left over, under a
    thousandth of the chord, is what the tail does to the wing.
    """
    chord = 1.0 / ASPECT
    area = 0.45 / ASPECT * chord / arm
    behind = tail(sqrt(4.0 * area), sqrt(area / 4.0), 0.25 * chord + arm, height)
    whole, front, rear = (
        Lattice(cut(sheets)).loads(AHEAD, (), 1.0).slopes for sheets in ([*rectangle(), *behind], rectangle(), behind)
    )
    centres = [slopes[4, 2] / slopes[2, 2] for slopes in (front, rear)]
    volume = area * (centres[1] - centres[0]) / chord**2
    slopes_ratio = (rear[2, 2] / area) / (whole[2, 2] / chord)
    found = centres[0] / chord + volume * slopes_ratio * (1.0 - downwash(cut(rectangle()), behind))
    assert whole[4, 2] / whole[2, 2] / chord == pytest.approx(found, abs=1e-3)


def fin_slope(sheets: Sequence[Sheet]) -> float:
    """Of the fin's side force with slip, on its area, among these surfaces."""
    lattice = Lattice(cut(sheets))
    slopes = lattice.loads(AHEAD, lattice.deflections(), 1.0, only=lattice.panels.of("fin")).slopes
    return float(-slopes[1, 1] / (0.5 * plan(sheets, "fin").area_m2))


def helmbold(aspect: float) -> float:
    """5.3: 2 pi A / (2 + sqrt(A^2 + 4)) (from memory)."""
    return 2.0 * pi * aspect / (2.0 + sqrt(aspect**2 + 4.0))


def test_5_29_a_fin_on_a_tail_has_more_aspect_than_it_looks() -> None:
    """About 55 % more on fuselage and stabiliser (Raymer ch. 16, secondary); the stabiliser alone gives 20 to 30 %.

    The lattice knows no fuselage. What that would add to a fin, a sixth of its slope, is what is told of the
    weathercock's as not known, about 0.015; the rudder's hinge moment counts all of the 55 %.
    """
    from scipy.optimize import brentq

    layout = Layout(plain())
    sheets = tail_sheets(layout)
    alone, together = fin_slope([sheet for sheet in sheets if sheet.surface == "fin"]), fin_slope(sheets)
    looks = plan(sheets, "fin").aspect
    share = alone / helmbold(looks)
    feels = brentq(lambda aspect: share * helmbold(aspect) - together, looks, 3.0 * looks)
    assert 1.20 < feels / looks < 1.30
    assert control(layout, sheets, "rudder").aspect_ratio == pytest.approx(1.55 * looks)


def roll_by_slip(aspect: float, dihedral_deg: float = 0.0, sweep_deg: float = 0.0, alpha_rad: float = 0.0) -> float:
    """C_l beta of a rectangular wing about the path, per radian."""
    right = half(1.0, 1.0 / aspect, 1.0 / aspect, (16, 4), radians(sweep_deg), radians(dihedral_deg))
    motion = (cos(alpha_rad), 0.0, sin(alpha_rad), 0.0, 0.0, 0.0)
    slopes = Lattice(cut([right.mirrored(), right])).loads(motion, (), 1.0).slopes
    return float((slopes[3, 1] * cos(alpha_rad) + slopes[5, 1] * sin(alpha_rad)) * 2.0 * aspect)


@pytest.mark.parametrize("aspect", [5.0, 6.0, 8.0])
def test_5_37_and_5_38_dihedral_lies_between_rule_and_strips(aspect: float) -> None:
    """A degree rolls by -0.0115 per radian of slip by Raymer (secondary), by -a Gamma / 4 by strips (from memory).

    Strips, with Helmbold's slope -0.0198 at A = 6, know nothing of one half's wake at the other. The lattice lies
    between the two, from Raymer's own at A = 5, to 1 %, to 30 % over it at A = 8.
    """
    assert -helmbold(6.0) * radians(1.0) / 4.0 == pytest.approx(-0.0198, abs=5e-5)
    by_strips = -helmbold(aspect) * radians(1.0) / 4.0
    assert by_strips < roll_by_slip(aspect, 1.0) < 0.99 * -0.0115
    assert roll_by_slip(aspect, 1.0) > 1.3 * -0.0115


def test_5_37_dihedral_adds_up() -> None:
    """Degree by degree alike, within 1 % up to 8 deg."""
    assert roll_by_slip(ASPECT, 8.0) == pytest.approx(8.0 * roll_by_slip(ASPECT, 1.0), rel=0.01)


@pytest.mark.parametrize("aspect", [5.0, 6.0])
def test_5_40_ten_degrees_of_sweep_are_one_of_dihedral(aspect: float) -> None:
    """Raymer Table 4.2 (secondary): so it is at a lift coefficient of 0.3 to 0.35; the share grows with the lift."""
    at = {alpha: radians(alpha) for alpha in (4.0, 5.0, 8.0)}
    swept = {alpha: roll_by_slip(aspect, 0.0, 10.0, a) - roll_by_slip(aspect, 0.0, 0.0, a) for alpha, a in at.items()}
    degree = {alpha: roll_by_slip(aspect, 1.0, 0.0, a) - roll_by_slip(aspect, 0.0, 0.0, a) for alpha, a in at.items()}
    assert swept[4.0] / degree[4.0] < 1.0 < swept[5.0] / degree[5.0]
    assert swept[8.0] / swept[4.0] == pytest.approx(2.0, abs=0.03)
