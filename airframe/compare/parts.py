"""Which part of the new aeroplane is which of the old one, and what became of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from airframe.axes import Point
from airframe.compare.drawings import is_same_drawing
from airframe.mass import Entry, Statement

Fate = Literal["added", "removed", "changed", "unchanged"]

SAME_PLACE_MM = 1e-6
SAME_TURN = 1e-9
SAME_MASS_G = 1e-9


@dataclass(frozen=True, eq=False)
class Pair:
    """A part before and after; one of the two is None if it was added or removed."""

    old: Entry | None
    new: Entry | None

    @property
    def one(self) -> Entry:
        """The new part, or the old one if it is gone."""
        entry = self.new or self.old
        assert entry is not None
        return entry

    @property
    def name(self) -> str:
        """What it is called now; if it is gone, what it was called."""
        return self.one.part.name

    @property
    def group(self) -> str:
        """The group of the weight statement."""
        return self.one.part.group

    @property
    def fate(self) -> Fate:
        """Added, removed, changed, or neither shape, place, material nor mass differs."""
        if self.old is None:
            return "added"
        if self.new is None:
            return "removed"
        same = (self.is_same_shape, not self.is_turned, not self.has_moved, self.is_same_material)
        return "unchanged" if all(same) and abs(self.mass_g) <= SAME_MASS_G else "changed"

    @property
    def old_name(self) -> str | None:
        """What it was called before, if that differs: parts cut from one deck are numbered anew."""
        if self.old is None or self.new is None or self.old.part.name == self.new.part.name:
            return None
        return self.old.part.name

    @property
    def is_same_shape(self) -> bool:
        """Whether both are the same drawing: nothing new to cut or bend."""
        return bool(self.old and self.new and _is_same_drawing(self.old, self.new))

    @property
    def is_same_material(self) -> bool:
        """Whether both weigh by the same material; a material of one name that weighs otherwise is another."""
        return bool(self.old and self.new and self.old.part.material == self.new.part.material)

    @property
    def is_turned(self) -> bool:
        """Whether the same shape sits at another attitude; a new shape is not compared."""
        if not (self.old and self.new and self.is_same_shape):
            return False
        before, after = (np.array(entry.part.place.rotation) for entry in (self.old, self.new))
        return not np.allclose(before, after, rtol=0.0, atol=SAME_TURN)

    @property
    def has_moved(self) -> bool:
        """Whether its middle lies elsewhere."""
        return max(map(abs, self.moved_mm), default=0.0) > SAME_PLACE_MM

    @property
    def moved_mm(self) -> Point:
        """How far its centre of mass moved: aft, right, up; zeros if it was added or removed."""
        if self.old is None or self.new is None:
            return (0.0, 0.0, 0.0)
        x, y, z = self.new.body.centre - self.old.body.centre
        return float(x), float(y), float(z)

    @property
    def mass_g(self) -> float:
        """Mass after less mass before."""
        return (self.new.mass_g if self.new else 0.0) - (self.old.mass_g if self.old else 0.0)

    @property
    def scale_g(self) -> float:
        """How much of that is not the drawings' doing: what the kitchen scale, and what it taught, added to each."""
        after, before = (one.mass_g - one.drawn_g if one else 0.0 for one in (self.new, self.old))
        return after - before


def paired(old: Statement, new: Statement) -> tuple[Pair, ...]:
    """Every part of both aeroplanes once, those of the new one in its order, then those that are gone.

    Parts are looked for among those of the same group and the same name but for its numbers: first an equal
    drawing, the nearest one first (where no name came or went: in its place, then of its name); then the same name;
    then whatever is left, the nearest first.
    """
    before, after = _families(old.entries), _families(new.entries)
    partner: dict[int, Entry] = {}
    gone: list[Entry] = []
    for family in dict.fromkeys([*after, *before]):
        matches, left = _matched(before.get(family, []), after.get(family, []))
        partner |= matches
        gone += left
    pairs = [Pair(partner.get(id(entry)), entry) for entry in new.entries]
    left_over = {id(entry) for entry in gone}
    return (*pairs, *(Pair(entry, None) for entry in old.entries if id(entry) in left_over))


def _families(entries: Sequence[Entry]) -> dict[tuple[str, str], list[Entry]]:
    families: dict[tuple[str, str], list[Entry]] = {}
    for entry in entries:
        # One floor is "floor", two of them are "floor 1" and "floor 2": the number may come or go.
        stem = re.sub(r"\s*\d+", "", entry.part.name)
        families.setdefault((entry.part.group, stem), []).append(entry)
    return families


def _matched(old: list[Entry], new: list[Entry]) -> tuple[dict[int, Entry], list[Entry]]:
    """The old part of each new one by the new one's id, and the old parts that are left over."""
    matches: dict[int, Entry] = {}
    left = {id(entry): entry for entry in old}
    # Where nothing came or went nothing was numbered anew: equal parts that moved keep their names.
    is_renumbered = {entry.part.name for entry in old} != {entry.part.name for entry in new}
    first = () if is_renumbered else (_is_unmoved, _is_same_but_moved)
    for is_fit in (*first, _is_same_drawing, _is_same_name, _is_any):
        for before, after in _nearest_first(old, new, is_fit):
            if id(before) in left and id(after) not in matches:
                matches[id(after)] = left.pop(id(before))
    return matches, list(left.values())


def _nearest_first(
    old: list[Entry], new: list[Entry], is_fit: Callable[[Entry, Entry], bool]
) -> list[tuple[Entry, Entry]]:
    candidates = [(before, after) for before in old for after in new if is_fit(before, after)]
    return sorted(candidates, key=lambda pair: (round(_distance_mm(*pair), 6), not _is_same_name(*pair)))


def _distance_mm(old: Entry, new: Entry) -> float:
    return float(np.linalg.norm(new.body.centre - old.body.centre))


def _is_same_drawing(old: Entry, new: Entry) -> bool:
    return is_same_drawing(old.part.shape, new.part.shape)


def _is_same_name(old: Entry, new: Entry) -> bool:
    return old.part.name == new.part.name


def _is_unmoved(old: Entry, new: Entry) -> bool:
    return _distance_mm(old, new) <= SAME_PLACE_MM and _is_same_drawing(old, new)


def _is_same_but_moved(old: Entry, new: Entry) -> bool:
    return _is_same_name(old, new) and _is_same_drawing(old, new)


def _is_any(_old: Entry, _new: Entry) -> bool:
    return True
