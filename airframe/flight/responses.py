"""What it does after a kick of the rudder, a pull of the stick or a gust: the linear model in time; estimates.

The full inertia tensor moves in all six freedoms at once. Good until the changes are no longer small.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from airframe.axes import Array


@dataclass(frozen=True, eq=False)
class Response:
    """One time history, from the moment of the disturbance."""

    name: str
    """Such as "rudder kick, 10 deg to the right"."""
    times_s: Array
    """(n,) from 0 on."""
    channels: Mapping[str, Array]
    """(n,) values by name; each name ends in its unit, such as "bank deg", "speed change m/s"."""
    words: str
    """What a builder would see, with numbers."""
