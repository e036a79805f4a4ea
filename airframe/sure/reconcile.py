"""Drawing and kitchen scale reconciled: what the log teaches of every part, and which of its lines is odd.

Least squares on all random quantities at once, each weighted by its own spread and each reading by the scale's;
which is Bayes' rule for normal distributions in closed form:

    S = H P H^T + R      u' = u + P H^T S^-1 (y - H u)      P' = P - P H^T S^-1 H P

Source: any text on estimation, as the measurement update of a Kalman filter (from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.mass import Entry
from airframe.schema.certainty import Certainty
from airframe.sure.propagation import centres_of
from airframe.sure.readings import Quantity, Reading, readings
from airframe.sure.unknowns import NOTHING, Learned, Unknowns, unknowns
from airframe.units import System
from airframe.weighing import Piece

ODD = 3.0
"""A reading further off than this many of its standard deviations is left out of the learning (our choice)."""
LEAST_LEARNED_SHARE = 0.1
"""Nothing is thought to weigh less than this share of its drawing, whatever wide spreads would allow."""


@dataclass(frozen=True)
class Residual:
    """One line of the log beside what the drawing says and what was learned."""

    piece: Piece
    quantity: Quantity
    drawn: float
    """g; or mm, station."""
    learned: float
    read: float
    sigmas: float
    """How far it was read from what drawing and all other used lines predict, in standard deviations of that."""
    is_used: bool
    """False where it is too odd to learn from."""

    def remark(self, system: System) -> str:
        """What is odd about it, in words; empty if nothing is."""
        if self.is_used:
            return ""
        off = self.read - self.learned
        if self.quantity == "balance":
            where = "further aft" if off > 0.0 else "further forward"
            why = "an item out of its place? a station not measured from the firewall's front face?"
            text = f"{self.piece.name} balances {units.length(abs(off), system)} {where} than expected: {why}"
        else:
            than = "more" if off > 0.0 else "less"
            why = (
                "glue or paint on the scale that is not listed in together_with? a doubler that is not in the file?"
                if off > 0.0
                else "something that was not on the scale and is not listed in without? lighter sheet?"
            )
            text = f"{self.piece.name} weighs {units.mass(abs(off), system)} {than} than expected of its drawing: {why}"
        kept = "" if self.quantity == "balance" or self.piece.is_whole else ", though taken as its mass"
        return f"{text} Left out of the learning ({abs(self.sigmas):.1f} sigmas){kept}."


@dataclass(frozen=True, eq=False)
class Reconciliation:
    """What a log taught."""

    before: Unknowns
    after: Unknowns
    residuals: tuple[Residual, ...]
    """One for each mass and each balance point in the log, in its order."""

    @property
    def learned_g(self) -> Array:
        """(n,): what each entry is thought to weigh."""
        return np.maximum(self.after.masses_g, LEAST_LEARNED_SHARE * self.after.nominal_g)


def reconcile(
    entries: Sequence[Entry],
    pieces: Sequence[Piece],
    certainty: Certainty,
    stated: Mapping[str, float],
    learned: Learned = NOTHING,
) -> Reconciliation:
    """What these pieces, weighed, teach of these entries, which are as drawn.

    `stated` gives relative uncertainties of items by name, `learned` what other aeroplanes taught before.
    """
    before = unknowns(entries, certainty, stated, learned)
    log = readings(pieces, entries, before, certainty)
    used = list(range(len(log)))
    while used:
        odd = oddness(before, [log[index] for index in used])
        worst = int(np.argmax(np.abs(odd)))
        if abs(odd[worst]) <= ODD:
            break
        del used[worst]
    after = updated(before, [log[index] for index in used])
    sigmas = {index: _alone(before, log, used, index) for index in range(len(log))}
    return Reconciliation(
        before,
        after,
        tuple(_residual(one, entries, after, sigmas[i], i in used) for i, one in enumerate(log)),
    )


def updated(known: Unknowns, log: Sequence[Reading]) -> Unknowns:
    """The random quantities after the readings: Bayes' rule for normal distributions."""
    if not log:
        return known
    rows, innovation, spread = _predicted(known, log)
    gain = np.linalg.solve(spread, rows @ known.covariance).T
    covariance = known.covariance - gain @ rows @ known.covariance
    return replace(known, mean=known.mean + gain @ innovation, covariance=(covariance + covariance.T) / 2.0)


def oddness(known: Unknowns, log: Sequence[Reading]) -> Array:
    """How far each reading is from what all others predict, in standard deviations of that prediction.

    Leaving one out, in closed form: [S^-1 v]_i / sqrt([S^-1]_ii), v the innovations and S their covariance (from
    memory; the test leaves each out in fact).
    """
    _, innovation, spread = _predicted(known, log)
    inverse = np.linalg.inv(spread)
    result: Array = inverse @ innovation / np.sqrt(np.diag(inverse))
    return result


def _predicted(known: Unknowns, log: Sequence[Reading]) -> tuple[Array, Array, Array]:
    """H, y - H u, and the covariance S of the latter."""
    rows = np.array([reading.row for reading in log])
    innovation = np.array([reading.value for reading in log]) - rows @ known.mean
    spread = rows @ known.covariance @ rows.T + np.diag([reading.variance for reading in log])
    return rows, innovation, spread


def _alone(before: Unknowns, log: Sequence[Reading], used: Sequence[int], index: int) -> float:
    others = [log[other] for other in used if other != index]
    return float(oddness(before, [*others, log[index]])[-1])


def _residual(reading: Reading, entries: Sequence[Entry], after: Unknowns, sigmas: float, is_used: bool) -> Residual:
    piece, members = reading.piece, list(reading.piece.members)
    drawn, learned = after.nominal_g[members], after.masses_g[members]
    if reading.quantity == "mass":
        return Residual(piece, "mass", float(drawn.sum()), float(learned.sum()), piece.row.mass_g, sigmas, is_used)
    stations = centres_of(entries)[members, 0]
    at = [float(masses @ stations / masses.sum()) for masses in (drawn, learned)]
    assert piece.row.balances_at_mm is not None
    return Residual(piece, "balance", at[0], at[1], piece.row.balances_at_mm, sigmas, is_used)
