"""The lever law: what one mass does to the balance point, forwards and backwards; plain numbers and arrays.

Letters: M mass and X balance point of the whole, m mass and x station of what moves; c an arm that does not move.
Grams and mm in the aeroplane's frame. Source: moments about the origin, any statics text (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array
from airframe.inertia import Body, about


@dataclass(frozen=True, eq=False)
class Loads:
    """n aeroplanes, each without the one item that moves along its x axis, and that item; arrays of n rows."""

    rest_g: Array
    """Mass without the item, (n,)."""
    rest_moment: Array
    """Mass times centre without the item, (n, 3)."""
    rest_pitch: Array
    """Moment of inertia without the item, about the y axis through the origin, (n,)."""
    item_g: Array
    """The item's mass, (n,)."""
    item_pitch: Array
    """The item's own moment of inertia about the y axis through its centre, (n,)."""
    item_centre: Array
    """The item's centre, (n, 3); its station is where it sits now."""

    @property
    def mass_g(self) -> Array:
        """Mass of the whole, (n,)."""
        total: Array = self.rest_g + self.item_g
        return total


@dataclass(frozen=True, eq=False)
class Placements:
    """What follows when the item sits at k stations in each of n aeroplanes."""

    mass_g: Array
    """(n, 1): moving changes no mass."""
    cg_mm: Array
    """Balance points, (n, k, 3)."""
    pitch_g_mm2: Array
    """Moments of inertia about the y axis through each balance point, (n, k)."""


def loads(rest: Sequence[Body], items: Sequence[Body]) -> Loads:
    """Rows for pairs of what stays and what moves."""
    origin = np.zeros(3)
    return Loads(
        np.array([body.mass for body in rest]),
        np.array([body.mass * body.centre for body in rest]).reshape(-1, 3),
        np.array([about(body, origin)[1, 1] for body in rest]),
        np.array([body.mass for body in items]),
        np.array([body.inertia[1, 1] for body in items]),
        np.array([body.centre for body in items]).reshape(-1, 3),
    )


def placed(load: Loads, stations_mm: ArrayLike) -> Placements:
    """Balance point and pitch inertia with the item's centre at each station; stations are (k,) or (n, k).

    X = (S + m x) / M; about X by the parallel-axis theorem: J = J0 + Jm + m (x^2 + z^2) - M (X^2 + Z^2).
    """
    x = np.broadcast_to(np.asarray(stations_mm, dtype=np.float64), (len(load.rest_g), np.shape(stations_mm)[-1]))
    m, total = load.item_g[:, None], load.mass_g[:, None]
    y, z = load.item_centre[:, 1, None], load.item_centre[:, 2, None]
    moment = np.stack(np.broadcast_arrays(m * x, m * y, m * z), axis=2) + load.rest_moment[:, None, :]
    cg = moment / total[:, :, None]
    pitch = (load.rest_pitch + load.item_pitch)[:, None] + m * (x * x + z * z)
    return Placements(total, cg, pitch - total * (cg[:, :, 0] ** 2 + cg[:, :, 2] ** 2))


def stations_for(load: Loads, balance_mm: ArrayLike) -> Array:
    """Where the item must sit for each balance station: x = (X M - S) / m; (n, k). Infinite for an item of no mass."""
    wanted = np.asarray(balance_mm, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        stations: Array = (wanted * load.mass_g[:, None] - load.rest_moment[:, :1]) / load.item_g[:, None]
    return stations


def ballast_g(mass_g: float, balance_mm: float, wanted_mm: float, at_mm: float) -> float:
    """The mass that, put at a station, brings the balance point where it is wanted: m = M (X - X') / (X' - c).

    Negative where the station lies on the wrong side: nothing put there will do. ZeroDivisionError at X' itself.
    """
    return mass_g * (balance_mm - wanted_mm) / (wanted_mm - at_mm)


def moved_by_mm(item_g: float, mass_g: float, by_mm: float) -> float:
    """How far the balance point moves when an item does: d m / M."""
    return by_mm * item_g / mass_g


def left_out_mm(item_g: float, item_mm: float, mass_g: float, balance_mm: float) -> float:
    """How far the balance point moves when an item stays at home: (M X - m x) / (M - m) - X = m (X - x) / (M - m)."""
    return item_g * (balance_mm - item_mm) / (mass_g - item_g)
