"""Paper arithmetic: pages cover the drawing, overlap, and agree on their crosses."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from airframe.cutting.papers import MARGIN_MM, OVERLAP_MM, PAPERS, tiling

boxes = st.tuples(st.floats(-50, 50), st.floats(-50, 50), st.floats(20, 1500), st.floats(20, 900)).map(
    lambda b: (b[0], b[1], b[0] + b[2], b[1] + b[3])
)


@given(boxes, st.sampled_from(["a4", "a3", "letter"]))
def test_pages_cover_the_drawing(box, paper) -> None:
    """Together the windows hold the whole drawing, and neighbours share the overlap."""
    made = tiling(box, paper)
    covered = shapely.union_all([shapely.box(*tile.window) for tile in made.tiles])
    assert covered.buffer(1e-6).contains(shapely.box(*box))
    assert len(made.tiles) == made.rows * made.columns
    by_place = {(tile.row, tile.column): tile.window for tile in made.tiles}
    for (row, column), window in by_place.items():
        if (row, column + 1) in by_place:
            assert window[2] - by_place[row, column + 1][0] == pytest.approx(OVERLAP_MM)
        if (row + 1, column) in by_place:
            assert by_place[row + 1, column][3] - window[1] == pytest.approx(OVERLAP_MM)


@given(boxes)
def test_every_seam_has_its_crosses_on_both_pages(box) -> None:
    """Each page shows at least two crosses in every overlap that it shares with a neighbour."""
    made = tiling(box, "a4")
    by_place = {(tile.row, tile.column): tile.window for tile in made.tiles}
    for (row, column), window in by_place.items():
        for beside in ((row, column + 1), (row + 1, column)):
            if beside in by_place:
                shared = shapely.box(*window).intersection(shapely.box(*by_place[beside]))
                assert sum(shared.contains(shapely.Point(cross)) for cross in made.crosses) >= 2


def test_a_foam_sheet_on_a4() -> None:
    """752 x 498 mm of parts on A4 (window 177 x 258, overlap 10): 5 columns and 2 rows upright, fewer than sideways."""
    made = tiling((0, 0, 752, 498), "a4")
    assert (made.rows, made.columns, made.paper.width_mm) == (2, 5, 210.0)
    assert [tile.name for tile in made.tiles][:6] == ["A1", "A2", "A3", "A4", "A5", "B1"]


def test_empty_pages_are_left_out() -> None:
    """Only pages with ink are printed; the others keep their names."""
    made = tiling((0, 0, 752, 498), "a4", lambda window: window[0] < 10)
    assert [tile.name for tile in made.tiles] == ["A1", "B1"]


def test_one_page_for_the_plotter() -> None:
    """The plotter's page holds the drawing with its margins, and no crosses are needed."""
    made = tiling((0, 0, 762, 508), "plot")
    (tile,) = made.tiles
    assert made.paper.width_mm > 762 + 2 * MARGIN_MM and made.crosses == ()
    assert tile.window == (0, 0, 762, 508)


def test_true_scale_on_the_page() -> None:
    """Two points 100 mm apart in the drawing are 100 mm apart on the page."""
    tile = tiling((0, 0, 300, 300), "letter").tiles[0]
    a, b = tile.on_page((20, 150)), tile.on_page((120, 150))
    assert (b[0] - a[0], b[1] - a[1]) == pytest.approx((100, 0))


def test_paper_sizes() -> None:
    """A4 is 210 x 297 mm and A3 297 x 420 (ISO 216); US letter 8 1/2 x 11 in."""
    assert [(p.width_mm, p.height_mm) for p in PAPERS.values()] == [
        (210.0, 297.0), (297.0, 420.0), pytest.approx((215.9, 279.4)),
    ]  # fmt: skip
