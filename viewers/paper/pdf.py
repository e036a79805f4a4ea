"""Writes drawings as PDF at true size, tiled over pages, with check bars on every one."""

from __future__ import annotations

import io
from collections.abc import Sequence
from math import degrees
from typing import Any

from airframe.cutting.papers import BARS_MM, FOOT_MM, MARGIN_MM, SIDE_MM, Box, Paper, Tile, Tiling
from viewers.paper.drawing import STYLES, Curve, Drawing, Layer, Text, beziers

POINTS_PER_MM = 72.0 / 25.4
FONT, BOLD = "Helvetica", "Helvetica-Bold"
CAPITAL = 0.718
"""Height of a capital of the font over its size."""
HAIR_MM = 0.1
CROSS_MM = 4.0
"""Arm of a registration cross."""
TILE_NAME_MM = 5.5
WORDS = "measure before cutting"


class Book:
    """Pages one after the other; everything is given in millimetres from a page's lower left corner."""

    def __init__(self, title: str) -> None:
        from reportlab.pdfgen.canvas import Canvas

        self._stream = io.BytesIO()
        self._canvas: Any = Canvas(self._stream, invariant=1, pageCompression=1)
        self._canvas.setTitle(title)
        self._canvas.setCreator("airframe")
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._forms: set[str] = set()
        self.title = title
        self.pages = 0

    def bytes(self) -> bytes:
        """The finished file."""
        self._canvas.save()
        return self._stream.getvalue()

    # --- pages ----------------------------------------------------------------------------------------------

    def page(self, paper: Paper, name: str) -> None:
        """Start a page, with check bars, its name and the words beside them."""
        if self.pages:
            self._canvas.showPage()
        self.pages += 1
        self._canvas.setPageSize((paper.width_mm * POINTS_PER_MM, paper.height_mm * POINTS_PER_MM))
        self._canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
        self._bars(paper)
        self.text(MARGIN_MM, MARGIN_MM + 1.0, f"{self.title}   {name}   page {self.pages}", 2.2, bold=True)

    def tiles(self, drawing: Drawing, tiling: Tiling) -> None:
        """A page for every tile of a drawing."""
        self.define(drawing)
        for tile in tiling.tiles:
            where = f"tile {tile.name} of {tiling.rows} x {tiling.columns}" if tiling.rows * tiling.columns > 1 else ""
            self.page(tiling.paper, f"{drawing.title}   {where}")
            self._tile(drawing, tiling, tile)
            if where:
                self._name_tile(tiling.paper, f"{drawing.title.partition(':')[0]}   {tile.name}")

    def _tile(self, drawing: Drawing, tiling: Tiling, tile: Tile) -> None:
        x0, y0, x1, y1 = tile.window
        left, bottom = tile.on_page((x0, y0))
        self._canvas.saveState()
        path = self._canvas.beginPath()
        path.rect(left, bottom, x1 - x0, y1 - y0)
        self._canvas.clipPath(path, stroke=0, fill=0)
        self._canvas.translate(left - x0, bottom - y0)
        self._canvas.doForm(drawing.name)
        self._canvas.restoreState()
        if len(tiling.tiles) > 1:
            self._register(tiling, tile)

    def _register(self, tiling: Tiling, tile: Tile) -> None:
        x0, y0, x1, y1 = tile.window
        left, bottom = tile.on_page((x0, y0))
        self.rectangle((left, bottom, left + x1 - x0, bottom + y1 - y0), (0.4, 1.6))
        for cross in tiling.crosses:
            if x0 < cross[0] < x1 and y0 < cross[1] < y1:
                x, y = tile.on_page(cross)
                self.line((x - CROSS_MM, y), (x + CROSS_MM, y))
                self.line((x, y - CROSS_MM), (x, y + CROSS_MM))
                self._canvas.circle(x, y, CROSS_MM / 2.0)

    def _name_tile(self, paper: Paper, words: str) -> None:
        """The page's place in its drawing, large, in the foot's right-hand corner where nothing is drawn."""
        self._canvas.setFont(BOLD, TILE_NAME_MM / CAPITAL)
        self._canvas.drawRightString(paper.width_mm - MARGIN_MM - SIDE_MM, MARGIN_MM + 7.0, plain(words))

    def _bars(self, paper: Paper) -> None:
        """100 mm and 4 in, level in the foot and upright at the right."""
        for k, (length, words) in enumerate(zip(BARS_MM, ("100 mm", "4 in"), strict=True)):
            y = MARGIN_MM + 7.0 + 5.5 * k
            self._bar((MARGIN_MM, y), length, f"{words}: {WORDS}", False)
            x = paper.width_mm - MARGIN_MM - 1.0 - 5.5 * (1 - k)
            self._bar((x, MARGIN_MM + FOOT_MM), length, f"{words}: {WORDS}", True)

    def _bar(self, start: tuple[float, float], length_mm: float, words: str, is_upright: bool) -> None:
        self._canvas.saveState()
        self._canvas.translate(*start)
        if is_upright:
            self._canvas.rotate(90)
        self._canvas.setLineWidth(0.2)
        self._canvas.line(0.0, 0.0, length_mm, 0.0)
        for x in (0.0, length_mm):
            self._canvas.line(x, -1.5, x, 1.5)
        self._canvas.restoreState()
        if is_upright:
            self.text(start[0] - 0.8, start[1] + 3.0, words, 1.8, angle_deg=90.0)
        else:
            self.text(start[0] + 3.0, start[1] + 0.8, words, 1.8)

    # --- strokes --------------------------------------------------------------------------------------------

    def line(self, start: tuple[float, float], end: tuple[float, float], width_mm: float = HAIR_MM) -> None:
        """A straight line."""
        self._canvas.setDash([])
        self._canvas.setLineWidth(width_mm)
        self._canvas.line(*start, *end)

    def rectangle(self, box: Box, dashes_mm: Sequence[float] = (), width_mm: float = HAIR_MM) -> None:
        """An empty rectangle."""
        self._canvas.setLineWidth(width_mm)
        self._canvas.setDash(list(dashes_mm))
        self._canvas.rect(box[0], box[1], box[2] - box[0], box[3] - box[1])
        self._canvas.setDash([])

    def sample(self, layer: Layer, dashes_mm: Sequence[float], start: tuple[float, float], length_mm: float) -> None:
        """A stretch of a layer's line, for a legend."""
        self._canvas.setLineWidth(STYLES[layer].width_mm)
        self._canvas.setDash(list(dashes_mm))
        self._canvas.line(start[0], start[1], start[0] + length_mm, start[1])
        self._canvas.setDash([])

    def arrow(self, start: tuple[float, float], length_mm: float) -> None:
        """A level arrow with two heads, as it shows the grain."""
        self.sample("GRAIN", (), start, length_mm)
        for x, way in ((start[0], 1.0), (start[0] + length_mm, -1.0)):
            for rise in (0.7, -0.7):
                self.line((x, start[1]), (x + 2.0 * way, start[1] + rise), STYLES["GRAIN"].width_mm)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        height_mm: float,
        *,
        bold: bool = False,
        angle_deg: float = 0.0,
        grey: float = 0.0,
    ) -> None:
        """Lettering from a point on its base line, its capitals so high; from black (0) to white (1)."""
        self._canvas.saveState()
        self._canvas.setFillGray(grey)
        self._canvas.translate(x, y)
        self._canvas.rotate(angle_deg)
        self._canvas.setFont(BOLD if bold else FONT, height_mm / CAPITAL)
        self._canvas.drawString(0.0, 0.0, plain(words))
        self._canvas.restoreState()

    # --- drawings -------------------------------------------------------------------------------------------

    def define(self, drawing: Drawing) -> None:
        """Put a drawing into the file, once, for every page that shows some of it."""
        if drawing.name in self._forms:
            return
        self._forms.add(drawing.name)
        x0, y0, x1, y1 = drawing.box
        self._canvas.beginForm(drawing.name, x0, y0, x1, y1)
        for curve in drawing.curves:
            self._curve(curve)
        for text in drawing.texts:
            self._letter(text)
        self._canvas.endForm()

    def shrunk(self, drawing: Drawing, corner: tuple[float, float], scale: float) -> None:
        """What is cut, and the sheet's edge, made smaller; the lower left of the drawing's box at a corner."""
        self._canvas.saveState()
        self._canvas.translate(*corner)
        self._canvas.scale(scale, scale)
        self._canvas.translate(-drawing.box[0], -drawing.box[1])
        shown = [curve for curve in drawing.curves if curve.layer == "CUT"] or list(drawing.curves)
        for curve in [*drawing.curves[:1], *shown]:
            self._curve(curve, HAIR_MM / scale)
        self._canvas.restoreState()

    def _curve(self, curve: Curve, width_mm: float | None = None) -> None:
        self._canvas.setLineWidth(width_mm or STYLES[curve.layer].width_mm)
        self._canvas.setDash(list(curve.dashes_mm))
        self._canvas.setLineJoin(1)
        path = self._canvas.beginPath()
        path.moveTo(*curve.points[0])
        for start, end, bulge in curve.edges():
            if bulge:
                for first, second, last in beziers(start, end, bulge):
                    path.curveTo(*first, *second, *last)
            else:
                path.lineTo(*end)
        if curve.is_closed:
            path.close()
        self._canvas.drawPath(path, stroke=1, fill=0)

    def _letter(self, text: Text) -> None:
        self._canvas.saveState()
        self._canvas.translate(*text.at)
        self._canvas.rotate(degrees(text.angle_rad))
        self._canvas.setFont(FONT, text.height_mm / CAPITAL)
        write = self._canvas.drawCentredString if text.is_centred else self._canvas.drawString
        write(0.0, -text.height_mm / 2.0, plain(text.text))
        self._canvas.restoreState()


def plain(words: str) -> str:
    """Words in the letters that every PDF reader has built in; others become a question mark."""
    return words.encode("cp1252", "replace").decode("cp1252")


def text_window(paper: Paper) -> Box:
    """Where a page has room for text: inside its margins, above the foot, left of the upright bars."""
    return MARGIN_MM, MARGIN_MM + FOOT_MM, paper.width_mm - MARGIN_MM - SIDE_MM, paper.height_mm - MARGIN_MM
