"""How the lift is spread over the span, where the section stalls first, and how slowly that lets it fly; estimates."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np

from airframe.axes import Array
from airframe.flight.air import Air
from airframe.flight.lattice import Lattice
from airframe.flight.roots import bracketed_root
from airframe.flight.trim import NoTrimError, ThrustLine, Trim, elevator_left, level, speed_for_lift

CLOSE_SHARE = 1e-4
"""How closely the slowest speed is found."""
SPEED_RANGE = 4.0
"""The slowest speed is looked for down from so many times the speed that the section alone would allow."""


@dataclass(frozen=True, eq=False)
class Loading:
    """Lift along a surface, strip by strip, from left to right or from below."""

    place_m: Array
    """(k, 3) where each strip's bound vortices act, mean of its panels; aeroplane's frame."""
    width_m: Array
    """(k,) along the surface."""
    lift_n_m: Array
    """(k,) a metre of the surface, square to it: density times speed times circulation."""
    coefficient: Array
    """(k,) of the section there."""


def loading(lattice: Lattice, surface: str, motion: Array, deflections: Array, density_kg_m3: float) -> Loading:
    """Of one surface at a motion of the frame's origin."""
    panels = lattice.panels
    numbers, first = np.unique(panels.strip[panels.of(surface)], return_index=True)
    first = np.flatnonzero(panels.of(surface))[first]
    speed = float(np.linalg.norm(motion[:3]))
    gamma = np.bincount(panels.strip, lattice.circulation(motion, deflections)).astype(np.float64)[numbers]
    rows = np.bincount(panels.strip)[numbers]
    middles = [np.bincount(panels.strip, panels.middle[:, axis])[numbers] / rows for axis in range(3)]
    width: Array = np.hypot(panels.bound[first, 1], panels.bound[first, 2])
    coefficient: Array = 2.0 * gamma / (speed * panels.chord[first])
    lift: Array = density_kg_m3 * speed * gamma
    return Loading(np.column_stack(middles), width, lift, coefficient)


def span_efficiency(air: Air, trim: Trim) -> float:
    """Lift squared over pi, aspect ratio and the wake's drag (Trefftz's plane): 1 for an elliptic wing by itself.

    With the tail's wake in it, and what trim costs; may pass 1 where the surfaces lie at different heights.
    """
    wake_n = air.lattice.wake_drag_n(trim.motion, air.deflections(trim.elevator_rad), air.density_kg_m3)
    dynamic = 0.5 * air.density_kg_m3 * trim.speed_m_s**2
    lift_n = trim.lift_coefficient * dynamic * air.wing.area_m2
    return float(lift_n**2 / (dynamic * pi * air.wing.span_m**2 * wake_n))


@dataclass(frozen=True, eq=False)
class Slowest:
    """The slowest level flight, and what ends it."""

    trim: Trim
    limit: str
    """ "stall" where the wing's section can no more, "elevator" where the throw is used up before."""
    stall_place_m: Array
    """Where on the wing (3,) the section is nearest its stall; aeroplane's frame."""


def wing_loading(air: Air, trim: Trim) -> Loading:
    """Of the wing at a trim."""
    deflections = air.deflections(trim.elevator_rad)
    return loading(air.lattice, "wing", trim.motion, deflections, air.density_kg_m3)


def slowest(air: Air, mass_kg: float, thrust: ThrustLine, section_lift_most: float, throw_up_rad: float) -> Slowest:
    """Level flight in which some section of the wing bears its most, or the elevator is fully up.

    The critical-section method: the first section at its most counts as the wing's stall, which is on the safe side.
    `section_lift_most` comes from section data. Raises NoTrimError where no level flight is to be had at all.
    """

    def left(speed_m_s: float) -> tuple[float, float, Trim | None]:
        try:
            found = level(air, mass_kg, speed_m_s, thrust)
        except NoTrimError:
            return -1.0, -1.0, None
        most = float(wing_loading(air, found).coefficient.max())
        return section_lift_most - most, elevator_left(found, throw_up_rad), found

    guess = speed_for_lift(air, mass_kg, section_lift_most)
    low, high = guess / SPEED_RANGE, guess * SPEED_RANGE
    if min(left(high)[:2]) < 0.0:
        raise NoTrimError("no level flight at any speed that was tried")
    if min(left(low)[:2]) >= 0.0:
        at = low
    else:
        at = bracketed_root(lambda speed: min(left(speed)[:2]), low, high, CLOSE_SHARE / SPEED_RANGE)
    lift_left, throw_left, found = left(at)
    if found is None:
        at *= 1.0 + 2.0 * CLOSE_SHARE
        lift_left, throw_left, found = left(at)
    if found is None:
        raise NoTrimError("no level flight at the slowest that was tried")
    spread = wing_loading(air, found)
    place = spread.place_m[int(np.argmax(spread.coefficient))]
    ends_by_stall = lift_left / section_lift_most * throw_up_rad < throw_left
    return Slowest(found, "stall" if ends_by_stall else "elevator", place)
