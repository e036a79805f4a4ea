"""Thrust and power of a propeller standing still and moving; SI units.

Momentum and blade-element theory of a rotor whose blades are twisted as a screw (Leishman, "Principles of Helicopter
Aerodynamics", ch. 2 and 3, from memory). Inside, coefficients are those of rotors (by disk area and tip speed);
outside, those of propellers (by turns a second and diameter). What a propeller does standing still fixes the
blades' breadth and their loss; its pitch then says how thrust fades with speed. An estimate.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import pi, sqrt

THRUST_OF_ROTOR = 4.0 / pi**3
"""A rotor's thrust coefficient for one of a propeller's: T / (rho A (Omega R)^2) over T / (rho n^2 D^4)."""
POWER_OF_ROTOR = 4.0 / pi**4
NO_THRUST_PITCHES = 1.2
"""Cambered blades still pull at this many times their printed pitch a turn: 1.1 to 1.3 (from memory)."""
INDUCED_FACTOR = 1.15
"""An uneven wake costs this much more than an even one (Leishman, from memory)."""


@dataclass(frozen=True)
class PropellerModel:
    """A propeller known by what it does standing still."""

    diameter_m: float
    pitch_m: float
    static_thrust: float
    """C_T = T / (rho n^2 D^4)."""
    static_power: float
    """C_P = P / (rho n^3 D^5)."""

    def __post_init__(self) -> None:
        if self.figure_of_merit > 1.0:
            raise ValueError(
                f"a thrust coefficient of {self.static_thrust:.3g} needs a power coefficient of at least"
                f" {ideal_power(self.static_thrust):.3g}, not {self.static_power:.3g}"
            )
        if self._inflow_static >= self._screw:
            raise ValueError(
                f"a thrust coefficient of {self.static_thrust:.3g} is more than a propeller of this pitch can give"
            )

    @property
    def figure_of_merit(self) -> float:
        """The least power that could give the static thrust, over the power that does."""
        return ideal_power(self.static_thrust) / self.static_power

    @cached_property
    def _screw(self) -> float:
        """The blades' slope at the tip, from where they do not pull."""
        return NO_THRUST_PITCHES * self.pitch_m / (pi * self.diameter_m)

    @property
    def _inflow_static(self) -> float:
        return sqrt(self.static_thrust * THRUST_OF_ROTOR / 2.0)

    @cached_property
    def _breadth(self) -> float:
        """A quarter of solidity times lift slope."""
        return self.static_thrust * THRUST_OF_ROTOR / (self._screw - self._inflow_static)

    @cached_property
    def _factor(self) -> float:
        return min(INDUCED_FACTOR, 1.0 / self.figure_of_merit)

    @cached_property
    def _loss(self) -> float:
        """Of the blades' own drag, a rotor's power coefficient."""
        return POWER_OF_ROTOR * (self.static_power - self._factor * ideal_power(self.static_thrust))

    def thrust_n(self, turns_rad_s: float, speed_m_s: float, density_kg_m3: float) -> float:
        """Pull at a speed along the axis; negative where it brakes."""
        disk, tip = self._disk_and_tip(turns_rad_s)
        return self._rotor(speed_m_s / tip)[0] * density_kg_m3 * disk * tip**2

    def power_w(self, turns_rad_s: float, speed_m_s: float, density_kg_m3: float) -> float:
        """Taken from the shaft; negative where the air drives it."""
        disk, tip = self._disk_and_tip(turns_rad_s)
        return self._rotor(speed_m_s / tip)[1] * density_kg_m3 * disk * tip**3

    def turns_rad_s(self, thrust_n: float, speed_m_s: float, density_kg_m3: float) -> float:
        """At which it gives a positive pull at a speed along the axis.

        Momentum gives the air's speed w through the disk, T = 2 rho A w (w - V); the blade elements then the tip's, a
        quadratic in it: T = rho A B tip (screw tip - w).
        """
        pull = thrust_n / (density_kg_m3 * self._disk_and_tip(0.0)[0])
        through = speed_m_s / 2.0 + sqrt(speed_m_s**2 / 4.0 + pull / 2.0)
        breadth, screw = self._breadth, self._screw
        tip = (through + sqrt(through**2 + 4.0 * screw * pull / breadth)) / (2.0 * screw)
        return 2.0 * tip / self.diameter_m

    def thrust_coefficient(self, advance: float) -> float:
        """C_T at an advance ratio V / (n D)."""
        return self._rotor(advance / pi)[0] / THRUST_OF_ROTOR

    def power_coefficient(self, advance: float) -> float:
        """C_P at an advance ratio V / (n D)."""
        return self._rotor(advance / pi)[1] / POWER_OF_ROTOR

    def efficiency(self, advance: float) -> float:
        """Thrust times speed over shaft power."""
        return advance * self.thrust_coefficient(advance) / self.power_coefficient(advance)

    @property
    def no_thrust_advance(self) -> float:
        """The advance ratio at which it pulls no more."""
        return NO_THRUST_PITCHES * self.pitch_m / self.diameter_m

    def _disk_and_tip(self, turns_rad_s: float) -> tuple[float, float]:
        return pi * self.diameter_m**2 / 4.0, turns_rad_s * self.diameter_m / 2.0

    def _rotor(self, climb: float) -> tuple[float, float]:
        """Thrust and power coefficients of the rotor at a climb of so many tip speeds.

        Blade elements give c_t = B (screw - inflow), momentum gives c_t = 2 inflow (inflow - climb).
        """
        half = (self._breadth / 2.0 - climb) / 2.0
        inflow = sqrt(half**2 + self._breadth * self._screw / 2.0) - half
        thrust = self._breadth * (self._screw - inflow)
        return thrust, thrust * (climb + self._factor * (inflow - climb)) + self._loss


def ideal_power(static_thrust: float) -> float:
    """The least power coefficient C_P that gives a static thrust coefficient C_T: sqrt(2 / pi) C_T^1.5."""
    return sqrt(2.0 / pi * static_thrust**3)


def static_thrust_n(power_w: float, diameter_m: float, density_kg_m3: float, figure_of_merit: float = 1.0) -> float:
    """What a shaft power pulls, standing still: T^3 = 2 rho A (FM P)^2.

    Momentum theory of the actuator disk at rest, T = 2 rho A v^2 and FM P = T v (any text on propellers, from memory).
    """
    area = pi * diameter_m**2 / 4.0
    return float((2.0 * density_kg_m3 * area * (figure_of_merit * power_w) ** 2) ** (1.0 / 3.0))
