"""A panel's drawing folded up: the facets and walls of its solid, in space."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from math import cos, sin
from typing import Literal

import numpy as np

from airframe import ruler
from airframe.axes import Array
from airframe.drawing import Panel
from airframe.facets import NO_SCORE, Edge, Facets, FlatFacet, FoldError, parted
from airframe.grooves import Inner, inner_rings

__all__ = ["Facet", "FoldError", "Folded", "fold"]

PLANAR_MM = 2e-6
"""Walls whose corners lie further out of plane are made of two triangles."""
ONE_CORNER_MM = 1e-3
"""Inner corners of two facets nearer than this are made one."""
CLOSES_MM = 1e-4
"""How far facets that meet round a hole may miss one another."""


@dataclass(frozen=True)
class Facet:
    """One flat piece of a folded panel. Ring for ring and corner for corner, inner lies under outer."""

    outer: tuple[Array, ...]
    """Boundary of the outer face, counter-clockwise seen from outside, then its holes clockwise; (n, 3) each."""
    inner: tuple[Array, ...]
    """The same corners on the inner face, in the same order; corners that a closing groove swallows coincide."""
    seams: tuple[tuple[Array | None, ...], ...]
    """For each edge of each ring that another facet joins: from where to where their inner faces meet, (2, 3)."""

    def inner_faces(self) -> list[Array]:
        """The inner face's boundary and holes as seen from inside, with the ends of the seams among their corners."""
        rings = []
        for inner, seams in zip(self.inner, self.seams, strict=True):
            corners = []
            for corner, seam in zip(inner, seams, strict=True):
                corners.extend([corner] if seam is None else [corner, *seam])
            rings.append(_without_repeats(np.array(corners))[::-1])
        return rings

    def walls(self) -> list[Array]:
        """Walls along the edges, and the bits of a groove's plane that stand out beyond the facet next to it."""
        walls = []
        for outer, inner, seams in zip(self.outer, self.inner, self.seams, strict=True):
            for i, seam in enumerate(seams):
                j = (i + 1) % len(outer)
                if seam is None:
                    walls.extend(_walls(outer[i], outer[j], inner[j], inner[i]))
                    continue
                lips = (inner[i], seam[0], outer[i]), (seam[1], inner[j], outer[j])
                walls.extend(np.array(lip) for lip in lips if not np.array_equal(lip[0], lip[1]))
        return walls


@dataclass(frozen=True)
class Folded:
    """A panel as it is built."""

    facets: tuple[Facet, ...]

    def rings(self, face: Literal["outer", "inner", "both"]) -> list[list[Array]]:
        """For each facet the rings (boundary first) of its outer or inner face, or of both in turn."""
        result = []
        for facet in self.facets:
            if face != "inner":
                result.append(list(facet.outer))
            if face != "outer":
                result.append(facet.inner_faces())
        return result

    def area(self, face: Literal["outer", "inner", "both"]) -> float:
        """Area of the outer or inner face, or of both (mm^2)."""
        total = 0.0
        for rings in self.rings(face):
            vectors = np.array([_area_vector(ring) for ring in rings])
            total += float(np.linalg.norm(vectors.sum(axis=0)))
        return total

    def faces(self) -> list[list[Array]]:
        """The closed surface: planar faces, each a boundary counter-clockwise from outside, then its holes."""
        return [*self.rings("both"), *([wall] for facet in self.facets for wall in facet.walls())]


def _without_repeats(ring: Array) -> Array:
    kept: Array = ring[np.any(ring != np.roll(ring, -1, axis=0), axis=1)]
    return kept


def _area_vector(ring: Array) -> Array:
    p = ring - ring[0]
    vector: Array = np.cross(p, np.roll(p, -1, axis=0)).sum(axis=0) / 2.0
    return vector


def _walls(a: Array, b: Array, b_in: Array, a_in: Array) -> list[Array]:
    if np.array_equal(a_in, b_in):
        return [np.array([a_in, b, a])]
    normal = np.cross(b - a_in, a - b_in)
    if abs(float(normal @ (a - a_in))) <= PLANAR_MM * float(np.linalg.norm(normal)):
        return [np.array([a_in, b_in, b, a])]
    # The shorter diagonal, so that a wall and its mirror image are cut alike.
    if np.linalg.norm(b - a_in) <= np.linalg.norm(a - b_in):
        return [np.array([a_in, b_in, b]), np.array([a_in, b, a])]
    return [np.array([a_in, b_in, a]), np.array([b_in, b, a])]


def fold(panel: Panel) -> Folded:
    """The panel's facets in space; the facet that holds the outline's first edge stays in the plane z = 0.

    Raises FoldError (a ValueError) for a drawing that is tangled, scores that do not part it, and
    a bend tighter than the sheet's thickness allows.
    """
    flat = parted(panel)
    motions = _motions(flat, panel)
    thickness = panel.thickness_mm
    drawn = [inner_rings(flat.nodes, facet, panel) for facet in flat.facets]
    inner = [
        [_lifted(ring.corners, -thickness, motion) for ring in rings]
        for rings, motion in zip(drawn, motions, strict=True)
    ]
    seams = _seams(flat, drawn, inner)
    facets = []
    for number, (facet, motion) in enumerate(zip(flat.facets, motions, strict=True)):
        over = tuple(_lifted(flat.nodes[[edge.start for edge in ring]], 0.0, motion) for ring in facet.rings)
        met = tuple(tuple(seams.get(edge) for edge in ring) for ring in facet.rings)
        facets.append(Facet(over, tuple(inner[number]), met))
        _refuse_overlap(facet, motion, inner[number], panel)
    return Folded(tuple(facets))


# --- where each facet goes ----------------------------------------------------------------------------

Motion = tuple[Array, Array]
"""Rotation (3, 3) and shift (3,): a drawn point p goes to rotation @ p + shift."""


def _lifted(corners: Array, z_mm: float, motion: Motion) -> Array:
    points = np.column_stack([corners, np.full(len(corners), z_mm)])
    lifted: Array = points @ motion[0].T + motion[1]
    return lifted


def _motions(flat: Facets, panel: Panel) -> list[Motion]:
    """Each facet's motion: from the base outwards, one more turn about every score crossed."""
    owner = {edge: i for i, facet in enumerate(flat.facets) for edge in facet.edges}
    motions: dict[int, Motion] = {flat.base: (np.eye(3), np.zeros(3))}
    queue = deque([flat.base])
    while queue:
        here = queue.popleft()
        for edge in flat.facets[here].edges:
            if edge.score == NO_SCORE:
                continue
            there = owner[Edge(edge.end, edge.start, edge.score)]
            if there == here:
                raise FoldError(f"score {edge.score + 1} does not part the panel: both its sides are one piece")
            rotation, shift = _about(flat.nodes[edge.start], flat.nodes[edge.end], panel.scores[edge.score].angle_rad)
            motion = motions[here][0] @ rotation, motions[here][0] @ shift + motions[here][1]
            if there not in motions:
                motions[there] = motion
                queue.append(there)
            else:
                _refuse_gap(flat, flat.facets[there], motions[there], motion)
    return [motions[i] for i in range(len(flat.facets))]


def _about(start: Array, end: Array, angle_rad: float) -> Motion:
    """A turn about a line in the drawing plane that sends what lies right of it towards -z (Rodrigues)."""
    x, y = (end - start) / np.hypot(*(end - start))
    k = np.array([[0.0, 0.0, y], [0.0, 0.0, -x], [-y, x, 0.0]])
    rotation = np.eye(3) + sin(angle_rad) * k + (1.0 - cos(angle_rad)) * (k @ k)
    pivot = np.array([*start, 0.0])
    return rotation, pivot - rotation @ pivot


def _refuse_gap(flat: Facets, facet: FlatFacet, first: Motion, second: Motion) -> None:
    corners = flat.nodes[[edge.start for edge in facet.rings[0]]]
    miss = float(np.abs(_lifted(corners, 0.0, first) - _lifted(corners, 0.0, second)).max())
    if miss > CLOSES_MM:
        raise FoldError(
            f"the scores round a hole do not fold together: the facets miss each other by {ruler.fine(miss)}"
        )


# --- the inner face -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Meeting:
    """One score's stretch between two facets: the four inner corners at its ends, as (facet, ring, corner)."""

    edge: Edge
    ends: tuple[tuple[int, int, int], tuple[int, int, int]]
    other_ends: tuple[tuple[int, int, int], tuple[int, int, int]]


def _meetings(flat: Facets) -> list[_Meeting]:
    ends = {}
    for f, facet in enumerate(flat.facets):
        for r, ring in enumerate(facet.rings):
            for i, edge in enumerate(ring):
                if edge.score != NO_SCORE:
                    ends[edge] = (f, r, i), (f, r, (i + 1) % len(ring))
    meetings = []
    for edge, own in ends.items():
        back = Edge(edge.end, edge.start, edge.score)
        if edge.start < edge.end:
            meetings.append(_Meeting(edge, own, (ends[back][1], ends[back][0])))
    return meetings


def _seams(flat: Facets, drawn: list[list[Inner]], inner: list[list[Array]]) -> dict[Edge, Array]:
    """Where the inner faces of two facets meet: along the line on which the groove closes, as far as both reach.

    Where an edge of the panel is oblique to the score one facet reaches further than the other, and
    keeps its own corner. Corners that differ by next to nothing become one first.
    """
    meetings = _meetings(flat)
    for meeting in meetings:
        for (f, r, i), (g, q, j) in zip(meeting.ends, meeting.other_ends, strict=True):
            if float(np.linalg.norm(inner[g][q][j] - inner[f][r][i])) <= ONE_CORNER_MM:
                anchors = np.array(drawn[g][q].anchors)
                inner[g][q][anchors == anchors[j]] = inner[f][r][i]
    seams: dict[Edge, Array] = {}
    for meeting in meetings:
        own = np.array([inner[f][r][i] for f, r, i in meeting.ends])
        other = np.array([inner[f][r][i] for f, r, i in meeting.other_ends])
        way = own[1] - own[0]
        start = other[0] if float((other[0] - own[0]) @ way) > 0.0 else own[0]
        end = other[1] if float((other[1] - own[1]) @ way) < 0.0 else own[1]
        edge = meeting.edge
        if float((end - start) @ way) <= 0.0:
            raise FoldError(f"score {edge.score + 1} is too oblique: its facets do not meet on the inner face")
        seams[edge] = np.array([start, end])
        seams[Edge(edge.end, edge.start, edge.score)] = np.array([end, start])
    return seams


def _refuse_overlap(facet: FlatFacet, motion: Motion, inner: list[Array], panel: Panel) -> None:
    """Refuse an inner face that crosses itself, as a hole too near a score makes it."""
    if not panel.scores and not panel.bevels:
        return
    import shapely

    rotation, shift = motion
    drawn = [((ring - shift) @ rotation)[:, :2] for ring in inner]
    if not shapely.Polygon(drawn[0], drawn[1:]).is_valid:
        scores = sorted({edge.score + 1 for edge in facet.edges} - {0})
        where = f"beside score {', '.join(map(str, scores))}" if scores else "inside its bevels"
        raise FoldError(f"the inner face {where} crosses itself: an edge or hole is nearer than the bend needs room")
