"""The cutting plan: everything that leaves the screen for the bench, worked out together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from airframe.cutting.assembly import Step, steps
from airframe.cutting.lengths import Length, Stick, lengths, sticks
from airframe.cutting.patterns import patterns
from airframe.cutting.sheets import Sheet, sheets
from airframe.cutting.shopping import Purchase, shopping
from airframe.cutting.wire_tables import WireTable, wire_tables
from airframe.drawing import Part
from airframe.schema.design import Design

SECONDS = 10.0
"""How long to look for a better layout, if not told."""


@dataclass(frozen=True)
class CuttingPlan:
    """What is cut and bent from what, what to buy for it, and how it goes together."""

    name: str
    sheets: tuple[Sheet, ...]
    sticks: tuple[Stick, ...]
    wires: tuple[WireTable, ...]
    lengths: tuple[Length, ...]
    shopping: tuple[Purchase, ...]
    steps: tuple[Step, ...]

    def numbers(self) -> dict[str, int]:
        """A number for each part cut from sheet, by name: from 1, sheet by sheet."""
        names = [pattern.name for sheet in self.sheets for pattern in sheet.patterns]
        return {name: number for number, name in enumerate(names, 1)}


def plan(
    design: Design,
    parts: Sequence[Part],
    seconds: float = SECONDS,
    seed: int = 0,
    tell: Callable[[str], None] = lambda _: None,
) -> CuttingPlan:
    """Work out the plan; no solid and no mesh is made for it.

    The same seconds and seed give the same layout on every machine: the seconds are nominal, and bound the
    number of places searched. Raises PartError for a part that fits no sheet, or no length of wire or wood.
    """
    tell("drawing the patterns")
    drawn = patterns(parts, design.stock.trim)
    wires, sawn = wire_tables(parts), sticks(parts, design.units)
    cut = lengths(sawn, wires, design.stock, design.units)
    laid = sheets(drawn, design.stock, seconds, seed, tell, design.units)
    bought = shopping(parts, laid, cut, sawn, wires, design.units)
    return CuttingPlan(
        design.name, tuple(laid), tuple(sawn), tuple(wires), tuple(cut), tuple(bought), tuple(steps(design, parts))
    )
