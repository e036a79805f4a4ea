"""The room inside the fuselage: what is free between sides, floor and deck, or inside a cowl and belly pan."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np

from airframe.axes import Array
from airframe.layout import Layout
from airframe.schema.fuselage import Shell

FACES = ("ahead", "behind", "left", "right", "below", "above")


@dataclass(frozen=True)
class Room:
    """Distances from an item to what encloses it, mm; negative by as much as it sticks out."""

    ahead: float
    behind: float
    left: float
    right: float
    below: float
    above: float

    def least(self) -> tuple[str, float]:
        """The tightest of the six, with its name."""
        face = min(FACES, key=lambda name: float(getattr(self, name)))
        return face, float(getattr(self, face))

    def missing(self, touch_mm: float) -> dict[str, float]:
        """By how much it sticks out, wherever it does so by more than a touch."""
        return {face: -getattr(self, face) for face in FACES if getattr(self, face) < -touch_mm}


@dataclass(frozen=True)
class Space:
    """A box-shaped free space over some stations: its narrowest half width, highest floor and lowest roof there."""

    from_mm: float
    to_mm: float
    half_width_mm: float
    low_mm: float
    high_mm: float

    def room(self, box: Array) -> Room:
        """How an item with this bounding box (lowest x, y, z, highest x, y, z) lies in it."""
        x0, y0, z0, x1, y1, z1 = (float(v) for v in box)
        return Room(
            x0 - self.from_mm,
            self.to_mm - x1,
            y0 + self.half_width_mm,
            self.half_width_mm - y1,
            z0 - self.low_mm,
            self.high_mm - z1,
        )


def fuselage_space(layout: Layout, from_mm: float, to_mm: float) -> Space:
    """What is free over a stretch of stations between the sides, and between floor and deck.

    Where no deck closes the top, under the wing, the room ends at the sides' top edges.
    """
    a = min(max(from_mm, layout.nose_mm), layout.tail_mm)
    b = max(min(to_mm, layout.tail_mm), layout.nose_mm)
    half = min(layout.inner_half_width_mm(x) for x in (a, b))
    low, high = layout.clear_height_mm(a, b)
    return Space(layout.nose_mm, layout.tail_mm, half, low, high)


def spaces(layout: Layout, from_mm: float, to_mm: float) -> list[Space]:
    """Every space that an item over these stations may be inside of: the fuselage, a shell, a cowl and pan together."""
    found = [fuselage_space(layout, from_mm, to_mm)]
    shells = [shell for shell in layout.design.fuselage.shells if _covers(shell, from_mm, to_mm)]
    found += [_shell_space(layout, (shell,), from_mm, to_mm) for shell in shells]
    cowls = [shell for shell in shells if shell.opens == "down"]
    pans = [shell for shell in shells if shell.opens == "up"]
    return found + [_shell_space(layout, (cowl, pan), from_mm, to_mm) for cowl in cowls for pan in pans]


def best_room(layout: Layout, box: Array) -> Room:
    """How an item lies in the space that holds it best."""
    rooms = [space.room(box) for space in spaces(layout, float(box[0]), float(box[3]))]
    return max(rooms, key=lambda room: room.least()[1])


def _covers(shell: Shell, from_mm: float, to_mm: float) -> bool:
    return shell.front.station_mm <= from_mm and to_mm <= shell.rear.station_mm


def _shell_space(layout: Layout, shells: tuple[Shell, ...], from_mm: float, to_mm: float) -> Space:
    """Shells taper evenly from end to end, so the ends of the stretch tell; slopes are taken as small."""
    half, low, high = inf, -inf, inf
    for shell in shells:
        t = layout.design.material(shell.material or layout.design.fuselage.material).thickness_mm
        for x in (from_mm, to_mm):
            half = min(half, _between(shell, x, "width_mm") / 2.0 - t)
            crown, edge = _between(shell, x, "crown_mm"), _between(shell, x, "edge_mm")
            if shell.opens == "down":
                high, low = min(high, crown - t), (low if len(shells) > 1 else max(low, edge))
            else:
                low, high = max(low, crown + t), (high if len(shells) > 1 else min(high, edge))
    front = max(shell.front.station_mm for shell in shells)
    return Space(front, min(shell.rear.station_mm for shell in shells), half, low, high)


def _between(shell: Shell, x_mm: float, field: str) -> float:
    stations = (shell.front.station_mm, shell.rear.station_mm)
    return float(np.interp(x_mm, stations, (getattr(shell.front, field), getattr(shell.rear, field))))
