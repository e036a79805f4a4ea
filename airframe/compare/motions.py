"""How a redesign's motions differ from its prototype's, and which part's mass or placement drives each change.

A motion depends on the shape in the air (surfaces, fuselage, drag, thrust line) and on the masses (weight, balance
point, full inertia tensor). Each is swapped with the other as it was and as it became, and the two answers are averaged
(Shapley's rule for two causes): shape and masses so add up to the whole difference, in no order. Of the masses each
group is put into the old aeroplane, and taken out of the new one, by itself, averaged too; what groups do only together
is a share of its own, so that all shares add up by construction.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot, pi

import numpy as np

from airframe.axes import Array
from airframe.compare.parts import Pair
from airframe.flight.modes import Mode
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.inertia import Body, about
from airframe.mass import Entry
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

    @property
    def size(self) -> float:
        """How far it moves the motion's root, 1/s."""
        return hypot(2.0 * pi * self.swings_per_s, self.dies_per_s)


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


def _shares(old: Aeroplane, new: Aeroplane) -> dict[str, tuple[MotionShare, ...]]:
    """By motion, in the order of the causes; empty where the swaps do not make the same motions."""
    try:
        causes = _causes(_Swaps(old, new))
    except NoTrimError:
        return {}
    return _by_motion(causes, old)


def part_shares(old: Aeroplane, new: Aeroplane, pairs: Sequence[Pair]) -> dict[str, tuple[MotionShare, ...]]:
    """By motion, what each part that is not the same in both did by its mass, place and inertia, the most first.

    Swapped one at a time as groups are, left and right ones together; one that is only in either says "gone" or "new".
    Empty where the two do not make the same motions.
    """
    bodies: dict[str, tuple[list[Body], list[Body]]] = {}
    for pair in pairs:
        if pair.fate != "unchanged":
            before, after = bodies.setdefault(_called(pair), ([], []))
            before += _bodies(pair.old)
            after += _bodies(pair.new)
    try:
        swaps = _Swaps(old, new)
        found = _by_motion({name: swaps.by_masses(*both) for name, both in bodies.items()}, old)
    except NoTrimError:
        return {}
    return {name: tuple(sorted(shares, key=lambda one: -one.size)) for name, shares in found.items()}


def _called(pair: Pair) -> str:
    """Its name without its side, and whether it is new or gone."""
    fate = {"added": " (new)", "removed": " (gone)"}.get(pair.fate, "")
    return re.sub(r" (left|right)$", "", pair.name) + fate


class _Swaps:
    """The motions of aeroplanes that are part old, part new: (motions, 2) swings and dying away per second.

    Raises NoTrimError where one of them is not held in level flight, or makes other motions.
    """

    def __init__(self, old: Aeroplane, new: Aeroplane) -> None:
        self.old, self.new = old, new
        self._names = tuple(mode.name for mode in old.flight.modes)
        if len(set(self._names)) < len(self._names):
            raise NoTrimError("two of its motions have one name")
        self.from_old, self.to_new = self.of(old.flight), self.of(new.flight)

    def of(self, flight: Flight) -> Array:
        """Of one of them."""
        if tuple(mode.name for mode in flight.modes) != self._names:
            raise NoTrimError("it makes other motions")
        return np.array([(swings_per_s(mode), dies_per_s(mode)) for mode in flight.modes])

    def by_masses(self, before: list[Body], after: list[Body]) -> Array:
        """What it does to put the bodies after in the place of those before, in the old one and in the new one."""
        old, new = self.old.flight, self.new.flight
        put_in = self.of(old.weighing(exchanged(old.whole, before, after)))
        taken_out = self.of(new.weighing(exchanged(new.whole, after, before)))
        return (put_in - self.from_old + self.to_new - taken_out) / 2.0


def _causes(swaps: _Swaps) -> dict[str, Array]:
    old, new = swaps.old, swaps.new
    masses = swaps.by_masses([old.statement.whole], [new.statement.whole])
    groups = {}
    for name in dict.fromkeys((*old.statement.groups, *new.statement.groups)):
        sides = [[one.statement.groups[name]] if name in one.statement.groups else [] for one in (old, new)]
        groups[name] = swaps.by_masses(sides[0], sides[1])
    together = masses - sum(groups.values(), start=np.zeros_like(masses))
    return {SHAPE: swaps.to_new - swaps.from_old - masses, **groups, TOGETHER: together}


def _by_motion(causes: Mapping[str, Array], old: Aeroplane) -> dict[str, tuple[MotionShare, ...]]:
    return {
        mode.name: tuple(MotionShare(cause, float(rows[i, 0]), float(rows[i, 1])) for cause, rows in causes.items())
        for i, mode in enumerate(old.flight.modes)
    }


def _bodies(entry: Entry | None) -> list[Body]:
    return [] if entry is None else [entry.body]


def exchanged(whole: Body, out: Sequence[Body], into: Sequence[Body]) -> Body:
    """The whole with some bodies taken out of it and others put in. Raises NoTrimError where nothing is left to fly."""
    mass = whole.mass - sum(body.mass for body in out) + sum(body.mass for body in into)
    if mass <= 0.0:
        raise NoTrimError("nothing is left to fly")
    signed = [(1.0, whole), *((-1.0, body) for body in out), *((1.0, body) for body in into)]
    moment = sum((sign * body.mass * body.centre for sign, body in signed), start=np.zeros(3))
    centre = moment / mass
    inertia = sum((sign * about(body, centre) for sign, body in signed), start=np.zeros((3, 3)))
    return Body(mass, centre, inertia)
