"""Flight estimates for machines: SI units in the keys, bands as low, likely and high."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from airframe.balance.json_form import margins_json
from airframe.balance.margins import case_margins
from airframe.balance.whole import Balances
from airframe.compare.json_form import motion_json
from airframe.compare.motions import motion_changes
from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band
from airframe.flight.level import LevelPoint
from airframe.flight.modes import Mode
from airframe.flight.power_figures import PowerFigures
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.model import Aeroplane


def as_json(aeroplane: Aeroplane, found: Balances, options: Sequence[str]) -> dict[str, Any]:
    """Speeds, power on each battery option or a sentence on what is not stated, and all that level flight tells.

    "held" is false where no elevator holds level flight: then what stands on it is not there. Bands are [low, likely,
    high].
    """
    flight = aeroplane.flight
    told = {
        "name": aeroplane.design.name,
        "is_estimate": True,
        "stall_speed_m_s": _band(flight.stall_m_s),
        "slow_cruise_m_s": flight.cruise_m_s,
        "tail_volume_horizontal": flight.air.volumes.horizontal,
        "tail_volume_vertical": flight.air.volumes.vertical,
        "equivalent_dihedral_rad": flight.dihedral.elliptic_rad,
        "spiral_rule": flight.spiral_rule,
        "rudder_figure": flight.rudder_figure,
        "span_efficiency": flight.span_efficiency,
        "level_flight": [_level(point) for point in flight.level],
        "power": {option: _power(flight.power(option or None)) for option in options},
    }
    try:
        return told | {"held": True} | _held(flight, found)
    except NoTrimError:
        return told | {"held": False}


def against(old: Aeroplane, new: Aeroplane) -> dict[str, Any]:
    """The prototype's name, and each motion of both with what drives the change (as in `compare --json`)."""
    try:
        motions = [motion_json(one) for one in motion_changes(old, new)]
    except NoTrimError:
        motions = []
    return {"name": old.design.name, "motions": motions}


def _held(flight: Flight, found: Balances) -> dict[str, Any]:
    leading, points = flight.layout.design.wing.station_mm, flight.neutral_points_mm
    return {
        "neutral_point_behind_leading_edge_m": (flight.neutral_point_mm - leading) * M_PER_MM,
        "neutral_point_behind_leading_edge_by_tail_air_m": _band(
            Band(*(x - leading for x in (points.low, points.middle, points.high))).times(M_PER_MM)
        ),
        "tail_share": _band(flight.tail_air.share),
        "static_margin": flight.static_margin(),
        "static_margins": [margins_json(one) for one in case_margins(found, flight.neutral_point_mm)],
        "trim": {
            "incidence_rad": flight.cruise.incidence_rad,
            "elevator_rad": flight.cruise.elevator_rad,
            "thrust_n": flight.cruise.thrust_n,
        },
        "slowest": [_slowest(flight, station) for station in (flight.whole.centre[0], *found.target.window_mm)],
        "modes": [_mode(mode) for mode in flight.modes],
        "rudder_kick": {
            "most_roll_rad_s": flight.rudder_kick.most_roll_rad_s,
            "bank_30_deg_s": flight.rudder_kick.bank_30_s,
            "roll_rad_s_per_rad": flight.rudder_kick.roll_per_rudder,
        },
        "responses": [{"name": one.name, "words": one.words} for one in flight.responses],
    }


def _level(point: LevelPoint) -> dict[str, Any]:
    return {
        "speed_m_s": point.speed_m_s,
        "lift_coefficient": point.lift_coefficient,
        "incidence_rad": point.incidence_rad,
        "elevator_rad": point.elevator_rad,
        "elevator_left_rad": point.elevator_left_rad,
        "drag_n": _band(point.drag_n),
        "power_w": _band(point.power_w),
        "sink_m_s": _band(point.sink_m_s),
        "glide": _band(point.glide),
    }


def _slowest(flight: Flight, station_mm: float) -> dict[str, Any]:
    found = flight.slowest(station_mm)
    return {
        "balance_station_m": station_mm * M_PER_MM,
        "speed_m_s": found.trim.speed_m_s,
        "elevator_rad": found.trim.elevator_rad,
        "limit": found.limit,
        "at_m": [float(x) for x in found.stall_place_m],
    }


def _mode(mode: Mode) -> dict[str, Any]:
    return {"name": mode.name, "real_per_s": mode.root.real, "imaginary_per_s": mode.root.imag, "words": mode.words}


def _power(figures: PowerFigures | str) -> dict[str, Any] | str:
    if isinstance(figures, str):
        return figures
    return {
        "static_thrust_n": _band(figures.static_thrust_n),
        "static_current_a": _band(figures.static_current_a),
        "top_speed_m_s": _band(figures.top_speed_m_s),
        "climb_rate_m_s": _band(figures.climb_rate_m_s),
        "cruise_current_a": _band(figures.cruise_current_a),
        "cruise_time_s": _band(figures.cruise_time_s),
    }


def _band(band: Band | None) -> list[float] | None:
    return None if band is None else [band.low, band.middle, band.high]
