"""Wires on pages: every elevation once, none across a seam that could lie inside a page."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st

from airframe.cutting.papers import OVERLAP_MM, PAPERS, parted
from airframe.cutting.wire_tables import wire_tables
from tests.viewers.conftest import fitted
from viewers.paper.lettering import width_mm
from viewers.paper.wire_drawing import on_pages, wire_drawing

WINDOW = PAPERS["a4"].window
sizes = st.lists(st.tuples(st.floats(5, 600), st.floats(5, 400)), min_size=1, max_size=12)


@settings(max_examples=300, deadline=None)
@given(sizes)
@example([(5.0, 5.0), (5.0, 239.0), (331.0, 245.0), (508.0, 5.0)])
def test_boxes_on_pages_do_not_overlap(boxes) -> None:
    """No two boxes share any paper, wherever they come to lie."""
    corners = on_pages(boxes, WINDOW)
    areas = [shapely.box(x, y - h, x + w, y) for (x, y), (w, h) in zip(corners, boxes, strict=True)]
    assert all(not one.buffer(-1e-6).intersects(other) for one, other in combinations(areas, 2))


@settings(max_examples=300, deadline=None)
@given(sizes)
def test_what_fits_a_page_lies_on_one(boxes) -> None:
    """A box smaller than a page less its overlaps lies inside the part of one page that no neighbour shows."""
    step = WINDOW[0] - OVERLAP_MM, WINDOW[1] - OVERLAP_MM
    for (x, y), (w, h) in zip(on_pages(boxes, WINDOW), boxes, strict=True):
        if w <= step[0] - OVERLAP_MM and h <= step[1] - OVERLAP_MM:
            for at, size, pitch in ((x, w, step[0]), (-y, h, step[1])):
                page, start = divmod(at, pitch)
                assert start >= (OVERLAP_MM if page else 0.0) - 1e-6 and start + size <= pitch + 1e-6


@pytest.mark.parametrize("window", [None, WINDOW])
def test_all_lettering_lies_on_the_drawing(window) -> None:
    """No word and no bend's number is cut off by the drawing's edge, on one page or on many."""
    drawing = wire_drawing(wire_tables(fitted().parts), "metric", window)
    x0, y0, x1, y1 = drawing.box
    for text in drawing.texts:
        width = width_mm(text.text, text.height_mm)
        left = text.at[0] - (width / 2.0 if text.is_centred else 0.0)
        assert x0 <= left and left + width <= x1 and y0 <= text.at[1] <= y1, text.text


def test_every_elevation_is_drawn_once() -> None:
    """As many outlines as the elevations of all wires have, of the same length, on pages or one under the other."""
    wires = wire_tables(fitted().parts)
    expected = sorted(
        shapely.LineString(edge).length for wire in wires for one in wire.elevations for edge in one.edges
    )
    for window in (None, WINDOW):
        drawn = wire_drawing(wires, "metric", window).curves
        assert sorted(shapely.LineString(curve.points).length for curve in drawn) == pytest.approx(expected, abs=1e-6)


def test_pages_are_those_it_was_laid_out_for() -> None:
    """The tiling of the drawing has no more columns than its widest elevation needs."""
    drawing = wire_drawing(wire_tables(fitted().parts), "metric", WINDOW)
    widest = max(b - a for curve in drawing.curves for a, b in [(min(x for x, _ in curve.points),
                                                                max(x for x, _ in curve.points))])  # fmt: skip
    assert parted(drawing.box, PAPERS["a4"]).columns <= widest // (WINDOW[0] - OVERLAP_MM) + 2
