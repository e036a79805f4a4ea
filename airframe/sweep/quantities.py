"""The units of a sweep's columns: as they are inside, as a design shows them, and in SI."""

from __future__ import annotations

from dataclasses import dataclass

from airframe import units
from airframe.units import System

KG_M2_PER_G_MM2 = 1e-9


@dataclass(frozen=True)
class Unit:
    """The unit of one column."""

    inside: str
    """Of the values as they are kept: mm, g, g mm^2, rad, deg, %, m/s ...; "" for a bare number or a word."""

    def name(self, system: System) -> str:
        """What a table's heading says."""
        return self._shown(system)[0]

    def shown(self, value: float, system: System) -> float:
        """The value in the unit of the heading."""
        return value / self._shown(system)[1]

    @property
    def si_name(self) -> str:
        """What the JSON form says."""
        return _SI.get(self.inside, (self.inside, 1.0))[0]

    def si(self, value: float) -> float:
        """The value in SI units, by the same multiplication as every other JSON of ours."""
        return value * _SI.get(self.inside, (self.inside, 1.0))[1]

    def _shown(self, system: System) -> tuple[str, float]:
        default = _METRIC.get(self.inside, (self.inside, 1.0))
        return _IMPERIAL.get(self.inside, default) if system == "imperial" else default


_METRIC: dict[str, tuple[str, float]] = {
    "g mm^2": ("g m^2", units.MM2_PER_M2),
    "rad": ("deg", units.ANGLE.factors["deg"]),
    "1": ("%", 0.01),
    "C": ("mAh", units.CHARGE.factors["mAh"]),
    "rad/s/V": ("rpm/V", units.MOTOR_CONSTANT.factors["rpm/V"]),
    "g/mm^2": ("g/m^2", units.AREAL_WEIGHT.factors["g/m^2"]),
    "g/mm^3": ("kg/m^3", units.DENSITY.factors["kg/m^3"]),
    "g/mm": ("g/m", units.LINEAR_WEIGHT.factors["g/m"]),
}
"""By the unit inside: the name in a heading, and what one of it is in units inside."""
_IMPERIAL: dict[str, tuple[str, float]] = {
    "mm": ("in", units.MM_PER_INCH),
    "mm^3": ("in^3", units.MM3_PER_IN3),
    "m": ("ft", units.MM_PER_FOOT / 1000.0),
    "kg/m³": ("oz/ft³", units.KG_M3_PER_OZ_FT3),
    "g": ("oz", units.G_PER_OUNCE),
    "g mm^2": ("oz in^2", units.G_PER_OUNCE * units.MM_PER_INCH**2),
    "m/s": ("mph", units.M_S_PER_MPH),
    "N": ("ozf", units.N_PER_OZF),
    "g/mm^2": ("oz/ft^2", units.AREAL_WEIGHT.factors["oz/ft^2"]),
    "g/mm^3": ("lb/ft^3", units.DENSITY.factors["lb/ft^3"]),
    "g/mm": ("oz/ft", units.LINEAR_WEIGHT.factors["oz/ft"]),
}
_SI: dict[str, tuple[str, float]] = {
    "mm": ("m", 1e-3),
    "mm^3": ("m^3", 1e-9),
    "g": ("kg", 1e-3),
    "g mm^2": ("kg m^2", KG_M2_PER_G_MM2),
    "g/mm^2": ("kg/m^2", 1e3),
    "g/mm^3": ("kg/m^3", 1e6),
    "g/mm": ("kg/m", 1.0),
}
"""By the unit inside: the name in SI, and what one unit inside is of it. Degrees and percent stay."""
