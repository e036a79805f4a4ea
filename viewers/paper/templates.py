"""Writes the templates of an aeroplane into a folder: PDF to print, DXF and SVG for machines, a shopping list."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from airframe import units
from airframe.cutting.papers import PAPERS, Box, PaperName, Tiling, pages_of, parted, tiling
from airframe.cutting.plan import SECONDS, CuttingPlan, plan
from airframe.cutting.sheets import Sheet
from airframe.drawing import Point2
from airframe.writing import write_folder
from viewers.paper.drawing import Drawing
from viewers.paper.dxf import dxf
from viewers.paper.key_page import Numbered, key_pages
from viewers.paper.notes import notes
from viewers.paper.pdf import Book
from viewers.paper.sheet_drawing import sheet_box, sheet_drawing
from viewers.paper.svg import svg
from viewers.paper.wire_drawing import wire_drawing

if TYPE_CHECKING:
    import shapely

    from airframe.model import Aeroplane

PDF = "templates.pdf"
SHOPPING = "shopping-list.txt"
INK_ROOM_MM = 1.0
"""Printed round what is to be cut, at least."""


def write_templates(
    aeroplane: Aeroplane,
    folder: Path,
    paper: PaperName = "a4",
    seconds: float = SECONDS,
    seed: int = 0,
    tell: Callable[[str], None] = lambda _: None,
) -> list[Path]:
    """Write everything that is needed to cut the aeroplane's parts; the folder is made if need be.

    The PDF comes first among the returned paths. Nothing is written before everything is made, and either all files are
    written or none. The same seed and seconds give the same files, byte for byte. Raises PartError for what
    no stock takes, WriteError.
    """
    design = aeroplane.design
    worked_out = plan(design, aeroplane.parts, seconds, seed, tell)
    tell("drawing the sheets")
    tiled = tiled_drawings(worked_out, paper, design.units)
    tell("writing")
    contents = {PDF: pdf(worked_out, tiled, paper, design.units)}
    for drawing, _, _ in tiled:
        contents[f"{drawing.name}.dxf"] = dxf(drawing)
        contents[f"{drawing.name}.svg"] = svg(drawing)
    contents[SHOPPING] = shopping_list(worked_out, design.units).encode()
    return write_folder(folder, contents)


def left_over(folder: Path, written: Sequence[Path]) -> list[Path]:
    """Sheets of an earlier plan in the same folder: they look like this plan's and are not."""
    found = (path for ending in ("dxf", "svg") for path in folder.glob(f"sheet-*.{ending}"))
    return sorted(path for path in found if path not in written)


def tiled_drawings(worked_out: CuttingPlan, paper: PaperName, system: units.System) -> list[Numbered]:
    """Every sheet, then the wires, each with its pages."""
    numbers = worked_out.numbers()
    made: list[Numbered] = []
    for sheet in worked_out.sheets:
        parted_so = _sheet_tiling(sheet, paper)
        made.append((sheet_drawing(sheet, numbers, system, parted_so.seams), parted_so, _numbered(sheet, numbers)))
    if worked_out.wires:
        made.append((*_wires_tiled(worked_out, paper, system), []))
    return made


def pdf(worked_out: CuttingPlan, tiled: list[Numbered], paper: PaperName, system: units.System) -> bytes:
    """Key, sheets, wires and notes in one file."""
    book = Book(worked_out.name)
    words_on = PAPERS["a4" if paper == "plot" else paper]
    key_pages(book, worked_out.name, words_on, tiled)
    for drawing, parted_so, _ in tiled:
        book.tiles(drawing, parted_so)
    notes(book, worked_out, words_on, system)
    return book.bytes()


def _numbered(sheet: Sheet, numbers: dict[str, int]) -> list[tuple[str, Point2]]:
    import shapely

    middles = [
        (pattern.name, shapely.Polygon(pattern.outline.flattened()).representative_point())
        for pattern in sheet.patterns
    ]
    return [(str(numbers[name]), (float(point.x), float(point.y))) for name, point in middles]


def _sheet_tiling(sheet: Sheet, paper: PaperName) -> Tiling:
    """Pages that show something to cut; the sheet's own edge and its name are no reason to print."""
    import shapely

    if paper == "plot":
        return tiling(sheet_box(sheet), paper)
    areas = [shapely.Polygon(pattern.outline.flattened()) for pattern in sheet.patterns]
    x0, y0, x1, y1 = shapely.total_bounds(areas).tolist()
    box = (x0 - INK_ROOM_MM, y0 - INK_ROOM_MM, x1 + INK_ROOM_MM, y1 + INK_ROOM_MM)
    return tiling(box, paper, _meets(areas))


def _wires_tiled(worked_out: CuttingPlan, paper: PaperName, system: units.System) -> tuple[Drawing, Tiling]:
    """The wires laid out for the pages, held whichever way takes fewer."""
    import shapely

    if paper == "plot":
        drawing = wire_drawing(worked_out.wires, system)
        return drawing, tiling(drawing.box, paper)
    ways = []
    for page in pages_of(paper):
        drawing = wire_drawing(worked_out.wires, system, page.window)
        shown = _meets([shapely.LineString(curve.flattened()) for curve in drawing.curves])
        ways.append((drawing, parted(drawing.box, page, shown)))
    return min(ways, key=lambda way: len(way[1].tiles))


def _meets(shapes: Sequence[shapely.Geometry]) -> Callable[[Box], bool]:
    import shapely

    return lambda window: bool(shapely.intersects(shapes, shapely.box(*window)).any())


def shopping_list(worked_out: CuttingPlan, system: units.System) -> str:
    """The shopping list as plain text."""
    rows = [f"{worked_out.name}: shopping list", "Masses: what ends up in the aeroplane, by the drawing."]
    for heading in dict.fromkeys(item.heading for item in worked_out.shopping):
        rows += ["", heading]
        for item in worked_out.shopping:
            if item.heading == heading:
                mass = units.mass(item.mass_g, system)
                rows.append(f"  {item.quantity:>9}  {item.what:<52} {mass:>9}  {item.note}".rstrip())
    return "\n".join([*rows, ""])
