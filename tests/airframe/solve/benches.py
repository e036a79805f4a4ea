"""Trials of a small design, and its overturn angle from geometry alone, for the tests of what solves on them."""

from __future__ import annotations

from math import atan2, degrees

import numpy as np

from airframe.axes import Array
from airframe.config import Loaded
from airframe.model import Aeroplane
from airframe.solve.conditions import conditions
from airframe.solve.trials import Trials
from airframe.sweep.measures import measure

ROUNDS = 30
BATTERY_G, BATTERY_MM, CAMERA_G = 90.0, 40.0, 80.0
"""Of the small design, as `tests.airframe.sweep.plans` states it."""


def trials(loaded: Loaded, *texts: str, goal: str | None = None) -> Trials:
    """Trials that ask these conditions."""
    aeroplane = Aeroplane.loaded(loaded)
    return Trials(loaded, aeroplane, conditions("--for", texts, aeroplane), None if goal is None else measure(goal))


def feet(aeroplane: Aeroplane) -> tuple[Array, Array, Array, Array]:
    """Right, left and third contact and the upright, as it stands: each wheel touches below its middle.

    The upright follows from the contacts and these from it: a few rounds settle it.
    """
    gear = aeroplane.design.gear
    assert gear.wheel is not None
    assert gear.tail_wheel is not None
    radii = (gear.wheel.diameter_mm / 2.0,) * 2 + (gear.tail_wheel.wheel.diameter_mm / 2.0,)
    level = sorted((np.array(point) for point in aeroplane.contacts.values()), key=lambda point: abs(point[1]))
    right, left = sorted(level[1:], key=lambda point: -point[1])
    up = np.array([0.0, 0.0, 1.0])
    axles = [
        point + radius * up for point, radius in zip((right, left, level[0]), radii, strict=True)
    ]  # fmt: skip
    for _ in range(ROUNDS):
        touching = [axle - radius * up for axle, radius in zip(axles, radii, strict=True)]
        up = np.cross(touching[0] - touching[1], touching[2] - touching[1])
        up = up / np.linalg.norm(up) * np.sign(up[2])
    return touching[0], touching[1], touching[2], up


def sides(aeroplane: Aeroplane) -> list[tuple[Array, Array, Array]]:
    """For each line from a main wheel to the third point: a point of it, the upright, and the way in from the line."""
    right, left, third, up = feet(aeroplane)
    middle = (right + left + third) / 3.0
    found = []
    for wheel in (right, left):
        along = (third - wheel) / np.linalg.norm(third - wheel)
        inward = np.cross(up, along)
        found.append((wheel, up, inward * np.sign(inward @ (middle - wheel))))
    return found


def overturn_deg(aeroplane: Aeroplane) -> float:
    """tan angle = height above the ground / distance inside the line (Currey; Raymer, ch. 11, from memory)."""
    cg = np.array(aeroplane.cg_mm)
    return max(degrees(atan2(up @ (cg - at), inward @ (cg - at))) for at, up, inward in sides(aeroplane))


def overturn_slope_deg(aeroplane: Aeroplane, shift: Array) -> float:
    """How much the worse line's angle grows as the balance point moves: d atan(h / d) = (d dh - h dd) / (h2 + d2)."""
    cg = np.array(aeroplane.cg_mm)
    at, up, inward = max(sides(aeroplane), key=lambda side: atan2(side[1] @ (cg - side[0]), side[2] @ (cg - side[0])))
    height, inside = up @ (cg - at), inward @ (cg - at)
    return degrees((inside * (up @ shift) - height * (inward @ shift)) / (height**2 + inside**2))
