"""Folding: facets in space, closed surfaces, and the drawings that no board can follow."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import cos, pi, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.axes import Array
from airframe.drawing import Bevel, Loop, Panel, circle, loop, rectangle, score
from airframe.folding import Folded, FoldError, fold

T = 5.0
LENGTH_MM = 1e-6
"""A score's angle is kept to 1e-9 rad: that much, times the length of a panel."""


def strip(*angles: float, width: float = 50.0, step: float = 40.0, **more: object) -> Panel:
    """A strip scored square across every `step` mm."""
    scores = tuple(score((step * (i + 1), 0), (step * (i + 1), width), a) for i, a in enumerate(angles))
    return Panel(rectangle(0, 0, step * (len(angles) + 1), width), T, scores=scores, **more)  # type: ignore[arg-type]


def volume(folded: Folded) -> float:
    """By the divergence theorem over all faces, one fan of tetrahedra a ring."""
    total = 0.0
    for face in folded.faces():
        for ring in face:
            total += sum(float(ring[0] @ np.cross(b, c)) for b, c in pairwise(ring[1:])) / 6.0
    return total


def directed_edges(folded: Folded) -> Counter[tuple[tuple[float, ...], tuple[float, ...]]]:
    """How often each edge is walked in each direction."""
    edges: Counter[tuple[tuple[float, ...], tuple[float, ...]]] = Counter()
    for face in folded.faces():
        for ring in face:
            corners = [tuple(np.round(p, 7) + 0.0) for p in ring]
            edges.update(zip(corners, corners[1:] + corners[:1], strict=True))
    return edges


def is_closed(folded: Folded) -> bool:
    """Every edge is walked once each way."""
    edges = directed_edges(folded)
    return all(count == 1 and edges[b, a] == 1 for (a, b), count in edges.items())


def all_corners(folded: Folded) -> Array:
    """Corners of all outer faces."""
    return np.vstack([ring for facet in folded.facets for ring in facet.outer])


def test_unscored_panel_is_its_drawing_between_two_planes() -> None:
    """One facet: outer face at z = 0, inner face at -t, walls square."""
    folded = fold(Panel(rectangle(0, 0, 30, 20), T, holes=(rectangle(5, 5, 10, 10),)))
    (facet,) = folded.facets
    assert np.all(facet.outer[0][:, 2] == 0.0)
    assert np.all(facet.inner[0][:, 2] == -T)
    assert is_closed(folded)
    assert folded.area("outer") == pytest.approx(30 * 20 - 25, abs=1e-9)
    assert folded.area("both") == pytest.approx(2 * (30 * 20 - 25), abs=1e-9)
    assert volume(folded) == pytest.approx((30 * 20 - 25) * T, abs=1e-9)


def test_angle_iron_turns_its_far_side_down_about_the_outer_face() -> None:
    """A right angle: the far end of the outer face comes to lie straight under the score."""
    folded = fold(strip(pi / 2))
    far = all_corners(folded)[np.argsort(all_corners(folded)[:, 2])[:2]]
    np.testing.assert_allclose(far[:, 0], 40.0, atol=LENGTH_MM)
    np.testing.assert_allclose(far[:, 2], -40.0, atol=LENGTH_MM)
    # Closed form: L-section of outer legs 40 and thickness 5, 50 long.
    assert volume(folded) == pytest.approx((40 * 40 - 35 * 35) * 50, rel=1e-8)
    assert is_closed(folded)


def test_first_edge_of_the_outline_says_which_facet_stays() -> None:
    """The same drawing begun beyond the score keeps its other half in the drawing plane."""
    corners = [(0, 0), (80, 0), (80, 50), (0, 50)]
    scores = (score((40, 0), (40, 50), 1.0),)
    for first, stays in ((0, 0.0), (2, 80.0)):
        turned = tuple((float(x), float(y)) for x, y in corners[first:] + corners[:first])
        folded = fold(Panel(Loop(turned, (0.0,) * 4), T, scores=scores))
        lies_flat = all_corners(folded)[np.abs(all_corners(folded)[:, 2]) < 1e-9]
        assert stays in lies_flat[:, 0]
        assert 80.0 - stays not in lies_flat[:, 0]


def test_five_folds_of_sixty_degrees_make_a_hexagonal_tube() -> None:
    """The last edge comes back to the first one."""
    folded = fold(strip(*[pi / 3] * 5))
    ends = all_corners(folded)
    assert len(np.unique(np.round(ends, 6), axis=0)) == 12
    low, high = ends[:, [0, 2]].min(axis=0), ends[:, [0, 2]].max(axis=0)
    np.testing.assert_allclose(high - low, (80.0, 80.0 * sin(pi / 3)), atol=LENGTH_MM)


def test_box_unfolds_from_a_cross() -> None:
    """Four flaps folded up by a right angle round a base meet in the corners of a cube."""
    a = 30.0
    cross = [(a, a), (a, 0), (2 * a, 0), (2 * a, a), (3 * a, a), (3 * a, 2 * a),
             (2 * a, 2 * a), (2 * a, 3 * a), (a, 3 * a), (a, 2 * a), (0, 2 * a), (0, a)]  # fmt: skip
    square = [(a, a), (2 * a, a), (2 * a, 2 * a), (a, 2 * a)]
    scores = tuple(score(p, q, pi / 2) for p, q in zip(square, square[1:] + square[:1], strict=True))
    folded = fold(Panel(loop(cross), 0.5, scores=scores))
    assert len(folded.facets) == 5
    assert len(np.unique(np.round(all_corners(folded), 6), axis=0)) == 8
    assert np.ptp(all_corners(folded), axis=0) == pytest.approx((a, a, a), abs=LENGTH_MM)


@pytest.mark.parametrize("angles", [(0.05,), (1.0,), (0.3, 0.6), (0.2, 0.2, 0.2, 0.2), (2.0,)])
def test_square_strip_loses_exactly_its_grooves(angles: tuple[float, ...]) -> None:
    """Volume is flat area times thickness less width * t^2 * tan(angle / 2) for every score."""
    folded = fold(strip(*angles))
    flat = 40.0 * (len(angles) + 1) * 50.0 * T
    assert volume(folded) == pytest.approx(flat - 50.0 * T * T * sum(tan(a / 2) for a in angles), rel=1e-8)
    assert folded.area("outer") == pytest.approx(flat / T, rel=1e-12)
    assert is_closed(folded)


def test_square_hole_across_a_score_shortens_its_groove() -> None:
    """A notch on either side of the score: what is not there has no groove."""
    folded = fold(strip(1.0, holes=(rectangle(30, 20, 50, 30),)))
    expected = (80 * 50 - 200) * T - (50 - 10) * T * T * tan(0.5)
    assert len(folded.facets) == 2
    assert volume(folded) == pytest.approx(expected, rel=1e-12)
    assert is_closed(folded)


@pytest.mark.parametrize("diameter", [6.0, 12.0, 40.0])
def test_round_hole_across_a_score_closes(diameter: float) -> None:
    """The groove may swallow whole chords of a round hole; the surface still closes and no volume appears."""
    panel = strip(1.0, holes=(circle(40, 25, diameter),))
    folded = fold(panel)
    assert is_closed(folded)
    square_cut = folded.area("outer") * T - (50 - diameter) * T * T * tan(0.5)
    # Beside the hole the groove ends within t tan(angle / 2) of its rim: at most that far squared times t is in doubt.
    assert volume(folded) == pytest.approx(square_cut, abs=2 * T * (T * tan(0.5)) ** 2)


def test_hole_in_one_facet_stays_whole() -> None:
    """A hole beside a score goes straight through its facet."""
    folded = fold(strip(1.0, holes=(rectangle(55, 20, 65, 30),)))
    assert volume(folded) == pytest.approx((80 * 50 - 100) * T - 50 * T * T * tan(0.5), rel=1e-12)
    assert is_closed(folded)


def test_bevels_all_round_make_a_frustum() -> None:
    """Prismatoid formula V = t / 6 (A1 + 4 Am + A2), exact between planes (solid geometry, from memory)."""
    angle = 0.4
    folded = fold(Panel(rectangle(0, 0, 60, 40), T, bevels=tuple(Bevel(i, angle) for i in range(4))))
    s = T * tan(angle)
    areas = [(60 - 2 * k * s) * (40 - 2 * k * s) for k in (0.0, 0.5, 1.0)]
    assert volume(folded) == pytest.approx(T / 6 * (areas[0] + 4 * areas[1] + areas[2]), rel=1e-12)
    assert folded.area("inner") == pytest.approx(areas[2], rel=1e-12)
    assert is_closed(folded)


def test_negative_bevel_reaches_further() -> None:
    """An edge bevelled the other way adds a wedge."""
    folded = fold(Panel(rectangle(0, 0, 60, 40), T, bevels=(Bevel(1, -0.3),)))
    assert volume(folded) == pytest.approx(60 * 40 * T + 40 * T * T * tan(0.3) / 2, rel=1e-12)


def test_bevel_beside_a_rounded_corner_closes() -> None:
    """A bevel cuts through the short chords of the rounding next to it."""
    folded = fold(
        Panel(rectangle(0, 0, 60, 40, 4), T, bevels=(Bevel(0, 0.3), Bevel(4, 0.3)), holes=(circle(30, 20, 8),))
    )
    assert is_closed(folded)


def test_oblique_score_cuts_its_groove_straight_through() -> None:
    """Between parallel edges the groove is as long as the score; the facet that reaches further keeps its corner."""
    folded = fold(Panel(rectangle(0, 0, 80, 50), T, scores=(score((30, 0), (45, 50), 0.8),)))
    assert is_closed(folded)
    groove = float(np.hypot(15, 50)) * T * T * tan(0.4)
    assert volume(folded) == pytest.approx(80 * 50 * T - groove, rel=1e-12)


def test_scores_from_one_corner_close() -> None:
    """A fan: each facet ends where its own lines cross, and the grooves close as far as both sides reach."""
    ends = [(90, 25), (75, 60), (30, 80)]
    for count in (2, 3):
        scores = tuple(score((0, 0), end, 0.3) for end in ends[:count])
        folded = fold(Panel(loop([(0, 0), (90, 0), *ends, (0, 80)]), 2.0, scores=scores))
        assert len(folded.facets) == count + 1
        assert is_closed(folded)


def test_scores_may_end_a_hair_short_or_run_over() -> None:
    """A score drawn past the edge, or short of it by less than the knife's width, is the same score."""
    exact = volume(fold(strip(0.5)))
    for short in (0.04, -7.0):
        panel = Panel(rectangle(0, 0, 80, 50), T, scores=(score((40, short), (40, 50 - short), 0.5),))
        assert volume(fold(panel)) == pytest.approx(exact, rel=1e-12)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(0.01, 1.2), min_size=1, max_size=6),
    st.floats(-6.0, 6.0),
    st.lists(st.floats(-0.4, 0.4), min_size=4, max_size=4),
)
def test_any_strip_of_wide_facets_closes(angles: list[float], skew: float, bevels: list[float]) -> None:
    """Scores a little askew and bevels on all edges: the surface closes and its volume is positive."""
    count = len(angles)
    scores = tuple(score((40.0 * (i + 1) + skew, 0), (40.0 * (i + 1) - skew, 50), a) for i, a in enumerate(angles))
    cuts = tuple(Bevel(i, b) for i, b in enumerate(bevels))
    folded = fold(Panel(rectangle(0, 0, 40.0 * (count + 1), 50), T, scores=scores, bevels=cuts))
    assert is_closed(folded)
    assert volume(folded) > 0.5 * 40.0 * (count + 1) * 50 * T


def test_folded_lengths_are_those_of_the_drawing() -> None:
    """The outer paper keeps its length: distances along the strip add up to the flat ones."""
    folded = fold(strip(0.4, 0.9, 0.2))
    steps = [np.ptp(np.unique(np.round(f.outer[0][:, [0, 2]], 9), axis=0), axis=0) for f in folded.facets]
    assert sum(float(np.hypot(*step)) for step in steps) == pytest.approx(160.0, abs=1e-6)
    turns = np.cumsum([0.0, 0.4, 0.9, 0.2])
    end = np.sum([(40 * cos(a), -40 * sin(a)) for a in turns], axis=0)
    assert all_corners(folded)[:, 2].min() == pytest.approx(end[1], abs=LENGTH_MM)


BAD = {
    "crosses or touches itself": Panel(loop([(0, 0), (40, 0), (0, 10), (40, 11)]), T),
    "hole 1 is not inside": Panel(rectangle(0, 0, 20, 20), T, holes=(circle(18, 18, 8),)),
    "hole 1 and hole 2 overlap": Panel(rectangle(0, 0, 40, 20), T, holes=(circle(10, 10, 8), circle(15, 10, 8))),
    "fewer than three": Panel(Loop(((0.0, 0.0), (5.0, 0.0)), (0.0, 0.0)), T),
    "no edge 9": Panel(rectangle(0, 0, 20, 20), T, bevels=(Bevel(9, 0.1),)),
    "has no length": Panel(rectangle(0, 0, 20, 20), T, scores=(score((5, 5), (5, 5), 0.1),)),
    "does not cross": Panel(rectangle(0, 0, 20, 20), T, scores=(score((50, 0), (50, 20), 0.1),)),
    "ends inside": Panel(
        rectangle(0, 0, 80, 50), T, holes=(circle(40, 10, 6),), scores=(score((40, 0), (40, 30), 0.1),)
    ),
    "does not part": Panel(
        rectangle(0, 0, 80, 50), T, holes=(circle(40, 25, 6),), scores=(score((40, 0), (40, 25), 0.1),)
    ),
    "cross; board folds": Panel(
        rectangle(0, 0, 80, 50), T, scores=(score((20, 0), (60, 50), 0.1), score((60, 0), (20, 50), 0.1))
    ),
    "lie on one another": Panel(
        rectangle(0, 0, 80, 50), T, scores=(score((20, 0), (20, 50), 0.1), score((20, 50), (20, 0), 0.1))
    ),
    "turns by 0 rad": strip(0.0),
    "turns by 3.1 rad": strip(3.1),
    "turns by -0.2 rad": strip(-0.2),
    "bent tighter than its thickness at score 1 and 2": strip(1.5, 1.5, step=5.0),
    "bent tighter than its thickness at a bevel": Panel(
        rectangle(0, 0, 20, 9), T, bevels=(Bevel(0, 0.8), Bevel(2, 0.8))
    ),
    "crosses itself: an edge or hole is nearer": strip(1.0, holes=(circle(44, 25, 6),)),
    "closes right over the hole": strip(1.0, holes=(circle(40, 25, 1),)),
    "too oblique": Panel(rectangle(0, 0, 80, 7), T, scores=(score((30, 0), (50, 7), 2.2),)),
}  # fmt: skip


@pytest.mark.parametrize("text", BAD)
def test_refuses_what_no_board_can_do(text: str) -> None:
    """The message says what is wrong and where."""
    with pytest.raises(FoldError, match=text):
        fold(BAD[text])


def test_scores_round_a_hole_must_fold_together() -> None:
    """Two scores that meet at a hole leave no way to fold only one sector by itself."""
    hole = rectangle(35, 20, 45, 30)
    scores = (score((40, 0), (40, 20), 0.3), score((40, 30), (40, 50), 0.6))
    with pytest.raises(FoldError, match="do not fold together"):
        fold(Panel(rectangle(0, 0, 80, 50), T, holes=(hole,), scores=scores))
