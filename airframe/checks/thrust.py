"""Static thrust: stated, as the flight estimates have it, or guessed from the motor's mass and the propeller."""

from __future__ import annotations

from dataclasses import dataclass

from airframe import units
from airframe.flight.atmosphere import air
from airframe.flight.power import operating_point
from airframe.flight.propeller import static_thrust_n
from airframe.flight.trains import train_guess
from airframe.layout import Layout
from airframe.parts.equipment import propeller_disk
from airframe.parts.propulsion import fitted_motor
from airframe.schema.design import Design

AIR_KG_M3 = 1.225
"""At sea level, ISA."""


@dataclass(frozen=True)
class Thrust:
    """At full throttle, standing still."""

    newtons: float
    how: str
    """Where the number is from, in words."""


def thrust(layout: Layout) -> Thrust | None:
    """Of the design's motor and propeller; None without both, unless the design states it.

    Where the design says enough for the flight estimates it is their figure, on the battery in use.
    """
    limits, system = layout.design.limits.ground, layout.design.units
    disk = propeller_disk(layout)
    if disk is None:
        return None
    if limits.static_thrust_n is not None:
        return Thrust(limits.static_thrust_n, "as limits.ground.static_thrust states")
    powered = _of_the_train(layout.design)
    if powered is not None:
        return powered
    motor = fitted_motor(layout)
    if motor is None or motor.mass_g <= 0.0:
        return None
    power = motor.mass_g * limits.motor_watts_per_gram
    newtons = static_thrust_n(power, disk.diameter_mm / 1000.0, AIR_KG_M3, limits.thrust_efficiency_share)
    how = (
        f"momentum theory with {power:.0f} W ({limits.motor_watts_per_gram:g} W per gram of motor), "
        f"{limits.thrust_efficiency_share:.0%} of it in the slipstream of a propeller of "
        f"{units.length(disk.diameter_mm, system)}"
    )
    return Thrust(newtons, how)


def _of_the_train(design: Design) -> Thrust | None:
    """By motor, battery and propeller, anchored on what was measured; None where too little of them is stated."""
    density = air(design.flight.altitude_mm / 1000.0).density_kg_m3
    try:
        newtons = operating_point(train_guess(design).likely, 0.0, density).thrust_n
    except ValueError:
        return None
    flight = design.flight
    is_measured = flight.measured_thrust_n is not None or flight.measured_current_a is not None
    told = "by what you measured" if is_measured else "by motor, battery and propeller"
    return Thrust(newtons, f"{told}, as 'airframe flight' has it")
