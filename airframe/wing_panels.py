"""The panels of a wing: where each lies beside its neighbours, and the mean chord of them all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, sin, tan

from airframe.axes import Place, about_x, at
from airframe.schema.wing import Wing


@dataclass(frozen=True)
class WingPanelLayout:
    """One panel of the right half wing; own frame: x aft, y along the panel, z up from the section's lowest line."""

    number: int
    span_mm: float
    root_chord_mm: float
    tip_chord_mm: float
    tip_offset_mm: float
    """How far the tip's leading edge lies aft of the root's."""
    from_centre_mm: float
    """Distance of the panel's root from the centre plane, along the panels inboard of it."""
    place: Place
    """Carries the panel's frame (origin: leading edge of its root, lowest line) into the aeroplane."""
    root_cut: tuple[float, float, float]
    """Normal, in the panel's frame, of the plane through the root's lowest line where it meets its neighbour."""
    tip_cut: tuple[float, float, float]

    def chord_mm(self, y_mm: float) -> float:
        """Chord at a distance along the panel."""
        return self.root_chord_mm + (self.tip_chord_mm - self.root_chord_mm) * y_mm / self.span_mm

    def leading_edge_mm(self, y_mm: float) -> float:
        """Own x of the leading edge at a distance along the panel."""
        return self.tip_offset_mm * y_mm / self.span_mm


@dataclass(frozen=True)
class MeanChord:
    """The mean aerodynamic chord of the wing's plan: integral of c^2 dy / integral of c dy (Anderson, from memory)."""

    length_mm: float
    leading_edge_mm: float
    """Station of its leading edge."""
    area_mm2: float
    """Of the whole wing's plan (shadow on the ground), both halves."""
    span_mm: float
    """Tip to tip, of the shadow."""


def wing_panels(wing: Wing, wing_place: Place) -> tuple[WingPanelLayout, ...]:
    """The panels of the right half, root to tip; `wing_place` carries the wing's frame into the aeroplane."""
    dihedrals = [panel.dihedral_rad for panel in wing.panels]
    inboard = [-dihedrals[0], *dihedrals[:-1]]
    outboard = [*dihedrals[1:], dihedrals[-1]]
    x, y, z = 0.0, 0.0, 0.0
    chord, run = wing.root_chord_mm, 0.0
    panels = []
    for i, panel in enumerate(wing.panels):
        tip_chord = panel.tip_chord_mm if panel.tip_chord_mm is not None else chord
        gamma = panel.dihedral_rad
        before, after = (gamma - inboard[i]) / 2.0, (outboard[i] - gamma) / 2.0
        offset = panel.span_mm * tan(panel.sweep_rad)
        panels.append(
            WingPanelLayout(
                number=i + 1,
                span_mm=panel.span_mm,
                root_chord_mm=chord,
                tip_chord_mm=tip_chord,
                tip_offset_mm=offset,
                from_centre_mm=run,
                place=wing_place.after(at(x, y, z)).after(about_x(gamma)),
                root_cut=(0.0, cos(before), -sin(before)),
                tip_cut=(0.0, cos(after), sin(after)),
            )
        )
        x += offset
        y += panel.span_mm * cos(gamma)
        z += panel.span_mm * sin(gamma)
        chord, run = tip_chord, run + panel.span_mm
    return tuple(panels)


def mean_chord(wing: Wing, panels: Sequence[WingPanelLayout], incidence_rad: float) -> MeanChord:
    """Mean aerodynamic chord of the whole wing, exact for straight-edged panels."""
    area = moment = station = half_span = 0.0
    cos_incidence = cos(incidence_rad)
    for panel, stated in zip(panels, wing.panels, strict=True):
        a, b = panel.root_chord_mm, panel.tip_chord_mm
        width = panel.span_mm * cos(stated.dihedral_rad)
        root_x = float(panel.place.origin[0])
        tip_x = root_x + panel.tip_offset_mm * cos_incidence
        area += width * (a + b) / 2.0
        moment += width * (a * a + a * b + b * b) / 3.0
        station += width * (root_x * (2.0 * a + b) + tip_x * (a + 2.0 * b)) / 6.0
        half_span += width
    return MeanChord(moment / area, station / area, 2.0 * area * cos_incidence, 2.0 * half_span)
