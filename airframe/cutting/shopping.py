"""The shopping list: what to buy for one aeroplane, with what it weighs there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Literal

from airframe import units
from airframe.cutting.amounts import drawn_mass_g
from airframe.cutting.lengths import Length, Stick
from airframe.cutting.sheets import Sheet
from airframe.cutting.wire_tables import WireTable
from airframe.drawing import Bead, Film, Part

Heading = Literal["sheet", "wire and wood", "glue, thread and bands", "paint, filler and tape", "ready-made"]


@dataclass(frozen=True)
class Purchase:
    """One line of the list."""

    heading: Heading
    what: str
    quantity: str
    mass_g: float
    """What of it ends up in the aeroplane, by the drawing; off-cuts and what is left in the tin not counted."""
    note: str = ""


def shopping(
    parts: Sequence[Part],
    laid: Sequence[Sheet],
    cut: Sequence[Length],
    sawn: Sequence[Stick],
    wires: Sequence[WireTable],
    system: units.System,
) -> list[Purchase]:
    """Everything that the aeroplane is made of, once."""
    sheeted = {pattern.name for sheet in laid for pattern in sheet.patterns}
    in_lengths = {stick.part.name for stick in sawn} | {wire.part.name for wire in wires}
    rest = [part for part in parts if part.name not in sheeted | in_lengths]
    return [
        *_sheets(laid, system),
        *_lengths(parts, cut, system),
        *_by_material(rest, Bead, "glue, thread and bands", system),
        *_by_material(rest, Film, "paint, filler and tape", system),
        *_ready_made([part for part in rest if not isinstance(part.shape, (Bead, Film))]),
    ]


def _sheets(laid: Sequence[Sheet], system: units.System) -> list[Purchase]:
    kinds: dict[tuple[str, float, float, bool], list[Sheet]] = {}
    for sheet in laid:
        key = (sheet.material.name, sheet.length_mm, sheet.width_mm, sheet.is_bought)
        kinds.setdefault(key, []).append(sheet)
    result = []
    for (name, length, width, is_bought), same in kinds.items():
        size = f"{units.length(length, system)} x {units.length(width, system)}"
        cut = [pattern for sheet in same for pattern in sheet.patterns]
        whole = len(same) * length * width * same[0].material.thickness_mm * same[0].material.weight
        note = (
            f"{len(cut)} part{'s' * (len(cut) > 1)}; the whole {'sheets weigh' if len(same) > 1 else 'sheet weighs'} "
        )
        note += units.mass(whole, system) + ("" if is_bought else "; you have it")
        result.append(
            Purchase("sheet", f"{name}, {size}", str(len(same)), _mass(pattern.part for pattern in cut), note)
        )
    return result


def _lengths(parts: Sequence[Part], cut: Sequence[Length], system: units.System) -> list[Purchase]:
    named = {part.name: part for part in parts}
    kinds: dict[tuple[str, float], list[Length]] = {}
    for length in cut:
        kinds.setdefault((length.of, length.length_mm), []).append(length)
    result = []
    for (of, whole), same in kinds.items():
        used = sum(cut for length in same for _, cut in length.cuts)
        mass = _mass(named[name] for length in same for name, _ in length.cuts)
        what = f"{of}, length of {units.length(whole, system)}"
        result.append(Purchase("wire and wood", what, str(len(same)), mass, f"{units.length(used, system)} used"))
    return result


def _by_material(
    rest: Iterable[Part], kind: type[Bead] | type[Film], heading: Heading, system: units.System
) -> list[Purchase]:
    groups: dict[str, list[Part]] = {}
    for part in rest:
        if isinstance(part.shape, kind):
            groups.setdefault(part.material.name, []).append(part)
    result = []
    for name, same in groups.items():
        mass, material = _mass(same), same[0].material
        # What weighs by length or area measures its mass over its weight: a lead's slack is in its stated mass.
        quantity = _quantity(mass / material.weight, kind, system) if material.kind in ("line", "film") else "a little"
        note = "" if material.kind in ("line", "film") else ", ".join(sorted({_plain_name(part) for part in same}))
        result.append(Purchase(heading, name, quantity, mass, note))
    return result


def _quantity(total: float, kind: type[Bead] | type[Film], system: units.System) -> str:
    if kind is Bead:
        return units.distance(total / 1000.0, system)
    return f"{ceil(total / 100.0)} cm^2" if system == "metric" else f"{ceil(total / units.MM_PER_INCH**2)} in^2"


def _ready_made(rest: Iterable[Part]) -> list[Purchase]:
    kinds: dict[tuple[str, str, float], list[Part]] = {}
    for part in rest:
        kinds.setdefault((_plain_name(part), part.material.name, round(drawn_mass_g(part), 3)), []).append(part)
    return [
        Purchase("ready-made", name, str(len(same)), _mass(same), "" if material == "bought item" else material)
        for (name, material, _), same in kinds.items()
    ]


def _plain_name(part: Part) -> str:
    """The part's name without side and number."""
    return re.sub(r"( (left|right|\d+))+$", "", part.name)


def _mass(parts: Iterable[Part]) -> float:
    return sum(drawn_mass_g(part) for part in parts)
