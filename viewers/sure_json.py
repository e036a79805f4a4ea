"""How sure the weights are, for machines: SI units in the keys, standard uncertainties and 95 % intervals."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from airframe.sure.growth import SOURCE
from airframe.sure.propagation import Estimate
from airframe.sure.reconcile import Residual
from viewers.weight_json import KG_M2_PER_G_MM2, KG_PER_G, M_PER_MM

if TYPE_CHECKING:
    from airframe.model import Aeroplane


def as_json(aeroplane: Aeroplane) -> dict[str, Any]:
    """Mass, balance point, inertia with their uncertainties; growth; the log; what was learned; what to weigh next."""
    sure, growth = aeroplane.sureness, aeroplane.growth
    return {
        "mass_kg": _estimate(sure.mass_g, KG_PER_G),
        "cg_m": [_estimate(one, M_PER_MM) for one in sure.balance_mm],
        "cg_bias_m": [one * M_PER_MM for one in sure.balance_bias_mm],
        "inertia_kg_m2": [_estimate(one, KG_M2_PER_G_MM2) for one in sure.inertia_g_mm2],
        "growth": {
            "basic_mass_kg": growth.basic_g * KG_PER_G,
            "predicted_mass_kg": growth.predicted_g * KG_PER_G,
            "source": SOURCE,
        },
        "parts": [
            {
                "name": entry.part.name,
                "drawn_kg": entry.drawn_g * KG_PER_G,
                "learned_kg": None if entry.learned_g is None else entry.learned_g * KG_PER_G,
                "weighed_kg": None if entry.weighed_g is None else entry.weighed_g * KG_PER_G,
            }
            for entry in aeroplane.statement.entries
        ],
        "log": [_residual(residual, aeroplane) for residual in aeroplane.residuals],
        "materials": _materials(aeroplane),
        "causes": [
            {"kind": c.kind, "name": c.name, "share": c.share, "removed_share": c.removed_share}
            for c in aeroplane.causes
        ],
        "swings": [
            {
                "axis": swing.row.axis,
                "method": swing.row.method,
                "modelled_kg_m2": _estimate(swing.modelled, KG_M2_PER_G_MM2),
                "measured_kg_m2": _estimate(swing.measured, KG_M2_PER_G_MM2),
                "sigmas": swing.sigmas,
                "expected_period_s": swing.expected_period_s,
            }
            for swing in aeroplane.swings
        ],
    }


def _estimate(estimate: Estimate, factor: float) -> dict[str, Any]:
    return {
        "value": estimate.value * factor,
        "standard_uncertainty": estimate.sigma * factor,
        "interval_95": [estimate.low * factor, estimate.high * factor],
    }


def _residual(residual: Residual, aeroplane: Aeroplane) -> dict[str, Any]:
    factor, unit = (KG_PER_G, "kg") if residual.quantity == "mass" else (M_PER_MM, "m")
    return {
        "what": residual.piece.name,
        "quantity": residual.quantity,
        f"drawn_{unit}": residual.drawn * factor,
        f"learned_{unit}": residual.learned * factor,
        f"read_{unit}": residual.read * factor,
        "sigmas": residual.sigmas,
        "learned_from": residual.is_used,
        "remark": residual.remark(aeroplane.design.units),
    }


def _materials(aeroplane: Aeroplane) -> list[dict[str, Any]]:
    """How much heavier each material is thought to be than stated; nothing where nothing was learned."""
    if not aeroplane.has_learned:
        return []
    known = aeroplane.reconciliation.after
    return [
        {
            "name": label.name,
            "heavier_by_share": float(known.mean[index]),
            "standard_uncertainty": float(known.covariance[index, index]) ** 0.5,
        }
        for index, label in enumerate(known.labels)
        if label.kind == "material"
    ]
