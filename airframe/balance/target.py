"""The range that the balance point should lie in, as stations of one aeroplane."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from airframe import units
from airframe.balance.intervals import Interval
from airframe.drawing import PartError
from airframe.layout import Layout
from airframe.schema.balance import OnChord
from airframe.units import System


@dataclass(frozen=True)
class Target:
    """Both ends of the range, and the lines that people measure from."""

    forward_mm: float
    """Station."""
    aft_mm: float
    """Station."""
    sideways_mm: float
    """How far to one side is allowed."""
    leading_edge_mm: float
    """Station of the wing's leading edge on the centre plane."""
    chord_mm: float
    """Length of the mean aerodynamic chord."""
    chord_from_mm: float
    """Station of its leading edge."""

    @property
    def window_mm(self) -> Interval:
        """Stations, as an interval."""
        return self.forward_mm, self.aft_mm

    @property
    def middle_mm(self) -> float:
        """Station of its middle."""
        return (self.forward_mm + self.aft_mm) / 2.0

    def share(self, station_mm: float) -> float:
        """A station on the mean chord: 0 at its leading edge, 1 at its trailing one."""
        return (station_mm - self.chord_from_mm) / self.chord_mm

    def behind_mm(self, station_mm: float) -> float:
        """A station behind the wing's leading edge."""
        return station_mm - self.leading_edge_mm

    def spoken(self, station_mm: float, system: System) -> str:
        """A station as people measure it: "72.3 mm behind the leading edge (33.7 %)"."""
        behind = self.behind_mm(station_mm)
        side = "behind" if behind >= 0.0 else "ahead of"
        return f"{units.length(abs(behind), system)} {side} the leading edge ({100.0 * self.share(station_mm):.1f} %)"

    def range_words(self, system: System) -> str:
        """The range in words: "54 to 75 mm behind the leading edge (25 to 35 %)"."""
        low, high = (units.length(self.behind_mm(x), system) for x in self.window_mm)
        shares = " to ".join(f"{100.0 * self.share(x):.3g}" for x in self.window_mm)
        return f"{low} to {high} behind the leading edge ({shares} % of the mean chord)"


def target(layout: Layout, neutral_point_mm: Callable[[], float]) -> Target:
    """The design's range. The neutral point is asked for only where a static margin is stated.

    Raises PartError where the range is turned inside out.
    """
    wanted, chord = layout.design.balance, layout.mean_chord
    leading_edge = layout.design.wing.station_mm

    def station(place: OnChord) -> float:
        if place.share is not None:
            return chord.leading_edge_mm + place.share * chord.length_mm
        if place.margin is not None:
            return neutral_point_mm() - place.margin * chord.length_mm
        assert place.behind_mm is not None
        return leading_edge + place.behind_mm

    forward, aft = station(wanted.forward), station(wanted.aft)
    if forward >= aft:
        message = f"forward is station {forward:.1f} mm and aft station {aft:.1f} mm: forward must lie ahead of aft"
        raise PartError("balance", message)
    return Target(forward, aft, wanted.sideways_mm, leading_edge, chord.length_mm, chord.leading_edge_mm)
