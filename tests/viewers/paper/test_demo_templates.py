"""The demos' templates, measured on what leaves the screen: files re-read, pages rasterised."""

from __future__ import annotations

import io
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import shapely

from airframe.config import load
from airframe.cutting.plan import plan
from airframe.drawing import Loop
from airframe.model import Aeroplane
from tests.viewers.paper.conftest import along, distance_to_ink, pages
from viewers.paper.dxf import dxf
from viewers.paper.pdf import Book
from viewers.paper.templates import tiled_drawings

CONFIGS = Path(__file__).parents[3] / "configs"


@pytest.fixture(scope="module", params=["teasel-mk1", "teasel-mk2", "plover"])
def demo(request):
    aeroplane = Aeroplane(load(CONFIGS / f"{request.param}.toml"))
    return aeroplane, plan(aeroplane.design, aeroplane.parts, 0.0, 0)


def cut_loops(pattern):
    return (pattern.outline, *pattern.holes)


def corner_distances(points):
    """All distances between corners, sorted: the same for a figure moved, turned or mirrored."""
    corners = np.asarray(points)
    return np.sort(np.linalg.norm(corners[:, None] - corners, axis=2), axis=None)


def test_outlines_in_the_dxf_are_true(demo) -> None:
    """Re-read, each part's outline and holes are where the plan has them, in order, within a thousandth of a
    millimetre; and those of a part without bevels have the very distances of its own drawing between corners."""
    aeroplane, worked_out = demo
    drawings = tiled_drawings(worked_out, "plot", aeroplane.design.units)
    for (drawing, *_), sheet in zip(drawings, worked_out.sheets, strict=False):
        read = iter(ezdxf.read(io.StringIO(dxf(drawing).decode())).modelspace().query('LWPOLYLINE[layer=="CUT"]'))
        for pattern in sheet.patterns:
            for number, loop in enumerate(cut_loops(pattern)):
                rows = [(x, y, bulge) for x, y, _, _, bulge in next(read)]
                found = Loop(tuple((x, y) for x, y, _ in rows), tuple(bulge for *_, bulge in rows))
                rings = [shapely.LinearRing(one.flattened()) for one in (found, loop)]
                assert shapely.hausdorff_distance(*rings) <= 1e-3, pattern.name
                panel = pattern.part.shape
                own = (panel.outline, *panel.holes)[number]
                if not panel.bevels and not aeroplane.design.stock.trim:
                    np.testing.assert_allclose(
                        corner_distances(found.points), corner_distances(own.points), atol=1e-3, err_msg=pattern.name
                    )
        assert next(read, None) is None


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "plot"])
def test_outlines_in_the_pdf_are_true(demo, paper) -> None:
    """At 300 dpi every half millimetre of every outline and hole has ink within 0.2 mm, on the one page and on each
    of the tiles that show it: so the tiles put together give the one page, and no stretch is on no tile."""
    aeroplane, worked_out = demo
    drawings = tiled_drawings(worked_out, paper, aeroplane.design.units)
    for (drawing, parted, _), sheet in zip(drawings, worked_out.sheets, strict=False):
        book = Book("true")
        book.tiles(drawing, parted)
        rings = [loop.flattened() for pattern in sheet.patterns for loop in cut_loops(pattern)]
        points = np.vstack([along(np.vstack([corners, corners[:1]])) for corners in rings])
        shown = np.zeros(len(points), dtype=bool)
        for (ink, _), tile in zip(pages(book.bytes()), parted.tiles, strict=True):
            x0, y0, x1, y1 = tile.window
            inside = np.all((points > (x0 + 0.5, y0 + 0.5)) & (points < (x1 - 0.5, y1 - 0.5)), axis=1)
            shown |= inside
            there = points[inside] + np.array(tile.on_page((0.0, 0.0)))
            assert distance_to_ink(ink, there).max() <= 0.2, (sheet.number, tile.name)
        assert shown.all()
