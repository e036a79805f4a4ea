"""How well each material and each entry is known, one standard uncertainty each, by its kind and its basis."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

from airframe.drawing import Bead, Film, Part
from airframe.mass import Entry
from airframe.materials import Material
from airframe.schema.certainty import Certainty
from airframe.schema.design import Design
from airframe.schema.equipment import Battery, BatteryOption, Item, Motor, Propeller, RoundItem

ROUNDING = sqrt(12.0)
"""Rounding to steps of r has a standard deviation of r / sqrt(12): a uniform distribution (GUM, from memory)."""


def material_share(material: Material, certainty: Certainty) -> float:
    """Standard uncertainty of a material's weight, as a share of it: its own if stated, else by its kind."""
    if material.uncertainty_share is not None:
        return material.uncertainty_share
    if material.source.lower().startswith("weighed"):
        return certainty.weighed_material_share
    if material.kind == "line":
        return certainty.line_share
    if material.kind == "film":
        return certainty.film_share
    if material.look in ("wood", "plywood"):
        return certainty.wood_share
    if material.look in ("wire", "metal"):
        return certainty.metal_share
    return certainty.sheet_share if material.kind == "sheet" else certainty.solid_share


def weighs_by_material(part: Part) -> bool:
    """Whether the part's mass goes with its material's weight, also where slack was added to a length of cord."""
    return part.mass_g is None or (isinstance(part.shape, Bead) and part.material.kind == "line")


def entry_share(entry: Entry, certainty: Certainty, stated: Mapping[str, float]) -> float:
    """Standard uncertainty of one entry's own mass as a share of it, its material's and the scale's left out.

    `stated` gives, by name, what the design says of items; see `stated_shares`.
    """
    part = entry.part
    if not weighs_by_material(part):
        if part.name in stated:
            return stated[part.name]
        if part.basis == "weighed":
            return certainty.scale_resolution_g / ROUNDING / entry.drawn_g if entry.drawn_g else 0.0
        return certainty.estimated_share
    if isinstance(part.shape, Bead):
        return certainty.bead_share
    return certainty.coat_share if isinstance(part.shape, Film) else certainty.cutting_share


def place_mm(part: Part, certainty: Certainty) -> float:
    """Standard uncertainty of where the part's centre is, along each axis."""
    return certainty.built_place_mm if weighs_by_material(part) else certainty.carried_place_mm


def stated_shares(design: Design) -> dict[str, float]:
    """What the design says of its items' uncertainty, by the name of the item and so of its part."""
    found = {}
    for name, item in design.equipment.items():
        if isinstance(item, Item | RoundItem | Battery | Motor | Propeller):
            carried: Item | RoundItem | BatteryOption | Motor | Propeller
            carried = item.chosen() if isinstance(item, Battery) else item
            if carried.uncertainty_share is not None:
                found[name] = carried.uncertainty_share
    return found
