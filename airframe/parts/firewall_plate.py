"""The firewall's plate: how large it can be, tilted by the thrust angles, between sides, floor and deck."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import cos, sin

from airframe import ruler
from airframe.axes import Place
from airframe.drawing import PartError
from airframe.layout import Layout

LEAST_MM = 5.0
"""A firewall narrower or lower than this cannot be glued in."""


@dataclass(frozen=True)
class FirewallPlate:
    """The firewall's plate in its own tilted frame: x aft from its front face, y right, z up."""

    place: Place
    thickness_mm: float
    half_width_mm: float
    low_mm: float
    high_mm: float

    def _stations(self, depth_mm: float, y_mm: tuple[float, float], z_mm: tuple[float, float]) -> list[float]:
        """Stations of a plane parallel to the front face over the corners of a range of butt and water lines."""
        nx, ny, nz = self.place.turn((1.0, 0.0, 0.0))
        return [float((depth_mm - ny * y - nz * z) / nx) for y, z in product(y_mm, z_mm)]

    def rear_mm(self, y_mm: tuple[float, float], z_mm: tuple[float, float]) -> float:
        """The furthest aft that the rear face gets between two butt lines and two water lines."""
        return max(self._stations(self.thickness_mm, y_mm, z_mm))

    def front_mm(self, y_mm: tuple[float, float], z_mm: tuple[float, float]) -> float:
        """The furthest forward that the front face gets between two butt lines and two water lines."""
        return min(self._stations(0.0, y_mm, z_mm))

    def stretch_mm(self) -> tuple[float, float]:
        """First and last station of the plate."""
        x = self.place.apply(list(self._corners()))[:, 0]
        return float(x.min()), float(x.max())

    def _corners(self) -> Iterable[tuple[float, float, float]]:
        sides = (-self.half_width_mm, self.half_width_mm)
        return product((0.0, self.thickness_mm), sides, (self.low_mm, self.high_mm))


@lru_cache(maxsize=8)
def firewall_plate(layout: Layout) -> FirewallPlate:
    """The largest tilted plate that stands free between sides, floor and deck. Raises PartError if there is none."""
    firewall = layout.design.fuselage.firewall
    thickness = layout.design.material(firewall.material).thickness_mm
    stretch = (0.0, thickness)
    for _ in range(3):
        plate = _fitted(layout, thickness, stretch)
        if plate.half_width_mm < LEAST_MM or plate.high_mm - plate.low_mm < LEAST_MM:
            text = f"has only {ruler.sides(2 * plate.half_width_mm, plate.high_mm - plate.low_mm)} at station 0"
            raise PartError("firewall", f"{text}; {ruler.sides(2 * LEAST_MM, LEAST_MM)} is the least that can be glued")
        # Tilted, the plate takes more stations, and floor or deck may be nearer there.
        stretch = plate.stretch_mm()
    return plate


def _fitted(layout: Layout, thickness: float, stretch: tuple[float, float]) -> FirewallPlate:
    firewall = layout.design.fuselage.firewall
    down, right = firewall.down_thrust_rad, firewall.right_thrust_rad
    floor, deck = layout.clear_height_mm(*stretch)
    high = (deck - max(0.0, thickness * sin(down))) / cos(down)
    low = (floor - min(0.0, thickness * sin(down))) / cos(down)
    reach = max(abs(a * cos(down) - c * sin(down)) for a, c in product((0.0, thickness), (low, high)))
    clear = min(layout.inner_half_width_mm(x) for x in stretch)
    return FirewallPlate(
        layout.thrust_place, thickness, (clear - reach * sin(abs(right))) / cos(right), float(low), float(high)
    )
