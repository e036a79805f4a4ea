"""The units that the axes of the flight charts are shown in."""

from __future__ import annotations

from dataclasses import dataclass

from airframe import units
from airframe.units import System


@dataclass(frozen=True)
class Scale:
    """One unit of the axes: its word, and how much of the inside unit it is."""

    unit: str
    size: float

    def of(self, value: float) -> float:
        """A value of the inside unit in this one."""
        return value / self.size


@dataclass(frozen=True)
class Scales:
    """All units of one system; from SI units, lengths from mm."""

    speed: Scale
    force: Scale
    length: Scale
    height: Scale
    """Long lengths, from m."""
    spread_force: Scale
    """Force on a piece of the span, from N/m."""
    spread_words: str


def scales(system: System) -> Scales:
    """The units that a design asks for."""
    if system == "imperial":
        return Scales(
            speed=Scale("mph", units.M_S_PER_MPH),
            force=Scale("ozf", units.N_PER_OZF),
            length=Scale("in", units.MM_PER_INCH),
            height=Scale("ft", units.MM_PER_FOOT / 1000.0),
            spread_force=Scale("oz", units.N_PER_OZF / (units.MM_PER_INCH / 1000.0)),
            spread_words="oz on each inch",
        )
    return Scales(
        speed=Scale("m/s", 1.0),
        force=Scale("N", 1.0),
        length=Scale("mm", 1.0),
        height=Scale("m", 1.0),
        spread_force=Scale("g", units.N_PER_GF / 0.01),
        spread_words="g on each cm",
    )
