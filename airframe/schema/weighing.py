"""What the builder measured: pieces on the kitchen scale, the aeroplane swung as a pendulum."""

from __future__ import annotations

from math import pi
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from airframe.schema.base import Angle, Coordinate, Duration, Length, Mass, Table

WHOLE = "whole"
"""What the builder calls the aeroplane with everything in it."""
WIDEST_RAD = pi / 4.0
"""Beyond 45 degrees the first term of the pendulum's series is no longer enough: the next is 0.14 % of the period."""


class Weighed(Table):
    """A piece put on the kitchen scale.

    A part or a group keeps its shape and takes the scale's mass; and every piece teaches what the sheet,
    the glue and the paint in it weigh, here and in a redesign of this aeroplane by based_on.
    """

    what: str = Field(min_length=1)
    """Name of a part or of a group as `airframe weigh` prints it, with * for anything; or "whole"."""
    together_with: tuple[str, ...] = ()
    """More that lay on the scale, named likewise: glue, paint and tape are entries of their own."""
    without: tuple[str, ...] = ()
    """What of it was not on the scale, named likewise: the battery, say."""
    mass_g: Mass
    """What the scale shows."""
    balances_at_mm: Coordinate | None = None
    """Station at which the piece balances, if you tried."""
    resolution_g: Mass | None = None
    """Smallest step of the scale, if not that of [certainty]."""
    date: str | None = None
    """When, for your own record."""


class Swung(Table):
    """The aeroplane hung up and swung, which tells its moment of inertia."""

    axis: Literal["roll", "pitch", "yaw"]
    """The axis that stands upright between two strings (bifilar), or lies along the pivot (compound)."""
    method: Literal["bifilar", "compound"] = "bifilar"
    """bifilar: twisted on two equal parallel strings; compound: swung to and fro about a pivot."""
    string_length_mm: Length | None = None
    """Of each of the two strings; bifilar only."""
    string_spacing_mm: Length | None = None
    """Between the two strings, the balance point midway; bifilar only."""
    pivot_distance_mm: Length | None = None
    """From the pivot down to the balance point; compound only."""
    swings: int = Field(strict=True, default=10, ge=1, le=1000)
    """Full swings, to and fro, that were timed together."""
    time_s: Duration
    """What they took together."""
    amplitude_rad: Annotated[Angle, Field(ge=0.0, le=WIDEST_RAD)] | None = None
    """How far it swung to either side, if you looked; the correction for it holds up to 45 deg."""
    mass_g: Mass | None = None
    """Of what was swung, if you weighed it; else the model's."""
    without: tuple[str, ...] = ()
    """What was not aboard, named as in [[weighed]]."""
    date: str | None = None
    """When, for your own record."""

    @model_validator(mode="after")
    def _lengths_fit_method(self) -> Self:
        bifilar = (self.string_length_mm, self.string_spacing_mm)
        if self.method == "bifilar" and (None in bifilar or self.pivot_distance_mm is not None):
            raise ValueError("bifilar needs string_length and string_spacing, and no pivot_distance")
        if self.method == "compound" and (bifilar != (None, None) or self.pivot_distance_mm is None):
            raise ValueError("compound needs pivot_distance, and no strings")
        return self
