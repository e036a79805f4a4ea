"""Paper arithmetic: how a large drawing is parted over pages at true size. No drawing library in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil
from typing import Literal

from airframe.drawing import Point2
from airframe.units import MM_PER_INCH

PaperName = Literal["a4", "a3", "letter", "plot"]
Box = tuple[float, float, float, float]
"""Left, bottom, right, top (mm)."""

MARGIN_MM = 10.0
"""What printers leave white, and a little more (common practice, no source)."""
FOOT_MM = 19.0
"""Under the drawing, for its name and the level check bars."""
SIDE_MM = 13.0
"""Right of the drawing, for the upright check bars."""
OVERLAP_MM = 10.0
"""What neighbouring pages both show."""
CROSS_SHARES = (0.2, 0.8)
"""Where along each edge of a page its registration crosses stand: two, so that the page cannot turn."""
BARS_MM = (100.0, 4.0 * MM_PER_INCH)
"""Lengths of the check bars: 100 mm and 4 in."""


@dataclass(frozen=True)
class Paper:
    """A page held upright."""

    name: str
    width_mm: float
    height_mm: float

    def turned(self) -> Paper:
        """The page held sideways."""
        return Paper(self.name, self.height_mm, self.width_mm)

    @property
    def window(self) -> Point2:
        """Width and height of the drawing that it shows (mm)."""
        return self.width_mm - 2.0 * MARGIN_MM - SIDE_MM, self.height_mm - 2.0 * MARGIN_MM - FOOT_MM


PAPERS = {
    "a4": Paper("A4", 210.0, 297.0),
    "a3": Paper("A3", 297.0, 420.0),
    "letter": Paper("US letter", 8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH),
}
"""ISO 216, and 8 1/2 x 11 in."""


@dataclass(frozen=True)
class Tile:
    """One page of a drawing."""

    row: int
    """From 0, at the top."""
    column: int
    """From 0, at the left."""
    window: Box
    """What it shows, in the drawing's millimetres; it stands on the page at (MARGIN, MARGIN + FOOT)."""

    @property
    def name(self) -> str:
        """Row in letters, column in figures: "B3"."""
        return f"{_letters(self.row)}{self.column + 1}"

    def on_page(self, point: Point2) -> Point2:
        """Where a point of the drawing comes to stand on the page, from its lower left corner (mm)."""
        return point[0] - self.window[0] + MARGIN_MM, point[1] - self.window[1] + MARGIN_MM + FOOT_MM


@dataclass(frozen=True)
class Tiling:
    """A drawing parted over pages."""

    paper: Paper
    rows: int
    columns: int
    tiles: tuple[Tile, ...]
    """Those with something on them, row by row."""
    crosses: tuple[Point2, ...]
    """Registration crosses, in the drawing's millimetres: the same ones on all pages that show the spot."""
    seams: tuple[tuple[Point2, Point2], ...]
    """Where the pages are trimmed: through the middles of the overlaps, across the whole drawing."""


def _letters(row: int) -> str:
    text = ""
    while row >= 0:
        row, rest = divmod(row, 26)
        text = chr(ord("A") + rest) + text
        row -= 1
    return text


def tiling(box: Box, paper: PaperName, has_ink: Callable[[Box], bool] = lambda _: True) -> Tiling:
    """Part a drawing over pages, held whichever way takes fewer; pages without ink are left out.

    `plot` gives one page as large as the drawing.
    """
    pages = pages_of(paper)
    if not pages:
        return _whole(box)
    return min((parted(box, page, has_ink) for page in pages), key=lambda way: len(way.tiles))


def pages_of(paper: PaperName) -> tuple[Paper, ...]:
    """A paper held upright and sideways; none for the plotter's."""
    return () if paper == "plot" else (PAPERS[paper], PAPERS[paper].turned())


def _whole(box: Box) -> Tiling:
    least = BARS_MM[1] + MARGIN_MM
    width, height = max(box[2] - box[0], least), max(box[3] - box[1], least)
    page = Paper("one page", width + 2.0 * MARGIN_MM + SIDE_MM, height + 2.0 * MARGIN_MM + FOOT_MM)
    tile = Tile(0, 0, (box[0], box[1], box[0] + width, box[1] + height))
    return Tiling(page, 1, 1, (tile,), (), ())


def parted(box: Box, page: Paper, has_ink: Callable[[Box], bool] = lambda _: True) -> Tiling:
    """Part a drawing over pages held as stated, from its upper left corner; pages without ink are left out."""
    width, height = page.window
    columns, rows = _count(box[2] - box[0], width), _count(box[3] - box[1], height)
    step_x, step_y = width - OVERLAP_MM, height - OVERLAP_MM
    tiles = []
    for row in range(rows):
        top = box[3] - row * step_y
        for column in range(columns):
            left = box[0] + column * step_x
            window = (left, top - height, left + width, top)
            if has_ink(window):
                tiles.append(Tile(row, column, window))
    seams_x = [box[0] + k * step_x + OVERLAP_MM / 2.0 for k in range(1, columns)]
    seams_y = [box[3] - k * step_y - OVERLAP_MM / 2.0 for k in range(1, rows)]
    between_x = [box[0] + k * step_x + width * share for k in range(columns) for share in CROSS_SHARES]
    between_y = [box[3] - k * step_y - height * share for k in range(rows) for share in CROSS_SHARES]
    crosses = [(x, y) for x in seams_x for y in (*seams_y, *between_y)] + [(x, y) for x in between_x for y in seams_y]
    bottom, right = box[3] - (rows - 1) * step_y - height, box[0] + (columns - 1) * step_x + width
    upright = [((x, bottom), (x, box[3])) for x in seams_x]
    level = [((box[0], y), (right, y)) for y in seams_y]
    return Tiling(page, rows, columns, tuple(tiles), tuple(crosses), (*upright, *level))


def _count(extent: float, window: float) -> int:
    return max(ceil((extent - OVERLAP_MM) / (window - OVERLAP_MM)), 1)
