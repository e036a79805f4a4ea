"""The headline numbers of two aeroplanes side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from airframe.axes import Array
from airframe.checks.standing import THIRD, standing
from airframe.compare.parts import SAME_MASS_G
from airframe.model import Aeroplane

Quantity = Literal["mass", "length", "share", "area", "loading", "inertia"]
"""Internal units: g, mm, 1, mm^2, g/dm^2, g mm^2."""


@dataclass(frozen=True)
class Figure:
    """One number of both aeroplanes; None where an aeroplane has no such thing."""

    name: str
    quantity: Quantity
    old: float | None
    new: float | None

    @property
    def difference(self) -> float | None:
        """New less old; None where there is none."""
        return None if self.old is None or self.new is None else self.new - self.old


def figures(old: Aeroplane, new: Aeroplane) -> tuple[Figure, ...]:
    """Mass and balance, wing, stance, inertia; what neither aeroplane has is left out."""
    before, after = _of(old), _of(new)
    pairs = [Figure(name, quantity, before[name, quantity], value) for (name, quantity), value in after.items()]
    return tuple(figure for figure in pairs if figure.old is not None or figure.new is not None)


def _of(aeroplane: Aeroplane) -> dict[tuple[str, Quantity], float | None]:
    whole, chord = aeroplane.statement.whole, aeroplane.layout.mean_chord
    moments, _ = aeroplane.statement.principal_inertia()
    roll, pitch, yaw = aeroplane.statement.radii_of_gyration_mm()
    return {
        ("mass", "mass"): whole.mass,
        ("of it added by the kitchen scale", "mass"): _by_weighing_g(aeroplane),
        ("balance point behind leading edge", "length"): aeroplane.cg_behind_leading_edge_mm,
        ("balance point on mean chord", "share"): aeroplane.cg_share_of_mean_chord,
        ("balance point above thrust line", "length"): aeroplane.cg_mm[2],
        ("span", "length"): chord.span_mm,
        ("wing area", "area"): chord.area_mm2,
        ("wing loading", "loading"): aeroplane.wing_loading_g_dm2,
        **_stance(aeroplane),
        ("smallest principal inertia", "inertia"): float(moments[0]),
        ("middle principal inertia", "inertia"): float(moments[1]),
        ("largest principal inertia", "inertia"): float(moments[2]),
        ("radius of gyration in roll", "length"): roll,
        ("radius of gyration in pitch", "length"): pitch,
        ("radius of gyration in yaw", "length"): yaw,
    }


def _by_weighing_g(aeroplane: Aeroplane) -> float | None:
    """What the kitchen scale, and what it taught, added to the drawings' masses; None where nothing was weighed.

    A redesign may be compared with a prototype that was weighed: then this much of the difference is the scale's.
    """
    added = [entry.mass_g - entry.drawn_g for entry in aeroplane.statement.entries]
    return sum(added) if any(abs(one) > SAME_MASS_G for one in added) else None


def _stance(aeroplane: Aeroplane) -> dict[tuple[str, Quantity], float | None]:
    """Track, wheel base, and the propeller's room over the ground with the thrust line level, gear unloaded."""
    gear = standing(aeroplane)
    track = base = clearance = None
    if gear is not None:
        track = gear.track_mm
        base = abs(float(gear.feet[THIRD].lowest(gear.level.up)[0]) - gear.axle_mm)
        rim = lowest_of_disk(aeroplane, gear.level.up)
        clearance = None if rim is None else gear.level.height_mm(rim)
    return {
        ("track", "length"): track,
        ("wheel base", "length"): base,
        ("propeller above ground, level, unloaded", "length"): clearance,
    }


def lowest_of_disk(aeroplane: Aeroplane, up: Array) -> Array | None:
    """The lowest point of the propeller's swept disk; None without a propeller, its middle if the disk lies flat."""
    propeller = aeroplane.propeller
    if propeller is None:
        return None
    axis = np.array(propeller.axis)
    drop = up - axis * float(up @ axis)
    size = float(np.linalg.norm(drop))
    centre = np.array(propeller.centre)
    return centre - drop / size * (propeller.diameter_mm / 2.0) if size > 0.0 else centre
