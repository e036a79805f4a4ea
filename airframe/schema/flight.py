"""What the flight estimates assume, and what was measured that they may stand on."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from airframe.schema.base import Altitude, Current, Force, Share, Table, default

HingeGaps = Literal["sealed", "open"]


class Flight(Table):
    """Assumptions of the flight estimates; leave out what was not measured."""

    measured_thrust_n: Force | None = None
    """Pull at full throttle, standing still, on your scale."""
    measured_current_a: Current | None = None
    """From the battery at full throttle, standing still, by your meter."""
    measured_with: str | None = Field(default=None, min_length=1)
    """The battery option that was in when you measured; default: the one in use."""
    altitude_mm: Altitude = default("0 m")
    """Of the field above sea level, in the standard atmosphere."""
    stall_lift_coefficient: Annotated[float, Field(strict=True, gt=0, le=3)] | None = None
    """Of the whole wing, if you know better than the estimate."""
    usable_capacity_share: Share = default("80 %")
    """How much of the battery is flown out; the rest keeps it well (common practice, no source)."""

    hinge_gaps: HingeGaps = "sealed"
    """At the hinges of elevator and rudder: sealed by tape or an uncut skin, or open, which costs the tail a fifth."""

    @model_validator(mode="after")
    def _measured_something(self) -> Self:
        if self.measured_with is not None and self.measured_thrust_n is None and self.measured_current_a is None:
            raise ValueError("measured_with needs measured_thrust or measured_current")
        return self
