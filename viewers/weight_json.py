"""The weight statement for machines: SI units, keys that carry them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import numpy as np

from airframe.drawing import Part
from airframe.mass import Entry

if TYPE_CHECKING:
    from airframe.model import Aeroplane

M_PER_MM = 1e-3
KG_PER_G = 1e-3
KG_M2_PER_G_MM2 = 1e-9


def as_json(aeroplane: Aeroplane) -> dict[str, Any]:
    """The weight statement in SI units, as `weigh --json` prints it; keys carry the units.

    Off-diagonal entries of the tensors are the negative products of inertia.
    """
    statement = aeroplane.statement
    moments, _ = statement.principal_inertia()
    return {
        "name": aeroplane.design.name,
        "mass_kg": statement.whole.mass * KG_PER_G,
        "cg_m": _metres(statement.whole.centre),
        "cg_behind_leading_edge_m": aeroplane.cg_behind_leading_edge_mm * M_PER_MM,
        "cg_percent_mac": 100.0 * aeroplane.cg_share_of_mean_chord,
        "inertia_kg_m2": _kg_m2(statement.whole.inertia),
        "principal_inertia_kg_m2": _kg_m2(moments),
        "radii_of_gyration_m": _metres(statement.radii_of_gyration_mm()),
        "parts": [_part_json(entry, entry.part) for entry in statement.entries],
        "groups": {
            name: {"mass_kg": body.mass * KG_PER_G, "cg_m": _metres(body.centre)}
            for name, body in statement.groups.items()
        },
    }


def _part_json(entry: Entry, part: Part) -> dict[str, Any]:
    volume = entry.volume_mm3
    return {
        "name": part.name,
        "group": part.group,
        "material": part.material.name,
        "basis": entry.basis,
        "mass_kg": entry.mass_g * KG_PER_G,
        "volume_m3": None if volume is None else volume * M_PER_MM**3,
        "cg_m": _metres(entry.body.centre),
        "inertia_kg_m2": _kg_m2(entry.body.inertia),
    }


def _metres(values_mm: Iterable[float]) -> list[float]:
    return [float(value) * M_PER_MM for value in values_mm]


def _kg_m2(values: Any) -> Any:
    return (np.asarray(values, dtype=np.float64) * KG_M2_PER_G_MM2).tolist()
