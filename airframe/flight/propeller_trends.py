"""What a propeller of given diameter, pitch and blades does if nobody measured it; low confidence, with its spread.

One published propeller fixes the breadth and the loss of the blades: a slow-flight propeller of 10 in by 4.7 in
(J. B. Brandt & M. S. Selig, AIAA 2011-1255, means of 16 static runs, secondary). Others follow from their pitch by
the same blades (see `propeller`), up to where blades stall.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import pi, sqrt

from airframe.flight.propeller import (
    INDUCED_FACTOR,
    NO_THRUST_PITCHES,
    POWER_OF_ROTOR,
    THRUST_OF_ROTOR,
    PropellerModel,
    ideal_power,
)

PUBLISHED_PITCH, PUBLISHED_THRUST, PUBLISHED_POWER = 0.47, 0.1185, 0.0480
"""Pitch over diameter, C_T and C_P standing still."""
STALLED_THRUST = 0.135
"""Two such blades pull no more, whatever their pitch: a mean lift coefficient of about 0.9 (our choice, no source)."""
BREADTHS = (0.75, 1.05)
"""Thrust against the published broad-bladed one, blades narrow or broader (our choice; sport blades are narrower)."""
MERITS = (0.8, 1.07)
"""Figure of merit against the published one (our choice; low Reynolds numbers cost about 10 %: AIAA 2014-2151)."""
BEST_MERIT = 0.85
"""No small propeller is better than this standing still (our choice, no source)."""
_SLOPE = NO_THRUST_PITCHES / pi


@dataclass(frozen=True)
class PropellerGuess:
    """The likely propeller and the corners of what it may be."""

    likely: PropellerModel
    others: tuple[PropellerModel, ...] = ()


def estimated(diameter_m: float, pitch_m: float, blades: int = 2) -> PropellerGuess:
    """From diameter, pitch and blades alone."""
    thrust, power = static_coefficients(pitch_m / diameter_m, blades)
    corners = []
    for breadth, better in product(BREADTHS, MERITS):
        merit = min(ideal_power(thrust) / power * better, BEST_MERIT)
        corner = ideal_power(thrust * breadth) / merit
        corners.append(PropellerModel(diameter_m, pitch_m, thrust * breadth, corner))
    return PropellerGuess(PropellerModel(diameter_m, pitch_m, thrust, power), tuple(corners))


def static_coefficients(pitch_ratio: float, blades: int = 2) -> tuple[float, float]:
    """C_T and C_P standing still, by pitch over diameter.

    Past the stall a coarser pitch adds no pull, but tips the same force further back against the turning.
    """
    broad = blades / 2.0
    breadth, loss = (broad * value for value in _published_blades())
    half, screw = breadth / 4.0, _SLOPE * pitch_ratio
    inflow = sqrt(half**2 + 2.0 * half * screw) - half
    rotor = min(2.0 * inflow**2, STALLED_THRUST * broad * THRUST_OF_ROTOR)
    beyond = max(screw - sqrt(rotor / 2.0) - rotor / breadth, 0.0)
    thrust = rotor / THRUST_OF_ROTOR
    return thrust, INDUCED_FACTOR * ideal_power(thrust) + loss + rotor * beyond / POWER_OF_ROTOR


def _published_blades() -> tuple[float, float]:
    """Breadth (a rotor's) and loss (a propeller's) of the blades that were measured."""
    rotor = PUBLISHED_THRUST * THRUST_OF_ROTOR
    breadth = rotor / (_SLOPE * PUBLISHED_PITCH - sqrt(rotor / 2.0))
    return breadth, PUBLISHED_POWER - INDUCED_FACTOR * ideal_power(PUBLISHED_THRUST)
