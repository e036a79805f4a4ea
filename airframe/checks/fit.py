"""Does everything fit: findings about what is carried, how it goes in, and what runs into what."""

from __future__ import annotations

from airframe.checks import fit_fastenings, fit_hatch, fit_inside, fit_pairs
from airframe.checks.finding import Finding
from airframe.checks.pairs import PairCache, Pairs
from airframe.model import Aeroplane


def findings(aeroplane: Aeroplane, cache: PairCache | None = None) -> list[Finding]:
    """Every finding of fit. A cache that is kept from one call to the next saves the pairs that did not change."""
    pairs = Pairs(aeroplane, cache)
    return [
        *fit_inside.findings(pairs),
        *fit_pairs.findings(pairs),
        *fit_hatch.findings(aeroplane.layout),
        *fit_fastenings.findings(pairs),
    ]
