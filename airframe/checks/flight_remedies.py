"""Numbers for remedies in flight: the least change, on round marks, that the same estimates let pass.

A trial redraws the lifting surfaces and moves the balance point for the sheet that they gain; nothing is built. Speed
and drag are taken to stay as they are.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from math import ceil, radians

import numpy as np

from airframe.axes import Array
from airframe.checks.changes import Change, altered, settings
from airframe.checks.finding import Remedy
from airframe.flight import trim
from airframe.flight.air import Air, around
from airframe.flight.axes import M_PER_MM, body_mass
from airframe.flight.modes import Mode, modes
from airframe.flight.panels import Sheet
from airframe.flight.plan import TailVolumes, equivalent_dihedral, plan, spiral_rule, tail_volumes
from airframe.flight.solved import Lattices
from airframe.flight.surfaces import sheets
from airframe.flight.trim import Trim
from airframe.flight.whole import Flight
from airframe.inertia import Body
from airframe.layout import Layout
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.units import MM2_PER_M2, MM_PER_INCH, System

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


class Trial:
    """An aeroplane with wing or tail changed, as far as remedies ask; a lattice is solved only where one is needed."""

    def __init__(self, now: Flight, design: Design, lattices: Lattices) -> None:
        self.now = now
        self.layout = Layout(design)
        self.whole = _heavier(now.whole, now.layout.design, design)
        self._lattices = lattices

    @cached_property
    def _sheets(self) -> tuple[Sheet, ...]:
        return sheets(self.layout)

    @cached_property
    def volumes(self) -> TailVolumes:
        """Tail volumes."""
        return tail_volumes(*(plan(self._sheets, name) for name in ("wing", "stabiliser", "fin")))

    @property
    def spiral_rule(self) -> float:
        """At the speed of slow cruise, as `Flight` has it."""
        span, angle = plan(self._sheets, "wing").span_m, equivalent_dihedral(self._sheets).elliptic_rad
        return spiral_rule(
            self.volumes.vertical_arm_m, span, angle, self.now.drags.likely.lift_coefficient(self.now.cruise_m_s)
        )

    @cached_property
    def air(self) -> Air:
        """All that the air does to it."""
        old = self.now.air
        height_m = self.layout.design.flight.altitude_mm * M_PER_MM
        return around(self.layout, self.whole.centre, height_m, old.drag_area_m2, lattices=self._lattices)

    @cached_property
    def cruise(self) -> Trim:
        """Level flight at the speed of slow cruise. Raises NoTrimError."""
        return trim.level(self.air, self.whole.mass / 1000.0, self.now.cruise_m_s, self.now.thrust)

    def static_margin(self, off_mm: float = 0.0) -> float:
        """With the balance point so far aft of its own."""
        x = float(self.whole.centre[0]) + off_mm
        return (trim.neutral_point_mm(self.air, self.cruise) - x) / self.layout.mean_chord.length_mm

    @property
    def modes(self) -> tuple[Mode, ...]:
        """Its motions, with the inertia of what it was."""
        return modes(trim.linear(self.air, body_mass(self.whole), self.cruise, self.now.thrust))


Passes = Callable[[Trial], bool]


def larger_tail(aeroplane: Aeroplane, passes: Passes) -> tuple[Remedy, ...]:
    """A wider stabiliser, elevator with it; nothing where not even the widest will do."""
    return _larger(
        aeroplane, ("tail", "stabiliser", "span_mm"), passes, "make the stabiliser {} wide, the elevator too"
    )


def higher_fin(aeroplane: Aeroplane, passes: Passes) -> tuple[Remedy, ...]:
    """A higher fin, rudder with it; nothing where not even the highest will do."""
    return _larger(aeroplane, ("tail", "fin", "height_mm"), passes, "make the fin {} high, the rudder too")


def more_dihedral(aeroplane: Aeroplane, passes: Passes) -> tuple[Remedy, ...]:
    """The outer panels turned up; nothing where not even the steepest will do."""
    panels = aeroplane.design.wing.panels
    last = len(panels) - 1
    path, now = ("wing", "panels", last, "dihedral_rad"), panels[last].dihedral_rad
    first = ceil(now / STEP_RAD - 1e-6)

    def change(steps: int) -> Change:
        return Change(path, (first + steps) * STEP_RAD)

    steps = _least(aeroplane, change, passes, int(STEEPEST_RAD / STEP_RAD) - first)
    if steps is None:
        return ()
    found, system = change(steps), aeroplane.design.units
    which = "outer panels" if last else "wing"
    return (Remedy(f"give the {which} {found.written(system)} of dihedral", settings([found], system)),)


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


def _larger(aeroplane: Aeroplane, path: tuple[str, str, str], passes: Passes, words: str) -> tuple[Remedy, ...]:
    system = aeroplane.design.units
    now = float(getattr(getattr(aeroplane.design.tail, path[1]), path[2]))
    step = _step_mm(system)
    first = ceil(now / step - 1e-6)

    def change(steps: int) -> Change:
        return Change(path, (first + steps) * step)

    steps = _least(aeroplane, change, passes, min(int(LARGER * now / step) - first, MOST_STEPS))
    if steps is None:
        return ()
    found = change(steps)
    return (Remedy(words.format(found.written(system)), settings([found], system)),)


def _least(aeroplane: Aeroplane, change: Callable[[int], Change], passes: Passes, most: int) -> int | None:
    """The least step whose trial passes."""
    lattices = Lattices()

    def step_passes(steps: int) -> bool:
        return passes(Trial(aeroplane.flight, altered(aeroplane.design, change(steps)), lattices))

    return least_steps(step_passes, most)


def _step_mm(system: System) -> float:
    return STEP_IN * MM_PER_INCH if system == "imperial" else STEP_MM


def _heavier(whole: Body, old: Design, new: Design) -> Body:
    """The whole with what the tail's sheet gains, at the stabiliser's middle; its inertia is left as it is."""
    sheet = new.material(new.tail.material)
    gained = (_tail_m2(new) - _tail_m2(old)) * sheet.areal_weight_g_m2
    where: Array = np.array([new.tail.stabiliser.station_mm + new.tail.stabiliser.root_chord_mm, 0.0, 0.0])
    mass = whole.mass + gained
    return Body(mass, (whole.mass * whole.centre + gained * where) / mass, whole.inertia)


def _tail_m2(design: Design) -> float:
    """Area of all four surfaces, each by its mean chord."""
    tail = design.tail
    rows = (
        (tail.stabiliser.span_mm, tail.stabiliser),
        (tail.stabiliser.span_mm, tail.elevator),
        (tail.fin.height_mm, tail.fin),
        (tail.fin.height_mm, tail.rudder),
    )
    chords = ((length, one.root_chord_mm, one.tip_chord_mm or one.root_chord_mm) for length, one in rows)
    return sum(length * (root + tip) / 2.0 for length, root, tip in chords) / MM2_PER_M2
