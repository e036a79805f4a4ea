"""How near an aeroplane on its wheels is to tipping, sideways, forward and back: the sums."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, sqrt

import numpy as np

from airframe.axes import Array, Point
from airframe.checks.contact import level_forward, level_right, tipping_line, wheel_line_rad
from airframe.checks.standing import LEFT, RIGHT, Standing
from airframe.checks.thrust import AIR_KG_M3
from airframe.units import STANDARD_GRAVITY_M_S2


@dataclass(frozen=True)
class SideArea:
    """The aeroplane's shadow on its centre plane."""

    area_mm2: float
    centre: Point


def worst_overturn_rad(standing: Standing) -> float:
    """The larger overturn angle of the two lines between a main wheel and the third point."""
    return max(line.overturn_rad for line in standing.side_lines.values())


def lateral_g(standing: Standing) -> float:
    """The sideways acceleration that tips it, in g: the smaller one of right and left."""
    right = level_right(standing.stance.up)
    return min(line.force_to_tip(side * right) for line in standing.side_lines.values() for side in (1.0, -1.0))


def tipping_turn_m(acceleration_g: float, speed_m_s: float) -> float:
    """Radius of the turn with this sideways acceleration: v^2 / a; infinite for none."""
    return speed_m_s**2 / (acceleration_g * STANDARD_GRAVITY_M_S2) if acceleration_g > 0.0 else float("inf")


def tipping_wind_m_s(standing: Standing, side: SideArea, coefficient: float) -> float:
    """The side wind whose force F = 1/2 rho V^2 S C at the side area's middle tips the parked aeroplane."""
    right = level_right(standing.stance.up)
    lines = standing.side_lines.values()
    weights = min(line.force_to_tip(way * right, side.centre) for line in lines for way in (1.0, -1.0))
    return sqrt(2.0 * weights * standing.weight_n / (AIR_KG_M3 * side.area_mm2 * 1e-6 * coefficient))


def with_battery(standing: Standing, old_g: float, old: Array, new_g: float, new: Array) -> Standing:
    """The balance point with one mass taken out and another put in: M' c' = M c - m0 c0 + m1 c1."""
    total = standing.mass_g - old_g + new_g
    cg = (standing.mass_g * np.array(standing.cg) - old_g * old + new_g * new) / total
    return Standing(standing.feet, (float(cg[0]), float(cg[1]), float(cg[2])), total, standing.main_share)


def line_angle_deg(standing: Standing) -> float:
    """From the upright at the main wheels' contact back to the balance point, thrust line level."""
    level = standing.level
    return degrees(wheel_line_rad((level.points[RIGHT] + level.points[LEFT]) / 2.0, standing.cg, level.up))


def drag_to_nose_over(standing: Standing, is_nose_wheel: bool) -> float:
    """Drag on the wheels, in weights, that tips it forward.

    Tail wheel: over the main wheels with the tail up, thrust line level. Nose wheel: over the nose wheel, as it stands.
    """
    if is_nose_wheel:
        forward = level_forward(standing.stance.up)
        return max(line.force_to_tip(forward) for line in standing.side_lines.values())
    level = standing.level
    line = tipping_line(level.points[RIGHT], level.points[LEFT], standing.cg, level.up)
    return line.force_to_tip(level_forward(level.up))


def thrust_to_nose_over_n(standing: Standing, hub: Point, pull: Point) -> float:
    """Thrust that tips it forward from where it stands, wheels held."""
    weights = min(line.force_to_tip(pull, hub) for line in standing.lines.values())
    return weights * standing.weight_n
