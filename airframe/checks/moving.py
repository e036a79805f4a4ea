"""Does everything move freely: findings about control surfaces, their bevels, push-rods and wheels."""

from __future__ import annotations

from airframe.checks import bevels, moving_tail, push_rods, wheels_free
from airframe.checks.finding import Finding
from airframe.checks.pairs import PairCache, Pairs
from airframe.model import Aeroplane


def findings(aeroplane: Aeroplane, cache: PairCache | None = None) -> list[Finding]:
    """Every finding of moving parts. A cache that is kept from call to call saves the pairs that did not change."""
    pairs = Pairs(aeroplane, cache)
    return [
        *moving_tail.findings(pairs),
        *bevels.findings(aeroplane.layout),
        *push_rods.findings(pairs),
        *wheels_free.findings(pairs),
    ]
