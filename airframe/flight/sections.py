"""What thin flat and curved plates lift and drag at model speeds, in bands of low confidence; per unit of chord.

The published tests agree on trends (Laitone 1997; Pelletier & Mueller 2000; Winslow and others: abstracts read): at
Reynolds numbers from 20 000 to 200 000 curved plates beat flat ones and neither changes much. The largest lift
coefficients here are from memory of Schmitz, of Pelletier & Mueller and of Mueller 1999, and no more than that.
"""

from __future__ import annotations

from math import cos, log10, pi, sqrt
from typing import Literal

from airframe.flight.bands import Band

Section = Literal["curved plate", "flat plate", "folded"]

FLAT_MOST_LIFT = Band(0.7, 0.75, 0.8)
"""Schmitz; Pelletier & Mueller, Re 40 000 to 200 000 (from memory, low confidence)."""
CURVED_MOST_LIFT = Band(1.0, 1.1, 1.2)
"""Of plates with 4 to 6 % camber: Schmitz, Mueller 1999 (from memory, low confidence)."""
FOLDED_MOST_LIFT = Band(0.75, 1.0, 1.2)
"""A thick section jumps from the lower to the upper value between Re 63 000 and 105 000 (Schmitz, from memory)."""
CAMBER_OF_CURVED = 0.04
"""From here on a plate counts as curved; below, between flat and curved. More than 6 % counts no higher."""
REYNOLDS_TESTED = (20_000.0, 200_000.0)
UNTESTED = (0.85, 1.05)
"""How the ends of the band spread outside the tested range (our choice, no source)."""
WHOLE_WING = 0.9
"""The wing's largest lift coefficient against the section's, unswept (Raymer eq. 12.15, secondary; full-size)."""
EDGE_DRAG = Band(0.1, 0.2, 0.5)
"""Of a board's edges, by its thickness: rounded and taped to raw (our choice, no source)."""
SUCTION_LOST = Band(0.2, 0.6, 1.0)
"""A thin nose turns so much of its suction into drag (our choice, no source; a sharp one: all of it)."""


def most_lift(section: Section, camber_share: float, reynolds: float) -> Band:
    """The section's largest lift coefficient, low confidence."""
    if section == "folded":
        band = FOLDED_MOST_LIFT
    else:
        camber = 0.0 if section == "flat plate" else camber_share
        band = FLAT_MOST_LIFT.towards(CURVED_MOST_LIFT, min(camber / CAMBER_OF_CURVED, 1.0))
    low, high = REYNOLDS_TESTED
    if low <= reynolds <= high:
        return band
    return Band(band.low * UNTESTED[0], band.middle, band.high * UNTESTED[1])


def wing_most_lift(section_most: Band, quarter_chord_sweep_rad: float = 0.0) -> Band:
    """The whole wing's largest lift coefficient: 0.9 c_l,max cos(sweep)."""
    return section_most.times(WHOLE_WING * cos(quarter_chord_sweep_rad))


def easiest_lift(camber_share: float) -> float:
    """The lift coefficient at which the air meets a circular-arc plate's nose smoothly: 4 pi f / c (from memory)."""
    return 4.0 * pi * camber_share


def laminar_friction(reynolds: float) -> float:
    """Of one face, laminar all along: 1.328 / sqrt(Re) (Blasius; from memory)."""
    return 1.328 / sqrt(reynolds)


def turbulent_friction(reynolds: float) -> float:
    """Of one face, turbulent all along: 0.455 / (log10 Re)^2.58 (Prandtl and Schlichting; from memory)."""
    return float(0.455 / log10(reynolds) ** 2.58)


def friction(reynolds: float) -> Band:
    """Of one face that may be laminar or turbulent, by its wetted area. Raises ValueError without a flow."""
    if reynolds <= 100.0:
        raise ValueError(f"a Reynolds number of {reynolds:.3g} is no flight")
    low, high = sorted((laminar_friction(reynolds), turbulent_friction(reynolds)))
    return Band(low, (low + high) / 2.0, high)


def profile_drag(lift_coefficient: float, camber_share: float, thickness_share: float, reynolds: float) -> Band:
    """The section's drag coefficient below its stall: friction of both faces, edges, and suction that is lost.

    Away from its easiest lift a thin plate's nose should be sucked forward by (c_l - c_li)^2 / (2 pi); what it loses
    of that is drag. An estimate.
    """
    away = (lift_coefficient - easiest_lift(camber_share)) ** 2 / (2.0 * pi)
    base = friction(reynolds).times(2.0).plus(EDGE_DRAG.times(thickness_share))
    return base.plus(SUCTION_LOST.times(away))
