"""How well weights, places and readings are known: standard uncertainties where a design states nothing better."""

from __future__ import annotations

from airframe.schema.base import Duration, Length, Mass, Share, Table, default


class Certainty(Table):
    """Standard uncertainties (one sigma: two times in three the truth is no further off).

    Each default is our choice, no source, unless its own line says otherwise.
    """

    sheet_share: Share = default("8 %")
    """Weight of foam board and plastic sheet by its stated number: brands differ by more than this."""
    wood_share: Share = default("12 %")
    """Density of wood and plywood: trees differ (USDA Wood Handbook: 10 % within a species, from memory)."""
    metal_share: Share = default("1 %")
    """Density of wire and metal: an alloy's own spread."""
    solid_share: Share = default("5 %")
    """Density of any other solid."""
    line_share: Share = default("25 %")
    """Weight of a metre of glue, cord or lead: how fat you lay a bead."""
    film_share: Share = default("30 %")
    """Weight of a square metre of paint, filler or tape: how thick you lay it on."""
    weighed_material_share: Share = default("3 %")
    """Weight of a material whose source begins with 'weighed': sheets of one batch differ by this."""
    cutting_share: Share = default("2 %")
    """Of one part cut or bent, beyond its material: size as cut, the piece of sheet it came from."""
    bead_share: Share = default("15 %")
    """Of the glue in one joint, beyond the glue's weight: the bead along that joint."""
    coat_share: Share = default("15 %")
    """Of the paint or tape on one part, beyond its own weight."""
    estimated_share: Share = default("15 %")
    """Of a bought item whose mass is estimated."""
    scale_resolution_g: Mass = default("1 g")
    """Smallest step of the kitchen scale; a reading is off by this / sqrt(12), as any rounding is."""
    scale_calibration_share: Share = default("0.2 %")
    """How far the scale itself may be off, the same way in all its readings."""
    carried_place_mm: Length = default("2 mm")
    """Where a bought item really sits, along each axis: put in by hand, held by tape."""
    built_place_mm: Length = default("1 mm")
    """Where a part that you built really sits, along each axis."""
    balance_reading_mm: Length = default("1 mm")
    """Where something was found to balance."""
    length_reading_mm: Length = default("1 mm")
    """Lengths measured for a pendulum."""
    reaction_s: Duration = default("0.1 s")
    """Starting or stopping a watch by hand."""
