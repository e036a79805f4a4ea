"""Limits and assumptions of the checks of fit, of moving parts and of making."""

from __future__ import annotations

from pydantic import Field

from airframe.schema.base import Angle, Distance, Length, Share, Table, Volume, default


class FitLimits(Table):
    """Room for what is carried."""

    gap_mm: Length = default("1 mm")
    """Least gap between a carried item and what it is not fastened to; our choice: a fingernail's width."""
    overlap_mm3: Volume = default("60 mm^3")
    """Most volume that two built parts may share; our choice: slivers of glue joints, twice a 30 mm^3 one."""
    hand_length_mm: Length = default("60 mm")
    """Of the opening that two fingers and a plug go through; our choice, measured on one hand."""
    hand_width_mm: Length = default("45 mm")
    """Of that opening, the other way."""
    reach_mm: Distance = default("70 mm")
    """How far from an opening's edge those fingers reach inside; our choice: a finger's length."""


class MovingLimits(Table):
    """Room for what moves."""

    gap_mm: Length = default("1 mm")
    """Least gap of a moving part from everything but its hinge, through its full throw; our choice."""
    step_rad: Angle = default("5 deg", gt=0.0, le=0.53)
    """Largest step of the sweep through the throw."""


class MakingLimits(Table):
    """What knife, pliers and glue can do."""

    wire_bend_ratio: float = Field(default=1.0, gt=0.0)
    """Least inside bend radius of music wire, in wire diameters; the trade bends at 1 to 2 (from memory)."""
    facet_ratio: float = Field(default=1.0, gt=0.0)
    """Least width between two score lines, in sheet thicknesses; common practice, no source."""
    edge_ratio: float = Field(default=1.0, gt=0.0)
    """Least material left beside a hole, in sheet thicknesses; common practice, no source."""
    glue_share: Share = default("25 %")
    """Least length of glue that holds a part, as a share of its longest side; our choice."""
