"""The ways in which one design may fly: each battery option with each choice of what is taken along."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import product

import numpy as np

from airframe import inertia
from airframe.axes import Point
from airframe.drawing import Part, PartError
from airframe.inertia import Body, combined
from airframe.layout import Layout
from airframe.model import Aeroplane
from airframe.parts import equipment
from airframe.schema.design import Design
from airframe.schema.equipment import Battery


@dataclass(frozen=True, eq=False)
class Case:
    """One battery option with one choice of optional items."""

    battery: str
    """Name of the battery in the design."""
    option: str | None
    """Name of the option; None for a battery without options."""
    aboard: tuple[tuple[str, bool], ...]
    """Each optional item, and whether it is taken along."""
    is_current: bool
    """Whether the design as it stands is flown so."""
    size: Point
    """Of the battery: length, width, height."""
    body: Body
    """The battery where the design has it: grams, mm."""
    rest: Body
    """Everything else that is aboard."""
    absent: frozenset[str]
    """Names of parts that the battery cannot meet: what stays at home, and its own."""

    @property
    def name(self) -> str:
        """Short and stable: "3-cell, camera out"."""
        battery = self.option if self.option is not None and self.battery == "battery" else self.battery
        if self.option is not None and battery != self.option:
            battery = f"{battery} {self.option}"
        return ", ".join([battery, *self.choices])

    @property
    def choices(self) -> tuple[str, ...]:
        """What is in and what is out."""
        return tuple(f"{item} {'in' if is_in else 'out'}" for item, is_in in self.aboard)

    @property
    def spoken(self) -> str:
        """As part of a sentence: "the 3-cell battery, camera out"."""
        return ", ".join([f"the {self.battery_words}", *self.choices])

    @property
    def battery_words(self) -> str:
        """The battery in words: "3-cell battery"."""
        return self.battery if self.option is None else f"{self.option} {self.battery}"

    @property
    def mass_g(self) -> float:
        """Of the whole aeroplane."""
        return self.body.mass + self.rest.mass


@dataclass(frozen=True, eq=False)
class Carried:
    """An item of equipment, aboard or not, with all of its parts as one body."""

    name: str
    parts: tuple[Part, ...]
    body: Body
    is_fitted: bool


def cases(aeroplane: Aeroplane) -> tuple[Case, ...]:
    """Every option of every fitted battery with every choice of optional items, the design's own choice first.

    Raises PartError where an optional item is none of the design's equipment.
    """
    optional = [carried(aeroplane, name) for name in _optional(aeroplane.design)]
    taken_out = {part.name for item in optional for part in item.parts}
    found = []
    for name, battery in aeroplane.design.equipment.items():
        if not isinstance(battery, Battery) or not battery.fitted:
            continue
        entries = [e for e in aeroplane.statement.entries if e.part.name not in taken_out and e.part.name != name]
        core = combined([entry.body for entry in entries])
        own = next(entry.body for entry in aeroplane.statement.entries if entry.part.name == name)
        options = _options(name, battery, own)
        for (option, size, body, is_used), choice in product(options, _choices(optional)):
            found.append(_case(name, (option, size, body), is_used, core, tuple(zip(optional, choice, strict=True))))
    return tuple(sorted(found, key=lambda case: not case.is_current))


def optional_parts(aeroplane: Aeroplane) -> tuple[Part, ...]:
    """Parts of optional items that the design leaves at home: they are not among the aeroplane's own."""
    items = (carried(aeroplane, name) for name in _optional(aeroplane.design))
    return tuple(part for item in items if not item.is_fitted for part in item.parts)


def carried(aeroplane: Aeroplane, name: str) -> Carried:
    """An item of equipment by its name, drawn and weighed whether it is fitted or not."""
    is_fitted = aeroplane.design.equipment[name].fitted
    parts = _drawn(aeroplane.design, name)
    names = {part.name for part in parts}
    if is_fitted:
        bodies = [entry.body for entry in aeroplane.statement.entries if entry.part.name in names]
    else:
        bodies = [_weighed(aeroplane, part) for part in parts]
    return Carried(name, parts, combined(bodies), is_fitted)


def _optional(design: Design) -> tuple[str, ...]:
    names = tuple(dict.fromkeys(design.balance.optional))
    for name in names:
        if name not in design.equipment:
            near = get_close_matches(name, design.equipment, n=1)
            hint = f"; did you mean '{near[0]}'?" if near else ""
            raise PartError(f"balance.optional '{name}'", f"no item of equipment has this name{hint}")
        if isinstance(design.equipment[name], Battery):
            raise PartError(f"balance.optional '{name}'", "is a battery, which is moved, not left at home")
    return names


def _drawn(design: Design, name: str) -> tuple[Part, ...]:
    """The parts that are there with the item and not without."""
    with_it, without_it = (
        equipment.parts(Layout(_fitting(design, name, is_fitted))) for is_fitted in (True, False)
    )  # whatever else it is drawn by stays as it is
    others = {part.name for part in without_it}
    return tuple(part for part in with_it if part.name not in others)


def _fitting(design: Design, name: str, is_fitted: bool) -> Design:
    item = design.equipment[name].model_copy(update={"fitted": is_fitted})
    return design.model_copy(update={"equipment": {**design.equipment, name: item}})


def _weighed(aeroplane: Aeroplane, part: Part) -> Body:
    unit = aeroplane.record(part).body
    mass = part.mass_g if part.mass_g is not None else unit.mass * part.material.weight
    return unit.scaled(mass / unit.mass).placed(part.place.rotation, part.place.origin)


def _options(name: str, battery: Battery, own: Body) -> Iterator[tuple[str | None, Point, Body, bool]]:
    """Name, size and body of each option, and whether it is the one in use, whose weight may have been learned."""
    if not battery.options:
        yield None, battery.chosen().size, own, True
    used = battery.use if battery.use is not None else next(iter(battery.options), None)
    for option in battery.options:
        chosen = battery.model_copy(update={"use": option}).chosen()
        middle = np.array([battery.station_mm, battery.butt_line_mm, battery.water_line_mm + chosen.size[2] / 2.0])
        unit = inertia.box(*chosen.size)
        body = unit.scaled(chosen.mass_g / unit.mass).placed(np.eye(3), middle)
        yield option, chosen.size, own if option == used else body, option == used


def _choices(optional: Sequence[Carried]) -> Iterator[tuple[bool, ...]]:
    return product((True, False), repeat=len(optional))


def _case(
    battery: str,
    chosen: tuple[str | None, Point, Body],
    is_used: bool,
    core: Body,
    aboard: tuple[tuple[Carried, bool], ...],
) -> Case:
    option, size, body = chosen
    return Case(
        battery,
        option,
        tuple((item.name, is_in) for item, is_in in aboard),
        is_used and all(is_in == item.is_fitted for item, is_in in aboard),
        size,
        body,
        combined([core, *(item.body for item, is_in in aboard if is_in)]),
        frozenset([battery, *(part.name for item, is_in in aboard if not is_in for part in item.parts)]),
    )
