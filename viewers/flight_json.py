"""Flight estimates for machines: SI units in the keys, bands as low, likely and high."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band
from airframe.flight.modes import Mode
from airframe.flight.power_figures import PowerFigures
from airframe.flight.whole import Flight


def as_json(name: str, flight: Flight, options: Sequence[str]) -> dict[str, Any]:
    """Speeds, balance, trim, motions; power on each battery option, or a sentence on what is not stated."""
    leading = flight.layout.design.wing.station_mm
    return {
        "name": name,
        "is_estimate": True,
        "stall_speed_m_s": _band(flight.stall_m_s),
        "slow_cruise_m_s": flight.cruise_m_s,
        "neutral_point_behind_leading_edge_m": (flight.neutral_point_mm - leading) * M_PER_MM,
        "static_margin": flight.static_margin(),
        "tail_volume_horizontal": flight.air.volumes.horizontal,
        "tail_volume_vertical": flight.air.volumes.vertical,
        "equivalent_dihedral_rad": flight.dihedral.elliptic_rad,
        "spiral_rule": flight.spiral_rule,
        "trim": {
            "incidence_rad": flight.cruise.incidence_rad,
            "elevator_rad": flight.cruise.elevator_rad,
            "thrust_n": flight.cruise.thrust_n,
        },
        "modes": [_mode(mode) for mode in flight.modes],
        "power": {option: _power(flight.power(option or None)) for option in options},
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
