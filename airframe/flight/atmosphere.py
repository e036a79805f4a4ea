"""The standard atmosphere's lowest layer; SI units.

Source: ICAO Doc 7488 / ISO 2533 (constants from memory): linear fall of temperature, hydrostatic air, Sutherland's law.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from airframe.units import STANDARD_GRAVITY_M_S2

SEA_LEVEL_TEMPERATURE_K = 288.15
SEA_LEVEL_PRESSURE_PA = 101_325.0
LAPSE_K_M = 0.0065
GAS_CONSTANT_J_KG_K = 287.05287
HEAT_RATIO = 1.4
SUTHERLAND_KG_M_S_SQRT_K = 1.458e-6
SUTHERLAND_K = 110.4
LOWEST_M, HIGHEST_M = -1000.0, 11_000.0
"""Where the layer's formulas hold."""


@dataclass(frozen=True)
class Air:
    """Still air at one height."""

    temperature_k: float
    pressure_pa: float

    @property
    def density_kg_m3(self) -> float:
        """Mass in a cubic metre."""
        return self.pressure_pa / (GAS_CONSTANT_J_KG_K * self.temperature_k)

    @property
    def sound_speed_m_s(self) -> float:
        """Speed of sound."""
        return sqrt(HEAT_RATIO * GAS_CONSTANT_J_KG_K * self.temperature_k)

    @property
    def viscosity_m2_s(self) -> float:
        """Kinematic viscosity."""
        dynamic = (
            SUTHERLAND_KG_M_S_SQRT_K
            * self.temperature_k
            * sqrt(self.temperature_k)
            / (self.temperature_k + SUTHERLAND_K)
        )
        return dynamic / self.density_kg_m3

    def reynolds(self, speed_m_s: float, length_m: float) -> float:
        """Reynolds number of a length, usually a chord, at a speed."""
        return speed_m_s * length_m / self.viscosity_m2_s


def air(height_m: float = 0.0) -> Air:
    """The standard air at a height above sea level. Raises ValueError outside the lowest layer."""
    if not LOWEST_M <= height_m <= HIGHEST_M:
        raise ValueError(f"a height of {height_m:g} m lies outside {LOWEST_M:g} to {HIGHEST_M:g} m")
    temperature = SEA_LEVEL_TEMPERATURE_K - LAPSE_K_M * height_m
    power = STANDARD_GRAVITY_M_S2 / (LAPSE_K_M * GAS_CONSTANT_J_KG_K)
    return Air(temperature, SEA_LEVEL_PRESSURE_PA * (temperature / SEA_LEVEL_TEMPERATURE_K) ** power)
