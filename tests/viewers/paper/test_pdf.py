"""PDF: rasterised at 300 dpi, lines are where they should be; tiles put together give the one page."""

from __future__ import annotations

import numpy as np
import pytest

from airframe.cutting.papers import BARS_MM, FOOT_MM, MARGIN_MM, PAPERS, tiling
from airframe.drawing import Loop
from tests.viewers.paper.conftest import MM_PER_PIXEL, PLATE, along, distance_to_ink, pages
from viewers.paper.drawing import beziers
from viewers.paper.pdf import Book, plain


def book(drawing, paper):
    made = Book("Sample")
    parted = tiling(drawing.box, paper)
    made.tiles(drawing, parted)
    return made.bytes(), parted


@pytest.fixture(scope="module")
def one_page(drawing):
    data, parted = book(drawing, "plot")
    ((ink, size),) = pages(data)
    return ink, size, parted.tiles[0]


@pytest.fixture(scope="module")
def tiled(drawing):
    data, parted = book(drawing, "a4")
    return list(pages(data)), parted


def _closed(curve):
    points = Loop(curve.points, curve.bulges).flattened()
    return np.vstack([points, points[:1]])


def test_outlines_are_true_on_the_page(one_page, drawing) -> None:
    """Every half millimetre of every outline has ink within 0.2 mm, over the plate's 500 mm."""
    ink, _, tile = one_page
    for curve in drawing.curves:
        if curve.layer == "CUT":
            there = np.array([tile.on_page(point) for point in along(_closed(curve))])
            assert distance_to_ink(ink, there).max() <= 0.2


def test_the_plate_measures_500_mm(one_page) -> None:
    """From the left edge to the right edge of the drawn plate, middle of line to middle of line: 500 +- 0.2 mm."""
    ink, _, tile = one_page
    row = round(tile.on_page((0.0, 70.0))[1] / MM_PER_PIXEL)
    left, right = (tile.on_page((x, 70.0))[0] for x in (20.0, 520.0))
    middles = []
    for wanted in (left, right):
        near = np.flatnonzero(ink[row]) * MM_PER_PIXEL + MM_PER_PIXEL / 2.0
        middles.append(near[np.abs(near - wanted) < 1.0].mean())
    assert middles[1] - middles[0] == pytest.approx(500.0, abs=0.2)


def test_nothing_is_drawn_that_should_not_be(one_page, drawing) -> None:
    """Between the plate's outlines, away from every line, there is no ink."""
    ink, _, tile = one_page
    x, y = tile.on_page((250.0, 140.0))
    patch = ink[
        int((y - 3) / MM_PER_PIXEL) : int((y + 3) / MM_PER_PIXEL),
        int((x - 40) / MM_PER_PIXEL) : int((x + 40) / MM_PER_PIXEL),
    ]
    assert not patch.any()


def test_pages_have_their_paper_size(tiled, one_page) -> None:
    """Tiles are A4 within a hundredth of a millimetre; the one page holds the whole drawing."""
    for _, size in tiled[0]:
        assert sorted(size) == pytest.approx([210.0, 297.0], abs=0.01)
    assert one_page[1][0] > 540.0


def test_tiles_put_together_give_the_one_page(tiled, one_page, drawing) -> None:
    """Laid by their windows, the tiles' ink covers every outline of the one page within 0.3 mm, and the reverse."""
    whole, _, single = one_page
    shown, parted = tiled
    assert len(shown) == len(parted.tiles) > 3
    for (ink, _), tile in zip(shown, parted.tiles, strict=True):
        for curve in drawing.curves:
            if curve.layer != "CUT":
                continue
            points = along(_closed(curve))
            x0, y0, x1, y1 = tile.window
            inside = points[np.all((points > (x0 + 0.5, y0 + 0.5)) & (points < (x1 - 0.5, y1 - 0.5)), axis=1)]
            if len(inside):
                here, there = (np.array([t.on_page(p) for p in inside]) for t in (tile, single))
                assert distance_to_ink(ink, here).max() <= 0.3
                assert distance_to_ink(whole, there).max() <= 0.3


def test_tiles_agree_pixel_by_pixel(tiled, one_page) -> None:
    """Away from crosses and names, every dark pixel of a tile has one of the one page within 0.3 mm."""
    whole, _, single = one_page
    for (ink, _), tile in zip(*(tiled[0], tiled[1].tiles), strict=True):
        rows, columns = np.nonzero(ink)
        x, y = (columns + 0.5) * MM_PER_PIXEL, (rows + 0.5) * MM_PER_PIXEL
        drawn = np.column_stack([x - MARGIN_MM + tile.window[0], y - MARGIN_MM - FOOT_MM + tile.window[1]])
        crosses = np.array(tiled[1].crosses)
        clear = np.linalg.norm(drawn[:, None] - crosses, axis=2).min(axis=1) > 6.0
        x0, y0, x1, y1 = tile.window
        clear &= np.all((drawn > (x0 + 1, y0 + 12)) & (drawn < (x1 - 1, y1 - 1)), axis=1)
        box_x0, box_y0, box_x1, box_y1 = -0.0, -5.0, 540.0, 420.0
        clear &= np.all((drawn > (box_x0, box_y0)) & (drawn < (box_x1, box_y1)), axis=1)
        if clear.any():
            there = np.array([single.on_page(point) for point in drawn[clear][::7]])
            assert distance_to_ink(whole, there).max() <= 0.3


def test_check_bars_on_every_page(tiled) -> None:
    """Level and upright bars of 100 mm and 4 in, end tick to end tick, true within 0.2 mm on every page."""
    for ink, size in tiled[0]:
        for k, length in enumerate(BARS_MM):
            level = MARGIN_MM + 7.0 + 5.5 * k
            upright = size[0] - MARGIN_MM - 1.0 - 5.5 * (1 - k)
            ends = [(MARGIN_MM, level - 1.2), (MARGIN_MM + length, level - 1.2)]
            ends += [(upright + 1.2, MARGIN_MM + FOOT_MM), (upright + 1.2, MARGIN_MM + FOOT_MM + length)]
            run = along([(MARGIN_MM, level), (MARGIN_MM + length, level)])
            assert distance_to_ink(ink, np.array(ends)).max() <= 0.2
            assert distance_to_ink(ink, run).max() <= 0.2


def test_every_page_says_measure_before_cutting(drawing) -> None:
    """The words stand on each page, at all four bars."""
    import pypdfium2

    data, _ = book(drawing, "letter")
    for page in pypdfium2.PdfDocument(data):
        assert page.get_textpage().get_text_range().count("measure before cutting") == 4


def test_same_drawing_same_bytes(drawing) -> None:
    """The file holds no date and no random name."""
    assert book(drawing, "a4")[0] == book(drawing, "a4")[0]


def test_no_scaling_is_asked_for(drawing) -> None:
    """The viewer is told not to fit pages to the paper."""
    assert b"/PrintScaling /None" in book(drawing, "a4")[0]


def test_arcs_as_curves_stay_on_the_arc() -> None:
    """Points of the cubic curves lie within 0.03 % of the radius of the circle."""
    (x0, y0), (x1, y1) = (30.0, 0.0), (-30.0, 0.0)
    start = np.array([x0, y0])
    for p, q, end in beziers((x0, y0), (x1, y1), 1.0):
        t = np.linspace(0, 1, 50)[:, None]
        points = (1 - t) ** 3 * start + 3 * t * (1 - t) ** 2 * p + 3 * t**2 * (1 - t) * q + t**3 * np.array(end)
        assert np.abs(np.linalg.norm(points, axis=1) - 30.0).max() <= 3e-4 * 30.0
        start = np.array(end)
    np.testing.assert_allclose(start, (x1, y1), atol=1e-9)


def test_letters_that_no_reader_has_become_question_marks() -> None:
    """Degrees and umlauts are kept; others do not break the page."""
    assert plain("45° Flügel 翼") == "45° Flügel ?"


def test_the_plate_has_an_arc() -> None:
    """The sample is not all straight, or the tests above would say less."""
    assert not PLATE.is_straight and PAPERS["a4"].window == (177.0, 258.0)
