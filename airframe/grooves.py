"""Where a facet's inner face ends: every edge's line shifted by its score's groove or its bevel.

Scored board bends about its uncut outer paper. On the inner face the groove closes on the plane
that halves the fold, so a facet's inner face stops short of a score by t tan(angle / 2), and of
a bevelled edge by t tan(bevel).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import tan

import numpy as np

from airframe import ruler
from airframe.axes import Array
from airframe.drawing import Panel
from airframe.facets import NO_SCORE, Edge, FlatFacet, FoldError

_PARALLEL = 0.004
"""1 - cos of the turn below which two neighbouring edges count as one line (5 deg)."""


@dataclass(frozen=True)
class _Ring:
    """One ring of a facet with all that its inner corners need."""

    edges: tuple[Edge, ...]
    corners: Array
    along: Array
    """From each corner to the next, (n, 2)."""
    normals: Array
    """Unit vectors into the material, square to each edge."""
    shifts: Array
    """How far each edge's line moves along its normal on the inner face, mm."""

    def is_score(self, i: int) -> bool:
        return self.edges[i % len(self.edges)].score != NO_SCORE


@dataclass
class Inner:
    """Inner corners of one ring, and for each the end of a cut (a node) whose corner it shares, or -1."""

    corners: Array
    anchors: list[int]


def inner_rings(nodes: Array, facet: FlatFacet, panel: Panel) -> list[Inner]:
    """The inner corners of each ring of a facet, as drawn.

    Raises FoldError where the fold or bevel leaves no inner face.
    """
    result = []
    for edges in facet.rings:
        corners = nodes[[edge.start for edge in edges]]
        along = np.roll(corners, -1, axis=0) - corners
        normals = np.column_stack([-along[:, 1], along[:, 0]]) / np.hypot(along[:, 0], along[:, 1])[:, None]
        shifts = np.array([panel.thickness_mm * _slant(edge, panel) for edge in edges])
        result.append(_inner_ring(_Ring(edges, corners, along, normals, shifts)))
    return result


def _inner_ring(ring: _Ring) -> Inner:
    """Inner corners: where the shifted lines of a corner's two edges meet.

    Beside a score or a bevel the cut may swallow short edges of the outline, as where a round hole crosses
    a score: those corners share the point where the inner outline comes out of the cut.
    """
    before = np.roll(ring.normals, 1, axis=0)
    plain = ring.corners + _offsets(before, ring.normals, np.roll(ring.shifts, 1), ring.shifts)
    inner = Inner(plain.copy(), [-1] * len(ring.edges))
    bevels = [i for i in range(len(ring.edges)) if ring.shifts[i] > 0.0 and not ring.is_score(i)]
    scores = [i for i in range(len(ring.edges)) if ring.is_score(i)]
    for i in (*bevels, *scores):
        _leave_cut(ring, plain, inner, i, +1)
        _leave_cut(ring, plain, inner, i, -1)
    _refuse_tight(ring, inner)
    return inner


def _leave_cut(ring: _Ring, plain: Array, inner: Inner, i: int, step: int) -> None:
    """Set the inner corner at one end of a scored or bevelled edge i: at its end (step 1) or its start (step -1)."""
    count, edge = len(ring.edges), (i + step) % len(ring.edges)
    corner = (i + 1) % count if step > 0 else i
    node = ring.edges[corner].start
    if not ring.is_score(i):
        # Two bevels meet at their mitre; a bevel that ends within a straight edge runs out there.
        if ring.shifts[edge] or 1.0 - float(ring.normals[i] @ ring.normals[edge]) <= _PARALLEL:
            return
    elif ring.is_score(edge):
        inner.anchors[corner] = node
        return
    swallowed = [corner]
    while not ring.is_score(edge + step) and (ring.is_score(i) or not ring.shifts[(edge + step) % count]):
        beyond = (edge + 1) % count if step > 0 else edge
        if float((plain[beyond] - ring.corners[i]) @ ring.normals[i]) > ring.shifts[i]:
            break
        swallowed.append(beyond)
        edge = (edge + step) % count
    if ring.is_score(edge + step) and ring.edges[(edge + step) % count].score == ring.edges[i].score:
        raise FoldError(
            f"score {ring.edges[i].score + 1}: its groove closes right over the hole or notch it runs into; "
            "make that larger, or move it off the score"
        )
    point = _crossing(ring, i, edge)
    for k in swallowed:
        inner.corners[k] = point
        inner.anchors[k] = node


def _crossing(ring: _Ring, i: int, j: int) -> Array:
    """Where the shifted lines of two edges cross."""
    lines = ring.normals[[i, j]]
    if abs(float(np.linalg.det(lines))) < _PARALLEL:
        x, y = ring.corners[i]
        raise FoldError(
            f"the score or bevel at ({x:.1f}, {y:.1f}) runs along another edge; the cut needs room beside it"
        )
    heights = np.einsum("ij,ij->i", lines, ring.corners[[i, j]]) + ring.shifts[[i, j]]
    point: Array = np.linalg.solve(lines, heights)
    return point


def _slant(edge: Edge, panel: Panel) -> float:
    return edge.slant if edge.score == NO_SCORE else tan(panel.scores[edge.score].angle_rad / 2.0)


def _offsets(before: Array, after: Array, shift_before: Array, shift_after: Array) -> Array:
    """From each corner to where its two edges' lines meet once shifted along their normals.

    Mean and difference of the shifts act separately: mean (n1 + n2) / (1 + c) + difference / 2
    (n1 - n2) / (1 - c), c = n1 . n2. The first part is exact for edges in one line; the second has no
    meaning there and is left out.
    """
    c = np.einsum("ij,ij->i", before, after)
    mean = (shift_before + shift_after) / 2.0 / np.maximum(1.0 + c, 1e-12)
    half = np.where(1.0 - c > _PARALLEL, (shift_before - shift_after) / 2.0 / np.maximum(1.0 - c, _PARALLEL), 0.0)
    offsets: Array = mean[:, None] * (before + after) + half[:, None] * (before - after)
    return offsets


def _refuse_tight(ring: _Ring, inner: Inner) -> None:
    """Refuse an inner outline with an edge that has turned over or gone."""
    left_over = np.einsum("ij,ij->i", np.roll(inner.corners, -1, axis=0) - inner.corners, ring.along)
    count = len(ring.edges)
    for i in np.flatnonzero(left_over <= 0.0):
        ends = inner.anchors[i], inner.anchors[(i + 1) % count]
        if ends[0] == ends[1] != -1 and not ring.is_score(int(i)):
            continue
        width = float(np.hypot(*ring.along[i]))
        need = width - float(left_over[i]) / width
        beside = sorted({ring.edges[k % count].score + 1 for k in (i - 1, i, i + 1)} - {0})
        where = f"at score {' and '.join(map(str, beside))}" if beside else "at a bevel"
        raise FoldError(
            f"bent tighter than its thickness {where}: the outer face has {ruler.fine(width)} there, the inner face "
            f"uses up {ruler.fine(need)}; use fewer or gentler scores, a larger radius or thinner sheet"
        )
