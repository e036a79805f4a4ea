"""Limits and assumptions of the checks on the ground: standing, tipping over, propeller clearance."""

from __future__ import annotations

from airframe.schema.base import Angle, Length, Table, default


class GroundLimits(Table):
    """Standing and tipping over."""

    overturn_rad: Angle = default("55 deg")
    """Highest overturn angle about any line of the support triangle (the usual handbook limit is 63 deg)."""


class PropellerLimits(Table):
    """Room round the propeller."""

    ground_clearance_mm: Length = default("20 mm")
    """Least distance of the disk from the ground, gear loaded."""
