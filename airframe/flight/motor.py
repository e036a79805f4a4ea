"""A direct-current motor by its three constants; SI units.

First-order model (M. Drela, "First-Order DC Electric Motor Model", MIT, 2007; from memory): speed falls with the
voltage lost in the winding, torque is the current beyond that of idling.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True)
class MotorModel:
    """The constants of a motor, brushless or not."""

    kv_rad_s_v: float
    resistance_ohm: float
    no_load_current_a: float

    def speed_rad_s(self, volts: float, current_a: float) -> float:
        """How fast it turns at a voltage while it draws a current."""
        return self.kv_rad_s_v * (volts - current_a * self.resistance_ohm)

    def current_a(self, volts: float, speed_rad_s: float) -> float:
        """What it draws at a voltage when it turns so fast; negative when driven faster than it would idle."""
        return (volts - speed_rad_s / self.kv_rad_s_v) / self.resistance_ohm

    def torque_n_m(self, current_a: float) -> float:
        """At the shaft; negative below the idling current."""
        return (current_a - self.no_load_current_a) / self.kv_rad_s_v

    def shaft_power_w(self, volts: float, current_a: float) -> float:
        """Torque times speed."""
        return self.torque_n_m(current_a) * self.speed_rad_s(volts, current_a)

    def efficiency(self, volts: float, current_a: float) -> float:
        """Shaft power over electrical power."""
        return (1.0 - self.no_load_current_a / current_a) * (1.0 - current_a * self.resistance_ohm / volts)

    def best_current_a(self, volts: float) -> float:
        """The current at which it is most efficient at this voltage."""
        return sqrt(volts * self.no_load_current_a / self.resistance_ohm)

    def stall_current_a(self, volts: float) -> float:
        """What it draws when it is held fast."""
        return volts / self.resistance_ohm
