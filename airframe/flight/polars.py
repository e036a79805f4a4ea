"""The drag polars of a design: likely, slippery and draggy; SI units, an estimate."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from airframe.flight import parasite, sections
from airframe.flight.atmosphere import Air, air
from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band, exactly
from airframe.flight.parasite import Outside
from airframe.flight.power_figures import Drags
from airframe.flight.speeds import Polar
from airframe.layout import Layout

WHOLE_WINGS = Band(0.5, 0.7, 0.8)
"""Oswald's efficiency of small wings, aspect ratio 2 to 5: 0.3 to about 0.8 (Ananda, Sukumar & Selig 2015, abstract).
Rough sharp-edged plates lie low; 0.3 was of the worst (our choice within that)."""
OF_LATTICE = Band(0.75, 0.9, 1.0)
"""What fuselage, joints and thick layers of slow air leave of a lattice's span efficiency (our choice, no source)."""
FIRST_LIFT = 0.7
"""Of slow cruise, for the speed at which friction is taken; 1 / 1.3^2 of a usual stall."""


def most_lift(layout: Layout, standard_air: Air, mass_kg: float) -> Band:
    """The whole wing's largest lift coefficient: as stated, or the section's at the stall; low confidence."""
    stated = layout.design.flight.stall_lift_coefficient
    if stated is not None:
        return exactly(stated)
    wing, chord = layout.design.wing, layout.mean_chord
    speed = _polar(layout, standard_air, mass_kg, 0.0, 1.0, 1.0).stall_speed_m_s
    reynolds = standard_air.reynolds(speed, chord.length_mm * M_PER_MM)
    return sections.wing_most_lift(sections.most_lift(wing.section, wing.camber_share, reynolds))


def stall_speed_m_s(layout: Layout, mass_kg: float) -> Band:
    """Clean, balanced anywhere: the band of the largest lift coefficient; low confidence unless that is stated."""
    still = air(layout.design.flight.altitude_mm * M_PER_MM)
    lift = most_lift(layout, still, mass_kg)
    ends = (_polar(layout, still, mass_kg, 0.0, 1.0, one).stall_speed_m_s for one in (lift.high, lift.middle, lift.low))
    return Band(*ends)


def section_most_lift(layout: Layout, mass_kg: float) -> Band:
    """The section's largest lift coefficient, where a wing's stall begins; a stated one of the wing counts too."""
    still = air(layout.design.flight.altitude_mm * M_PER_MM)
    return most_lift(layout, still, mass_kg).times(1.0 / sections.WHOLE_WING)


def drags(layout: Layout, mass_kg: float, span_efficiency: float | None = None, met: Outside | None = None) -> Drags:
    """The polars of a design at a mass: parts from the drawing, friction at slow cruise.

    `span_efficiency` is that of a lattice's wake: then the drag that grows with lift is that of the wake, and what a
    thin nose loses of its suction away from its easiest lift, in a band. Without one it is what whole small wings
    were measured at, all in one. `met` is the drawing's outside if it is measured already. Raises PartError for a
    tail that cannot be drawn.
    """
    still = air(layout.design.flight.altitude_mm * M_PER_MM)
    most = most_lift(layout, still, mass_kg).middle
    speed = _polar(layout, still, mass_kg, 0.0, 1.0, FIRST_LIFT).stall_speed_m_s
    easiest = sections.easiest_lift(parasite.mean_camber(layout))
    is_lattice = span_efficiency is not None
    wing = parasite.wing_drag_area_m2(layout, still, speed, easiest if is_lattice else FIRST_LIFT)
    efficiency = WHOLE_WINGS if span_efficiency is None else OF_LATTICE.times(span_efficiency)
    lost = sections.SUCTION_LOST.times(1.0 / (2.0 * pi)) if is_lattice else exactly(0.0)
    parts = parasite.drag_area_m2(parasite.drag_items(met or parasite.outside(layout), still, speed))
    total = parts.plus(wing).times(1.0 / (layout.mean_chord.area_mm2 * parasite.M2_PER_MM2))

    def polar(zero_lift: float, e: float, nose_loss: float) -> Polar:
        plain = _polar(layout, still, mass_kg, zero_lift, e, most)
        return replace(plain, nose_loss=nose_loss, easiest_lift=easiest)

    return Drags(
        likely=polar(total.middle, efficiency.middle, lost.middle),
        slippery=polar(total.low, efficiency.high, lost.low),
        draggy=polar(total.high, efficiency.low, lost.high),
    )


def _polar(layout: Layout, still: Air, mass_kg: float, zero_lift: float, efficiency: float, most: float) -> Polar:
    chord = layout.mean_chord
    return Polar(
        mass_kg,
        chord.area_mm2 * parasite.M2_PER_MM2,
        chord.span_mm**2 / chord.area_mm2,
        zero_lift,
        efficiency,
        most,
        still.density_kg_m3,
    )
