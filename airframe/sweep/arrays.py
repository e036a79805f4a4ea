"""All variants at once on arrays, where only masses and places of equipment change and only sums are asked for.

Whether that is so is not believed but tried: probes are built, and their drawings compared. What changes is then
drawn, item by item, by the code that draws it for one aeroplane, and added up in the order in which one is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

import numpy as np
from numpy.typing import NDArray

from airframe import ruler
from airframe.axes import Array, Place
from airframe.drawing import PartError
from airframe.inertia import combined_rows
from airframe.mass import Entry
from airframe.model import Aeroplane
from airframe.parts import equipment
from airframe.sweep.keys import Axis
from airframe.sweep.measures import MASS, Sums, summed
from airframe.sweep.plan import Plan
from airframe.sweep.rows import Row, reason
from airframe.sweep.variants import variant

ITEMS, WEIGHT = "equipment", "mass"
FIELDS = {WEIGHT: "mass_g", "station": "station_mm", "butt_line": "butt_line_mm", "water_line": "water_line_mm"}
"""Keys of an item that change its mass or its place, and their fields in the code."""
BLOCK = 2048
"""Variants that are added up together: more need more memory and go no faster."""
LEARNED = 100
"""Masses of one item that are looked up together in what was learned: its tables grow with the square."""

Index = NDArray[np.intp]
Sum = tuple[Array, Array, Array]
"""Masses (n,), centres (n, 3) and inertias (n, 3, 3)."""


@dataclass(frozen=True, eq=False)
class Carried:
    """One item of equipment in all the masses and places that the sweep gives it."""

    weight_axes: tuple[int, ...]
    """Which of the plan's axes say its mass: one, or none."""
    place_axes: tuple[int, ...]
    """Which say its place."""
    mass_g: Array
    """(m,)."""
    inertia_g_mm2: Array
    """(m, 3, 3)."""
    centre_mm: Array
    """(p, 3); meaningless where it cannot be."""
    problems: tuple[str, ...]
    """(p,): why it cannot be at a place; empty where it can."""


def are_enough(plan: Plan, aeroplane: Aeroplane) -> Aeroplane | None:
    """A probe that all variants can be reckoned from; None where anything but sums, masses and places is in play."""
    if any(one.needs != MASS for one in plan.measures) or not all(_is_candidate(a, aeroplane) for a in plan.axes):
        return None
    probes = []
    for axis in plan.axes:
        for index in axis.telling():
            probe = variant(plan.base, aeroplane, [axis.setting(index)])
            try:
                only_moved = _has_only_moved(aeroplane, probe, axis)
            except PartError:
                continue
            if not only_moved:
                return None
            probes.append(probe)
    return probes[0] if probes else None


def _is_candidate(axis: Axis, aeroplane: Aeroplane) -> bool:
    """Whether the key is a mass or a place of an item that is carried."""
    if len(axis.path) != 3 or axis.path[0] != ITEMS or not axis.is_numeric:
        return False
    item = aeroplane.design.equipment.get(axis.path[1])
    return item is not None and item.fitted and axis.path[2] in FIELDS


def _has_only_moved(aeroplane: Aeroplane, probe: Aeroplane, axis: Axis) -> bool:
    """Whether a probe differs from the design in the mass and place of one part alone, drawn as we draw it here."""
    name = axis.path[1]
    if len(aeroplane.parts) != len(probe.parts):
        return False
    for old, new in zip(aeroplane.parts, probe.parts, strict=True):
        if old.name != name and old != new:
            return False
    own = [part for part in probe.parts if part.name == name]
    before = [part for part in aeroplane.parts if part.name == name]
    if len(own) != 1 or len(before) != 1:
        return False
    place = Place(before[0].place.rotation, own[0].place.origin)
    alike = replace(before[0], place=place, mass_g=own[0].mass_g, basis=own[0].basis)
    return alike == own[0] and equipment.drawn(name, probe.design.equipment[name], aeroplane.layout) == own


class Reckoner:
    """Adds up the variants of one plan."""

    def __init__(self, plan: Plan, probe: Aeroplane) -> None:
        self.plan = plan
        self._probe = probe
        self._lengths = tuple(len(axis.texts) for axis in plan.axes)

    def rows(self, numbers: Sequence[int]) -> Iterator[Row]:
        """The variants of these numbers, in their order."""
        for start in range(0, len(numbers), BLOCK):
            block = numbers[start : start + BLOCK]
            indices = self._indices(np.array(block))
            sums, problems = self._sums(indices), self._problems(indices)
            columns = {one.code: np.broadcast_to(summed(one.code, sums), len(block)) for one in self.plan.measures}
            answers = zip(*(column.tolist() for column in columns.values()), strict=True)
            for number, row, problem in zip(block, answers, problems, strict=True):
                made = {} if problem else dict(zip(columns, row, strict=True))
                yield Row(number, self.plan.values(number), made, None, problem)

    def _indices(self, numbers: Index) -> list[Index]:
        """For each axis, which of its values each variant has."""
        if self.plan.is_paired:
            return [numbers for _ in self.plan.axes]
        return list(np.unravel_index(numbers, self._lengths))

    @cached_property
    def _carried(self) -> dict[str, Carried]:
        """What changes, by name, in the order in which the design carries it."""
        names = {axis.path[1] for axis in self.plan.axes}
        return {name: self._item(name) for name in self._probe.design.equipment if name in names}

    def _item(self, name: str) -> Carried:
        probe = self._probe
        item, part = probe.design.equipment[name], next(part for part in probe.parts if part.name == name)
        own = [index for index, axis in enumerate(self.plan.axes) if axis.path[1] == name]
        weights = tuple(index for index in own if self.plan.axes[index].path[2] == WEIGHT)
        places = tuple(index for index in own if index not in weights)
        heavy = [
            drawn
            for change in self._changes(weights)
            for drawn in equipment.drawn(name, item.model_copy(update=change), probe.layout)
        ]
        blocks = (heavy[start : start + LEARNED] for start in range(0, len(heavy), LEARNED))
        bodies = [entry.body for block in blocks for entry in probe.entries(block)]
        origins, problems = [], []
        for change in self._changes(places):
            try:
                with ruler.reading(probe.design.units):
                    (drawn,) = equipment.drawn(name, item.model_copy(update=change), probe.layout)
            except PartError as error:
                origins.append((0.0, 0.0, 0.0))
                problems.append(reason(error))
            else:
                origins.append(drawn.place.origin)
                problems.append("")
        turned = np.asarray(part.place.rotation) @ probe.record(part).body.centre
        return Carried(
            weights,
            places,
            np.array([body.mass for body in bodies]),
            np.array([body.inertia for body in bodies]),
            turned + np.array(origins),
            tuple(problems),
        )

    def _changes(self, axes: tuple[int, ...]) -> list[dict[str, float | str]]:
        """The item's fields for every value of its axes, or every combination; one that changes nothing for no axis."""
        fields = [FIELDS[self.plan.axes[index].path[2]] for index in axes]
        values = [self.plan.axes[index].values for index in axes]
        together = zip(*values, strict=True) if self.plan.is_paired and axes else product(*values)
        return [dict(zip(fields, one, strict=True)) for one in together]

    def _which(self, axes: tuple[int, ...], indices: Sequence[Index], count: int) -> Index:
        """For each variant, which of those combinations it has."""
        if not axes:
            return np.zeros(count, dtype=np.intp)
        if self.plan.is_paired:
            return indices[axes[0]]
        lengths = tuple(self._lengths[index] for index in axes)
        which: Index = np.ravel_multi_index(tuple(indices[index] for index in axes), lengths)
        return which

    def _problems(self, indices: Sequence[Index]) -> list[str]:
        """Why each variant cannot be built; the first item that cannot be where it is speaks."""
        count = len(indices[0])
        told = np.full(count, "", dtype=object)
        for carried in self._carried.values():
            here = np.array(carried.problems, dtype=object)[self._which(carried.place_axes, indices, count)]
            told = np.where(told == "", here, told)
        return told.tolist()

    def _sums(self, indices: Sequence[Index]) -> Sums:
        statement, count = self._probe.statement, len(indices[0])
        members: dict[str, list[Entry]] = {}
        for entry in statement.entries:
            members.setdefault(entry.part.group, []).append(entry)
        bodies = []
        for group, entries in members.items():
            changes = any(entry.part.name in self._carried for entry in entries)
            body = statement.groups[group]
            alone = (body.mass, body.centre, body.inertia)
            bodies.append(self._group(entries, indices) if changes else _many(*alone, count))
        total, centre, inertia = combined_rows(*(np.stack(one) for one in zip(*bodies, strict=True)))
        masses = {group: body[0] for group, body in zip(members, bodies, strict=True)}
        return Sums(self._probe.layout, total, centre, inertia, masses)

    def _group(self, entries: Sequence[Entry], indices: Sequence[Index]) -> Sum:
        """One group's sum in each variant."""
        count = len(indices[0])
        bodies = []
        for entry in entries:
            carried, body = self._carried.get(entry.part.name), entry.body
            if carried is None:
                bodies.append(_many(body.mass, body.centre, body.inertia, count))
            else:
                weight = self._which(carried.weight_axes, indices, count)
                place = self._which(carried.place_axes, indices, count)
                bodies.append((carried.mass_g[weight], carried.centre_mm[place], carried.inertia_g_mm2[weight]))
        return combined_rows(*(np.stack(one) for one in zip(*bodies, strict=True)))


def _many(mass: float, centre: Array, inertia: Array, count: int) -> Sum:
    """One body in every variant."""
    return np.full(count, mass), np.broadcast_to(centre, (count, 3)), np.broadcast_to(inertia, (count, 3, 3))
