"""What mends a balance that no battery station gives: the smallest ballast, or another item elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np

from airframe import inertia
from airframe.axes import Array, Point
from airframe.balance.intervals import Interval, nearest, outside
from airframe.balance.lever import ballast_g
from airframe.balance.space import Surroundings
from airframe.balance.spots import along, outermost
from airframe.balance.target import Target
from airframe.checks.rounding import round_down, round_up
from airframe.inertia import Body
from airframe.mass import Statement
from airframe.schema.equipment import Item, RoundItem
from airframe.units import G_PER_OUNCE, MM_PER_INCH, System

LEAD_G_MM3 = 11.34e-3
"""Density of lead (CRC Handbook of Chemistry and Physics, from memory)."""
SECTION_MM: dict[System, tuple[float, float]] = {
    "metric": (20.0, 10.0),
    "imperial": (0.8 * MM_PER_INCH, 0.4 * MM_PER_INCH),
}
"""Width and height of a bar of ballast; its length follows from its mass: our choice, lies flat in a narrow tail."""
SHORTEST_MM = 4.0
STEP_G: dict[System, float] = {"metric": 0.5, "imperial": 0.02 * G_PER_OUNCE}
"""Ballast is weighed out in such steps."""
RESERVE_MM = 0.05
"""How far inside the range the balance point is brought, so that a rounded number does not end up outside."""
MOST_SHARE = 0.25
"""More ballast than this share of the aeroplane is no ballast but another design."""
MOST_MOVES = 3
"""Of all items that would do, those that move least."""
FASTENED = "controls"
"""Items of this group stay: a servo that moves takes its push-rod and its slot along."""
_ROUNDS = 6


@dataclass(frozen=True, eq=False)
class Lacking:
    """An aeroplane whose balance point is out of range with its battery where it does best."""

    mass_g: float
    balance_mm: float
    """Station of the balance point."""
    battery: Array
    """The box that the battery takes: lowest x, y, z, highest x, y, z."""
    absent: frozenset[str]
    """Names of parts that are not there, the battery's own among them."""
    target: Target

    @property
    def is_tail_heavy(self) -> bool:
        """Whether the balance point lies aft of the range."""
        return outside(self.balance_mm, self.target.window_mm) > 0.0

    @property
    def window_mm(self) -> Interval:
        """The range, less the reserve."""
        return self.target.forward_mm + RESERVE_MM, self.target.aft_mm - RESERVE_MM


@dataclass(frozen=True, eq=False)
class Ballast:
    """A bar of lead inside the fuselage."""

    mass_g: float
    size: Point
    """Length, width, height."""
    middle: Point
    body: Body


@dataclass(frozen=True)
class ItemMove:
    """Another item, at another station."""

    item: str
    from_mm: float
    to_mm: float


def ballast(around: Surroundings, lacking: Lacking) -> Ballast | None:
    """The smallest ballast that brings the balance point to the near end of the range; None if none would.

    It lies as far out as there is room. Its mass decides its length, its length how far out it lies: both are found
    by turns, starting with the shortest bar.
    """
    goal, system = lacking.window_mm[1 if lacking.is_tail_heavy else 0], around.layout.design.units
    step, (width, height), length = STEP_G[system], SECTION_MM[system], round_up(SHORTEST_MM, system)
    for _ in range(_ROUNDS):
        size = (length, width, height)
        middle = outermost(around, lacking.absent, lacking.battery, size, lacking.is_tail_heavy)
        if middle is None or middle[0] == goal:
            return None
        needed = ballast_g(lacking.mass_g, lacking.balance_mm, goal, middle[0])
        if not 0.0 < needed <= MOST_SHARE * lacking.mass_g:
            return None
        rounded = ceil(needed / step) * step
        if rounded <= LEAD_G_MM3 * length * width * height:
            return _bar(rounded, size, middle)
        length = round_up(rounded / (LEAD_G_MM3 * width * height), system)
    return None


def _bar(mass_g: float, size: Point, middle: Point) -> Ballast:
    unit = inertia.box(*size)
    return Ballast(mass_g, size, middle, unit.scaled(mass_g / unit.mass).placed(np.eye(3), np.array(middle)))


def moves(around: Surroundings, lacking: Lacking, statement: Statement) -> tuple[ItemMove, ...]:
    """Bought items any one of which, moved along, brings the balance point into the range; the least move first."""
    found = sorted(_moves(around, lacking, statement), key=lambda move: abs(move.to_mm - move.from_mm))
    return tuple(found[:MOST_MOVES])


def _moves(around: Surroundings, lacking: Lacking, statement: Statement) -> Iterator[ItemMove]:
    masses = {entry.part.name: entry.mass_g for entry in statement.entries}
    design = around.layout.design
    for name, item in design.equipment.items():
        is_there = name in around.parts and name not in lacking.absent
        if not is_there or not isinstance(item, Item | RoundItem) or item.group == FASTENED or not item.mass_g:
            continue
        per_mm = masses.get(name, item.mass_g) / lacking.mass_g
        low, high = (item.station_mm + (end - lacking.balance_mm) / per_mm for end in lacking.window_mm)
        rooms = along(around, lacking.absent, lacking.battery, name, (low, high), item.place == "inside")
        station = station_near(rooms, item.station_mm, design.units)
        if station is not None:
            yield ItemMove(name, item.station_mm, station)


def station_near(rooms: Sequence[Interval], here: float, system: System) -> float | None:
    """The station in some intervals nearest to another: a whole mm (or 1/20 in) where the interval holds one."""
    exact = nearest(rooms, here)
    if exact is None:
        return None
    low, high = next((a, b) for a, b in rooms if a <= exact <= b)
    if low <= here <= high:
        return here
    whole = round_up(low, system) if here < low else round_down(high, system)
    return whole if low <= whole <= high else exact
