"""A weighing log as linear observations of the random quantities."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Literal

import numpy as np

from airframe.axes import Array
from airframe.drawing import PartError
from airframe.mass import Entry
from airframe.schema.certainty import Certainty
from airframe.sure.propagation import centres_of
from airframe.sure.spreads import ROUNDING
from airframe.sure.unknowns import Unknowns
from airframe.weighing import Piece

LEAST_READING_G = 1e-3
"""No scale is taken to be better than this, so that two readings of one thing never contradict each other."""

Quantity = Literal["mass", "balance"]


@dataclass(frozen=True, eq=False)
class Reading:
    """One number that was read: value = row @ u + noise, for the random quantities u."""

    piece: Piece
    quantity: Quantity
    row: Array
    """(p,)."""
    value: float
    """Of mass: grams above the drawing's. Of balance: moment about the station read, g mm, that the drawing lacks."""
    variance: float


def readings(
    pieces: Sequence[Piece], entries: Sequence[Entry], known: Unknowns, certainty: Certainty
) -> tuple[Reading, ...]:
    """Every mass in the log, and every balance point. PartError for a balance outside the piece."""
    found: list[Reading] = []
    for piece in pieces:
        found.append(_mass(piece, known, certainty))
        if piece.row.balances_at_mm is not None:
            found.append(_balance(piece, piece.row.balances_at_mm, entries, known, certainty))
    return tuple(found)


def _mass(piece: Piece, known: Unknowns, certainty: Certainty) -> Reading:
    members = list(piece.members)
    nominal = float(known.nominal_g[members].sum())
    row = known.gains[members].sum(axis=0)
    row[known.scale_index] -= nominal
    step = certainty.scale_resolution_g if piece.row.resolution_g is None else piece.row.resolution_g
    return Reading(piece, "mass", row, piece.row.mass_g - nominal, max(step / ROUNDING, LEAST_READING_G) ** 2)


def _balance(
    piece: Piece, station_mm: float, entries: Sequence[Entry], known: Unknowns, certainty: Certainty
) -> Reading:
    """The moments about the station where it balances add up to nothing: linear in the masses, whatever they are."""
    members = list(piece.members)
    _check_inside(piece, station_mm, [entries[index] for index in members])
    arms = centres_of(entries)[members, 0] - station_mm
    masses = known.nominal_g[members]
    read = (piece.row.mass_g * certainty.balance_reading_mm) ** 2
    places = float(masses**2 @ known.place_variance_mm2[members])
    least = (LEAST_READING_G * max(piece.row.mass_g, 1.0)) ** 2
    return Reading(piece, "balance", arms @ known.gains[members], -float(arms @ masses), max(read + places, least))


def _check_inside(piece: Piece, station_mm: float, entries: Sequence[Entry]) -> None:
    """A sum of weights balances between the foremost and the aftmost of them, whatever they weigh.

    Each reaches half as far as an even bar of its radius of gyration, which is k sqrt(3) from its centre.
    """
    reaches = [(float(entry.body.centre[0]), sqrt(3.0) * _gyration_mm(entry)) for entry in entries]
    low, high = min(x - r for x, r in reaches), max(x + r for x, r in reaches)
    if not low <= station_mm <= high:
        raise PartError(
            piece.subject,
            f"balances_at = {station_mm:g} mm is outside it: what lay on the scale reaches from station {low:.0f} mm to"
            f" {high:.0f} mm, measured aft of the firewall's front face",
        )


def _gyration_mm(entry: Entry) -> float:
    """Root of the mean square distance from the part's centre along x."""
    roll, pitch, yaw = np.diag(entry.body.inertia)
    return sqrt(max(pitch + yaw - roll, 0.0) / (2.0 * entry.body.mass)) if entry.body.mass else 0.0
