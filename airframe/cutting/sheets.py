"""Patterns laid out on the sheets that the builder has or will buy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import ceil

from airframe import units
from airframe.axes import Array
from airframe.cutting.loops import Motion, bounds
from airframe.cutting.nesting import Bin, Nest, Piece, Spot, nest, turned
from airframe.cutting.patterns import Pattern
from airframe.drawing import PartError
from airframe.materials import Material
from airframe.schema.stock import Stock, StockSheet

GRAINED = ("plywood", "wood")
"""Looks of materials that have a grain; it runs along the pattern's length."""
_QUARTERS = {"length": (0, 2), "width": (1, 3), "any": (0, 1, 2, 3)}
TOLD = 3
"""How many sizes a refusal states."""
OVERLAP_MM = 1e-3
"""Parts may lie this much nearer than asked for before they are refused: rounding, no more."""


@dataclass(frozen=True)
class Sheet:
    """One sheet with everything that is cut from it, in its own millimetres from the lower left corner."""

    number: int
    """From 1, over all materials."""
    material: Material
    length_mm: float
    width_mm: float
    margin_mm: float
    grain: str
    """Runs along the "length" or the "width", or "any" way."""
    is_bought: bool
    """Whether it is to be bought; otherwise the builder has it."""
    patterns: tuple[Pattern, ...]

    @property
    def used_share(self) -> float:
        """Share of the sheet that ends up in the aeroplane, holes counted as used."""
        return sum(pattern.outline.area() for pattern in self.patterns) / (self.length_mm * self.width_mm)


def sheets(
    patterns: Sequence[Pattern],
    stock: Stock,
    seconds: float,
    seed: int,
    tell: Callable[[str], None] = lambda _: None,
    system: units.System = "metric",
) -> list[Sheet]:
    """Every pattern on some sheet of its material; the time is shared out by the number of parts.

    Raises PartError, by the parts' names, for parts that no sheet takes, and where the sheets at hand run out.
    """
    result: list[Sheet] = []
    for material in dict.fromkeys(pattern.material for pattern in patterns):
        own = [pattern for pattern in patterns if pattern.material == material]
        _refuse_large(material, own, stock, system)
    for material in dict.fromkeys(pattern.material for pattern in patterns):
        own = [pattern for pattern in patterns if pattern.material == material]
        share = seconds * len(own) / len(patterns)
        for sheet in _of_material(material, own, stock, share, seed, tell, system):
            result.append(replace(sheet, number=len(result) + 1))
    for sheet in result:
        _refuse_overlap(sheet, stock.gap_mm + stock.kerf_mm)
    return result


def kinds_of_sheet(material: Material, stock: Stock) -> list[StockSheet]:
    """The sheets of a material: those with a count first, for they are there; a usual size if none is stated."""
    stated = [sheet for sheet in stock.sheets if sheet.material == material.name]
    if not stated:
        is_foam = material.look == "foam"
        length = stock.sheet_length_mm if is_foam else stock.small_sheet_length_mm
        width = stock.sheet_width_mm if is_foam else stock.small_sheet_width_mm
        return [StockSheet.model_construct(material=material.name, length_mm=length, width_mm=width)]
    return sorted(stated, key=lambda sheet: sheet.count is None)


def grain(sheet: StockSheet, material: Material) -> str:
    """Which way the grain runs on a sheet."""
    return sheet.grain or ("length" if material.look in GRAINED else "any")


def _of_material(
    material: Material,
    own: list[Pattern],
    stock: Stock,
    seconds: float,
    seed: int,
    tell: Callable[[str], None],
    system: units.System,
) -> list[Sheet]:
    kinds = kinds_of_sheet(material, stock)
    table = [kind for kind in kinds for _ in range(kind.count or len(own))]
    bins = [_bin(kind, material, stock) for kind in table]
    pieces = [Piece(_corners(pattern)) for pattern in own]

    def progress(tried: int, used: int) -> None:
        tell(f"nesting {material.name}: {len(own)} parts, {used} sheet{'s' * (used > 1)}, layout {tried}")

    found = nest(pieces, bins, stock.gap_mm + stock.kerf_mm, seconds, seed, progress)
    _refuse_left_over(material, own, found, kinds, system)
    return [
        Sheet(
            0, material, table[i].length_mm, table[i].width_mm, stock.margin_mm, grain(table[i], material),
            table[i].count is None, _laid(own, found, i, stock.margin_mm),
        )
        for i, _ in found.reach
    ]  # fmt: skip


def _bin(kind: StockSheet, material: Material, stock: Stock) -> Bin:
    margins = 2.0 * stock.margin_mm
    return Bin(kind.length_mm - margins, kind.width_mm - margins, _QUARTERS[grain(kind, material)])


def _corners(pattern: Pattern) -> Array:
    return turned(pattern.outline.flattened(), 0)


def _laid(own: list[Pattern], found: Nest, bin_number: int, margin_mm: float) -> tuple[Pattern, ...]:
    spots = [(pattern, spot) for pattern, spot in zip(own, found.spots, strict=True) if spot is not None]
    return tuple(_put(pattern, spot, margin_mm) for pattern, spot in spots if spot.bin == bin_number)


def _put(pattern: Pattern, spot: Spot, margin_mm: float) -> Pattern:
    seen = pattern.moved(Motion(quarters=spot.quarters))
    x0, y0, _, _ = bounds(seen.outline.flattened())
    return seen.moved(Motion(shift=(spot.x_mm + margin_mm - x0, spot.y_mm + margin_mm - y0)))


# --- refusals -----------------------------------------------------------------------------------------------


def _refuse_large(material: Material, own: list[Pattern], stock: Stock, system: units.System) -> None:
    bins = [_bin(kind, material, stock) for kind in kinds_of_sheet(material, stock)]
    large = [p for p in own if not any(one.takes(p.size, q) for one in bins for q in one.quarters)]
    if not large:
        return
    sizes = {p.size: f"{p.name} is {_size(*p.size, system)}" for p in reversed(large)}
    told = [sizes[size] for size in sorted(sizes, key=max, reverse=True)]
    more = f" and {len(told) - TOLD} smaller sizes" if len(told) > TOLD else ""
    largest = max(bins, key=lambda one: max(one.length_mm, 0.0) * max(one.width_mm, 0.0))
    room = _size(max(largest.length_mm, 0.0), max(largest.width_mm, 0.0), system)
    margins = 2.0 * stock.margin_mm
    length, width = (ceil(max(p.size[k] for p in large) + margins) for k in (0, 1))
    needed = _size(length, width, system)
    remedy = f"A sheet of {needed} would do ([[stock.sheets]])"
    if any(p.name.startswith("wing skin") for p in large):
        remedy += "; or state a wing panel that is too long as two in wing.panels, for each has skins of its own"
    problem = f"no sheet of {material.name} takes {'it' if len(large) == 1 else 'them'}: {'; '.join(told[:TOLD])}{more}"
    raise PartError(
        ", ".join(p.name for p in large), f"{problem}; inside its margin the largest sheet has {room}. {remedy}"
    )


def _size(length_mm: float, width_mm: float, system: units.System) -> str:
    return f"{units.length(length_mm, system)} x {units.length(width_mm, system)}"


def _refuse_left_over(
    material: Material, own: list[Pattern], found: Nest, kinds: list[StockSheet], system: units.System
) -> None:
    left = [pattern for pattern, spot in zip(own, found.spots, strict=True) if spot is None]
    if not left:
        return
    area = sum(pattern.outline.area() for pattern in left)
    largest = max(kinds, key=lambda kind: kind.length_mm * kind.width_mm)
    more = ceil(area / (largest.length_mm * largest.width_mm))
    problem = (
        f"the sheets of {material.name} at hand are full; about {more} more of "
        f"{_size(largest.length_mm, largest.width_mm, system)} would do, or leave out the count of one in "
        "[[stock.sheets]]"
    )
    raise PartError(", ".join(pattern.name for pattern in left), problem)


def _refuse_overlap(sheet: Sheet, gap_mm: float) -> None:
    """The last word on every layout: exact outlines, all pairs, and the sheet's margin."""
    import shapely

    areas = [shapely.Polygon(pattern.outline.flattened()) for pattern in sheet.patterns]
    m = sheet.margin_mm - OVERLAP_MM
    usable = shapely.box(m, m, sheet.length_mm - m, sheet.width_mm - m)
    for pattern, area in zip(sheet.patterns, areas, strict=True):
        if not usable.contains(area):
            raise PartError(pattern.name, f"was laid over the edge of sheet {sheet.number}")
    for (one, first), (other, second) in combinations(zip(sheet.patterns, areas, strict=True), 2):
        if first.distance(second) < gap_mm - OVERLAP_MM:
            raise PartError(one.name, f"was laid too near {other.name} on sheet {sheet.number}")
