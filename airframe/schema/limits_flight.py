"""Limits of the flight findings; what they are held against are estimates."""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from airframe.schema.base import Angle, Duration, Share, Speed, Table, default


class FlightLimits(Table):
    """How steady, how strong and how obedient it should be in the air.

    Everything held against these is an estimate, so most of them only caution.
    """

    margin_low_share: Share = default("5 %")
    """Least static margin, as a share of the mean chord; models and gliders have 5 to 40 % (Drela, from memory)."""
    margin_high_share: Share = default("40 %")
    """Highest static margin, as above; beyond it the nose is heavy and wants much elevator."""
    tail_volume_low: float = Field(default=0.30, gt=0.0, le=3.0)
    """Least tail volume, horizontal; models and gliders have 0.30 to 0.60 (Drela, from memory)."""
    tail_volume_high: float = Field(default=0.80, gt=0.0, le=5.0)
    """Above it there is more tail than is usual, which is only told; Raymer's table ends at 0.80 for light ones."""
    fin_volume_low: float = Field(default=0.02, gt=0.0, le=0.5)
    """Least tail volume, vertical; models and gliders have 0.02 to 0.05 (Drela, from memory)."""
    fin_volume_high: float = Field(default=0.08, gt=0.0, le=1.0)
    """Above it there is more fin than is usual, which is only told; the highest of Raymer's table, of twin turboprops:
    light ones end at 0.07 there."""
    elevator_left_rad: Angle = default("5 deg", gt=0.0, lt=1.0)
    """Elevator that should be left, up and down, at the stall and at slow cruise; our choice."""
    stall_speed_m_s: Speed | None = None
    """Fastest stall that you would fly; none unless given."""
    spiral_low: float = Field(default=5.0, gt=0.0, le=50.0)
    """Least of the spiral rule at slow cruise: above 5 a bank dies away (Drela, from memory, not found)."""
    rudder_roll_low: float = Field(default=0.10, gt=0.0, le=5.0)
    """Least vertical tail volume times spiral rule, for turning by rudder alone: 0.10 to 0.20 (as above)."""
    weathercock_low: float = Field(default=0.02, gt=0.0, le=1.0)
    """Least slope of the yawing moment coefficient with the slip angle, per radian; our choice."""
    doubling_s: Duration = default("4 s")
    """A motion that grows should take this long to double; 4 s is the worst spiral that full-size handling rules still
    accept (MIL-F-8785C level 3, from memory)."""
    doubling_fail_s: Duration = default("1 s")
    """What doubles faster than this cannot be held; our choice: a beginner's hands are no quicker."""
    thrust_to_weight_low: float = Field(default=0.3, gt=0.0, le=5.0)
    """Least static thrust over weight; common practice, no source."""
    climb_m_s: Speed = default("1 m/s")
    """Least climb at full throttle; our choice: over a hedge from a short field."""
    flight_time_s: Duration = default("6 min")
    """Least time at slow cruise on the usable charge; our choice."""
    servo_margin: float = Field(default=2.0, ge=1.0, le=20.0)
    """Servo's torque over the most that the surface may ask of it; common practice, no source."""
    push_rod_margin: float = Field(default=2.0, ge=1.0, le=20.0)
    """What a push-rod should bear between its guides, if any, over the most that is asked of it; our choice."""

    @model_validator(mode="after")
    def _low_below_high(self) -> Self:
        for low, high in (
            ("margin_low_share", "margin_high_share"),
            ("tail_volume_low", "tail_volume_high"),
            ("fin_volume_low", "fin_volume_high"),
            ("doubling_fail_s", "doubling_s"),
        ):
            if getattr(self, low) >= getattr(self, high):
                below, above = (name.removesuffix("_share").removesuffix("_s") for name in (low, high))
                raise ValueError(f"{below} must lie below {above}")
        return self
