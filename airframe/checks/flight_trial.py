"""An aeroplane with its wing or tail changed, on trial: what the same flight estimates say of it.

The lifting surfaces are drawn anew and the balance point moves for the sheet that they gain; nothing is built. Speed
and drag are taken to stay as they are.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from airframe.axes import Array
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
from airframe.schema.design import Design
from airframe.units import MM2_PER_M2


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

    def static_margin(self, loaded: Body) -> float:
        """Of a way to load it, which gains what the tail does."""
        x = float(_heavier(loaded, self.now.layout.design, self.layout.design).centre[0])
        return (trim.neutral_point_mm(self.air, self.cruise) - x) / self.layout.mean_chord.length_mm

    @property
    def modes(self) -> tuple[Mode, ...]:
        """Its motions, with the inertia of what it was."""
        return modes(trim.linear(self.air, body_mass(self.whole), self.cruise, self.now.thrust))


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
