"""All that the air does to a whole aeroplane, as an estimate: lattice, fuselage, drag, and the lag of the downwash.

SI units, body axes, about the balance point. The drag of skin and edges comes from outside, as an area.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from airframe.axes import Array
from airframe.flight.atmosphere import air
from airframe.flight.axes import M_PER_MM
from airframe.flight.hull import Hull, hull
from airframe.flight.lattice import Lattice, Loads
from airframe.flight.panels import cut
from airframe.flight.plan import Plan, TailVolumes, plan, tail_volumes
from airframe.flight.solved import Lattices
from airframe.flight.surfaces import sheets, tail_sheets
from airframe.layout import Layout


@dataclass(frozen=True, eq=False)
class Air:
    """An aeroplane's shape in air of one density; the balance point is a choice that costs no new lattice."""

    lattice: Lattice
    tail: Lattice
    """The tail by itself, without the wing's downwash."""
    hull: Hull
    wing: Plan
    stabiliser: Plan
    fin: Plan
    about_m: Array
    """The balance point in the aeroplane's frame."""
    density_kg_m3: float
    drag_area_m2: float = 0.0
    """Drag of skin and edges over dynamic pressure; acts at the balance point."""
    tail_share: float = 1.0
    """What the tail bears of what the lattice says: less with open gaps or in slow air, more in slipstream."""

    def balanced_at(self, about_m: ArrayLike) -> Air:
        """The same aeroplane with another balance point."""
        return replace(self, about_m=np.asarray(about_m, dtype=np.float64))

    @property
    def volumes(self) -> TailVolumes:
        """Tail volumes."""
        return tail_volumes(self.wing, self.stabiliser, self.fin)

    def deflections(self, elevator_rad: float = 0.0, rudder_rad: float = 0.0) -> Array:
        """Control angles in the order of the slopes' columns."""
        return self.lattice.deflections({"elevator": elevator_rad, "rudder": rudder_rad})

    def loads(self, motion: ArrayLike, deflections: ArrayLike) -> Loads:
        """Force and moment about the balance point, with their slopes in motion and controls."""
        lifting = self.lattice.loads(motion, deflections, self.density_kg_m3, self.about_m)
        if self.tail_share != 1.0:
            tail = self.lattice.loads(motion, deflections, self.density_kg_m3, self.about_m, self._tail_panels)
            lifting = lifting + tail.times(self.tail_share - 1.0)
        slender = self.hull.loads(motion, self.density_kg_m3, len(self.lattice.controls))
        return lifting + slender + self._drag(np.asarray(motion, dtype=np.float64))

    def _drag(self, motion: Array) -> Loads:
        velocity = motion[:3]
        speed = float(np.linalg.norm(velocity))
        unit = -0.5 * self.density_kg_m3 * self.drag_area_m2
        slopes = np.zeros((6, 6 + len(self.lattice.controls)))
        slopes[:3, :3] = unit * (speed * np.eye(3) + np.outer(velocity, velocity) / speed)
        return Loads(np.append(unit * speed * velocity, np.zeros(3)), slopes)

    def lag(self, motion: ArrayLike, deflections: ArrayLike) -> Array:
        """(6,) slopes in the rate of change of w: the downwash at the tail is as old as the way from the wing is long.

        An estimate: what the downwash takes from the tail, times that time (Etkin's downwash lag, from memory).
        """
        with_wing = self.lattice.loads(motion, deflections, self.density_kg_m3, self.about_m, self._tail_panels)
        alone = self.tail.loads(motion, deflections, self.density_kg_m3, self.about_m)
        late_s = self.volumes.horizontal_arm_m / float(np.linalg.norm(np.asarray(motion)[:3]))
        lag: Array = (alone.slopes[:, 2] - with_wing.slopes[:, 2]) * (late_s * self.tail_share)
        return lag

    @property
    def _tail_panels(self) -> NDArray[np.bool_]:
        return ~self.lattice.panels.of("wing")

    @cached_property
    def downwash_slope(self) -> float:
        """How much of a change of incidence the wing's downwash takes from the tail plane: 0 none, 1 all."""
        motion, still = (1.0, 0, 0, 0, 0, 0), self.deflections()
        whole = self.lattice.loads(motion, still, 1.0, only=self.lattice.panels.of("stabiliser"))
        alone = self.tail.loads(motion, still, 1.0, only=self.tail.panels.of("stabiliser"))
        return float(1.0 - whole.slopes[2, 2] / alone.slopes[2, 2])


def around(
    layout: Layout,
    about_mm: ArrayLike,
    height_m: float = 0.0,
    drag_area_m2: float = 0.0,
    ground_mm: float | None = None,
    lattices: Lattices | None = None,
) -> Air:
    """The air around a design with a balance point (mm, aeroplane's frame), at a height in standard air.

    `ground_mm` is the ground's water line, if near; `lattices` keeps what is solved for the next design of the same
    geometry. Raises PartError for surfaces that cannot be drawn.
    """
    all_sheets, kept = sheets(layout), lattices or Lattices()
    ground_m = None if ground_mm is None else ground_mm * M_PER_MM
    wing, stabiliser, fin = (plan(all_sheets, name) for name in ("wing", "stabiliser", "fin"))
    return Air(
        lattice=kept.lattice(cut(all_sheets), ground_m),
        tail=kept.lattice(cut(tail_sheets(layout)), ground_m),
        hull=hull(layout),
        wing=wing,
        stabiliser=stabiliser,
        fin=fin,
        about_m=np.asarray(about_mm, dtype=np.float64) * M_PER_MM,
        density_kg_m3=air(height_m).density_kg_m3,
        drag_area_m2=drag_area_m2,
    )
