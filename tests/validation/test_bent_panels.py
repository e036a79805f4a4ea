"""Bent panels: developed length, and flat area times thickness against the solid.

Neutral face: scored board bends about its uncut outer paper (common practice, no source), so the outer face keeps the
drawing's lengths and the inner one is shorter by the angle times the thickness (12.1: geometry; recomputed).
"""

from __future__ import annotations

from math import pi, radians, tan

import numpy as np
import pytest

from airframe.axes import Array
from airframe.curves import camber_line
from airframe.drawing import Film, Panel, Wire, rectangle, score
from airframe.folding import fold
from airframe.shapes import measure
from airframe.solids import exact, solid
from airframe.strips import strip_panel

MM_PER_INCH = 25.4


def bent_strip(length: float, width: float, thickness: float, total_rad: float, count: int) -> Panel:
    """A strip that turns by `total_rad` in `count` equal scores, evenly spaced with half a space at each end."""
    space = length / count
    scores = tuple(score(((i + 0.5) * space, 0), ((i + 0.5) * space, width), total_rad / count) for i in range(count))
    return Panel(rectangle(0, 0, length, width), thickness, scores=scores)


def face_length(panel: Panel, face: str, width: float) -> float:
    """Length along the strip of one face of the folded panel."""
    return fold(panel).area(face) / width  # type: ignore[arg-type]


def test_12_1_inner_face_is_shorter_by_angle_times_thickness() -> None:
    """Outer minus inner is sum 2 t tan(a / 2), which is theta t for fine scores (12.1), whatever the radius."""
    for length in (300.0, 900.0):
        panel = bent_strip(length, 40.0, 5.0, pi / 2, 30)
        difference = face_length(panel, "outer", 40.0) - face_length(panel, "inner", 40.0)
        assert difference == pytest.approx(30 * 2 * 5.0 * tan(pi / 120), rel=1e-6)
        assert difference == pytest.approx(pi / 2 * 5.0, rel=3e-4)


def test_12_3_published_foam_example() -> None:
    """1 in board, outer radius 6.4 in, 90 deg: outer 10 in, inner 8.4 in, take out 1.6 in (thread, secondary).

    Exact 10.053, 8.482 and 1.571 in (recomputed); the outer face is the neutral one, so it is cut 10.053 in long.
    """
    inch, outer = MM_PER_INCH, pi / 2 * 6.4
    panel = bent_strip(outer * inch, 4 * inch, 1 * inch, pi / 2, 13)
    assert face_length(panel, "outer", 4 * inch) / inch == pytest.approx(10.053, abs=5e-4)
    assert face_length(panel, "inner", 4 * inch) / inch == pytest.approx(8.482, abs=3e-3)
    taken_out = outer - face_length(panel, "inner", 4 * inch) / inch
    assert taken_out == pytest.approx(1.571, abs=3e-3)
    assert taken_out == pytest.approx(1.6, abs=0.05)


def test_12_4_facets_stray_from_the_arc_by_s_squared_over_8_r() -> None:
    """Scores every s on radius R: a facet's middle is s^2 / 8 R inside its corners' arc (geometry, from memory)."""
    count, radius = 10, 60.0
    turns = np.linspace(0.0, pi / 2, count + 1)
    edge = np.column_stack([-np.cos(turns), np.zeros(count + 1), np.sin(turns)]) * radius
    panel, home = strip_panel(edge + np.array([0.0, 50.0, 0.0]), edge, 3.0)
    middles = [home.apply(facet.outer[0].mean(axis=0)) for facet in fold(panel).facets]
    space = pi / 2 * radius / count
    for x, _, z in middles:
        assert radius - np.hypot(x, z) == pytest.approx(space**2 / (8 * radius), rel=0.01)


@pytest.mark.parametrize("count", [1, 3, 8, 20])
def test_solid_is_flat_area_times_thickness_less_its_grooves(count: int) -> None:
    """What the scores' grooves close away is exactly sum L t^2 tan(a / 2)."""
    panel = bent_strip(400.0, 60.0, 5.0, 2.0, count)
    grooves = count * 60.0 * 25.0 * tan(1.0 / count)
    for volume in (measure(panel).body.mass, exact(solid(panel)).mass):
        assert volume == pytest.approx(panel.area() * 5.0 - grooves, rel=1e-7)


def test_groove_is_theta_t_squared_over_two_of_the_sheet() -> None:
    """Many fine scores: volume tends to the curved shell's, area t (1 - theta t / 2 l) (shell between two arcs)."""
    panel = bent_strip(400.0, 60.0, 5.0, pi / 2, 40)
    outer = 400.0 / (pi / 2)
    shell = 60.0 * (pi / 2) / 2 * (outer**2 - (outer - 5.0) ** 2)
    assert measure(panel).body.mass == pytest.approx(shell, rel=1e-4)


def test_bent_strip_s_centre_is_that_of_the_arc() -> None:
    """A shell over a right angle tends to a ring sector: centre at 4 sin(a/2) (R^3 - r^3) / 3 a (R^2 - r^2)."""
    radius, t, count = 120.0, 5.0, 60
    turns = np.linspace(-pi / 4, pi / 4, count + 1)
    edge = np.column_stack([np.sin(turns), np.zeros(count + 1), np.cos(turns)]) * radius
    panel, home = strip_panel(edge + np.array([0.0, 50.0, 0.0]), edge, t)
    centre = measure(panel).body.placed(home.rotation, home.origin).centre
    a, inner = pi / 2, radius - t
    expected = 4 * np.sin(a / 2) * (radius**3 - inner**3) / (3 * a * (radius**2 - inner**2))
    np.testing.assert_allclose(centre, (0.0, 25.0, expected), atol=0.02)


def skin_edges(dihedral_rad: float = 0.0) -> tuple[Array, Array]:
    """Tip and root of a tapered, swept, bent wing skin."""
    line = camber_line(0.06, 0.35, 9)
    root = np.column_stack([line[:, 0] * 210, np.zeros(9), line[:, 1] * 210])
    tip = np.column_stack([line[:, 0] * 160 + 20, np.full(9, 330.0), line[:, 1] * 160 + 330 * tan(dihedral_rad)])
    return tip, root


def test_wing_skin_weighs_its_flat_sheet_less_its_grooves() -> None:
    """A tapered skin between two equal sections: flat area times thickness within the grooves' closed form."""
    tip, root = skin_edges()
    panel, _ = strip_panel(tip, root, 5.0)
    lengths = [float(np.hypot(*np.subtract(s.end, s.start))) for s in panel.scores]
    grooves = sum(length * 25.0 * tan(s.angle_rad / 2) for length, s in zip(lengths, panel.scores, strict=True))
    body = measure(panel).body
    assert body.mass == pytest.approx(panel.area() * 5.0 - grooves, rel=1e-6)
    assert grooves / body.mass < 0.01


def test_wing_skin_s_paint_covers_both_faces() -> None:
    """Outer area is the drawing's; the inner one is smaller by sum 2 t tan(a / 2) along each score."""
    tip, root = skin_edges()
    panel, _ = strip_panel(tip, root, 5.0)
    outer, both = measure(Film(panel, "outer")).body.mass, measure(Film(panel, "both")).body.mass
    lengths = [float(np.hypot(*np.subtract(s.end, s.start))) for s in panel.scores]
    lost = sum(length * 10.0 * tan(s.angle_rad / 2) for length, s in zip(lengths, panel.scores, strict=True))
    assert outer == pytest.approx(panel.area(), rel=1e-9)
    assert both == pytest.approx(2 * outer - lost, rel=1e-5)


def test_panels_bevelled_for_one_joint_meet_without_gap_or_overlap() -> None:
    """Left and right skin, each bevelled to the centre plane: nothing reaches across, and walls fill the plane."""
    tip, root = skin_edges(radians(8.0))
    panel, home = strip_panel(tip, root, 5.0, second_plane_normal=(0, 1, 0))
    corners = np.vstack([home.apply(ring) for f in fold(panel).facets for ring in (*f.outer, *f.inner)])
    assert corners[:, 1].min() == pytest.approx(0.0, abs=2e-5)
    assert np.count_nonzero(np.abs(corners[:, 1]) < 2e-5) == 32


def test_12_5_bend_allowance_of_a_wire_is_at_its_centre_line() -> None:
    """BA = theta (R + K t): K = 0.5 is the centre line used here (formula verified, K range from memory)."""
    wire = Wire(((0, 0, 0), (50, 0, 0), (50, 50, 0)), 3.0, 6.0)
    straight = 2 * (50 - 7.5)
    volume = exact(solid(wire)).mass
    assert volume / (pi * 2.25) - straight == pytest.approx(pi / 2 * (6.0 + 0.5 * 3.0), rel=1e-9)
