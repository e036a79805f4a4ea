"""What the builder asks of the aeroplane: limits and assumptions of the checks, each with a default."""

from __future__ import annotations

from airframe.schema.base import Table
from airframe.schema.limits_fit import FitLimits, MakingLimits, MovingLimits
from airframe.schema.limits_ground import GroundLimits, PropellerLimits


class Limits(Table):
    """Limits of the checks; leave out what the defaults say well enough."""

    ground: GroundLimits = GroundLimits()
    propeller: PropellerLimits = PropellerLimits()
    fit: FitLimits = FitLimits()
    moving: MovingLimits = MovingLimits()
    making: MakingLimits = MakingLimits()
