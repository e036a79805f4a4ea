"""Aeroplanes drawn at random: the same quantities as in propagation, with nothing linearised."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from airframe.axes import Array
from airframe.mass import Entry
from airframe.sure.propagation import centres_of, masses_of, unit_inertia
from airframe.sure.unknowns import Unknowns

BATCH = 500
"""Draws made together: few enough that their numbers stay in the processor's cache."""


@dataclass(frozen=True, eq=False)
class Sample:
    """Figures of aeroplanes drawn at random, one a row."""

    mass_g: Array
    balance_mm: Array
    """(draws, 3)."""
    inertia_g_mm2: Array
    """(draws, 3): roll, pitch, yaw about each one's own balance point."""


def sample(entries: Sequence[Entry], known: Unknowns, draws: int, rng: np.random.Generator) -> Sample:
    """Aeroplanes whose masses and places differ from the entries' as `known` says; normal distributions."""
    origin = masses_of(entries) @ centres_of(entries) / max(masses_of(entries).sum(), 1e-300)
    root = _root(known)
    batches = [_batch(entries, known, min(BATCH, draws - at), rng, origin, root) for at in range(0, draws, BATCH)]
    mass, balance, inertia = (np.concatenate(columns) for columns in zip(*batches, strict=True))
    return Sample(mass, balance, inertia)


def _batch(
    entries: Sequence[Entry], known: Unknowns, draws: int, rng: np.random.Generator, origin: Array, root: Array
) -> tuple[Array, Array, Array]:
    masses = masses_of(entries) + rng.standard_normal((draws, len(known.labels))) @ root.T
    shifts = rng.standard_normal((3, draws, len(entries))) * np.sqrt(known.place_variance_mm2)
    arms = centres_of(entries) - origin
    places = arms.T[:, None, :] + shifts
    total = masses.sum(axis=1)
    balance = np.einsum("dn,kdn->dk", masses, places) / total[:, None]
    squares = np.einsum("dn,kdn,kdn->dk", masses, places, places) - total[:, None] * balance**2
    own = unit_inertia(entries, origin) - _across(arms**2).T
    return total, balance + origin, masses @ own.T + _across(squares)


def _across(squares: Array) -> Array:
    """Along each axis, the sum along the two others."""
    result: Array = squares.sum(axis=-1, keepdims=True) - squares
    return result


def _root(known: Unknowns) -> Array:
    """(n, p): turns independent standard normal numbers into errors of the entries' masses."""
    if not np.any(known.covariance - np.diag(np.diag(known.covariance))):
        return known.gains * np.sqrt(np.diag(known.covariance))
    values, vectors = np.linalg.eigh(known.covariance)
    root: Array = known.gains @ (vectors * np.sqrt(np.maximum(values, 0.0)))
    return root
