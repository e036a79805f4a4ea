"""All part families put together: the complete aeroplane as a list of drawings in their places."""

from __future__ import annotations

from collections import deque

from airframe import ruler
from airframe.drawing import Part, PartError
from airframe.layout import Layout
from airframe.parts import added, equipment, finish, firewall, fuselage, gear, tail, wing
from airframe.parts.common import GROUPS
from airframe.schema.design import Design

STRUCTURE = (wing.parts, tail.parts, fuselage.parts, firewall.parts, gear.parts)
"""What is built from sheet, wire and wood, and may be painted."""

_DRAWN: deque[tuple[Design, tuple[Part, ...]]] = deque(maxlen=8)
"""The last structures that were drawn: an item that is moved or reweighed leaves them as they are."""


def build(layout: Layout) -> tuple[Part, ...]:
    """Every part, group by group in the order of the weight statement, names unique.

    PartError for geometry that cannot be drawn, told in the units of the design, and for two parts of one name.
    """
    with ruler.reading(layout.design.units):
        structure = [*_structure(layout)]
        own = added.families(layout)
        structure += [part for _, parts in own for part in parts]
        everything = [*structure, *equipment.parts(layout), *finish.parts(layout, structure)]
    _check_names(everything, {id(part): str(plugin) for plugin, parts in own for part in parts})
    return tuple(sorted(everything, key=lambda part: GROUPS.index(part.group)))


def _structure(layout: Layout) -> tuple[Part, ...]:
    """What stands however the aeroplane is equipped; its families are not shown the equipment."""
    bare = layout.design.model_copy(update={"equipment": {}})
    for known, parts in tuple(_DRAWN):
        if known == bare:
            return parts
    without_equipment = Layout(bare)
    drawn = tuple(part for family in STRUCTURE for part in family(without_equipment))
    _DRAWN.appendleft((bare, drawn))
    return drawn


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
