"""Dowels, strips and wire cut from the lengths they come in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from airframe import units
from airframe.cutting.wire_tables import WireTable
from airframe.drawing import Block, Part, PartError, Rod
from airframe.schema.stock import Stock

SAW_MM = 2.0
"""Lost between two pieces: the cut and filing it square (our choice)."""


@dataclass(frozen=True)
class Stick:
    """A dowel or strip."""

    part: Part
    section: str
    """Such as "6 mm round" or "6 x 3 mm", in inches if they are asked for."""
    length_mm: float


@dataclass(frozen=True)
class Length:
    """One stock length and the pieces cut from it, by name."""

    of: str
    """Material and section."""
    length_mm: float
    cuts: tuple[tuple[str, float], ...]

    @property
    def left_mm(self) -> float:
        """What remains."""
        return self.length_mm - sum(cut for _, cut in self.cuts) - SAW_MM * max(len(self.cuts) - 1, 0)


def exact(value_mm: float, system: units.System) -> str:
    """A length to a tenth of a millimetre or a thousandth of an inch, whatever its size."""
    return f"{value_mm:.1f} mm" if system == "metric" else f"{value_mm / units.MM_PER_INCH:.3f} in"


def sticks(parts: Iterable[Part], system: units.System = "metric") -> list[Stick]:
    """Every wooden rod and strip."""
    made = []
    for part in parts:
        if part.material.look != "wood":
            continue
        if isinstance(part.shape, Rod):
            made.append(Stick(part, f"{_across(system, part.shape.diameter_mm)} round", part.shape.length_mm))
        elif isinstance(part.shape, Block):
            low, middle, length = sorted(part.shape.size)
            made.append(Stick(part, _across(system, middle, low), length))
    return made


def _across(system: units.System, *sides_mm: float) -> str:
    unit = " in" if system == "imperial" else " mm"
    return " x ".join(units.size(side, system).removesuffix(unit) for side in sides_mm) + unit


def lengths(
    made: Sequence[Stick], wires: Sequence[WireTable], stock: Stock, system: units.System = "metric"
) -> list[Length]:
    """What to cut from which stock length: the longest piece first, each from the first length that still has it.

    Raises PartError for a piece longer than what it comes in.
    """
    pieces: dict[tuple[str, float], list[tuple[str, float]]] = {}
    for stick in made:
        of = f"{stick.part.material.name}, {stick.section}"
        pieces.setdefault((of, stock.stick_length_mm), []).append((stick.part.name, stick.length_mm))
    for wire in wires:
        of = f"{wire.part.material.name}, {_across(system, wire.diameter_mm)}"
        pieces.setdefault((of, stock.wire_length_mm), []).append((wire.part.name, wire.cut_mm))
    return [length for (of, whole), cuts in pieces.items() for length in _filled(of, whole, cuts, system)]


def _filled(of: str, whole_mm: float, cuts: list[tuple[str, float]], system: units.System) -> list[Length]:
    rows: list[list[tuple[str, float]]] = []
    for name, cut in sorted(cuts, key=lambda one: -one[1]):
        if cut > whole_mm:
            problem = f"takes {exact(cut, system)} of {of}, which comes in {units.length(whole_mm, system)}"
            problem += "; state a longer wire_length or stick_length in [stock]"
            raise PartError(name, problem)
        for row in rows:
            if Length(of, whole_mm, tuple(row)).left_mm >= cut + SAW_MM:
                row.append((name, cut))
                break
        else:
            rows.append([(name, cut)])
    return [Length(of, whole_mm, tuple(row)) for row in rows]
