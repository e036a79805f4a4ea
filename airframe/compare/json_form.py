"""A comparison for machines: SI units, keys that carry them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from airframe.checks.finding import Finding
from airframe.compare.attribution import Attribution, Share
from airframe.compare.cost import Cost, CostKind
from airframe.compare.dimensions import Change
from airframe.compare.figures import Figure, Quantity
from airframe.compare.findings import FindingPair
from airframe.compare.motions import MotionChange, dies_per_s, swings_per_s
from airframe.compare.parts import Pair
from airframe.compare.whole import Comparison
from airframe.flight.modes import Mode

M_PER_MM = 1e-3
M2_PER_MM2 = 1e-6
KG_PER_G = 1e-3
KG_M2_PER_G_MM2 = 1e-9
KG_M2_PER_G_DM2 = 0.1

FIGURE_UNITS: dict[Quantity, tuple[str, float]] = {
    "mass": ("kg", KG_PER_G),
    "length": ("m", M_PER_MM),
    "share": ("1", 1.0),
    "area": ("m^2", M2_PER_MM2),
    "loading": ("kg/m^2", KG_M2_PER_G_DM2),
    "inertia": ("kg m^2", KG_M2_PER_G_MM2),
}
COST_UNITS: dict[CostKind, tuple[str, float]] = {
    "sheet": ("m^2", M2_PER_MM2),
    "wire": ("m", M_PER_MM),
    "bought": ("kg", KG_PER_G),
}
SI_UNITS = {
    "length": ("m", M_PER_MM),
    "mass": ("kg", KG_PER_G),
    "angle": ("rad", 1.0),
    "weight of a sheet by area": ("kg/m^2", 1e3),
    "density": ("kg/m^3", 1e6),
    "weight by length": ("kg/m", 1.0),
    "volume": ("m^3", 1e-9),
    "share": ("1", 1.0),
    "speed": ("m/s", 1.0),
    "force": ("N", 1.0),
}
"""SI unit of each kind of quantity (by its name in `airframe.units`), and how many of it the internal unit is."""


def to_json(comparison: Comparison) -> dict[str, Any]:
    """The comparison as `compare --json` prints it.

        {"old": name, "new": name,
         "figures": [{"name", "unit", "old", "new", "difference"}],
         "changes": [{"key", "kind": "changed"|"added"|"removed", "old", "new": text|null, "old_stated", "new_stated",
                      "unit": str|null, "difference": [floats]}],
         "parts": [{"name", "old_name": str|null, "group", "fate": "added"|"removed"|"changed", "new_shape", "turned",
                    "old_material", "new_material", "moved_m": [3], "mass_kg": difference, "balance_m": [3],
                    "inertia_kg_m2": [[3x3] about the old balance point]}],
         "unchanged_parts": int,
         "attribution": {"whole": share, "groups": {group: share}, "fates": {fate: share},
                         "balance_point_moved_inertia_kg_m2": [[3x3]]},
         "costs": [{"kind", "name", "diameter_m": float|null, "unit", "old", "new"}],
         "findings": [{"code", "trend": "worse"|"better"|"same"|"new"|"gone", "old", "new": finding|null}],
         "motions": [{"name", "old", "new": motion|null, "shares": [{"cause"} with the keys of a motion]}]}

    A share is {"mass_kg", "balance_m", "inertia_kg_m2"}. The parts' shares add up to the whole's; for inertia with
    "balance_point_moved_inertia_kg_m2", since the whole's is about each aeroplane's own balance point. A finding is
    {"verdict", "value", "unit", "limit", "message"}, its value in the unit it names. Unchanged parts are only counted.
    A motion is {"swings_per_s", "dies_per_s"} at slow cruise, an estimate; its shares add up to the difference.
    """
    parts = zip(comparison.pairs, comparison.attribution.parts, strict=True)
    return {
        "old": comparison.old.design.name,
        "new": comparison.new.design.name,
        "figures": [_figure(figure) for figure in comparison.figures],
        "changes": [_change(change) for change in comparison.changes],
        "parts": [_part(pair) | _share(part.share) for pair, part in parts if pair.fate != "unchanged"],
        "unchanged_parts": comparison.unchanged,
        "attribution": _attribution(comparison.attribution),
        "costs": [_cost(cost) for cost in comparison.costs],
        "findings": [_finding_pair(pair) for pair in comparison.findings],
        "motions": [motion_json(one) for one in comparison.motions],
    }


def motion_json(one: MotionChange) -> dict[str, Any]:
    """One motion of both, and what drives the change."""

    def rates(mode: Mode | None) -> dict[str, float] | None:
        return None if mode is None else {"swings_per_s": swings_per_s(mode), "dies_per_s": dies_per_s(mode)}

    shares = [
        {"cause": share.cause, "swings_per_s": share.swings_per_s, "dies_per_s": share.dies_per_s}
        for share in one.shares
    ]
    return {"name": one.name, "old": rates(one.old), "new": rates(one.new), "shares": shares}


def _figure(figure: Figure) -> dict[str, Any]:
    unit, factor = FIGURE_UNITS[figure.quantity]
    values = {"old": figure.old, "new": figure.new, "difference": figure.difference}
    return {"name": figure.name, "unit": unit} | {key: _times(value, factor) for key, value in values.items()}


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _change(change: Change) -> dict[str, Any]:
    unit, factor = SI_UNITS[change.dimension.name] if change.dimension is not None else (None, 1.0)
    return {
        "key": change.key,
        "kind": change.kind,
        "old": change.old.words if change.old else None,
        "new": change.new.words if change.new else None,
        "old_stated": bool(change.old and change.old.is_stated),
        "new_stated": bool(change.new and change.new.is_stated),
        "unit": unit,
        "difference": [value * factor for value in change.difference],
    }


def _part(pair: Pair) -> dict[str, Any]:
    return {
        "name": pair.name,
        "old_name": pair.old_name,
        "group": pair.group,
        "fate": pair.fate,
        "new_shape": pair.fate == "changed" and not pair.is_same_shape,
        "turned": pair.is_turned,
        "old_material": pair.old.part.material.name if pair.old else None,
        "new_material": pair.new.part.material.name if pair.new else None,
        "moved_m": _scaled(pair.moved_mm, M_PER_MM),
    }


def _share(share: Share) -> dict[str, Any]:
    return {
        "mass_kg": share.mass_g * KG_PER_G,
        "balance_m": _scaled(share.balance_mm, M_PER_MM),
        "inertia_kg_m2": _tensor(share.inertia_g_mm2),
    }


def _attribution(attribution: Attribution) -> dict[str, Any]:
    return {
        "whole": _share(attribution.whole),
        "groups": {group: _share(share) for group, share in attribution.by_group.items()},
        "fates": {fate: _share(share) for fate, share in attribution.by_fate.items()},
        "balance_point_moved_inertia_kg_m2": _tensor(attribution.moved_g_mm2),
    }


def _scaled(values: Iterable[float], factor: float) -> list[float]:
    return [float(value) * factor for value in values]


def _tensor(rows: Iterable[Iterable[float]]) -> list[list[float]]:
    return [_scaled(row, KG_M2_PER_G_MM2) for row in rows]


def _cost(cost: Cost) -> dict[str, Any]:
    unit, factor = COST_UNITS[cost.kind]
    diameter = _times(cost.diameter_mm, M_PER_MM)
    names = {"kind": cost.kind, "name": cost.name, "diameter_m": diameter, "unit": unit}
    return names | {"old": cost.old * factor, "new": cost.new * factor}


def _finding_pair(pair: FindingPair) -> dict[str, Any]:
    return {"code": pair.code, "trend": pair.trend, "old": _finding(pair.old), "new": _finding(pair.new)}


def _finding(finding: Finding | None) -> dict[str, Any] | None:
    if finding is None:
        return None
    return {
        "verdict": finding.verdict,
        "value": finding.value,
        "unit": finding.unit,
        "limit": list(finding.limit),
        "message": finding.message,
    }
