"""Remedies of wing and tail in flight: the least change, on round marks, that the same estimates let pass."""

from __future__ import annotations

from collections.abc import Callable
from math import floor, radians

from airframe.checks.changes import Change, altered, settings
from airframe.checks.finding import Remedy
from airframe.checks.flight_trial import Trial
from airframe.flight.solved import Lattices
from airframe.model import Aeroplane
from airframe.units import MM_PER_INCH, System

LATTICE = "vortex lattice with the fuselage's correction: an estimate"
"""What the findings that stand on it say of their source."""
STEP_MM, STEP_IN = 10.0, 0.5
"""Tails are made larger in steps of this."""
STEP_RAD = radians(1.0)
MOST_STEPS = 40
LARGER = 1.6
"""No tail is proposed that is more than so many times as long as it is."""
STEEPEST_RAD = radians(30.0)
"""No panel is proposed that stands up more than this."""
_EPSILON = 1e-6
"""Of a step: a number this near to a round one is meant to be it."""
Passes = Callable[[Trial], bool]


class Remedies:
    """Remedies for one aeroplane: what was tried for one finding is there for the next.

    Where they are not wanted, as while a remedy is itself on trial, nothing is tried.
    """

    def __init__(self, aeroplane: Aeroplane, are_wanted: bool = True) -> None:
        self._aeroplane = aeroplane
        self._are_wanted = are_wanted
        self._lattices = Lattices()
        self._tried: dict[Change, Trial] = {}

    def larger_tail(self, passes: Passes) -> tuple[Remedy, ...]:
        """A wider stabiliser, elevator with it; nothing where not even the widest will do."""
        now = self._aeroplane.design.tail.stabiliser.span_mm
        path = ("tail", "stabiliser", "span_mm")
        return self._larger(now, path, passes, "make the stabiliser {} wide, the elevator too")

    def higher_fin(self, passes: Passes) -> tuple[Remedy, ...]:
        """A higher fin, rudder with it; nothing where not even the highest will do."""
        now = self._aeroplane.design.tail.fin.height_mm
        return self._larger(now, ("tail", "fin", "height_mm"), passes, "make the fin {} high, the rudder too")

    def more_dihedral(self, passes: Passes) -> tuple[Remedy, ...]:
        """The outer panels turned up; nothing where not even the steepest will do."""
        panels = self._aeroplane.design.wing.panels
        last = len(panels) - 1
        path, words = ("wing", "panels", last, "dihedral_rad"), "outer panels" if last else "wing"
        first = floor(panels[last].dihedral_rad / STEP_RAD + _EPSILON)

        def change(steps: int) -> Change:
            return Change(path, (first + steps) * STEP_RAD)

        return self._least(change, int(STEEPEST_RAD / STEP_RAD) - first, passes, f"give the {words} {{}} of dihedral")

    def _larger(self, now_mm: float, path: tuple[str, str, str], passes: Passes, words: str) -> tuple[Remedy, ...]:
        step = _step_mm(self._aeroplane.design.units)
        first = floor(now_mm / step + _EPSILON)

        def change(steps: int) -> Change:
            return Change(path, (first + steps) * step)

        return self._least(change, min(int(LARGER * now_mm / step) - first, MOST_STEPS), passes, words)

    def _least(self, change: Callable[[int], Change], most: int, passes: Passes, words: str) -> tuple[Remedy, ...]:
        """The least step whose trial passes, in words with its value."""
        if not self._are_wanted:
            return ()
        steps = least_steps(lambda count: passes(self._trial(change(count))), most)
        if steps is None:
            return ()
        found, system = change(steps), self._aeroplane.design.units
        return (Remedy(words.format(found.written(system)), settings([found], system)),)

    def _trial(self, change: Change) -> Trial:
        if change not in self._tried:
            design = altered(self._aeroplane.design, change)
            self._tried[change] = Trial(self._aeroplane.flight, design, self._lattices)
        return self._tried[change]


def least_steps(passes: Callable[[int], bool], most: int) -> int | None:
    """The least of 1, 2, ... up to `most` that passes; None if not even that does, or no design is so.

    By bisection: what passes once must pass from there on.
    """
    try:
        if most < 1 or not passes(most):
            return None
        low, high = 0, most
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if passes(middle) else (middle, high)
    except ValueError:
        return None
    return high


def _step_mm(system: System) -> float:
    return STEP_IN * MM_PER_INCH if system == "imperial" else STEP_MM
