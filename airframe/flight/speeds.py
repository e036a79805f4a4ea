"""Stall, glide, sink and turns of an aeroplane with a parabolic drag polar, in closed form; SI units.

C_D = C_D0 + k (C_L - C_Li)^2 + C_L^2 / (pi A e); lift equals weight (any text on performance, such as Anderson,
"Introduction to Flight", ch. 6, from memory, without the second term: k is 0 unless a thin nose loses its suction away
from the lift C_Li that meets it smoothly). Results are as good as the numbers that go in: estimates.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sqrt, tan

from airframe.units import STANDARD_GRAVITY_M_S2


@dataclass(frozen=True)
class Polar:
    """Weight, wing and drag of one aeroplane in air of one density."""

    mass_kg: float
    area_m2: float
    aspect_ratio: float
    zero_lift_drag: float
    efficiency: float
    """Of the span, e: of the wake alone, or with the growth of profile drag with lift where k does not count that."""
    most_lift: float
    """The largest lift coefficient in balanced flight."""
    density_kg_m3: float
    nose_loss: float = 0.0
    """k: drag coefficient by the square of the lift coefficient away from the easiest one."""
    easiest_lift: float = 0.0
    """C_Li: the lift coefficient that meets the nose smoothly; only felt with k."""

    @property
    def weight_n(self) -> float:
        """Under standard gravity."""
        return self.mass_kg * STANDARD_GRAVITY_M_S2

    @property
    def wing_loading_kg_m2(self) -> float:
        """Mass over wing area."""
        return self.mass_kg / self.area_m2

    @property
    def cubic_loading_kg_m3(self) -> float:
        """Mass over wing area to the power of 1.5: how light it flies, whatever its size."""
        return float(self.mass_kg / self.area_m2**1.5)

    def speed_m_s(self, lift_coefficient: float) -> float:
        """Level flight at a lift coefficient."""
        return sqrt(2.0 * self.weight_n / (self.density_kg_m3 * self.area_m2 * lift_coefficient))

    def lift_coefficient(self, speed_m_s: float) -> float:
        """What level flight at a speed asks of the wing."""
        return 2.0 * self.weight_n / (self.density_kg_m3 * self.area_m2 * speed_m_s**2)

    @property
    def stall_speed_m_s(self) -> float:
        """The least speed of level flight."""
        return self.speed_m_s(self.most_lift)

    def drag_n(self, speed_m_s: float) -> float:
        """In level flight."""
        lift = self.lift_coefficient(speed_m_s)
        return self.weight_n * self._drag_coefficient(lift) / lift

    def power_w(self, speed_m_s: float) -> float:
        """To overcome the drag in level flight."""
        return self.drag_n(speed_m_s) * speed_m_s

    def sink_m_s(self, speed_m_s: float) -> float:
        """In a shallow glide: power over weight."""
        return self.power_w(speed_m_s) / self.weight_n

    def glide_ratio(self, speed_m_s: float) -> float:
        """Metres forward for each metre down, in a shallow glide."""
        return self.weight_n / self.drag_n(speed_m_s)

    @property
    def flattest_glide_m_s(self) -> float:
        """The speed of the flattest glide and of the least drag; not below the stall."""
        steady, _, growth = self._parabola
        return self.speed_m_s(min(sqrt(steady / growth), self.most_lift))

    @property
    def least_sink_speed_m_s(self) -> float:
        """The speed of the slowest sink and of the least power; not below the stall."""
        steady, slope, growth = self._parabola
        easiest = (slope + sqrt(slope**2 + 12.0 * steady * growth)) / (2.0 * growth)
        return self.speed_m_s(min(easiest, self.most_lift))

    def profile_drag(self, lift_coefficient: float) -> float:
        """The drag coefficient of all but the wake."""
        return self.zero_lift_drag + self.nose_loss * (lift_coefficient - self.easiest_lift) ** 2

    @property
    def _parabola(self) -> tuple[float, float, float]:
        """C_D in powers of C_L."""
        steady = self.zero_lift_drag + self.nose_loss * self.easiest_lift**2
        return steady, -2.0 * self.nose_loss * self.easiest_lift, self.nose_loss + 1.0 / self._span

    @property
    def _span(self) -> float:
        return pi * self.aspect_ratio * self.efficiency

    def _drag_coefficient(self, lift_coefficient: float) -> float:
        return self.profile_drag(lift_coefficient) + lift_coefficient**2 / self._span


def load_factor(bank_rad: float) -> float:
    """Lift over weight in a level turn."""
    return 1.0 / cos(bank_rad)


def turn_radius_m(speed_m_s: float, bank_rad: float) -> float:
    """Of a level, coordinated turn: V^2 / (g tan(bank))."""
    return speed_m_s**2 / (STANDARD_GRAVITY_M_S2 * tan(bank_rad))


def stall_speed_in_turn_m_s(stall_speed_m_s: float, bank_rad: float) -> float:
    """The stall is faster in a turn, by the root of the load factor."""
    return stall_speed_m_s * sqrt(load_factor(bank_rad))
