"""Lifting surfaces cut into panels, each with a horseshoe vortex and a control point; SI units, aeroplane's frame.

A surface is a set of plane sheets between two edges that lie along the flow. The sheets themselves lie along x;
incidence, camber and moving surfaces only tilt the panels' normals, as thin-aerofoil theory has it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array

BOUND_SHARE = 0.25
"""The bound vortex runs along a panel's quarter chord, the control point lies at three quarters (Pistolesi's rule)."""
CONTROL_SHARE = 0.75
Counts = NDArray[np.intp]
AFT = np.array([1.0, 0.0, 0.0])


@dataclass(frozen=True, eq=False)
class Edge:
    """A chord of a sheet: leading edge (3,) and chord, m; `cuts` shares of the chord where panels begin and end."""

    leading_m: Array
    chord_m: float
    cuts: Array

    def mirrored(self) -> Edge:
        """The same chord on the other side of the centre plane."""
        return replace(self, leading_m=self.leading_m * (1.0, -1.0, 1.0))


@dataclass(frozen=True, eq=False)
class Sheet:
    """One plane piece of a lifting surface, between a left (or lower) and a right (or upper) edge."""

    surface: str
    start: Edge
    end: Edge
    across: Array
    """Shares from start to end, 0 to 1: where strips begin and end, and between them where their points lie (odd)."""
    normals: Array
    """(m, 3) of the panels from leading to trailing edge, controls at rest; up, or to the left of an upright one."""
    moving: Mapping[str, Array] = field(default_factory=dict)
    """For each control, (m,) how fast the panel's normal tips aft, radians of its slope a radian of the control."""

    def mirrored(self) -> Sheet:
        """The other half's sheet; controls move alike on both sides."""
        return replace(
            self,
            start=self.end.mirrored(),
            end=self.start.mirrored(),
            across=1.0 - self.across[::-1],
            normals=self.normals * (1.0, -1.0, 1.0),
        )


@dataclass(frozen=True, eq=False)
class Panels:
    """n horseshoe vortices and control points; metres, aeroplane's frame."""

    start: Array
    """(n, 3) beginning of the bound vortex; its legs run aft along x."""
    end: Array
    middle: Array
    """(n, 3) of the bound vortex, where its force acts: within the strip where the control point is."""
    control: Array
    normal: Array
    tips: Mapping[str, Array]
    """For each control, (n, 3) change of the normals for a radian."""
    surface: Counts
    """(n,) number of the surface in `names`."""
    strip: Counts
    """(n,) number of the strip along the flow."""
    chord: Array
    """(n,) of the panel's strip, m."""
    names: tuple[str, ...]

    @property
    def bound(self) -> Array:
        """(n, 3) bound vortices as vectors."""
        span: Array = self.end - self.start
        return span

    def of(self, name: str) -> NDArray[np.bool_]:
        """(n,) whether a panel belongs to a surface."""
        belongs: NDArray[np.bool_] = self.surface == self.names.index(name)
        return belongs


def even(count: int) -> Array:
    """Shares from 0 to 1 in so many equal steps."""
    return np.linspace(0.0, 1.0, count + 1)


def even_strips(count: int) -> Array:
    """`Sheet.across` for so many strips of equal width."""
    return even(2 * count)


def towards_tip(count: int, from_share: float = 0.0, to_share: float = 1.0) -> Array:
    """`Sheet.across` for so many strips on a stretch of the half span, finer towards its tip as a circle's shadow is.

    Circulation falls to a tip like a half-ellipse, on which such strips, their points too, lie evenly: the lattice then
    converges fast (the semicircle rule of C. E. Lan, J. Aircraft 11, 1974; from memory).
    """
    angles = np.arcsin((from_share, to_share))
    shares: Array = np.sin(angles[0] + (angles[1] - angles[0]) * even(2 * count))
    stretch: Array = (shares - shares[0]) / (shares[-1] - shares[0])
    return stretch


def cut(sheets: Sequence[Sheet]) -> Panels:
    """The panels of all sheets. Every control that any sheet has is known to all."""
    names = tuple(dict.fromkeys(sheet.surface for sheet in sheets))
    controls = dict.fromkeys(name for sheet in sheets for name in sheet.moving)
    pieces = [_cut_one(sheet) for sheet in sheets]
    strips = np.cumsum([0, *(len(sheet.across) // 2 for sheet in sheets)])
    start, end, middle, control, normal, strip, chord = (np.concatenate(column) for column in zip(*pieces, strict=True))
    sizes = [len(piece[0]) for piece in pieces]
    tips = {name: np.concatenate([_tips(sheet, name) for sheet in sheets]) for name in controls}
    surface = np.repeat([names.index(sheet.surface) for sheet in sheets], sizes)
    strip = strip + np.repeat(strips[:-1], sizes)
    return Panels(start, end, middle, control, normal, tips, surface, strip, chord, names)


def _cut_one(sheet: Sheet) -> tuple[Array, Array, Array, Array, Array, Counts, Array]:
    """Start, end, middle, control point, normal, strip and its chord of a sheet's panels, strip after strip."""
    edges, between = sheet.across[::2], sheet.across[1::2]
    start, end = (_grid(sheet, shares, BOUND_SHARE) for shares in (edges[:-1], edges[1:]))
    middle, control = (_grid(sheet, between, share) for share in (BOUND_SHARE, CONTROL_SHARE))
    strips, rows = start.shape[:2]
    normal = np.tile(sheet.normals, (strips, 1))
    strip = np.repeat(np.arange(strips), rows)
    points = [grid.reshape(-1, 3) for grid in (start, end, middle, control)]
    chord = np.repeat(sheet.start.chord_m + between * (sheet.end.chord_m - sheet.start.chord_m), rows)
    return points[0], points[1], points[2], points[3], normal, strip, chord


def _grid(sheet: Sheet, across: Array, share: float) -> Array:
    """(strips, m, 3) points at a share of every panel's chord."""
    t = across[:, None]
    leading = sheet.start.leading_m + t * (sheet.end.leading_m - sheet.start.leading_m)
    aft = [edge.chord_m * (edge.cuts[:-1] + share * np.diff(edge.cuts)) for edge in (sheet.start, sheet.end)]
    chordwise = aft[0] + t * (aft[1] - aft[0])
    grid: Array = leading[:, None, :] + chordwise[:, :, None] * AFT
    return grid


def _tips(sheet: Sheet, control: str) -> Array:
    """(k, 3) change of the normals of a sheet's panels for a radian of a control."""
    rows = sheet.moving.get(control, np.zeros(len(sheet.normals)))
    return np.tile(rows[:, None] * AFT, (len(sheet.across) // 2, 1))
