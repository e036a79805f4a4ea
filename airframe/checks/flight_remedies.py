"""Numbers for remedies in flight: the least change, on round marks, that the same estimates let pass.

A trial redraws the lifting surfaces and moves the balance point for the sheet that they gain; nothing is built.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, radians

import numpy as np

from airframe.axes import Array
from airframe.checks.changes import Change, altered, settings
from airframe.checks.finding import Remedy
from airframe.flight.solved import Lattices
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
Passes = Callable[[Flight], bool]


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

    most = int(STEEPEST_RAD / STEP_RAD) - first
    steps = least_steps(lambda n: passes(tried(aeroplane, change(n))), most)
    if steps is None:
        return ()
    found, system = change(steps), aeroplane.design.units
    which = "outer panels" if last else "wing"
    return (Remedy(f"give the {which} {found.written(system)} of dihedral", settings([found], system)),)


def tried(aeroplane: Aeroplane, change: Change) -> Flight:
    """The flight estimates with a change of wing or tail."""
    design = altered(aeroplane.design, change)
    layout, whole = Layout(design), aeroplane.statement.whole
    return Flight(layout, _heavier(whole, aeroplane.design, design), Lattices())


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

    most = min(int(LARGER * now / step) - first, MOST_STEPS)
    steps = least_steps(lambda n: passes(tried(aeroplane, change(n))), most)
    if steps is None:
        return ()
    found = change(steps)
    return (Remedy(words.format(found.written(system)), settings([found], system)),)


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
