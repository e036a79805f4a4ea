"""All part families put together: the complete aeroplane as a list of drawings in their places."""

from __future__ import annotations

from airframe.drawing import Part, PartError
from airframe.layout import Layout
from airframe.parts import equipment, finish, firewall, fuselage, gear, tail, wing
from airframe.parts.common import GROUPS

STRUCTURE = (wing.parts, tail.parts, fuselage.parts, firewall.parts, gear.parts)
"""What is built from sheet, wire and wood, and may be painted."""


def build(layout: Layout) -> tuple[Part, ...]:
    """Every part, group by group in the order of the weight statement, names unique.

    PartError for geometry that cannot be drawn, and for two parts of one name.
    """
    structure = [part for family in STRUCTURE for part in family(layout)]
    everything = [*structure, *equipment.parts(layout), *finish.parts(layout, structure)]
    _check_names(everything)
    return tuple(sorted(everything, key=lambda part: GROUPS.index(part.group)))


def _check_names(parts: list[Part]) -> None:
    seen: dict[str, Part] = {}
    for part in parts:
        other = seen.setdefault(part.name, part)
        if other is not part:
            where = f"both in group '{part.group}'"
            if other.group != part.group:
                where = f"one in group '{other.group}', one in group '{part.group}'"
            raise PartError(part.name, f"two parts have this name, {where}; give one of them another in the config")
