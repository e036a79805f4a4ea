"""Balance for machines: SI units, keys that carry them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from airframe.balance.answers import Answer, State
from airframe.balance.intervals import Interval
from airframe.balance.margins import CaseMargins, Place
from airframe.balance.remedies import remedies
from airframe.balance.whole import Balances, Lever
from airframe.checks.finding import Remedy
from airframe.schema.design import Design

M_PER_MM = 1e-3
KG_PER_G = 1e-3
KG_M2_PER_G_MM2 = 1e-9


def to_json(found: Balances, design: Design, margins: Sequence[CaseMargins] = ()) -> dict[str, Any]:
    """The balance as `balance --json` prints it; stations are aft of the firewall's front face.

        {"name": str, "mass_kg", "cg_m": [3], "range_m": [forward, aft], "range_percent_mac": [2],
         "sideways_limit_m", "tip_weight_kg",
         "cases": [{"name", "battery", "option": str|null, "aboard": {item: bool}, "current": bool,
                    "tray_m": [front, rear], "tray_from": str, "usable_m": [[2]], "in_range_m": [[2]],
                    "blocked": [{"part", "stations_m": [[2]]}], "now": state, "best": state|null, "ends": [state],
                    "out_of_range_m": float|null,
                    "ballast": {"mass_kg", "at_m": [3], "size_m": [3], "after": state}|null,
                    "moves": [{"item", "from_m", "to_m"}], "remedies": [{"text", "settings": [str]}]}],
         "levers": [{"item", "mass_kg", "station_m", "fitted", "balance_per_metre": float, "left_out_moves_m"}],
         "static_margins": [{"name", "now": margin, "foremost": margin|null, "rearmost": margin|null}]}

    A margin is {"battery_station_m", "static_margin"}, an estimate; the list is empty where nothing holds it level.
    A state is {"battery_station_m", "mass_kg", "cg_m": [3], "cg_percent_mac", "pitch_inertia_kg_m2",
    "overturn_rad": float|null}. "tray_m" are limits of the battery's ends; all other stations are of middles.
    """
    target = found.target
    return {
        "name": design.name,
        "mass_kg": found.mass_g * KG_PER_G,
        "cg_m": _metres(found.cg_mm),
        "range_m": _metres(target.window_mm),
        "range_percent_mac": [100.0 * target.share(x) for x in target.window_mm],
        "sideways_limit_m": target.sideways_mm * M_PER_MM,
        "tip_weight_kg": found.tip_weight_g * KG_PER_G,
        "cases": [_case(answer, design) for answer in found.answers],
        "levers": [_lever(lever) for lever in found.levers],
        "static_margins": [margins_json(one) for one in margins],
    }


def margins_json(one: CaseMargins) -> dict[str, Any]:
    """The static margin of one case."""
    places = {"now": one.now, "foremost": one.foremost, "rearmost": one.rearmost}
    return {"name": one.case} | {key: None if place is None else _margin(place) for key, place in places.items()}


def _margin(place: Place) -> dict[str, float]:
    return {"battery_station_m": place.station_mm * M_PER_MM, "static_margin": place.margin}


def _case(answer: Answer, design: Design) -> dict[str, Any]:
    case = answer.case
    return {
        "name": case.name,
        "battery": case.battery,
        "option": case.option,
        "aboard": dict(case.aboard),
        "current": case.is_current,
        "tray_m": _metres((answer.tray.from_mm, answer.tray.to_mm)),
        "tray_from": answer.tray.given_by,
        "usable_m": _intervals(answer.usable),
        "in_range_m": _intervals(answer.in_range),
        "blocked": [{"part": one.name, "stations_m": _intervals(one.blocked)} for one in answer.met],
        "now": _state(answer.now, answer),
        "best": None if answer.best is None else _state(answer.best, answer),
        "ends": [_state(state, answer) for state in answer.ends],
        "out_of_range_m": None if answer.best is None else answer.missed_mm * M_PER_MM,
        "ballast": _ballast(answer),
        "moves": [
            {"item": move.item, "from_m": move.from_mm * M_PER_MM, "to_m": move.to_mm * M_PER_MM}
            for move in answer.moves
        ],
        "remedies": [_remedy(remedy) for remedy in remedies(answer, design)],
    }


def _ballast(answer: Answer) -> dict[str, Any] | None:
    if answer.ballast is None or answer.after is None:
        return None
    return {
        "mass_kg": answer.ballast.mass_g * KG_PER_G,
        "at_m": _metres(answer.ballast.middle),
        "size_m": _metres(answer.ballast.size),
        "after": _state(answer.after, answer),
    }


def _state(state: State, answer: Answer) -> dict[str, Any]:
    return {
        "battery_station_m": state.station_mm * M_PER_MM,
        "mass_kg": state.mass_g * KG_PER_G,
        "cg_m": _metres(state.cg_mm),
        "cg_percent_mac": 100.0 * answer.target.share(state.cg_mm[0]),
        "pitch_inertia_kg_m2": state.pitch_g_mm2 * KG_M2_PER_G_MM2,
        "overturn_rad": state.overturn_rad,
    }


def _lever(lever: Lever) -> dict[str, Any]:
    return {
        "item": lever.item,
        "mass_kg": lever.mass_g * KG_PER_G,
        "station_m": lever.station_mm * M_PER_MM,
        "fitted": lever.is_fitted,
        "balance_per_metre": lever.share,
        "left_out_moves_m": lever.left_out_moves_mm * M_PER_MM,
    }


def _remedy(remedy: Remedy) -> dict[str, Any]:
    return {"text": remedy.text, "settings": list(remedy.settings)}


def _metres(values_mm: tuple[float, ...]) -> list[float]:
    return [value * M_PER_MM for value in values_mm]


def _intervals(intervals: tuple[Interval, ...]) -> list[list[float]]:
    return [_metres(interval) for interval in intervals]
