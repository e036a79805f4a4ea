"""Cells and tables of figures with their bands, as all flight tables set them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from airframe.flight.bands import Band
from airframe.units import System
from viewers.tables import Column, Row, Table

Words = Callable[[float, System], str]


def band_of(values: Sequence[float]) -> Band:
    """The first value with the extremes of all."""
    return Band(min(values), values[0], max(values))


def cells(band: Band, words: Words, system: System) -> tuple[str, str]:
    """The likely value, and the band's ends, in words with their unit."""
    return words(band.middle, system), f"{words(band.low, system)} to {words(band.high, system)}"


def ends(band: Band, decimals: int) -> str:
    """A band's ends without a unit."""
    return f"{band.low:.{decimals}f} to {band.high:.{decimals}f}"


def three(title: str, rows: tuple[tuple[str, str, str], ...]) -> Table:
    """A table of figures: name, estimate, band or what it means."""
    columns = (Column("figure"), Column("estimate", "right"), Column("band, or what it means"))
    return Table(title, columns, tuple(Row(row) for row in rows))
