"""A number that is only known to lie in a band: how every estimate of flight is told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Band:
    """The likely value between the least and the most that would not surprise; all in one unit."""

    low: float
    middle: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.middle <= self.high:
            raise ValueError(f"a band needs low <= middle <= high, not {self.low:g}, {self.middle:g}, {self.high:g}")

    def times(self, factor: float) -> Band:
        """The band in other units, or of a multiple; the factor is not negative."""
        return Band(self.low * factor, self.middle * factor, self.high * factor)

    def plus(self, other: Band) -> Band:
        """The sum, both being low or high together: errors of one origin do not cancel."""
        return Band(self.low + other.low, self.middle + other.middle, self.high + other.high)

    def towards(self, other: Band, share: float) -> Band:
        """Between this band (share 0) and another one (share 1)."""
        return self.times(1.0 - share).plus(other.times(share))


def exactly(value: float) -> Band:
    """A number that was given or measured."""
    return Band(value, value, value)


def around(middle: float, others: Iterable[float]) -> Band:
    """The likely value with the extremes of other cases."""
    values = (middle, *others)
    return Band(min(values), middle, max(values))
