"""What the tail's own air leaves it: open gaps, the fuselage's slow wake, slipstream; SI units, estimates."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band, exactly
from airframe.layout import Layout
from airframe.parts.equipment import propeller_disk

OPEN_GAPS = Band(0.7, 0.8, 0.9)
"""What open hinge gaps leave of the tail's lift slope: about 20 % is lost (Raymer ch. 16, by a digest; the band is our
choice)."""
SLOW_WAKE = 0.9
"""Dynamic pressure behind a fuselage against free air: 0.85 to 0.95 (from memory of handbooks)."""


@dataclass(frozen=True)
class TailAir:
    """How much of its free-air loads the tail bears, and why; 1 is all."""

    gaps: Band
    """By the hinges' gaps."""
    pressure: Band
    """By the air's dynamic pressure: from the fuselage's wake without power to the slipstream at slow cruise."""

    @property
    def share(self) -> Band:
        """Both together."""
        gaps, air = self.gaps, self.pressure
        return Band(gaps.low * air.low, gaps.middle * air.middle, gaps.high * air.high)


def gaps_share(layout: Layout) -> Band:
    """By the hinges' gaps as the design states them."""
    return OPEN_GAPS if layout.design.flight.hinge_gaps == "open" else exactly(1.0)


def tail_air(layout: Layout, thrust_n: float, speed_m_s: float, density_kg_m3: float, span_m: float) -> TailAir:
    """Of the stabiliser, whose span is given, at a speed and a thrust that holds it there."""
    disk, ratio, share = propeller_disk(layout), 1.0, 0.0
    if disk is not None and thrust_n > 0.0:
        ratio = slipstream_pressure(thrust_n, speed_m_s, density_kg_m3, disk.diameter_mm * M_PER_MM)
        radius = slipstream_radius_m(ratio, disk.diameter_mm * M_PER_MM)
        away_m = abs(layout.stabiliser_place.origin[2] - disk.centre[2]) * M_PER_MM
        share = min(2.0 * sqrt(max(radius**2 - away_m**2, 0.0)) / span_m, 1.0)
    return TailAir(gaps_share(layout), Band(SLOW_WAKE, 1.0, 1.0 + share * (ratio - 1.0)))


def slipstream_pressure(thrust_n: float, speed_m_s: float, density_kg_m3: float, diameter_m: float) -> float:
    """Dynamic pressure far behind a propeller over that of free air: 1 + 2 T / (rho A V^2), momentum theory."""
    return 1.0 + thrust_n / (0.5 * density_kg_m3 * pi / 4.0 * diameter_m**2 * speed_m_s**2)


def slipstream_radius_m(pressure_ratio: float, diameter_m: float) -> float:
    """Far behind: R^2 V_s = R_disk^2 (V + V_s) / 2, by continuity (momentum theory)."""
    fast = sqrt(pressure_ratio)
    return diameter_m / 2.0 * sqrt((1.0 + fast) / (2.0 * fast))
