"""Limits and assumptions of the checks on the ground: standing, tipping over, propeller clearance."""

from __future__ import annotations

from math import pi
from typing import Self

from pydantic import Field, model_validator

from airframe.schema.base import Angle, Distance, Force, Length, Share, Speed, Table, default

_ACUTE = {"gt": 0.0, "lt": pi / 2.0}
"""Bounds of an angle of a leaning or tipping aeroplane: more than none, and not on its side."""


class GroundLimits(Table):
    """Standing, tipping over and nosing over.

    Angles and shares hold at any size and are taken from full-size handbooks where one gives them; speeds,
    bumps and grass do not scale, and are our choice for a model.
    """

    overturn_rad: Angle = default("55 deg", **_ACUTE)
    """Highest overturn angle about a line from a main wheel to the third point; the stricter limit in use, the usual
    one is 63 deg on land (Raymer, ch. 11)."""
    bump_mm: Distance = default("15 mm")
    """Height of a bump under one main wheel; our choice: a tuft of grass or a molehill's edge."""
    overturn_on_bump_rad: Angle = default("63 deg", **_ACUTE)
    """Highest overturn angle with one main wheel on the bump: the usual limit on level land (Raymer, ch. 11)."""
    taxi_speed_m_s: Speed = default("3 m/s")
    """Assumed for the tightest turn; our choice: a brisk run."""
    turn_radius_mm: Length = default("2 m")
    """The turn it should make at that speed without tipping; our choice."""
    side_wind_m_s: Speed = default("6 m/s")
    """The side wind that should not tip it when parked; our choice: a moderate breeze."""
    side_force_coefficient: float = Field(default=1.1, gt=0.0, le=3.0)
    """Side force over dynamic pressure and side area; estimate: a flat plate across the wind has 1.1 to 1.3."""
    grass_side_share: Share = default("50 %")
    """Sideways force of wheels that dig into soft grass, as a share of the weight; estimate, no source."""
    grass_drag_share: Share = default("25 %")
    """Drag of small wheels in grass, or of a brake, as a share of the weight; estimate, no source."""
    wheel_line_low_rad: Angle = default("16 deg", **_ACUTE)
    """Tail wheel: least angle from the upright, at the main wheels, to the balance point, level (Raymer, ch. 11)."""
    wheel_line_high_rad: Angle = default("25 deg", **_ACUTE)
    """Tail wheel: the highest such angle; above it the aeroplane swerves (Raymer, ch. 11)."""
    tip_back_low_rad: Angle = default("15 deg", **_ACUTE)
    """Nose wheel: least such angle, balance point ahead; the tail-strike angle if that is more (Raymer, ch. 11)."""
    tip_back_high_rad: Angle = default("25 deg", **_ACUTE)
    """Nose wheel: above this the nose is hard to lift (Raymer, ch. 11)."""
    tail_down_low_rad: Angle = default("8 deg")
    """Tail wheel: least attitude on the ground; Raymer's 10 to 15 deg, two degrees wider: our choice."""
    tail_down_high_rad: Angle = default("17 deg")
    """Tail wheel: highest attitude on the ground; as above."""
    tail_strike_rad: Angle = default("10 deg", **_ACUTE)
    """Nose wheel: how far the nose must lift before the tail touches; our choice."""
    tail_load_low_share: Share = default("4 %")
    """Tail wheel: least share of the weight on it; our choice, for steering."""
    tail_load_high_share: Share = default("20 %")
    """Tail wheel: highest share of the weight on it; our choice, so that the tail comes up."""
    nose_load_low_share: Share = default("5 %")
    """Nose wheel: least share of the weight on it; below it steers poorly (Raymer, ch. 11; 8 to 15 % is best)."""
    nose_load_high_share: Share = default("20 %")
    """Nose wheel: highest share of the weight on it; above it the main wheels are too far aft (Raymer, ch. 11)."""
    static_thrust_n: Force | None = None
    """Of motor and propeller at full throttle, standing; default: as the flight estimates have it, or, where kv, cells
    and capacity are not stated, from the two below and the propeller."""
    motor_watts_per_gram: float = Field(default=3.0, gt=0.0, le=20.0)
    """Electrical power at full throttle by the motor's mass; common practice, no source."""
    thrust_efficiency_share: Share = default("50 %")
    """Power in an ideal slipstream over electrical power: motor and propeller together; estimate, no source."""

    @model_validator(mode="after")
    def _low_below_high(self) -> Self:
        pairs = {"wheel_line": "rad", "tip_back": "rad", "tail_down": "rad", "tail_load": "share", "nose_load": "share"}
        for name, suffix in pairs.items():
            if getattr(self, f"{name}_low_{suffix}") >= getattr(self, f"{name}_high_{suffix}"):
                raise ValueError(f"{name}_low must lie below {name}_high")
        return self


class PropellerLimits(Table):
    """Room round the propeller.

    14 CFR 23.925 (pre-2017) asks 7 in (nose wheel) or 9 in (tail wheel) above the ground, 1 in beyond the tips and
    1/2 in ahead and behind. Full-size numbers of inches make no sense on a model: these are our choice.
    """

    ground_clearance_mm: Length = default("20 mm")
    """Least distance of the disk from the ground, gear loaded; our choice: some 9 % of a 9 in propeller."""
    flat_tyre_share: Share = default("15 %")
    """How much of a wheel's radius is lost when its tyre is flat, or the foam worn; our choice."""
    axial_gap_mm: Length = default("6 mm")
    """Least room ahead of and behind the disk; our choice: blades bend, and the room should be seen."""
    radial_gap_mm: Length = default("10 mm")
    """Least room beyond the blades' tips; our choice."""
