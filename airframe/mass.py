"""The weight statement: every part's mass, centre and inertia, and what they add up to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from airframe.axes import Array
from airframe.drawing import Basis, Bead, Film, Part, PartError
from airframe.inertia import Body, combined, principal
from airframe.schema.weighing import Weighed
from airframe.weighing import Piece, pieces

ROUNDING_G = 0.5
"""What one reading may be off by rounding: half a step of a kitchen scale of 1 g."""


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
    learned_g: float | None = None
    """Mass by what weighing other pieces taught of its material; None where nothing was learned."""
    weighed_g: float | None = None
    """Mass by the weighing log: the part's own, or its share of a piece weighed in one; None if not in the log."""

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


def statement(
    parts: Sequence[Part],
    unit_bodies: Iterable[Body],
    weighed: Iterable[Weighed] = (),
    learned_g: Sequence[float] | None = None,
    before: Sequence[Entry] = (),
) -> Statement:
    """The weight statement of parts whose shapes have these bodies (own frame, unit weight per amount); see `known`."""
    return summed(known(drawn(parts, unit_bodies), weighed, learned_g, before))


def summed(entries: Sequence[Entry]) -> Statement:
    """The weight statement of its lines."""
    groups: dict[str, list[Body]] = {}
    for entry in entries:
        groups.setdefault(entry.part.group, []).append(entry.body)
    sums = {name: combined(bodies) for name, bodies in groups.items()}
    return Statement(tuple(entries), sums, combined(list(sums.values())))


def drawn(parts: Sequence[Part], unit_bodies: Iterable[Body]) -> list[Entry]:
    """A line for each part by its drawing or the mass it states; raises PartError for one without a size."""
    return [_entry(part, body) for part, body in zip(parts, unit_bodies, strict=True)]


def known(
    entries: Sequence[Entry],
    weighed: Iterable[Weighed] = (),
    learned_g: Sequence[float] | None = None,
    before: Sequence[Entry] = (),
) -> list[Entry]:
    """The lines as drawn, with what the scale said of them.

    `learned_g` is what each part is thought to weigh by all that was learned; it counts where the part was not itself
    on the scale, by the design or by the log. For a variant of an aeroplane that was weighed, `before` are that
    one's entries: a part that has not changed weighs what it did. Raises PartError for a log that cannot be right.
    """
    if learned_g is not None:
        entries = [_learned(entry, mass_g) for entry, mass_g in zip(entries, learned_g, strict=True)]
    return _on_the_scale(_as_before(entries, before), pieces(weighed, [entry.part for entry in entries]))


def _entry(part: Part, unit: Body) -> Entry:
    mass = part.mass_g if part.mass_g is not None else unit.mass * part.material.weight
    if unit.mass <= 0.0:
        raise PartError(part.name, "has no size to weigh by")
    body = unit.scaled(mass / unit.mass).placed(part.place.rotation, part.place.origin)
    return Entry(part, part.basis, body, unit.mass, mass)


def _learned(entry: Entry, mass_g: float) -> Entry:
    if entry.drawn_g == 0.0 or entry.basis == "weighed":
        return entry
    return replace(entry, learned_g=mass_g, body=entry.body.scaled(mass_g / entry.drawn_g))


def _as_before(entries: Sequence[Entry], before: Sequence[Entry]) -> list[Entry]:
    known = {(entry.part.name, entry.drawn_g): entry for entry in before}
    result = []
    for entry in entries:
        old = known.get((entry.part.name, entry.drawn_g))
        if old is not None and entry.mass_g:
            body = entry.body.scaled(old.mass_g / entry.mass_g)
            entry = replace(entry, basis=old.basis, body=body, learned_g=old.learned_g, weighed_g=old.weighed_g)
        result.append(entry)
    return result


def _on_the_scale(entries: list[Entry], log: Sequence[Piece]) -> list[Entry]:
    """Single parts first, then larger pieces: what of a piece is not yet weighed shares the rest in proportion.

    The whole aeroplane is not shared out: it only has to be no lighter than what it is made of.
    """
    result = list(entries)
    for piece in sorted(log, key=lambda piece: len(piece.members)):
        if piece.is_whole:
            _no_lighter_than_its_pieces(piece, result, len(log))
        elif len(piece.members) == 1:
            index = piece.members[0]
            result[index] = _alone(result[index], piece)
        else:
            _share_out(piece, result, len(log))
    return result


def _alone(entry: Entry, piece: Piece) -> Entry:
    if entry.mass_g == 0.0:
        raise PartError(piece.subject, "the design gives it no mass at all to correct; state its mass there")
    return _reweighed(entry, piece.row.mass_g / entry.mass_g)


def _share_out(piece: Piece, entries: list[Entry], rows: int) -> None:
    mass_g = piece.row.mass_g
    known = sum(entries[index].mass_g for index in piece.members if entries[index].basis == "weighed")
    open_ = [index for index in piece.members if entries[index].basis != "weighed"]
    rest = sum(entries[index].mass_g for index in open_)
    if rest == 0.0:
        if abs(mass_g - known) > _rounding_g(piece, entries, rows):
            raise PartError(piece.subject, f"{mass_g:g} g, but its parts, all weighed, add up to {known:.1f} g")
        return
    if mass_g < known:
        raise PartError(piece.subject, f"{mass_g:g} g is less than its weighed parts together, {known:.1f} g")
    for index in open_:
        entries[index] = _reweighed(entries[index], (mass_g - known) / rest)


def _no_lighter_than_its_pieces(piece: Piece, entries: list[Entry], rows: int) -> None:
    known = sum(entries[index].mass_g for index in piece.members if entries[index].basis == "weighed")
    if piece.row.mass_g < known - _rounding_g(piece, entries, rows):
        raise PartError(
            piece.subject, f"{piece.row.mass_g:g} g is less than what was weighed of it piece by piece, {known:.1f} g"
        )


def _rounding_g(piece: Piece, entries: list[Entry], rows: int) -> float:
    """What readings may be off together: those of the log and of the items that the design states as weighed."""
    stated = sum(entries[index].basis == "weighed" and entries[index].weighed_g is None for index in piece.members)
    return ROUNDING_G * (rows + stated)


def _reweighed(entry: Entry, factor: float) -> Entry:
    body = entry.body.scaled(factor)
    return replace(entry, basis="weighed", body=body, weighed_g=body.mass)
