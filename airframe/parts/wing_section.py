"""The wing's section: where the skin's outer face runs, and what room is left under it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import ceil, hypot

import numpy as np

from airframe import curves, ruler
from airframe.axes import Array
from airframe.drawing import PartError
from airframe.layout import Layout
from airframe.schema.wing import Wing
from airframe.wing_panels import WingPanelLayout

LEAST_NOSE_MM = 1.0
"""What the folds above and below must leave of a folded section's nose, inside."""
LEAST_STRIP_MM = 5.0
"""Shortest ruling of a panel's skin between its two joint planes."""


@dataclass(frozen=True)
class Section:
    """The skin of one panel of the right half, in the panel's frame (x aft, y along it, z up from the lowest line).

    Corner i of the outer face runs straight from `root[i]` at y = 0 to `tip[i]` at y = span: the
    sections at both ends are similar, so every facet between two such rulings is plane.
    """

    panel: WingPanelLayout
    thickness_mm: float
    root: Array
    """(n, 2) x and z of the outer face's corners, in the order of the sheet; the last is the trailing edge."""
    tip: Array
    upper: int
    """Number of the first corner of the upper skin: what lies before is lower skin and nose."""
    floor_mm: float
    """Height of what a rib stands on: 0, or the inside of the lower skin."""

    @property
    def is_folded(self) -> bool:
        """Whether there is a lower skin."""
        return self.upper > 0

    def outer(self, y_mm: float) -> Array:
        """(n, 2) x and z of the outer face's corners at a distance along the panel."""
        share = y_mm / self.panel.span_mm
        between: Array = self.root + (self.tip - self.root) * share
        return between

    def cut(self, from_tip: bool, inset_mm: float = 0.0) -> Array:
        """(n, 3) corners of the outer face on the root's (or tip's) joint plane, or on that plane moved inwards."""
        span = self.panel.span_mm
        y0 = span - inset_mm if from_tip else inset_mm
        _, ny, nz = self.panel.tip_cut if from_tip else self.panel.root_cut
        rise = self.tip[:, 1] - self.root[:, 1]
        share = (ny * y0 - nz * self.root[:, 1]) / (ny * span + nz * rise)
        flat = self.root + (self.tip - self.root) * share[:, None]
        return np.column_stack([flat[:, 0], share * span, flat[:, 1]])

    @cached_property
    def shortest_mm(self) -> float:
        """The shortest line along the panel on its outer face, from joint plane to joint plane."""
        return float((self.cut(from_tip=True)[:, 1] - self.cut(from_tip=False)[:, 1]).min())

    @cached_property
    def _inner_planes(self) -> tuple[Array, Array]:
        """Outward unit normals (n - 1, 3) of the facets and the offsets of their inner faces: n . p = offset."""
        root = np.insert(self.root, 1, 0.0, axis=1)
        tip = np.insert(self.tip, 1, self.panel.span_mm, axis=1)
        normals = np.cross((root - tip)[:-1], np.diff(root, axis=0))
        normals /= np.linalg.norm(normals, axis=1)[:, None]
        return normals, np.einsum("ij,ij->i", normals, root[:-1]) - self.thickness_mm

    def underside(self, y_mm: float) -> Array:
        """(m, 2) x and z, front to rear, of the upper skin's inner face at a distance along the panel."""
        normals, offsets = self._inner_planes
        across, rest = normals[:, ::2], offsets - normals[:, 1] * y_mm
        meeting = np.arange(max(self.upper, 1), len(across))
        pairs = np.column_stack([meeting - 1, meeting])
        inner = list(np.linalg.solve(across[pairs], rest[pairs][:, :, None])[:, :, 0])
        outer = self.outer(y_mm)
        if not self.is_folded:
            inner.insert(0, _dropped(outer[0], across[0], rest[0]))
        inner.append(_dropped(outer[-1], across[-1], rest[-1]))
        return np.array(inner)


def _dropped(corner: Array, normal: Array, rest: float) -> Array:
    """The point of an inner face square under an outer corner."""
    depth = (float(normal @ corner) - rest) / float(normal @ normal)
    under: Array = corner - normal * depth
    return under


def sections(layout: Layout) -> tuple[Section, ...]:
    """The skin of each panel of the right half, root to tip. Raises PartError for one that cannot be bent."""
    wing = layout.design.wing
    thickness = layout.design.material(wing.material).thickness_mm
    profile = _profile(wing, thickness)
    made = []
    for panel in layout.wing_panels:
        root = profile.at(panel.root_chord_mm)
        tip = profile.at(panel.tip_chord_mm) + np.array([panel.tip_offset_mm, 0.0])
        section = Section(panel, thickness, root, tip, profile.upper, thickness if profile.upper else 0.0)
        _check_nose(section, wing)
        _check_span(section)
        made.append(section)
    return tuple(made)


# --- profiles -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Profile:
    """The outer face's corners at chord 1, to be scaled about (1, `base_mm`) for the upper skin."""

    upper_skin: Array
    """(m, 2) x and z - base, both over the chord."""
    base_mm: float
    """Height of the trailing edge's outer corner, whatever the chord."""
    upper: int

    def at(self, chord_mm: float) -> Array:
        skin = self.upper_skin * chord_mm + (0.0, self.base_mm)
        if not self.upper:
            return skin
        return np.vstack([[(chord_mm, 0.0), (0.0, 0.0)], skin])


def _profile(wing: Wing, thickness_mm: float) -> _Profile:
    if wing.section == "flat plate":
        return _Profile(np.array([(0.0, 0.0), (1.0, 0.0)]), thickness_mm, 0)
    line = _camber(wing)
    if wing.section == "curved plate":
        # The lower of the inner corners at leading and trailing edge rests on z = 0.
        flattest = max(_cosine(line[0], line[1]), _cosine(line[-2], line[-1]))
        return _Profile(line, thickness_mm * flattest, 0)
    nose, base = wing.nose_height_mm / wing.root_chord_mm, 2.0 * thickness_mm
    for _ in range(4):
        # The inner corner at the trailing edge rests on the lower skin: height t + t cos(slope), slope by height.
        skin = line + np.outer(1.0 - line[:, 0], (0.0, nose - base / wing.root_chord_mm))
        base = thickness_mm * (1.0 + _cosine(skin[-2], skin[-1]))
    return _Profile(skin, base, 2)


def _camber(wing: Wing) -> Array:
    """Corners of the upper face over the line through its ends, chord 1; the highest one has the full camber."""
    line = curves.camber_line(wing.camber_share, wing.camber_position_share, wing.scores + 2)
    highest = float(line[:, 1].max())
    return line * (1.0, wing.camber_share / highest)


def _cosine(start: Array, end: Array) -> float:
    dx, dz = end - start
    return float(abs(dx)) / hypot(dx, dz)


# --- refusals -------------------------------------------------------------------------------------------------


def _check_nose(section: Section, wing: Wing) -> None:
    """The folds at both ends of the nose must leave something of its inside."""
    if not section.is_folded:
        return
    panel = section.panel
    for y in (0.0, panel.span_mm):
        short = LEAST_NOSE_MM - (float(section.underside(y)[0, 1]) - section.floor_mm)
        if short > 0.0:
            # The nose is stated at the wing's root and shrinks with the chord.
            needed = ceil(wing.nose_height_mm + short * wing.root_chord_mm / panel.chord_mm(y))
            problem = f"a nose {ruler.exact(wing.nose_height_mm)} high is too low to fold in sheet this thick"
            raise PartError(f"wing skin {panel.number}", f"{problem}; it needs a nose_height of {ruler.least(needed)}")


def _check_span(section: Section) -> None:
    """The joint planes must not meet over the panel."""
    short = LEAST_STRIP_MM - section.shortest_mm
    if short > 0.0:
        needed = ceil(section.panel.span_mm + short)
        problem = f"its span of {ruler.exact(section.panel.span_mm)} is used up by the slant of its joints"
        raise PartError(f"wing skin {section.panel.number}", f"{problem}; it needs {ruler.least(needed)}")
