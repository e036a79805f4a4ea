"""Can it be made: findings about scores, sheets, edges, wire, glue, and where foam wants plywood."""

from __future__ import annotations

from airframe.checks import making_edges, making_glue, making_joints, making_sheet
from airframe.checks.finding import Finding
from airframe.checks.pairs import PairCache, Pairs
from airframe.model import Aeroplane


def findings(aeroplane: Aeroplane, cache: PairCache | None = None) -> list[Finding]:
    """Every finding of making. A cache that is kept from call to call saves the pairs that did not change."""
    pairs = Pairs(aeroplane, cache)
    return [
        *making_sheet.findings(aeroplane),
        *making_edges.findings(aeroplane),
        *making_glue.findings(pairs),
        *making_joints.findings(pairs),
    ]
