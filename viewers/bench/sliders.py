"""How far a slider runs for a value of a design, and in how round a step."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10, radians
from typing import NamedTuple, get_origin

from airframe.schema.design import Design
from airframe.schema.fuselage import MOST_THRUST_RAD
from airframe.schema.values import bounds
from airframe.units import Dimension
from viewers.bench.places import Leaf
from viewers.bench.quantities import ALTITUDE

SIGNED = ("dihedral", "sweep", "incidence", "down_thrust", "right_thrust")
"""Angles that may be either way."""
LEAST_ANGLE_RAD, STEEPEST_RAD = radians(10.0), radians(57.0)
REACH_MM = 200.0
"""How far a slider moves a thing along the body from where it is filed."""
ROOM_MM = 60.0
"""How far it moves one across or up."""
CLEAR_MM = 1.0
"""From one station of the body's side view to the next, at least."""
HIGH_FIELD_MM = 3.0e6
"""As high as a slider takes the flying field; higher ones are typed."""
FROM_NOTHING = {"length": 50.0, "mass": 50.0, "share": 0.2}
"""How far a slider runs for a quantity that is nothing as filed: mm, g, a share."""
STEPS_ACROSS = 100
"""About so many steps from one end of a slider to the other."""
LEAST_STEP = {"mm": 0.05, "deg": 0.5}
LARGEST_STEP = {"mm": 1.0, "deg": 1.0, "g": 1.0, "%": 1.0}
"""What is finer nobody cuts, and what is coarser jumps."""
SIXTEENTH, SIXTY_FOURTH = 1.0 / 16.0, 1.0 / 64.0
"""Of an inch: the steps of a rule, and of a drill index."""
ROUNDING = 1e-9


class Slider(NamedTuple):
    """A slider as the page has it, in the unit that is shown."""

    low: float
    high: float
    step: float


@dataclass(frozen=True)
class Bounds:
    """Between which values a slider runs, in the code's units."""

    low: float
    high: float

    def clipped(self, low: float | None, high: float | None) -> Bounds:
        """The same within other bounds, where there are any."""
        least = self.low if low is None else max(self.low, low)
        return Bounds(least, max(least, self.high if high is None else min(self.high, high)))


def ends(one: Leaf, design: Design) -> Bounds:
    """From about half to about double as filed; places within the body and a little beyond; angles both ways."""
    value, least = float(one.value), bounds(one.spot)
    name = one.keys[-1]
    if name == ALTITUDE:
        return Bounds(0.0, max(HIGH_FIELD_MM, value)).clipped(*least)
    if one.dimension is not None and one.dimension.name == "angle":
        return _angle(name, value).clipped(*least)
    if one.dimension is not None and one.dimension.name == "length" and least[0] is not None and least[0] < 0.0:
        return _within_body(one, value, design)
    if value == 0.0:
        reach = FROM_NOTHING.get(one.dimension.name, 1.0) if one.dimension is not None else 1.0
        return Bounds(0.0, reach).clipped(*least)
    return Bounds(0.5 * value, 2.0 * value).clipped(*least)


def _angle(name: str, value: float) -> Bounds:
    """Both ways where it may be, else from about half to about double."""
    most = max(2.0 * abs(value), LEAST_ANGLE_RAD)
    if name in SIGNED:
        most = min(most, STEEPEST_RAD if "thrust" not in name else MOST_THRUST_RAD)
        return Bounds(-most, most)
    return Bounds(0.5 * value, most)


def _within_body(one: Leaf, value: float, design: Design) -> Bounds:
    """A station, butt line or water line: some way round where it is.

    Stations not beyond the body's ends, and those of the body's own side view not beyond their neighbours.
    """
    if _axis(one) != "station":
        return Bounds(value - ROOM_MM, value + ROOM_MM)
    stations = [row.station_mm for row in design.fuselage.stations]
    nose, tail = stations[0], stations[-1]
    if one.keys[:2] == ("fuselage", "stations"):
        row = int(one.keys[2])
        nose = stations[row - 1] + CLEAR_MM if row > 0 else value - ROOM_MM
        tail = stations[row + 1] - CLEAR_MM if row + 1 < len(stations) else value + REACH_MM
        tail = min(tail, 0.0) if row == 0 else tail  # the body begins at the firewall or ahead of it
    low, high = max(nose, value - REACH_MM), min(tail, value + REACH_MM)
    return Bounds(min(low, value), max(high, value))


def _axis(one: Leaf) -> str:
    """Along which of the three axes a coordinate is measured."""
    name = one.keys[-1]
    if name.isdecimal() and get_origin(one.spot.kind) is None:
        held = one.holders[-1]
        is_point = isinstance(held, tuple) and len(held) == 3 and one.keys[-2] != "water_lines"
        return ("station", "butt", "water")[int(name)] if is_point else "water"
    if "butt" in name:
        return "butt"
    is_opening_across = name in ("low", "high") and getattr(one.holders[-1], "face", "") in ("top", "bottom")
    if is_opening_across:
        return "butt"
    is_water = any(word in name for word in ("water", "top", "bottom", "crown", "edge", "low", "high"))
    return "water" if is_water else "station"


def step(low: float, high: float, unit: str) -> float:
    """A round step for a slider between two numbers of a unit."""
    if unit == "in":
        return SIXTEENTH if high - low >= STEPS_ACROSS * SIXTY_FOURTH else SIXTY_FOURTH
    rough = max(high - low, ROUNDING) / STEPS_ACROSS
    power = 10.0 ** floor(log10(rough))
    rounded = next(factor for factor in (1.0, 2.0, 5.0, 10.0) if rough <= factor * power * (1.0 + ROUNDING)) * power
    return round(max(min(rounded, LARGEST_STEP.get(unit, rounded)), LEAST_STEP.get(unit, 0.0)), 9)


def slider(ends: Bounds, unit: str, dimension: Dimension | None, is_whole: bool = False) -> Slider:
    """The slider between two ends, which become whole steps within them."""
    factor = dimension.factors[unit] if dimension is not None else 1.0
    low, high = ends.low / factor, ends.high / factor
    by = max(1.0, round(step(low, high, unit))) if is_whole else step(low, high, unit)
    first, last = ceil(low / by - ROUNDING) * by, floor(high / by + ROUNDING) * by
    return Slider(round(first, 9), round(max(first, last), 9), by)
