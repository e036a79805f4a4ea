"""What the ground changes just before the wheels touch it: the wake is squeezed, so the aeroplane floats; estimates."""

from __future__ import annotations

from dataclasses import dataclass, replace

from airframe.flight import loading, trim
from airframe.flight.air import Air, around
from airframe.flight.axes import M_PER_MM
from airframe.flight.solved import Lattices
from airframe.flight.trim import ThrustLine
from airframe.layout import Layout

TIMES_STALL = 1.1
"""The speed at which it is asked: most of the way down to the stall (our choice)."""


@dataclass(frozen=True)
class NearGround:
    """Level flight with the wheels just off the ground, against the same high up."""

    wing_height_m: float
    """Of the wing's lowest part above the ground."""
    saved_share: float
    """Of the induced drag, that of making lift; the rest of the drag stays."""


def near_ground(layout: Layout, free: Air, mass_kg: float, stall_m_s: float, thrust: ThrustLine) -> NearGround:
    """With the fuselage level and the ground at the main wheels, or at its belly without any. Raises NoTrimError.

    By the lattice over its own mirror image, wing and tail together, at equal lift.
    """
    gear, nose_mm, tail_mm = layout.design.gear, layout.nose_mm, layout.tail_mm
    belly = min(layout.underside_mm(nose_mm + (tail_mm - nose_mm) * step / 10.0) for step in range(11))
    ground_mm = belly if gear.arrangement == "none" else -gear.height_mm
    over = around(layout, free.about_m / M_PER_MM, 0.0, free.drag_area_m2, ground_mm, Lattices())
    over = replace(over, density_kg_m3=free.density_kg_m3, tail_share=free.tail_share)
    speed = TIMES_STALL * stall_m_s
    high, low = (loading.span_efficiency(air, trim.level(air, mass_kg, speed, thrust)) for air in (free, over))
    panels = free.lattice.panels
    wing_m = float(panels.middle[panels.of("wing"), 2].min())
    return NearGround(wing_m - ground_mm * M_PER_MM, 1.0 - high / low)
