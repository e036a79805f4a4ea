"""The weight statement: every part's mass, centre and inertia, and what they add up to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

import numpy as np

from airframe.axes import Array
from airframe.drawing import Basis, Bead, Film, Part, PartError
from airframe.inertia import Body, combined, principal
from airframe.schema.design import Weighed


@dataclass(frozen=True)
class Entry:
    """One line of the weight statement."""

    part: Part
    basis: Basis
    body: Body
    """Grams and mm in the aeroplane's frame, inertia about the part's own centre."""
    amount: float
    """What the drawing measures: mm^3 of a solid, mm^2 of a film, mm of a bead."""
    drawn_g: float
    """Mass by the drawing, or as the design states it, before any weighing."""

    @property
    def mass_g(self) -> float:
        """The mass that counts."""
        return self.body.mass

    @property
    def volume_mm3(self) -> float | None:
        """Volume of the part's mesh; None where it has no solid of its own."""
        return None if isinstance(self.part.shape, (Bead, Film)) else self.amount


@dataclass(frozen=True)
class Statement:
    """Every entry, and their sums."""

    entries: tuple[Entry, ...]
    groups: Mapping[str, Body]
    """Sum of each group, in the order the groups first appear."""
    whole: Body
    """The aeroplane: grams, mm, inertia about its own balance point, g mm^2."""

    def principal_inertia(self) -> tuple[Array, Array]:
        """Principal moments of the whole (g mm^2, ascending) and the axes as columns."""
        return principal(self.whole.inertia)

    def radii_of_gyration_mm(self) -> tuple[float, float, float]:
        """sqrt(I / m) about the roll (x), pitch (y) and yaw (z) axes through the balance point."""
        ratio = np.diag(self.whole.inertia) / self.whole.mass
        x, y, z = np.sqrt(np.maximum(ratio, 0.0))
        return float(x), float(y), float(z)


def statement(parts: Iterable[Part], unit_bodies: Iterable[Body], weighed: Iterable[Weighed] = ()) -> Statement:
    """The weight statement of parts whose shapes have these bodies (own frame, unit weight per amount).

    Raises PartError where a weighed name is none of the aeroplane's, or is weighed twice.
    """
    entries = [_entry(part, body) for part, body in zip(parts, unit_bodies, strict=True)]
    entries = _on_the_scale(entries, tuple(weighed))
    groups: dict[str, list[Body]] = {}
    for entry in entries:
        groups.setdefault(entry.part.group, []).append(entry.body)
    sums = {name: combined(bodies) for name, bodies in groups.items()}
    return Statement(tuple(entries), sums, combined(list(sums.values())))


def _entry(part: Part, unit: Body) -> Entry:
    mass = part.mass_g if part.mass_g is not None else unit.mass * part.material.weight
    if unit.mass <= 0.0:
        raise PartError(part.name, "has no size to weigh by")
    body = unit.scaled(mass / unit.mass).placed(part.place.rotation, part.place.origin)
    return Entry(part, part.basis, body, unit.mass, mass)


def _on_the_scale(entries: list[Entry], weighed: tuple[Weighed, ...]) -> list[Entry]:
    """Weighed parts first, then weighed groups: a group's remaining parts share what is left in proportion."""
    if not weighed:
        return entries
    masses = _named_once(weighed, entries)
    result = [
        _reweighed(entry, masses[entry.part.name] / entry.mass_g, "weighed") if entry.part.name in masses else entry
        for entry in entries
    ]
    for group in dict.fromkeys(entry.part.group for entry in entries):
        if group in masses:
            result = _group_on_the_scale(result, group, masses[group])
    return result


def _named_once(weighed: tuple[Weighed, ...], entries: list[Entry]) -> dict[str, float]:
    names = {entry.part.name: entry.mass_g for entry in entries}
    groups = {entry.part.group for entry in entries}
    masses: dict[str, float] = {}
    for item in weighed:
        if item.what in masses:
            raise PartError(f"weighed '{item.what}'", "is on the scale twice; keep the entry that counts")
        if item.what not in names and item.what not in groups:
            near = get_close_matches(item.what, [*groups, *names], n=1, cutoff=0.4)
            hint = f"; did you mean '{near[0]}'?" if near else ""
            raise PartError(f"weighed '{item.what}'", f"no part or group has this name{hint}")
        if names.get(item.what) == 0.0:
            raise PartError(
                f"weighed '{item.what}'", "the design gives it no mass at all to correct; state its mass there"
            )
        masses[item.what] = item.mass_g
    return masses


def _group_on_the_scale(entries: list[Entry], group: str, mass_g: float) -> list[Entry]:
    members = [entry for entry in entries if entry.part.group == group]
    known = sum(entry.mass_g for entry in members if entry.basis == "weighed")
    rest = sum(entry.mass_g for entry in members if entry.basis != "weighed")
    if mass_g < known:
        raise PartError(f"weighed '{group}'", f"{mass_g:g} g is less than its weighed parts together, {known:.1f} g")
    if rest == 0.0:
        if abs(mass_g - known) > 0.5:
            raise PartError(f"weighed '{group}'", f"{mass_g:g} g, but its parts, all weighed, add up to {known:.1f} g")
        return entries
    factor = (mass_g - known) / rest
    return [
        _reweighed(entry, factor, "weighed") if entry.part.group == group and entry.basis != "weighed" else entry
        for entry in entries
    ]


def _reweighed(entry: Entry, factor: float, basis: Basis) -> Entry:
    return replace(entry, basis=basis, body=entry.body.scaled(factor))
