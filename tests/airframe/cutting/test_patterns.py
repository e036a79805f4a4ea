"""Patterns: the true outline, the right face, left and right, bevels, pencil lines, what is alike."""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, degrees, hypot, pi, radians, sin, tan

import numpy as np
import pytest
import shapely

from airframe.axes import Place
from airframe.cutting.patterns import patterns, score_depth_mm
from airframe.drawing import Bevel, Panel, Part, bead, circle, loop, rectangle, score
from airframe.materials import MATERIALS
from airframe.parts.common import across, both_sides, joint, upright_left_face
from airframe.schema.stock import Trim
from airframe.strips import strip_panel

FOAM, PLYWOOD, GLUE = (MATERIALS[name] for name in ("foam board 5 mm", "birch plywood 3 mm", "hot glue bead"))
LOPSIDED = loop([(0, 0), (60, 0), (60, 20), (0, 40)])


def part(panel: Panel, name: str = "panel", place: Place | None = None, material=FOAM) -> Part:
    return Part(name, "fuselage", panel, place or Place(), material)


def only(*parts: Part, trims=()):
    (pattern,) = patterns(parts, trims)
    return pattern


def test_a_flat_panel_is_its_own_pattern() -> None:
    """Without scores, bevels and glue a panel is drawn as it is: outer face up, arcs as arcs, length level."""
    panel = Panel(rectangle(-20, 5, 40, 25, 4.0), 5.0, (circle(0, 15, 6),))
    pattern = only(part(panel))
    assert (pattern.face, pattern.size, pattern.looks) == ("outer", (60.0, 20.0), "up")
    assert sorted(pattern.outline.bulges) == sorted(panel.outline.bulges)
    assert pattern.holes[0].area() == pytest.approx(9 * pi)
    assert pattern.outline.area() - pattern.holes[0].area() == pytest.approx(panel.area())


def test_left_is_the_mirror_image_of_right() -> None:
    """A part in a mirrored place is drawn mirrored: the same corners with x turned round."""
    right, left = patterns(both_sides(part(Panel(LOPSIDED, 5.0, (circle(10, 10, 5),)))))
    image = shapely.affinity.scale(shapely.Polygon(right.outline.points), -1.0, 1.0, origin=(30.0, 0.0))
    assert shapely.Polygon(left.outline.points).normalize().equals_exact(image.normalize(), 1e-6)
    assert (right.alike, left.alike) == (2, 2), "plain foam may be turned over"


def test_scored_left_and_right_are_not_alike() -> None:
    """With a score a piece cannot be turned over: left and right of a lopsided one are two patterns."""
    panel = Panel(LOPSIDED, 5.0, scores=(score((30, 0), (30, 30), 0.2),))
    right, left = patterns(both_sides(part(panel)))
    assert (right.alike, left.alike) == (1, 1)


def test_symmetric_left_and_right_are_one_pattern() -> None:
    """A score in the middle of a rectangle is the same from either side: one pattern, two parts."""
    panel = Panel(rectangle(0, 0, 60, 40), 5.0, scores=(score((30, 0), (30, 40), 0.2),))
    assert [pattern.alike for pattern in patterns(both_sides(part(panel)))] == [2, 2]


def test_scores_are_cut_from_the_face_that_is_up() -> None:
    """The groove is on the inner face: that face is drawn, mirrored from the outer one, the score 4.5 of 5 mm deep."""
    panel = Panel(LOPSIDED, 5.0, scores=(score((20, 0), (20, 100 / 3), radians(12)),))
    pattern = only(part(panel))
    (line,) = pattern.scores
    assert (pattern.face, line.is_far, pattern.looks) == ("inner", False, "down")
    assert line.depth_mm == 4.5 and degrees(line.angle_rad) == pytest.approx(12)
    assert line.start[0] == pytest.approx(40.0), "20 mm from the left of 60, seen from the other side"


@pytest.mark.parametrize(("thickness", "depth"), [(5.0, 4.5), (3.0, 2.5), (0.5, 0.25)])
def test_score_leaves_the_paper(thickness, depth) -> None:
    """Half a millimetre stays, or half of what is thin (our choice)."""
    assert score_depth_mm(thickness) == pytest.approx(depth)


def test_a_hole_parts_a_score() -> None:
    """A score across a 20 mm hole is drawn in two stretches, 20 mm shorter together."""
    panel = Panel(rectangle(0, 0, 100, 60), 5.0, (rectangle(40, 20, 60, 40),), (score((50, 0), (50, 60), 0.1),))
    lines = only(part(panel)).scores
    assert len(lines) == 2
    assert sum(hypot(*np.subtract(one.end, one.start)) for one in lines) == pytest.approx(40.0)


def test_a_bevel_stays_inside_the_cut() -> None:
    """An inner face that stops short by t tan 45 = 5 mm: cut on the outline, the bevel's end 5 mm inside it."""
    pattern = only(part(Panel(rectangle(0, 0, 80, 30), 5.0, bevels=(Bevel(0, radians(45)),))))
    assert pattern.size == (80.0, 30.0)
    (bevel,) = pattern.bevels
    assert (bevel.start[1], bevel.end[1]) == pytest.approx((5.0, 5.0)) and not bevel.is_far


def test_a_bevel_that_reaches_out_is_cut_at_its_widest() -> None:
    """An inner face that reaches 5 tan 20 further is what is cut; the smaller outer face shows dotted, underneath."""
    reach = 5.0 * tan(radians(20))
    pattern = only(part(Panel(rectangle(0, 0, 80, 30), 5.0, bevels=(Bevel(0, -radians(20)),))))
    assert pattern.size == pytest.approx((80.0, 30.0 + reach))
    (bevel,) = pattern.bevels
    assert bevel.is_far and bevel.start[1] == pytest.approx(reach)


def test_trim_allowance_is_added_and_the_finished_edge_marked() -> None:
    """A 3 mm allowance makes 80 x 30 into 86 x 36, with the finished edge pencilled 3 mm inside."""
    pattern = only(part(Panel(rectangle(0, 0, 80, 30), 5.0), "cowl"), trims=[Trim(on="cow*", allowance="3 mm")])
    assert pattern.size == pytest.approx((86.0, 36.0))
    (line,) = (mark for mark in pattern.pencil if mark.kind == "trim")
    assert shapely.Polygon(line.path).bounds == pytest.approx((3.0, 3.0, 83.0, 33.0))


def test_glue_lines_are_pencilled_where_they_lie() -> None:
    """A former's two beads across a side show as two lines at their stations, on the face they touch, by its name."""
    side = part(Panel(rectangle(0, -30, 300, 30), 5.0), "side", upright_left_face(-40.0))
    beads = [[(x, -35.0, -25.0), (x, -35.0, 25.0)] for x in (100.0, 105.0)]
    pattern = only(side, joint("former F1", beads, GLUE))
    assert pattern.face == "inner", "the one to draw on"
    assert {mark.name for mark in pattern.pencil} == {"former F1"}
    # Seen from inside, the nose is on the right: station 100 lies 200 from the left end.
    assert sorted(mark.path[0][0] for mark in pattern.pencil) == pytest.approx([195.0, 200.0])
    assert not any(mark.is_far for mark in pattern.pencil)


def test_glue_lines_follow_a_bent_panel() -> None:
    """On a panel folded by 30 degrees a bead beyond the fold is drawn where it lies with the panel flat."""
    angle, t = radians(30), 5.0
    panel = Panel(rectangle(0, 0, 100, 60), t, scores=(score((40, 0), (40, 60), angle),))
    # 50 mm past the fold along the outer face, on the inner face: the far facet turns down towards -z.
    x, z = 40 + 50 * cos(angle) - t * sin(angle), -50 * sin(angle) - t * cos(angle)
    pattern = only(part(panel), joint("rib", [[(x, 10.0, z), (x, 50.0, z)]], GLUE))
    (mark,) = pattern.pencil
    assert not mark.is_far
    assert [p[0] for p in mark.path] == pytest.approx([10.0, 10.0], abs=1e-6), "90 from the left, seen from below"


def test_glue_round_its_own_edge_is_not_drawn() -> None:
    """A bead along the edge of a doubler says nothing about where anything goes on it."""
    ring = [(0, 0, 0), (50, 0, 0), (50, 30, 0), (0, 30, 0), (0, 0, 0)]
    assert only(part(Panel(rectangle(0, 0, 50, 30), 3.0)), joint("doubler", [ring], GLUE)).pencil == ()


def test_centre_line_of_what_lies_astride() -> None:
    """A former across the fuselage has a centre line half way; one beside the centre plane has none."""
    former = Panel(rectangle(-30, -20, 30, 20), 5.0)
    (line,) = only(part(former, "F1", across(100.0))).pencil
    assert (line.kind, line.path[0][0]) == ("centre", pytest.approx(30.0))
    assert only(part(former, "F1", across(100.0, y_mm=12.0))).pencil == ()


@pytest.mark.parametrize(
    ("place", "way"),
    [(Place(), "up"), (across(0.0), "forward"), (upright_left_face(0.0), "to the left")],
)
def test_which_way_a_face_looks(place, way) -> None:
    """The words say where the drawn face points in the aeroplane."""
    assert only(part(Panel(LOPSIDED, 5.0), place=place)).looks == way


def test_only_sheet_is_drawn() -> None:
    """What is not cut from sheet has no pattern."""
    block = replace(part(Panel(LOPSIDED, 5.0)), shape=bead([(0, 0, 0), (1, 0, 0)]), material=GLUE)
    assert patterns([block]) == []


def test_the_longer_side_lies_along_the_sheet() -> None:
    """Whichever way it was drawn: along the grain, where the sheet has one."""
    tall = Panel(rectangle(0, 0, 20, 50), 3.0)
    assert only(part(tall, material=PLYWOOD)).size == (50.0, 20.0)


# --- developed shells against closed forms ------------------------------------------------------------------

COUNT = 65


def _ring(radius: float, x: float, turn: float = pi / 2.0):
    angles = np.linspace(0.0, turn, COUNT)
    return np.column_stack([np.full(COUNT, x), radius * np.cos(angles), radius * np.sin(angles)])


def test_unrolled_cylinder() -> None:
    """A quarter of a cylinder r = 50, 80 long, unrolls to 80 x 50 pi / 2 (closed form; 64 chords: within 3e-5)."""
    panel, place = strip_panel(_ring(50.0, 80.0), _ring(50.0, 0.0), 3.0)
    pattern = only(part(panel, "cowl", place))
    assert sorted(pattern.size) == pytest.approx(sorted([80.0, 50.0 * pi / 2.0]), rel=1e-4)
    assert len(pattern.scores) == COUNT - 2


def test_unrolled_cone() -> None:
    """A half cone from r = 60 to 40 over 70 unrolls to a ring sector: radii L = r / sin(a), its angle pi sin(a)."""
    a = atan(20.0 / 70.0)
    inner, outer, angle = 40.0 / sin(a), 60.0 / sin(a), pi * sin(a)
    panel, place = strip_panel(_ring(60.0, 70.0, pi), _ring(40.0, 0.0, pi), 3.0)
    pattern = only(part(panel, "cowl", place))
    assert pattern.outline.area() == pytest.approx((outer**2 - inner**2) * angle / 2.0, rel=5e-4)
    ends = shapely.LinearRing(pattern.outline.points).length - 2.0 * hypot(20.0, 70.0)
    assert ends == pytest.approx((inner + outer) * angle, rel=5e-4)
    corners = np.array(pattern.outline.points)
    widest = np.linalg.norm(corners[:, None] - corners, axis=2).max()
    assert widest == pytest.approx(2.0 * outer * sin(angle / 2.0), rel=1e-3), "the chord of the outer arc"
