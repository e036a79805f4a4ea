"""What there is to cut from: sheets, off-cuts, wire and sticks, and how cutting is done."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from airframe.schema.base import Distance, Length, SheetName, Table, default


class StockSheet(Table):
    """One size of sheet, or an off-cut, of one material; used in the order they are listed."""

    material: SheetName
    """What it is a sheet of."""
    length_mm: Length
    """Its longer side, as it lies on the table from left to right."""
    width_mm: Length
    """Its other side."""
    count: int | None = Field(strict=True, default=None, ge=1, le=999)
    """How many there are; left out: as many as it takes, to be bought."""
    grain: Literal["length", "width", "any"] | None = None
    """Which way the grain of the faces, or of the paper, runs; left out: along the length of plywood and wood, any way
    for the rest."""


class Trim(Table):
    """Parts that are cut oversize and trimmed to fit."""

    on: str
    """Names of parts; * stands for anything, e.g. "cowl*"."""
    allowance_mm: Length
    """How much is added all round; the finished edge is marked."""


class Stock(Table):
    """What parts are cut from, and how."""

    sheet_length_mm: Length = default("762 mm")
    """Of a foam sheet: 30 in, the trade's common size (from memory)."""
    sheet_width_mm: Length = default("508 mm")
    """Of a foam sheet: 20 in, the trade's common size (from memory)."""
    small_sheet_length_mm: Length = default("300 mm")
    """Of a sheet of plywood, balsa, clear or plastic: a hobby shop's common size (from memory)."""
    small_sheet_width_mm: Length = default("200 mm")
    """The other side of such a sheet."""
    sheets: tuple[StockSheet, ...] = ()
    """What you have, off-cuts first; a material with no sheet here comes in the sizes above."""
    kerf_mm: Distance = default("0 mm")
    """What the cut takes away: nothing for a knife, 0.2 mm or so for a laser, more for a saw. It is kept free between
    parts; the drawn lines stay the parts' true edges."""
    gap_mm: Distance = default("2 mm")
    """Least distance between parts, beside the kerf."""
    margin_mm: Distance = default("5 mm")
    """Kept free along a sheet's edges, which are dented or out of square."""
    wire_length_mm: Length = default("1000 mm")
    """In which music wire comes."""
    stick_length_mm: Length = default("1000 mm")
    """In which dowel and strip come."""
    trim: tuple[Trim, ...] = ()
    """Parts with an allowance to trim off."""

    def usable_mm(self, material: str) -> tuple[float, float]:
        """Length and width of the largest piece that a sheet of a foam gives, its margins kept free."""
        stated = [(sheet.length_mm, sheet.width_mm) for sheet in self.sheets if sheet.material == material]
        length, width = max(stated, default=(self.sheet_length_mm, self.sheet_width_mm))
        return length - 2.0 * self.margin_mm, width - 2.0 * self.margin_mm
