"""What each part's change did to mass, balance point and inertia: shares that add up to the whole difference."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from airframe.axes import Array
from airframe.compare.parts import Fate, Pair
from airframe.inertia import Body, about, point_term


@dataclass(frozen=True, eq=False)
class Share:
    """What one change, or several together, did to the whole."""

    mass_g: float
    balance_mm: Array
    """How far it moved the balance point: aft, right, up; shape (3,)."""
    inertia_g_mm2: Array
    """Change of the inertia tensor about the OLD balance point, shape (3, 3); off-diagonal: negative products."""

    def __add__(self, other: Share) -> Share:
        """Both together."""
        return Share(
            self.mass_g + other.mass_g,
            self.balance_mm + other.balance_mm,
            self.inertia_g_mm2 + other.inertia_g_mm2,
        )


Key = TypeVar("Key")

NOTHING = Share(0.0, np.zeros(3), np.zeros((3, 3)))


@dataclass(frozen=True, eq=False)
class PartShare:
    """The share of one part."""

    name: str
    group: str
    fate: Fate
    share: Share


@dataclass(frozen=True, eq=False)
class Attribution:
    """The difference of two aeroplanes, taken apart."""

    parts: tuple[PartShare, ...]
    """One for each part of either aeroplane; that of an unchanged one is nothing."""
    moved_g_mm2: Array
    """Change of the inertia tensor because it is taken about the new balance point and not the old one."""
    whole: Share
    """The difference of the two weight statements; its inertia is about each aeroplane's own balance point."""

    @property
    def by_group(self) -> dict[str, Share]:
        """The shares of each group's parts together."""
        return _summed(self.parts, lambda part: part.group)

    @property
    def by_fate(self) -> dict[Fate, Share]:
        """The shares of what was added, removed and changed; that of what was not is nothing but rounding."""
        return _summed(self.parts, lambda part: part.fate)


def attribution(pairs: Sequence[Pair], old: Body, new: Body) -> Attribution:
    """Takes the difference between two wholes apart; exact, whatever the changes, and in no order.

    Masses add. With c the old balance point, M' the new mass, and sums over the parts before (m, x) and
    after (m', x'), first moments about c add as well, and those before add up to nothing:

        c' - c = sum m' (x' - c) / M' = sum [m' (x' - c) - m (x - c)] / M'

    so a part's share of the shift is its bracket over M'. Inertia tensors about the one point c add, and each
    part's share is its own difference there. The old whole's tensor about c is about its own balance point; the
    new whole's is about its own one plus M' (d.d 1 - d d^T), d = c' - c: that term, taken off, is `moved_g_mm2`.

    A new aeroplane without mass has no balance point: the shares of the shift are then zero.
    """
    shares = tuple(PartShare(pair.name, pair.group, pair.fate, _share(pair, old, new)) for pair in pairs)
    shift = new.centre - old.centre if new.mass else np.zeros(3)
    whole = Share(new.mass - old.mass, shift, new.inertia - old.inertia)
    return Attribution(shares, -point_term(new.mass, shift), whole)


def _share(pair: Pair, old: Body, new: Body) -> Share:
    after = [pair.new.body] if pair.new else []
    before = [pair.old.body] if pair.old else []
    moment = _moment(after, old.centre) - _moment(before, old.centre)
    inertia = _inertia(after, old.centre) - _inertia(before, old.centre)
    return Share(pair.mass_g, moment / new.mass if new.mass else np.zeros(3), inertia)


def _moment(bodies: Iterable[Body], point: Array) -> Array:
    moments = [body.mass * (body.centre - point) for body in bodies]
    return sum(moments, start=np.zeros(3))


def _inertia(bodies: Iterable[Body], point: Array) -> Array:
    return sum((about(body, point) for body in bodies), start=np.zeros((3, 3)))


def _summed(parts: Iterable[PartShare], key: Callable[[PartShare], Key]) -> dict[Key, Share]:
    sums: dict[Key, Share] = {}
    for part in parts:
        sums[key(part)] = sums.get(key(part), NOTHING) + part.share
    return sums
