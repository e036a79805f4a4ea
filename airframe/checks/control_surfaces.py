"""Control surfaces of one aeroplane, ready to swing past everything else."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from math import cos

from airframe.checks.changes import Change, altered
from airframe.checks.pairs import Pairs, is_solid
from airframe.checks.sweeps import NOTHING, Nearest, at_angle, steps, sweep, tightest
from airframe.drawing import Part, PartError
from airframe.layout import Layout
from airframe.parts import tail
from airframe.parts.common import TAIL
from airframe.parts.tail_lines import HingeLine, hinge_lines
from airframe.schema.design import Design
from airframe.schema.equipment import PushRod

ELEVATOR = ("elevator", "elevator right", "elevator left", "elevator horn", "elevator joiner")
RUDDER = ("rudder", "rudder horn")
FIXED = ("stabiliser", "fin")
"""What elevator and rudder hang on: there the bevel tells, not a gap."""
ATTACHED = ("elevator horn", "elevator joiner", "rudder horn")
SEARCH_MM = 5.0
"""A gap wider than this is not measured."""
FLUSH_MM = 0.02


class Tail:
    """Elevator and rudder with what is fastened to them, and everything that stays still."""

    def __init__(self, pairs: Pairs, design: Design, parts: Iterable[Part]) -> None:
        self.pairs = pairs
        self.design = design
        solid = [part for part in parts if is_solid(part)]
        rods = [name for name, item in design.equipment.items() if isinstance(item, PushRod)]
        self.parts = {
            "elevator": [part for part in solid if part.name in ELEVATOR],
            "rudder": [part for part in solid if part.name in RUDDER],
        }
        self.still = [part for part in solid if part.name not in (*ELEVATOR, *RUDDER, *rods)]

    def with_changes(self, *changes: Change) -> Tail | None:
        """The tail drawn again with changes to its own tables, all else as it is; None if it cannot be drawn."""
        design = altered(self.design, *changes)
        try:
            drawn = tail.parts(Layout(design))
        except PartError:
            return None
        return Tail(self.pairs, design, [*(part for part in self.still if part.group != TAIL), *drawn])

    @cached_property
    def hinges(self) -> dict[str, HingeLine]:
        """The hinge lines of "elevator" and "rudder"."""
        return hinge_lines(Layout(self.design))

    def throw(self, name: str) -> tuple[float, float]:
        """Lowest and highest angle as the hinge line counts: elevator down and up, rudder left and right."""
        elevator, rudder = self.design.tail.elevator, self.design.tail.rudder
        if name == "elevator":
            return -elevator.throw_down_rad, elevator.throw_up_rad
        return -rudder.throw_rad, rudder.throw_rad

    def angles(self, name: str) -> list[float]:
        """The steps of a surface's sweep."""
        return steps(*self.throw(name), self.design.limits.moving.step_rad)

    def nearest(self, name: str, angles: list[float]) -> Nearest:
        """The tightest moment of a surface and what is fastened to it against everything that stays still."""
        hinge, moving, still = self.hinges[name], self.parts[name], self.still
        sheets = [part for part in moving if part.name not in ATTACHED]
        attached = [part for part in moving if part.name in ATTACHED]
        others = [part for part in still if part.name not in FIXED]
        search = max(SEARCH_MM, self.design.limits.moving.gap_mm)
        found = [
            sweep(self.pairs, movers, hinge, angles, met, search)
            for movers, met in ((sheets, others), (attached, still))
        ]
        across = [part for part in still if part.name in FIXED and part.name != FIXED[0 if name == "elevator" else 1]]
        beside = sweep(self.pairs, sheets, hinge, angles, across, search)
        return tightest(found if self._is_flush(name, beside) else [*found, beside])

    def _is_flush(self, name: str, near: Nearest) -> bool:
        """Whether what is met ends at the hinge line: there the gap is the hinge's own, g/2 (1 + cos a)."""
        hinge = getattr(self.design.tail, name).hinge
        return near.gap_mm >= hinge.gap_mm / 2.0 * (1.0 + cos(near.angle_rad)) - FLUSH_MM and not near.overlap_mm3

    def between(self, elevator_rad: list[float]) -> Nearest:
        """The tightest moment of the elevator, at these angles, against the rudder at every angle of its own."""
        search = max(SEARCH_MM, self.design.limits.moving.gap_mm)
        found = [NOTHING]
        for angle in self.angles("rudder"):
            rudder = at_angle(self.parts["rudder"], self.hinges["rudder"], angle)
            hinge, moving = self.hinges["elevator"], self.parts["elevator"]
            found.append(sweep(self.pairs, moving, hinge, elevator_rad, rudder, search, angle))
        return tightest(found)
