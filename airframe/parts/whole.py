"""All part families put together: the complete aeroplane as a list of drawings in their places."""

from __future__ import annotations

from airframe.drawing import Part, PartError
from airframe.layout import Layout
from airframe.parts import added, equipment, finish, firewall, fuselage, gear, tail, wing
from airframe.parts.common import GROUPS

STRUCTURE = (wing.parts, tail.parts, fuselage.parts, firewall.parts, gear.parts)
"""What is built from sheet, wire and wood, and may be painted."""


def build(layout: Layout) -> tuple[Part, ...]:
    """Every part, group by group in the order of the weight statement, names unique.

    PartError for geometry that cannot be drawn, and for two parts of one name.
    """
    structure = [part for family in STRUCTURE for part in family(layout)]
    own = added.families(layout)
    structure += [part for _, parts in own for part in parts]
    everything = [*structure, *equipment.parts(layout), *finish.parts(layout, structure)]
    _check_names(everything, {id(part): str(plugin) for plugin, parts in own for part in parts})
    return tuple(sorted(everything, key=lambda part: GROUPS.index(part.group)))


def _check_names(parts: list[Part], origins: dict[int, str]) -> None:
    """Raise PartError for two parts of one name; `origins` says of parts from outside whose they are."""
    seen: dict[str, Part] = {}
    for part in parts:
        other = seen.setdefault(part.name, part)
        if other is not part:
            where = f"both in group '{part.group}'"
            if other.group != part.group:
                where = f"one in group '{other.group}', one in group '{part.group}'"
            whose = next((origins[id(one)] for one in (part, other) if id(one) in origins), None)
            instead = f"one is of the {whose}" if whose else "give one of them another in the config"
            raise PartError(part.name, f"two parts have this name, {where}; {instead}")
