"""Limits and assumptions of the checks of fit, of moving parts and of making."""

from __future__ import annotations

from airframe.schema.base import Length, Table, default


class FitLimits(Table):
    """Room for what is carried."""

    gap_mm: Length = default("1 mm")
    """Least gap between a carried item and the walls round it."""


class MovingLimits(Table):
    """Room for what moves."""

    gap_mm: Length = default("1 mm")
    """Least gap of a control surface from everything else, through its full throw."""


class MakingLimits(Table):
    """What knife, pliers and glue can do."""

    wire_bend_ratio: float = 1.0
    """Least inside bend radius of music wire, in wire diameters."""
