"""What the uncertainty of the balance point comes from, and so what to weigh next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from airframe.axes import Array
from airframe.mass import Entry
from airframe.schema.certainty import Certainty
from airframe.sure.propagation import balance_gradient, centres_of, masses_of
from airframe.sure.spreads import ROUNDING
from airframe.sure.unknowns import Unknowns

Kind = Literal["material", "scale", "entry", "place"]


@dataclass(frozen=True)
class Cause:
    """One source of the balance point's variance (station)."""

    kind: Kind
    """material: its weight per amount; scale: its calibration; entry: one part's mass; place: where one part sits."""
    name: str
    share: float
    """Of the variance; all shares add up to 1. Below 0 where the log ties it to something that it makes up for."""
    removed_share: float
    """How much of the variance would go if it were put on the scale (an entry) or exactly known (anything else)."""


def causes(entries: Sequence[Entry], known: Unknowns, certainty: Certainty) -> tuple[Cause, ...]:
    """Every source of the variance, the greatest first; empty if the balance point is exactly known."""
    masses = masses_of(entries)
    total = float(masses.sum())
    if total <= 0.0:
        return ()
    gradient = balance_gradient(masses, centres_of(entries), known)[0]
    covariances = known.covariance @ gradient
    by_mass = gradient * covariances
    by_place = (masses / total) ** 2 * known.place_variance_mm2
    variance = float(by_mass.sum() + by_place.sum())
    if variance <= 0.0:
        return ()
    removed = _removed(known, covariances, certainty)
    found = [
        Cause(label.kind, label.name, float(part) / variance, float(gone) / variance)
        for label, part, gone in zip(known.labels, by_mass, removed, strict=True)
    ]
    found += [
        Cause("place", entry.part.name, float(part) / variance, float(part) / variance)
        for entry, part in zip(entries, by_place, strict=True)
    ]
    return tuple(sorted(found, key=lambda cause: (-cause.share, cause.name)))


def _removed(known: Unknowns, covariances: Array, certainty: Certainty) -> Array:
    """Variance that one more measurement takes away: (its covariance with the balance point)^2 / its own variance."""
    own = np.diag(known.covariance).copy()
    removed = np.divide(covariances**2, own, out=np.zeros_like(own), where=own > 0.0)
    first = known.scale_index + 1
    rows = known.gains.copy()
    rows[:, known.scale_index] -= known.nominal_g
    spread = np.einsum("np,pq,nq->n", rows, known.covariance, rows) + (certainty.scale_resolution_g / ROUNDING) ** 2
    with_balance = rows @ covariances
    removed[first:] = np.divide(with_balance**2, spread, out=np.zeros_like(spread), where=spread > 0.0)
    return removed
