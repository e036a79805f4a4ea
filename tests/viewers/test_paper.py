"""The arithmetic of drawing: projections, frames, edges, dashes, free paper."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from viewers.edges import inked
from viewers.labels import Taken, label
from viewers.lettering import Pen, _dashed
from viewers.views import FRONT, SIDE, THREE_QUARTER, TOP, VIEWS, Margins, framed

BOX = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=float)
BOX_FACES = np.array(
    [
        [0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
        [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3],
    ]
)  # fmt: skip


@pytest.mark.parametrize(
    ("view", "tip", "on_paper"),
    [
        (SIDE, (1, 0, 0), (1, 0)),  # aft is to the right
        (SIDE, (0, 0, 1), (0, 1)),
        (FRONT, (0, 1, 0), (-1, 0)),  # the right wing is to the reader's left
        (FRONT, (0, 0, 1), (0, 1)),
        (TOP, (1, 0, 0), (1, 0)),
        (TOP, (0, 1, 0), (0, 1)),
    ],
)
def test_true_views_show_the_axes_true(view, tip, on_paper) -> None:
    """A unit length along an axis in the paper is a unit length on the paper, the right way round."""
    np.testing.assert_allclose(view.project(tip), on_paper, atol=1e-12)


def test_readers_look_from_the_named_sides() -> None:
    """The reader of the side view is to the left, of the front view ahead, of the top view above."""
    np.testing.assert_allclose(SIDE.toward, (0, -1, 0), atol=1e-12)
    np.testing.assert_allclose(FRONT.toward, (-1, 0, 0), atol=1e-12)
    np.testing.assert_allclose(TOP.toward, (0, 0, 1), atol=1e-12)
    assert THREE_QUARTER.toward[0] < 0 < THREE_QUARTER.toward[2]


points = st.lists(st.tuples(*[st.floats(-900, 900)] * 3), min_size=2, max_size=12, unique=True)


@given(points, st.sampled_from(sorted(VIEWS)), st.tuples(*[st.floats(0, 150)] * 4))
def test_framed_points_stay_inside_the_margins(cloud, name, sides) -> None:
    """Whatever is framed lies inside the margins, and touches them in at least one direction."""
    margins = Margins(*sides)
    frame = framed(VIEWS[name], np.array(cloud), (40, 30, 800, 600), margins)
    x, y = frame.at(cloud).T
    assert x.min() >= 40 + margins.left - 1e-6 and x.max() <= 840 - margins.right + 1e-6
    assert y.min() >= 30 + margins.top - 1e-6 and y.max() <= 630 - margins.bottom + 1e-6


def test_frame_keeps_the_scale() -> None:
    """At 2 px to the mm, 100 mm are 200 px."""
    frame = framed(SIDE, BOX * 100, (0, 0, 500, 500), Margins(0, 0, 0, 0), scale=2.0)
    start, end = frame.at([(0, 0, 0), (100, 0, 0)])
    assert end[0] - start[0] == pytest.approx(200.0)


def test_box_has_twelve_edges() -> None:
    """The diagonals of a box's faces are not inked, whether its triangles share corners or not."""
    assert len(inked(BOX, BOX_FACES)) == 12
    apart = BOX[BOX_FACES].reshape(-1, 3)
    assert len(inked(apart, np.arange(36).reshape(-1, 3))) == 12


def test_smooth_sides_are_not_inked_and_rims_are() -> None:
    """Of an open tube of 24 facets (15 degrees apart) only the two rims show: 48 edges."""
    n = 24
    angle = np.linspace(0, 2 * np.pi, n, endpoint=False)
    ring = np.column_stack([np.cos(angle), np.sin(angle), np.zeros(n)])
    i, j = np.arange(n), (np.arange(n) + 1) % n
    faces = np.vstack([np.column_stack([i, j, j + n]), np.column_stack([i, j + n, i + n])])
    edges = inked(np.vstack([ring, ring + np.array([0, 0, 5])]), faces)
    assert len(edges) == 2 * n
    assert np.all(edges[:, 0, 2] == edges[:, 1, 2])


def test_dashes_run_on_through_corners() -> None:
    """3 on and 2 off along a path of 4 + 6 draws 0 to 3 and 5 to 8: two dashes of 3, the gap round the corner."""
    pieces = _dashed([(0, 0), (4, 0), (4, 6)], [3.0, 2.0])
    lengths = [sum(np.hypot(*np.subtract(b, a)) for a, b in pairwise(p)) for p in pieces]
    assert lengths == pytest.approx([3.0, 3.0])


def test_label_keeps_clear_of_the_model() -> None:
    """With the whole left half drawn on, a label of a point on its border goes to the right."""
    from PIL import Image

    taken = Taken(600, 400)
    mask = np.zeros((400, 300), dtype=bool)
    mask[:] = True
    taken.add_mask(0, 0, mask)
    image = Image.new("RGB", (600, 400), "#f7f0e0")
    label(Pen(image, 1), np.array([299.0, 200.0]), ["word"], "#ff0000", taken, prefer=(-1.0, 0.0))
    reds = np.argwhere(np.asarray(image)[:, :, 1] < 60)
    assert len(reds) > 20 and reds[:, 1].min() >= 300
    middle = reds.mean(axis=0)
    assert taken.share((middle[1] - 4, middle[0] - 4, middle[1] + 4, middle[0] + 4)) == 1.0


def test_nothing_is_free_outside_the_field() -> None:
    """A place that leaves the field counts as worse than wholly drawn on."""
    taken = Taken(100, 100)
    assert taken.share((10, 10, 40, 40)) == 0.0
    assert taken.share((-5, 10, 40, 40)) > 1.0
