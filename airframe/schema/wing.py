"""The wing as a builder states it."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from airframe import ruler
from airframe.schema.base import (
    Angle,
    Coordinate,
    Distance,
    FilmName,
    Length,
    LineName,
    Share,
    SheetName,
    SolidName,
    Table,
    default,
)


class WingPanel(Table):
    """One panel of a half wing, root to tip."""

    span_mm: Length
    """Along the panel, not its shadow on the ground."""
    tip_chord_mm: Length | None = None
    """Default: as its root chord."""
    sweep_rad: Angle = default("0 deg")
    """Of the leading edge, positive aft."""
    dihedral_rad: Angle = default("0 deg")
    """Of this panel against the horizontal."""


class Spar(Table):
    """A strip under the wing's skin, the whole span."""

    material: SolidName = "spruce"
    """A material of kind solid."""
    width_mm: Length = default("6 mm")
    """Along the chord."""
    height_mm: Length = default("3 mm")
    """Across the skin's face."""
    position_share: Share = default("30 %")
    """Of the chord, from the leading edge, to its middle."""


class Dowel(Table):
    """A dowel through both sides, for the rubber bands."""

    station_mm: Coordinate
    """Of its middle."""
    water_line_mm: Coordinate
    """Of its middle."""


class Mounting(Table):
    """Rubber bands over the wing, hooked on two dowels."""

    front: Dowel
    """The dowel ahead of the wing."""
    rear: Dowel
    """The dowel behind the wing."""
    dowel_material: SolidName = "beech"
    """A material of kind solid."""
    dowel_diameter_mm: Length = default("6 mm")
    """Of both dowels."""
    projection_mm: Length = default("15 mm")
    """How far a dowel stands out of each side."""
    reinforcement: SheetName | None = None
    """Plywood glued inside each side where a dowel passes; none if not given."""
    reinforcement_size_mm: Length = default("30 mm")
    """Edge of the square plates."""
    bands: int = Field(strict=True, default=4, ge=0, le=30)
    """Rubber bands over the wing."""
    band_material: LineName = "rubber band"
    """A material of kind line."""


class Wing(Table):
    """Both halves; the right one is stated."""

    material: SheetName = "foam board 5 mm"
    """A material of kind sheet, for the skin."""
    section: Literal["curved plate", "flat plate", "folded"] = "curved plate"
    """curved plate: one scored and bent skin; folded: a lower and an upper skin from one sheet."""
    root_chord_mm: Length
    """On the centre plane."""
    camber_share: Share = default("6 %")
    """Height of the section's upper face over its chord line, as a share of the chord."""
    camber_position_share: Share = default("35 %")
    """Where that height is, from the leading edge."""
    scores: int = Field(strict=True, default=7, ge=1, le=40)
    """Score lines from leading to trailing edge that bend the skin."""
    nose_height_mm: Length = default("20 mm")
    """Folded section only: height of the flat nose between lower and upper skin."""
    station_mm: Coordinate
    """Of the leading edge on the centre plane."""
    water_line_mm: Coordinate | None = None
    """Of the section's lowest line at the leading edge; default: the wing sits on the fuselage."""
    incidence_rad: Angle | None = None
    """Default: as the fuselage's top line lies under the wing."""
    panels: tuple[WingPanel, ...] = Field(min_length=1)
    """One half, root to tip."""
    rib_positions: tuple[Distance, ...] = ()
    """Distances of ribs' middles from the centre plane, along the panels; each makes a left and a right rib."""
    centre_ribs: bool = True
    """A rib over each fuselage side, following the fuselage's width."""
    rib_material: SheetName | None = None
    """Default: the wing's material."""
    spar: Spar | None = None
    """A strip under the skin; none if not given."""
    joint_tape: FilmName | None = "reinforced tape"
    """Tape over the centre and dihedral joints, both faces."""
    joint_tape_width_mm: Length = default("40 mm")
    """Over both sides of the joint together."""
    mounting: Mounting | None = None
    """How the wing is held on; none if not given."""

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        half = sum(panel.span_mm for panel in self.panels)
        outside = [r for r in self.rib_positions if r >= half]
        if outside:
            raise ValueError(f"a rib lies beyond the half span of {ruler.exact(half)}: {ruler.exact(outside[0])}")
        if self.section == "flat plate" and (self.rib_positions or self.spar):
            raise ValueError("a flat plate has no room for ribs or a spar under it")
        if any(abs(panel.dihedral_rad) > 1.0 or abs(panel.sweep_rad) > 1.0 for panel in self.panels):
            raise ValueError("dihedral and sweep must stay within 57 deg")
        if self.section != "flat plate" and not (
            0.01 <= self.camber_share <= 0.2 and 0.1 <= self.camber_position_share <= 0.9
        ):
            raise ValueError("camber must be 1 to 20 %, its position 10 to 90 %")
        return self
