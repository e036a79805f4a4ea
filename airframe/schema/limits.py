"""What the builder asks of the aeroplane: limits and assumptions of the checks, each with a default."""

from __future__ import annotations

from airframe.schema.base import Table
from airframe.schema.limits_fit import FitLimits, MakingLimits, MovingLimits
from airframe.schema.limits_flight import FlightLimits
from airframe.schema.limits_ground import GroundLimits, PropellerLimits


class Limits(Table):
    """Limits of the checks; leave out what the defaults say well enough."""

    ground: GroundLimits = GroundLimits()
    """Standing, tipping over, nosing over."""
    propeller: PropellerLimits = PropellerLimits()
    """Room round the propeller."""
    fit: FitLimits = FitLimits()
    """Room for what is carried."""
    moving: MovingLimits = MovingLimits()
    """Room for what moves."""
    making: MakingLimits = MakingLimits()
    """What knife, pliers and glue can do."""
    flight: FlightLimits = FlightLimits()
    """How steady, strong and obedient it should be in the air."""
