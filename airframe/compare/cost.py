"""What there is to buy and cut: sheet by its flat area, wire by its length, bought items by their mass."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from airframe.compare.drawings import wire_length_mm
from airframe.drawing import Panel, Wire
from airframe.mass import Entry, Statement

CostKind = Literal["sheet", "wire", "bought"]


@dataclass(frozen=True)
class Cost:
    """How much of one thing each aeroplane takes."""

    kind: CostKind
    name: str
    """Of the sheet material; material and diameter of a wire; "bought items"."""
    old: float
    new: float
    """Sheet: mm^2 of its parts as they lie flat, holes taken out, no waste between them. Wire: mm. Bought: g."""
    diameter_mm: float | None = None
    """Of a wire."""


def costs(old: Statement, new: Statement) -> tuple[Cost, ...]:
    """Sheet materials, the one that covers most first; then wires by diameter; then what has a mass of its own.

    A part whose mass is stated is bought ready made, whatever it is drawn as.
    """
    sheets = _sides(old, new, _sheet)
    wires = _sides(old, new, _wire)
    bought = _sides(old, new, _bought)
    by_area = sorted(sheets.items(), key=lambda item: (-max(item[1]), item[0]))
    return (
        *(Cost("sheet", str(name), *amounts) for (name,), amounts in by_area),
        *(Cost("wire", str(name), *wires[name, size], float(size)) for name, size in sorted(wires, key=str)),
        *(Cost("bought", "bought items", *amounts) for amounts in bought.values()),
    )


_Key = tuple[str | float, ...]


def _sides(
    old: Statement, new: Statement, measure: Callable[[Entry], tuple[_Key, float] | None]
) -> dict[_Key, tuple[float, float]]:
    sums: dict[_Key, tuple[float, float]] = {}
    for side, statement in ((0, old), (1, new)):
        for entry in statement.entries:
            found = measure(entry)
            if found is not None:
                before, after = sums.get(found[0], (0.0, 0.0))
                sums[found[0]] = (before, after + found[1]) if side else (before + found[1], after)
    return sums


def _sheet(entry: Entry) -> tuple[_Key, float] | None:
    shape = entry.part.shape
    if not isinstance(shape, Panel) or entry.part.mass_g is not None:
        return None
    return (entry.part.material.name,), shape.area()


def _wire(entry: Entry) -> tuple[_Key, float] | None:
    shape = entry.part.shape
    if not isinstance(shape, Wire) or entry.part.mass_g is not None:
        return None
    return (entry.part.material.name, shape.diameter_mm), wire_length_mm(shape)


def _bought(entry: Entry) -> tuple[_Key, float] | None:
    return ((), entry.mass_g) if entry.part.mass_g is not None else None
