"""Stabiliser, elevator, fin and rudder as a builder states them."""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from airframe.schema.base import Angle, Coordinate, Distance, Length, LineName, SheetName, Table, default


class Stabiliser(Table):
    """The fixed horizontal surface, one flat piece."""

    span_mm: Length
    """Tip to tip."""
    root_chord_mm: Length
    """On the centre plane, to the hinge line."""
    tip_chord_mm: Length | None = None
    """Default: as the root chord. The trailing edge, the hinge line, stays straight across."""
    station_mm: Coordinate
    """Of the leading edge on the centre plane."""
    water_line_mm: Coordinate | None = None
    """Of the lower face; default: it lies on the fuselage's top edges."""


class Hinge(Table):
    """How a moving surface hangs on a fixed one."""

    gap_mm: Distance = default("1 mm")
    """Between the fixed and the moving surface."""
    bevel_rad: Angle = default("45 deg")
    """Of the moving surface's leading edge, on the face away from the glue strip."""
    material: LineName = "hot glue hinge"
    """A material of kind line."""
    strips: int | None = Field(strict=True, default=None, ge=1, le=20)
    """Separate strips of glue along the hinge line; default: one for about every 80 mm, two at least."""
    strip_length_mm: Length = default("25 mm")
    """Of each strip."""


class Elevator(Table):
    """The moving part of the horizontal tail."""

    root_chord_mm: Length
    """On the centre plane, from the hinge line."""
    tip_chord_mm: Length | None = None
    """Default: as the root chord."""
    split: bool = False
    """Two halves joined by a wire, with room for the rudder between them; otherwise one piece."""
    split_gap_mm: Length = default("30 mm")
    """Between the halves, if split."""
    joiner_wire_mm: Length = default("2 mm")
    """Diameter of the wire that joins split halves."""
    throw_up_rad: Angle = default("25 deg")
    """Trailing edge up."""
    throw_down_rad: Angle = default("25 deg")
    """Trailing edge down; the bevel must allow it."""
    hinge: Hinge = Hinge()
    """Between stabiliser and elevator."""


class Fin(Table):
    """The fixed vertical surface, standing on the stabiliser."""

    height_mm: Length
    """Above the stabiliser."""
    root_chord_mm: Length
    """At the stabiliser, to the hinge line."""
    tip_chord_mm: Length | None = None
    """Default: as the root chord. The trailing edge, the hinge line, stays upright."""
    station_mm: Coordinate
    """Of the leading edge at the root."""


class Rudder(Table):
    """The moving part of the vertical tail."""

    root_chord_mm: Length
    """At its lower edge, from the hinge line."""
    tip_chord_mm: Length | None = None
    """Default: as the root chord."""
    root_clearance_mm: Distance = default("8 mm")
    """How far its lower edge stays above the stabiliser's upper face."""
    throw_rad: Angle = default("30 deg")
    """To each side."""
    hinge: Hinge = Hinge()
    """Between fin and rudder."""


class Horns(Table):
    """Control horns: small triangles standing on the moving surfaces."""

    material: SheetName = "birch plywood 1.5 mm"
    """A material of kind sheet."""
    height_mm: Length = default("22 mm")
    """From the surface to the push-rod's hole."""
    base_mm: Length = default("22 mm")
    """Along the surface."""
    elevator_butt_line_mm: Coordinate = default("20 mm")
    """Of the elevator's horn, which hangs below."""
    rudder_height_mm: Length = default("20 mm")
    """Of the rudder's horn, on its left face, above the rudder's lower edge."""


class Tail(Table):
    """The tail surfaces."""

    material: SheetName = "foam board 5 mm"
    """A material of kind sheet, for all four surfaces."""
    stabiliser: Stabiliser
    """The fixed horizontal surface."""
    elevator: Elevator
    """The moving horizontal surface."""
    fin: Fin
    """The fixed vertical surface."""
    rudder: Rudder
    """The moving vertical surface."""
    horns: Horns = Horns()
    """One on the elevator, one on the rudder."""

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        for name, hinge in (("elevator", self.elevator.hinge), ("rudder", self.rudder.hinge)):
            if not 0 <= hinge.bevel_rad < 1.2:
                raise ValueError(f"{name}: the bevel must be from 0 to 68 deg")
        if self.elevator.split and self.elevator.split_gap_mm >= self.stabiliser.span_mm / 2:
            raise ValueError("elevator: split_gap leaves no elevator")
        return self
