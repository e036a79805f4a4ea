"""Findings on the propeller: its room above the ground, and beside the structure."""

from __future__ import annotations

from airframe.checks.finding import Finding
from airframe.checks.propeller_ground import ground_findings
from airframe.checks.propeller_structure import structure_findings
from airframe.model import Aeroplane


def findings(aeroplane: Aeroplane) -> list[Finding]:
    """Every finding; one that says so for an aeroplane without a propeller."""
    disk = aeroplane.propeller
    if disk is None:
        message = "Propeller checks do not apply: no propeller is fitted."
        return [Finding("propeller", "info", None, "", (None, None), message, "equipment")]
    return [*ground_findings(aeroplane, disk), *structure_findings(aeroplane, disk)]
