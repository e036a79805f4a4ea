"""Findings on tipping over sideways: the overturn angle, and what tips it (turns, wind, grass, a bump, a battery).

Geometry may fail; whatever rests on an assumed speed or coefficient only cautions.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees, isfinite

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.checks import changes, remedies, rounding
from airframe.checks.finding import Finding, Limit, Remedy, Verdict
from airframe.checks.standing import Standing
from airframe.checks.tipping import (
    SideArea,
    lateral_g,
    tipping_turn_m,
    tipping_wind_m_s,
    with_battery,
    worst_overturn_rad,
)
from airframe.mass import Statement
from airframe.schema.design import Design
from airframe.schema.equipment import Battery, BatteryOption

WIDEST = 4.0
"""Widest track that is tried, in present tracks."""
MOST_LOWERED = 0.9
"""Lowest balance point that is tried, in shares of its height."""
_OVERTURN = "tan angle = height / distance inside the line (Currey; Raymer, ch. 11, from memory)"


@dataclass(frozen=True, eq=False)
class Tipping:
    """One question on tipping over: how far it is from doing so, and the words for the answer."""

    code: str
    value: Callable[[Standing], float]
    unit: str
    limit: Limit
    when_outside: Verdict
    message: str
    source: str

    def passes(self, standing: Standing) -> bool:
        """Whether another standing keeps the limit."""
        value, (low, high) = self.value(standing), self.limit
        return (low is None or value >= low) and (high is None or value <= high)


def findings(
    standing: Standing,
    design: Design,
    statement: Statement,
    side: SideArea | None,
    least_height_mm: float,
    with_remedies: bool = True,
) -> list[Finding]:
    """Of an aeroplane that stands on its gear; no remedy asks for a gear lower than the least height.

    Without its side area nothing is said of wind.
    """
    asked = [overturn(standing, design), _turn(standing, design), _grass(standing, design), _bump(standing, design)]
    asked += [] if side is None else [_wind(standing, design, side)]
    asked += _batteries(standing, design, statement)
    found = [_answered(one, standing, design, least_height_mm if with_remedies else None) for one in asked]
    return [_lateral(standing), *found]


# --- the questions ------------------------------------------------------------------------------------


def overturn(standing: Standing, design: Design) -> Tipping:
    """On level ground, in the attitude it stands in."""
    high = design.limits.ground.overturn_rad
    value = worst_overturn_rad(standing)
    height = units.length(standing.stance.height_mm(standing.cg), design.units)
    message = (
        f"The overturn angle is {units.angle(value)} about {_line_names(standing)}, "
        f"with the balance point {height} above the ground; "
        f"{units.angle(high)} is allowed."
    )
    source = f"{_OVERTURN}; limit: limits.ground.overturn, 55 deg is the stricter one in use, 63 deg Raymer's"
    return Tipping("ground.overturn", _overturn_deg, "deg", (None, degrees(high)), "fail", message, source)


def _overturn_deg(standing: Standing) -> float:
    return degrees(worst_overturn_rad(standing))


def _line_names(standing: Standing) -> str:
    ends = max(standing.side_lines.items(), key=lambda item: item[1].overturn_rad)[0]
    first, last = sorted(ends)
    return f"the line from {standing.feet[first].name} to {standing.feet[last].name}"


def _lateral(standing: Standing) -> Finding:
    value = lateral_g(standing)
    message = f"A sideways acceleration of {value:.2f} g tips it over."
    return Finding("ground.lateral", "info", round(value, 4), "times gravity", (None, None), message, _OVERTURN)


def _turn(standing: Standing, design: Design) -> Tipping:
    limits = design.limits.ground
    speed, high = limits.taxi_speed_m_s, limits.turn_radius_mm / 1000.0

    def radius(one: Standing) -> float:
        return tipping_turn_m(lateral_g(one), speed)

    message = (
        f"Estimate: taxiing at {units.speed(speed, design.units)} it tips over in a turn of "
        f"{_metres(radius(standing), design)} radius or less; it should stand one of {_metres(high, design)}."
    )
    source = "v^2 / r; limits.ground.taxi_speed and turn_radius are our choice"
    return Tipping("ground.turn", radius, "m", (None, high), "caution", message, source)


def _metres(value_m: float, design: Design) -> str:
    if not isfinite(value_m):
        return "any"
    return units.distance(value_m, design.units)


def _grass(standing: Standing, design: Design) -> Tipping:
    low = design.limits.ground.grass_side_share
    message = (
        f"Estimate: a sideways force on the wheels of {lateral_g(standing):.0%} of the weight tips it over; "
        f"soft grass may give {low:.0%}."
    )
    source = "moments about the tipping line; limits.ground.grass_side is an estimate, no source"
    return Tipping("ground.grass", _lateral_percent, "%", (100.0 * low, None), "caution", message, source)


def _lateral_percent(standing: Standing) -> float:
    return 100.0 * lateral_g(standing)


def _bump(standing: Standing, design: Design) -> Tipping:
    limits = design.limits.ground
    high = limits.overturn_on_bump_rad

    def angle(one: Standing) -> float:
        return degrees(worst_overturn_rad(one.with_bump(limits.bump_mm)))

    message = (
        f"With one main wheel on a bump of {units.length(limits.bump_mm, design.units)} the overturn angle is "
        f"{angle(standing):.1f} deg; {units.angle(high)} is allowed there."
    )
    source = f"{_OVERTURN}; limits.ground.bump is our choice, the angle is Raymer's 63 deg for level land"
    return Tipping("ground.bump", angle, "deg", (None, degrees(high)), "caution", message, source)


def _wind(standing: Standing, design: Design, side: SideArea) -> Tipping:
    limits = design.limits.ground

    def speed(one: Standing) -> float:
        return tipping_wind_m_s(one, side, limits.side_force_coefficient)

    message = (
        f"Estimate: parked, a side wind of {units.speed(speed(standing), design.units)} tips it over "
        f"(side area {_area(side.area_mm2, design)}, force coefficient {limits.side_force_coefficient:g}, no lift of "
        f"the wing counted); it should stand {units.speed(limits.side_wind_m_s, design.units)}."
    )
    source = (
        "side area from the model's own outline; limits.ground.side_wind is our choice, the coefficient an estimate"
    )
    return Tipping("ground.wind", speed, "m/s", (limits.side_wind_m_s, None), "caution", message, source)


def _area(value_mm2: float, design: Design) -> str:
    if design.units == "imperial":
        return f"{value_mm2 / units.MM_PER_INCH**2:.0f} in^2"
    return f"{value_mm2 * 1e-2:.0f} cm^2"


def _batteries(standing: Standing, design: Design, statement: Statement) -> list[Tipping]:
    """The option, of each battery that has several, that stands worst."""
    asked = []
    for name, battery in design.equipment.items():
        if not isinstance(battery, Battery) or not battery.fitted or len(battery.options) < 2:
            continue
        entry = next(entry for entry in statement.entries if entry.part.name == name)
        old_g, old = entry.mass_g, np.array(entry.body.centre)
        worst = max(
            battery.options.items(),
            key=lambda item: worst_overturn_rad(
                with_battery(standing, old_g, old, item[1].mass_g, _middle(battery, item[1]))
            ),
        )
        asked.append(_battery(standing, design, (old_g, old), (name, battery), worst))
    return asked


def _battery(
    standing: Standing,
    design: Design,
    old: tuple[float, Array],
    named: tuple[str, Battery],
    worst: tuple[str, BatteryOption],
) -> Tipping:
    (item, battery), (name, option) = named, worst
    high = design.limits.ground.overturn_rad

    def angle(one: Standing) -> float:
        return degrees(worst_overturn_rad(with_battery(one, *old, option.mass_g, _middle(battery, option))))

    message = (
        f"With the option {name} of {item}, the one it stands worst with, the overturn angle is "
        f"{angle(standing):.1f} deg; {units.angle(high)} is allowed."
    )
    source = f"{_OVERTURN}; limit: limits.ground.overturn"
    return Tipping(f"ground.battery: {item}", angle, "deg", (None, degrees(high)), "fail", message, source)


def _middle(battery: Battery, option: BatteryOption) -> Array:
    return np.array([battery.station_mm, battery.butt_line_mm, battery.water_line_mm + option.size[2] / 2.0])


# --- answers and remedies -------------------------------------------------------------------------------


def _answered(asked: Tipping, standing: Standing, design: Design, least_height_mm: float | None) -> Finding:
    """Without a least height no remedy is looked for."""
    value = asked.value(standing)
    passes = asked.passes(standing)
    return Finding(
        asked.code,
        "pass" if passes else asked.when_outside,
        round(value, 4) if isfinite(value) else None,
        asked.unit,
        asked.limit,
        asked.message,
        asked.source,
        () if passes or least_height_mm is None else _remedies(asked.passes, standing, design, least_height_mm),
        tuple(foot.name for foot in standing.feet),
    )


def _remedies(
    passes: Callable[[Standing], bool], standing: Standing, design: Design, least_height_mm: float
) -> tuple[Remedy, ...]:
    """A wider track, a lower balance point, a lower gear: each the least that passes by the same equations."""
    system, result = design.units, []
    now = standing.track_mm
    track = remedies.least_change(lambda value: passes(standing.with_track(value)), now, WIDEST * now)
    if track is not None:
        typed = rounding.more(track, system)
        result.append(Remedy(f"widen the track to {typed}", (changes.setting("gear.track", typed),)))
    height = standing.stance.height_mm(standing.cg)
    drop = remedies.least_change(lambda value: passes(standing.lowered(value)), 0.0, MOST_LOWERED * height)
    if drop is not None:
        result.append(Remedy(f"lower the balance point by {rounding.more(drop, system)}"))
    return (*result, *_lower_gear(passes, standing, design, least_height_mm))


def _lower_gear(
    passes: Callable[[Standing], bool], standing: Standing, design: Design, least_height_mm: float
) -> list[Remedy]:
    """Shorter legs, where the propeller keeps its room."""
    is_nose = design.gear.arrangement == "nose wheel"
    now = standing.main_height_mm
    if least_height_mm >= now:
        return []
    height = remedies.least_change(lambda value: passes(standing.with_height(value, is_nose)), now, least_height_mm)
    if height is None:
        return []
    typed = rounding.less(height, design.units)
    settings = remedies.height_settings(design, typed, now - height, rounding.less)
    return [Remedy(f"shorten the gear to a height of {typed}", settings)]
