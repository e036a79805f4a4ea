"""One variant ready to be shown: its aeroplane, how far it reaches, how it stands, and its numbers."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from airframe.checks.standing import Standing
from airframe.cutting.patterns import Pattern, patterns
from airframe.kept import Kept
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from airframe.units import System
from viewers.bench.edits import Edits
from viewers.bench.estimates import estimates
from viewers.bench.fields import Fields
from viewers.bench.numbers import Figure
from viewers.bench.places import leaf
from viewers.bench.quick import quick, standing_of
from viewers.bench.scene_json import Reach, carried, extent, reach, scene
from viewers.bench.served import Served
from viewers.bench.source import Source, Variant, built

POINT_DECIMALS = 3
VIEWS_KEPT = 4
"""Variants that are kept ready: a step back, and forth again, builds nothing."""


@dataclass(frozen=True, eq=False)
class View:
    """A variant and what the page needs to know of it."""

    variant: Variant
    reach: Reach
    stands: Standing | None
    """None where it does not stand on three points."""
    figures: tuple[Figure, ...]

    @property
    def aeroplane(self) -> Aeroplane:
        """The one that is shown."""
        return self.variant.aeroplane

    @cached_property
    def patterns(self) -> list[Pattern]:
        """What is cut from sheet, as it lies on the table."""
        return patterns(self.aeroplane.parts, self.variant.design.stock.trim)

    @cached_property
    def estimates(self) -> tuple[Figure, ...]:
        """How it flies. Raises PartError."""
        return estimates(self.aeroplane)


def viewed(variant: Variant, served: Served) -> View:
    """The variant with its numbers. Raises Refused for one that cannot be built."""
    aeroplane = built(variant).aeroplane
    reaches, stands = reach(aeroplane, served), standing_of(aeroplane)
    return View(variant, reaches, stands, quick(aeroplane, extent(reaches), stands))


class Views:
    """The views last asked for."""

    def __init__(self, served: Served) -> None:
        self._served = served
        self._kept: Kept[tuple[Source, Edits], View] = Kept(VIEWS_KEPT)

    def __len__(self) -> int:
        return len(self._kept)

    def of(self, source: Source, edits: Edits) -> View:
        """The view of what edits make of a source. Raises Refused for what is no design or cannot be built."""
        return self._kept.get_or_make((source, edits), lambda: viewed(source.variant(edits), self._served))


def scene_json(view: View, fields: Fields, served: Served, system: System) -> dict[str, Any]:
    """The scene, and what in it may be dragged."""
    shown = scene(view.aeroplane, served, view.reach, view.stands, system)
    return shown | {"drags": [_drag(view, fields, name, key) for name, key in carried(view.aeroplane).items()]}


def _drag(view: View, fields: Fields, name: str, key: str) -> dict[str, Any]:
    """An item that may be pushed along the fuselage, and how far its middle may go."""
    variant = view.variant
    found = leaf(variant.design, variant.data, ("equipment", name, "station"))
    assert found is not None
    ends = fields.bounds_of(found, variant.design)
    low, high = ends.low, ends.high
    item = variant.design.equipment[name]
    if isinstance(item, Battery):
        half = item.chosen().size[0] / 2.0
        low = low if item.tray_from_mm is None else item.tray_from_mm + half
        high = high if item.tray_to_mm is None else item.tray_to_mm - half
    value = float(found.value)
    return {
        "part": name,
        "key": key,
        "is_battery": isinstance(item, Battery),
        "axis": [1, 0, 0],
        "value": round(value, POINT_DECIMALS),
        "unit": "mm",
        "low": round(min(low, value), POINT_DECIMALS),
        "high": round(max(high, value), POINT_DECIMALS),
    }
