"""What air, servo and push-rod do to one another at a control surface; SI units."""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, cos, pi, sin

from airframe.flight.bands import Band

YOUNG_WIRE_PA = 190e9
"""Music wire; 190 to 203 GPa by source and size (materials page, secondary; Shigley Table 10-5, from memory)."""
THICKNESS_RELIEF = Band(0.6, 0.8, 1.0)
"""Measured hinge moments against those of thin-aerofoil theory, air sluggish at the hinge (our choice, no source)."""
_TERMS = 400
"""Of the series for the load on a bent plate; the rest is less than a part in 10^4."""


def hinge_moment_slopes(chord_share: float) -> tuple[float, float]:
    """How the hinge moment coefficient of a flap grows with incidence and with deflection, a radian; both negative.

    C_h = H / (q S_flap c_flap), positive trailing edge down. Thin-aerofoil theory in the plane, no gap (Glauert; the
    integrals done here): for a flap that is the whole plate, hinged at its nose, both are -pi / 2. `chord_share` is
    the moving chord over the whole chord.
    """
    hinge = acos(1.0 - 2.0 * (1.0 - chord_share))
    incidence = _nose_term(hinge)
    deflection = (pi - hinge) / pi * incidence
    for n in range(1, _TERMS + 1):
        deflection += 2.0 * sin(n * hinge) / (n * pi) * _sine_term(n, hinge)
    scale = -1.0 / chord_share**2
    return scale * incidence, scale * deflection


def flap_effectiveness(chord_share: float) -> float:
    """How many radians of incidence lift as much as a radian of the flap: 1 - (h - sin h) / pi (thin aerofoil)."""
    hinge = acos(1.0 - 2.0 * (1.0 - chord_share))
    return 1.0 - (hinge - sin(hinge)) / pi


@dataclass(frozen=True)
class Control:
    """A control surface as the air sees it."""

    area_m2: float
    chord_m: float
    """Mean, from the hinge line."""
    chord_share: float
    """Of the whole surface, fixed and moving."""
    aspect_ratio: float
    """Of the whole surface; an upright one on a fuselage counts about half as much again."""

    def moment_n_m(self, speed_m_s: float, density_kg_m3: float, deflection_rad: float, incidence_rad: float) -> Band:
        """Size of the hinge moment; incidence counts where it adds to the deflection. An estimate.

        The downwash of a short surface's own wake, a share 2 / (A + 2) of the incidence and of what lifts as much as
        the deflection, relieves it as less incidence would (lifting line; USAF DATCOM 6.1.6 without its corrections
        for the surface, which relieve a little more; from memory).
        """
        by_incidence, by_deflection = (abs(slope) for slope in hinge_moment_slopes(self.chord_share))
        incidence, deflection = abs(incidence_rad), abs(deflection_rad)
        lifting = incidence + flap_effectiveness(self.chord_share) * deflection
        met = incidence - 2.0 / (self.aspect_ratio + 2.0) * lifting
        coefficient = by_incidence * met + by_deflection * deflection
        pressure = density_kg_m3 * speed_m_s**2 / 2.0
        return THICKNESS_RELIEF.times(coefficient * pressure * self.area_m2 * self.chord_m)


def servo_torque_n_m(hinge_moment: Band, gain: float) -> Band:
    """What the servo must hold: work in equals work out, so the moment times radians of surface a radian of servo."""
    return hinge_moment.times(abs(gain))


def torque_margin(servo_n_m: float, needed: Band) -> Band:
    """The servo's torque over what is needed; below 1 it stalls, below 2 it is weak (common practice, no source)."""
    return Band(servo_n_m / needed.high, servo_n_m / needed.middle, servo_n_m / needed.low)


def buckling_force_n(diameter_m: float, length_m: float, young_pa: float = YOUNG_WIRE_PA) -> float:
    """Of a straight round rod with pinned ends and no guides: pi^2 E I / L^2, I = pi d^4 / 64 (Euler)."""
    return pi**2 * young_pa * (pi * diameter_m**4 / 64.0) / length_m**2


def unguided_diameter_m(length_m: float, force_n: float, factor: float, young_pa: float = YOUNG_WIRE_PA) -> float:
    """The thinnest rod without guides that bears so many times a force."""
    return float((factor * force_n / buckling_force_n(1.0, length_m, young_pa)) ** 0.25)


def _nose_term(hinge: float) -> float:
    """Moment about the hinge of the load 4 (1 + cos t) / sin t on the flap; chord 1, x = (1 - cos t) / 2.

    The integral of (1 + cos t)(cos h - cos t) from h to pi.
    """
    return (pi - hinge) * (cos(hinge) - 0.5) + sin(hinge) - sin(2.0 * hinge) / 4.0


def _sine_term(n: int, hinge: float) -> float:
    """The same of the load 4 sin(n t): the integral of sin(n t) sin(t) (cos h - cos t) from h to pi."""

    def cosine(m: int) -> float:
        return -sin(m * hinge) / m if m else pi - hinge

    return cos(hinge) * (cosine(n - 1) - cosine(n + 1)) / 2.0 - (cosine(n - 2) - cosine(n + 2)) / 4.0
