"""The fuselage's parts: sides, formers, decks, shelves, shells and the wing's dowels."""

from __future__ import annotations

from airframe.drawing import Part
from airframe.layout import Layout
from airframe.parts import decks, dowels, formers, fuselage_sides, shells, shelves


def parts(layout: Layout) -> list[Part]:
    """Everything between nose and tail except the firewall, with its glue. Raises PartError for what has no room."""
    families = (fuselage_sides, formers, decks, shelves, shells, dowels)
    return [part for family in families for part in family.parts(layout)]
