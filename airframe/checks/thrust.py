"""Static thrust: stated, or estimated from motor and propeller."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from airframe import units
from airframe.layout import Layout
from airframe.parts.equipment import propeller_disk
from airframe.parts.propulsion import fitted_motor

AIR_KG_M3 = 1.225
"""At sea level, ISA."""


@dataclass(frozen=True)
class Thrust:
    """At full throttle, standing still."""

    newtons: float
    how: str
    """Where the number is from, in words."""


def static_thrust_n(power_w: float, diameter_mm: float) -> float:
    """Of an ideal propeller that puts a power into its slipstream: T = (2 rho A P^2)^(1/3).

    Momentum theory of the actuator disk at rest, T = 2 rho A v^2 and P = T v (any text on propellers, from memory).
    """
    area_m2 = pi * (diameter_mm * 1e-3) ** 2 / 4.0
    thrust: float = (2.0 * AIR_KG_M3 * area_m2 * power_w**2) ** (1.0 / 3.0)
    return thrust


def thrust(layout: Layout) -> Thrust | None:
    """Of the design's motor and propeller; None without both, unless the design states it."""
    limits, system = layout.design.limits.ground, layout.design.units
    disk = propeller_disk(layout)
    if disk is None:
        return None
    if limits.static_thrust_n is not None:
        return Thrust(limits.static_thrust_n, "as limits.ground.static_thrust states")
    motor = fitted_motor(layout)
    if motor is None or motor.mass_g <= 0.0:
        return None
    power = motor.mass_g * limits.motor_watts_per_gram
    newtons = static_thrust_n(power * limits.thrust_efficiency_share, disk.diameter_mm)
    how = (
        f"momentum theory with {power:.0f} W ({limits.motor_watts_per_gram:g} W per gram of motor), "
        f"{limits.thrust_efficiency_share:.0%} of it in the slipstream of a propeller of "
        f"{units.length(disk.diameter_mm, system)}"
    )
    return Thrust(newtons, how)
