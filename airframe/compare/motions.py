"""How a redesign's motions differ from its prototype's, and which part's mass or placement drives each change.

A motion depends on the shape in the air (surfaces, fuselage, drag, thrust line) and on the masses (weight, balance
point, full inertia tensor). Each is swapped with the other as it was and as it became, and the two answers are averaged
(Shapley's rule for two causes): shape and masses so add up to the whole difference, in no order. Of the masses each
group is put into the old aeroplane, and taken out of the new one, by itself, averaged too; what groups do only together
is a share of its own, so that all shares add up by construction.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi

import numpy as np

from airframe.axes import Array
from airframe.flight.modes import Mode
from airframe.flight.solved import Lattices
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.inertia import Body, combined
from airframe.layout import Layout
from airframe.model import Aeroplane

SHAPE, TOGETHER = "shape in the air", "masses together"


@dataclass(frozen=True)
class MotionShare:
    """What one cause did to one motion."""

    cause: str
    """`SHAPE`, the name of a group of parts (its mass, placement and inertia), or `TOGETHER`."""
    swings_per_s: float
    dies_per_s: float
    """How much quicker it dies away, 1/s: ln 2 over the time to half."""


@dataclass(frozen=True)
class MotionChange:
    """One motion of both aeroplanes; of a motion that only one of them makes, the other is None."""

    name: str
    old: Mode | None
    new: Mode | None
    shares: tuple[MotionShare, ...]
    """Their sums are the differences; empty where the two do not make the same motions."""


def swings_per_s(mode: Mode) -> float:
    """How often it swings."""
    return abs(mode.root.imag) / (2.0 * pi)


def dies_per_s(mode: Mode) -> float:
    """How quickly it dies away; negative where it grows."""
    return -mode.root.real


def motion_changes(old: Aeroplane, new: Aeroplane) -> tuple[MotionChange, ...]:
    """Every motion at slow cruise, each aeroplane at its own. Raises NoTrimError where one of the two is not held."""
    before, after = old.flight.modes, new.flight.modes
    names = list(dict.fromkeys(mode.name for mode in (*before, *after)))
    shares = _shares(old, new)
    changes = []
    for name in names:
        pair = [next((mode for mode in found if mode.name == name), None) for found in (before, after)]
        changes.append(MotionChange(name, pair[0], pair[1], shares.get(name, ())))
    return tuple(changes)


class _Swaps:
    """The motions of aeroplanes that are part old, part new."""

    def __init__(self, names: tuple[str, ...]) -> None:
        self._names = names
        self._lattices = Lattices()

    def of(self, layout: Layout, mass: Body) -> Array:
        """(motions, 2) swings and dying away per second. Raises NoTrimError also where other motions come out."""
        found = Flight(layout, mass, self._lattices).modes
        if tuple(mode.name for mode in found) != self._names:
            raise NoTrimError("it makes other motions")
        return np.array([(swings_per_s(mode), dies_per_s(mode)) for mode in found])


def _shares(old: Aeroplane, new: Aeroplane) -> dict[str, tuple[MotionShare, ...]]:
    """By motion, in the order of the causes; empty where the swaps do not make the same motions."""
    names = tuple(mode.name for mode in old.flight.modes)
    if len(set(names)) < len(names):
        return {}
    try:
        causes = _causes(_Swaps(names), old, new)
    except NoTrimError:
        return {}
    return {
        name: tuple(MotionShare(cause, float(rows[i, 0]), float(rows[i, 1])) for cause, rows in causes.items())
        for i, name in enumerate(names)
    }


def _causes(swaps: _Swaps, old: Aeroplane, new: Aeroplane) -> dict[str, Array]:
    first, last = old.layout, new.layout
    light, heavy = old.statement.whole, new.statement.whole
    corner = {(a, b): swaps.of(a, b) for a in (first, last) for b in (light, heavy)}
    masses = (corner[first, heavy] - corner[first, light] + corner[last, heavy] - corner[last, light]) / 2.0
    whole = corner[last, heavy] - corner[first, light]
    groups = {}
    for name in dict.fromkeys((*old.statement.groups, *new.statement.groups)):
        put_in = swaps.of(first, _swapped(old.statement.groups, new.statement.groups, name))
        taken_out = swaps.of(last, _swapped(new.statement.groups, old.statement.groups, name))
        groups[name] = (put_in - corner[first, light] + corner[last, heavy] - taken_out) / 2.0
    together = masses - sum(groups.values(), start=np.zeros_like(masses))
    return {SHAPE: whole - masses, **groups, TOGETHER: together}


def _swapped(groups: Mapping[str, Body], others: Mapping[str, Body], name: str) -> Body:
    """The whole with one group exchanged for the other aeroplane's."""
    chosen = {**groups, name: others[name]} if name in others else {k: v for k, v in groups.items() if k != name}
    return combined(list(chosen.values()))
