"""The key: how the lines are to be read, and which page shows what of which sheet."""

from __future__ import annotations

from collections.abc import Sequence

from airframe.cutting.assembly import GLUE_ORDER
from airframe.cutting.papers import Paper, Tiling
from airframe.drawing import Point2
from viewers.paper.drawing import FAR_MM, LAYERS, STYLES, Drawing
from viewers.paper.pdf import Book
from viewers.paper.writer import BODY_MM, TITLE_MM, Writer

NUMBER_MM = 2.0
TILE_MM = 6.0
HIGHEST_MM, LOW_MM = 95.0, 45.0
"""Of drawings on several pages, and on one."""
GAP_MM = 8.0
Numbered = tuple[Drawing, Tiling, Sequence[tuple[str, Point2]]]
"""A drawing, how it is parted over pages, and the numbers of its parts with where they lie."""


def key_pages(book: Book, name: str, paper: Paper, drawings: Sequence[Numbered]) -> None:
    """A legend, then every drawing in small with its pages marked and its parts numbered."""
    writer = Writer(book, paper, "key")
    writer.new_page()
    writer.heading(f"{name}: full-size templates", TITLE_MM)
    writer.paragraph(
        "Print at 100 %, on one side, without fitting to the page. Measure the bars on every page before "
        "cutting: 100 mm and 4 in, level and upright. Estimates from a drawing, no clearance to fly: building "
        "notes and cautions follow at the end."
    )
    _legend(book, writer)
    if any(len(tiling.tiles) > 1 for _, tiling, _ in drawings):
        writer.paragraph(GLUE_ORDER, "Glue order")
    large = [one for one in drawings if len(one[1].tiles) > 1]
    small = [one for one in drawings if len(one[1].tiles) == 1]
    rows = [[one] for one in large] + [small[k : k + 2] for k in range(0, len(small), 2)]
    for row in rows:
        _row(book, writer, row)


def _row(book: Book, writer: Writer, row: Sequence[Numbered]) -> None:
    """One large drawing, or two small ones beside one another, each under its title."""
    is_large = len(row[0][1].tiles) > 1
    width = writer.right - writer.left if is_large else (writer.right - writer.left - GAP_MM) / 2.0
    extents = [(one[0].box[2] - one[0].box[0], one[0].box[3] - one[0].box[1]) for one in row]
    scales = [min(width / x, (HIGHEST_MM if is_large else LOW_MM) / y, 1.0) for x, y in extents]
    height = max(y * scale for (_, y), scale in zip(extents, scales, strict=True))
    writer.room(height + 10.0)
    writer.y -= 7.0
    for k, (one, scale) in enumerate(zip(row, scales, strict=True)):
        left, pages = writer.left + k * (width + GAP_MM), len(one[1].tiles)
        count = f": {pages} pages" if pages > 1 else ""
        book.text(left, writer.y, f"{one[0].title}{count}", BODY_MM, bold=True)
        _in_small(book, (left, writer.y - height - 2.0), scale, one)
    writer.y -= height + 2.0


def _legend(book: Book, writer: Writer) -> None:
    rows = [(layer, STYLES[layer].dashes_mm, STYLES[layer].words) for layer in LAYERS if layer != "TEXT"]
    rows.append(("MARK", FAR_MM, "on the face underneath"))
    for layer, dashes, words in rows:
        writer.y -= 2.4 * BODY_MM
        start = (writer.left, writer.y + BODY_MM / 2.0)
        if layer == "GRAIN":
            book.arrow(start, 30.0)
        else:
            book.sample(layer, dashes, start, 30.0)
        book.text(writer.left + 34.0, writer.y, words, BODY_MM)
    writer.y -= BODY_MM


def _in_small(book: Book, corner: Point2, scale: float, numbered: Numbered) -> None:
    """A drawing in small, its pages and parts over it."""
    drawing, tiling, numbers = numbered
    x0, y0, x1, y1 = drawing.box
    book.shrunk(drawing, corner, scale)

    def at(point: Point2) -> Point2:
        return corner[0] + (point[0] - x0) * scale, corner[1] + (point[1] - y0) * scale

    for tile in tiling.tiles if len(tiling.tiles) > 1 else ():
        a, b = at((max(tile.window[0], x0), max(tile.window[1], y0)))
        c, d = at((min(tile.window[2], x1), min(tile.window[3], y1)))
        book.rectangle((a, b, c, d), (1.0, 1.0))
        book.text((a + c) / 2.0 - TILE_MM, (b + d) / 2.0, tile.name, TILE_MM, bold=True, grey=0.65)
    for number, point in numbers:
        x, y = at(point)
        book.text(x - 0.4 * NUMBER_MM * len(number), y - NUMBER_MM / 2.0, number, NUMBER_MM, bold=True)
