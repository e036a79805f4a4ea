"""A panel's drawing parted along its score lines: flat facets, and which score joins which.

The outline, the holes and the scores are one planar graph. Every boundary edge is walked with the
material on its left, every score both ways; always taking the sharpest left turn walks round one facet.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import atan2, pi, tan

import numpy as np

from airframe import ruler
from airframe.axes import Array
from airframe.drawing import Loop, Panel, Point2, Score

SNAP_MM = 1e-4
"""A corner this near a score line is on it."""
REACH_MM = 0.05
"""A score may end this far short of the edge that it is drawn to."""
STEEPEST_FOLD_RAD = 0.95 * pi
NO_SCORE = -1


class FoldError(ValueError):
    """A drawing that cannot be cut or folded; the text says where and why."""


@dataclass(frozen=True)
class Edge:
    """One directed edge of the drawing, material on its left."""

    start: int
    end: int
    score: int = NO_SCORE
    """Number of the score it lies on."""
    slant: float = 0.0
    """Tangent of the bevel."""


@dataclass(frozen=True)
class FlatFacet:
    """One facet as drawn: its boundary counter-clockwise, then its holes clockwise."""

    rings: tuple[tuple[Edge, ...], ...]

    @property
    def edges(self) -> list[Edge]:
        """All edges of all rings."""
        return [edge for ring in self.rings for edge in ring]


@dataclass(frozen=True)
class Facets:
    """All facets of a drawing. Edges name their ends by row number in `nodes`."""

    nodes: Array
    """Corners of the drawing, mm, shape (n, 2)."""
    facets: tuple[FlatFacet, ...]
    base: int
    """The facet that holds the first edge of the outline."""


def rings(panel: Panel) -> list[list[tuple[Point2, float]]]:
    """Outline and holes as straight edges, (start corner, tangent of bevel) each; material lies to the left.

    Raises FoldError for outlines and holes that cross or touch themselves or one another.
    """
    slants = {bevel.edge: tan(bevel.angle_rad) for bevel in panel.bevels}
    for number in slants:
        if not 0 <= number < len(panel.outline.points):
            raise FoldError(f"there is no edge {number} to bevel; the outline has {len(panel.outline.points)} edges")
    _refuse_tangles(panel.outline, panel.holes)
    result = [_chords(panel.outline, slants)]
    for hole in panel.holes:
        corners = [(float(x), float(y)) for x, y in hole.flattened()]
        result.append([(corner, 0.0) for corner in reversed(corners)])
    return result


def _chords(outline: Loop, slants: dict[int, float]) -> list[tuple[Point2, float]]:
    chords: list[tuple[Point2, float]] = []
    for number, (start, end, bulge) in enumerate(outline.edges()):
        corners = Loop((start, end), (bulge, 0.0)).flattened()[:-1]
        chords.extend(((float(x), float(y)), slants.get(number, 0.0)) for x, y in corners)
    return chords


def _refuse_tangles(outline: Loop, holes: tuple[Loop, ...]) -> None:
    import shapely

    if min(len(loop.points) + sum(map(bool, loop.bulges)) for loop in (outline, *holes)) < 3:
        raise FoldError("an outline or hole has fewer than three edges")
    lines = [shapely.LinearRing(loop.flattened()) for loop in (outline, *holes)]
    names = ["the outline", *(f"hole {i}" for i in range(1, len(lines)))]
    for name, line in zip(names, lines, strict=True):
        if not line.is_simple:
            place = shapely.is_valid_reason(shapely.Polygon(line)).partition("[")[2].rstrip("]")
            raise FoldError(f"{name} crosses or touches itself near ({', '.join(place.split())})")
    areas = [shapely.Polygon(line) for line in lines]
    for name, hole in zip(names[1:], areas[1:], strict=True):
        if not shapely.contains_properly(areas[0], hole):
            raise FoldError(f"{name} is not inside the outline: it reaches or crosses the edge near {_near(hole)}")
    for (name, first), (other, second) in combinations(zip(names[1:], areas[1:], strict=True), 2):
        if first.intersects(second):
            raise FoldError(f"{name} and {other} overlap near {_near(first)}")


def _near(area: object) -> str:
    centre = area.centroid  # type: ignore[attr-defined]
    return f"({centre.x:.1f}, {centre.y:.1f})"


def parted(panel: Panel) -> Facets:
    """The panel's drawing parted along its scores.

    Raises FoldError for a score that misses the panel, ends inside it, crosses another one, does
    not part it, or turns by an angle that board cannot take.
    """
    drawing = rings(panel)
    for number, score in enumerate(panel.scores):
        if not 0.0 < score.angle_rad <= STEEPEST_FOLD_RAD:
            raise FoldError(
                f"{_named(number, score)} turns by {score.angle_rad:.4g} rad; more than 0, at most 2.98 is possible"
            )
    nodes, boundary = _boundary(drawing, panel.scores)
    links = _score_links(np.array(nodes), boundary, panel.scores)
    half_edges = boundary + links + [Edge(link.end, link.start, link.score) for link in links]
    points = np.array(nodes)
    facets = _facets(points, _walks(points, half_edges))
    base = next(i for i, facet in enumerate(facets) if boundary[0] in facet.rings[0])
    return Facets(points, facets, base)


def _named(number: int, score: Score) -> str:
    return f"score {number + 1}, at ({score.start[0]:.1f}, {score.start[1]:.1f})"


def _along(points: Array, score: Score) -> tuple[Array, Array, float]:
    """Distances along and to the left of a score line, and the score's length."""
    start, vector = np.array(score.start), np.subtract(score.end, score.start)
    length = float(np.hypot(*vector))
    if length <= SNAP_MM:
        raise FoldError(f"the score at ({score.start[0]:.1f}, {score.start[1]:.1f}) has no length")
    offsets, direction = points - start, vector / length
    return offsets @ direction, offsets @ np.array([-direction[1], direction[0]]), length


def _boundary(drawing: list[list[tuple[Point2, float]]], scores: tuple[Score, ...]) -> tuple[list[Point2], list[Edge]]:
    """Corners and boundary edges, an extra corner wherever a score crosses an edge."""
    nodes: list[Point2] = []
    boundary: list[Edge] = []
    for ring in drawing:
        corners: list[tuple[Point2, float]] = []
        starts = np.array([corner for corner, _ in ring])
        cuts = _cuts(starts, scores)
        for i, (corner, slant) in enumerate(ring):
            corners.append((corner, slant))
            corners.extend((cut, slant) for _, cut in sorted(cuts[i]))
        first = len(nodes)
        nodes.extend(corner for corner, _ in corners)
        count = len(corners)
        boundary.extend(Edge(first + i, first + (i + 1) % count, slant=corners[i][1]) for i in range(count))
    return nodes, boundary


def _cuts(starts: Array, scores: tuple[Score, ...]) -> dict[int, list[tuple[float, Point2]]]:
    """For each edge the points (share of the edge, point) where a score crosses it away from its ends."""
    cuts: dict[int, list[tuple[float, Point2]]] = defaultdict(list)
    ends = np.roll(starts, -1, axis=0)
    for score in scores:
        along, left, length = _along(starts, score)
        along_end, left_end = np.roll(along, -1), np.roll(left, -1)
        crosses = (left * left_end < 0.0) & (np.abs(left) > SNAP_MM) & (np.abs(left_end) > SNAP_MM)
        for i in np.flatnonzero(crosses):
            share = float(left[i] / (left[i] - left_end[i]))
            if -REACH_MM <= along[i] + share * (along_end[i] - along[i]) <= length + REACH_MM:
                point = starts[i] + share * (ends[i] - starts[i])
                cuts[int(i)].append((share, (float(point[0]), float(point[1]))))
    return cuts


def _score_links(points: Array, boundary: list[Edge], scores: tuple[Score, ...]) -> list[Edge]:
    """The stretches of each score that lie in the material, from boundary corner to boundary corner."""
    joined = {frozenset((edge.start, edge.end)) for edge in boundary}
    links: list[Edge] = []
    for number, score in enumerate(scores):
        along, left, length = _along(points, score)
        on_line = np.flatnonzero((np.abs(left) <= SNAP_MM) & (along >= -REACH_MM) & (along <= length + REACH_MM))
        chain = [int(i) for i in on_line[np.argsort(along[on_line])]]
        inside = [
            Edge(u, v, number)
            for u, v in pairwise(chain)
            if frozenset((u, v)) not in joined and _is_inside((points[u] + points[v]) / 2.0, points, boundary)
        ]
        if not inside:
            raise FoldError(f"{_named(number, score)}, does not cross the panel from edge to edge")
        for end, nearest in ((score.start, chain[0]), (score.end, chain[-1])):
            middle = (np.array(end) + points[nearest]) / 2.0
            gap = float(np.hypot(*(points[nearest] - end)))
            if gap > REACH_MM and _is_inside(middle, points, boundary):
                raise FoldError(
                    f"{_named(number, score)}, ends inside the panel, {ruler.about(gap)} past the last edge it meets"
                )
        links.extend(inside)
    _refuse_crossings(points, links)
    return links


def _is_inside(point: Array, points: Array, boundary: list[Edge]) -> bool:
    """Even-odd rule over all boundary edges."""
    a = points[[edge.start for edge in boundary]] - point
    b = points[[edge.end for edge in boundary]] - point
    straddles = (a[:, 1] > 0.0) != (b[:, 1] > 0.0)
    a, b = a[straddles], b[straddles]
    return bool(np.count_nonzero(a[:, 0] - a[:, 1] * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1]) > 0.0) % 2)


def _refuse_crossings(points: Array, links: list[Edge]) -> None:
    for first, second in combinations(links, 2):
        shared = {first.start, first.end} & {second.start, second.end}
        if len(shared) == 2:
            raise FoldError(f"scores {first.score + 1} and {second.score + 1} lie on one another")
        p, q, r, s = points[[first.start, first.end, second.start, second.end]]
        if not shared and _side(p, q, r) * _side(p, q, s) < 0.0 and _side(r, s, p) * _side(r, s, q) < 0.0:
            raise FoldError(
                f"scores {first.score + 1} and {second.score + 1} cross; board folds along one line at a time"
            )


def _side(p: Array, q: Array, r: Array) -> float:
    return float((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))


def _walks(points: Array, half_edges: list[Edge]) -> list[tuple[Edge, ...]]:
    """Closed walks, each with one facet on its left."""
    leaving: dict[int, list[Edge]] = defaultdict(list)
    for edge in half_edges:
        leaving[edge.start].append(edge)
    todo = dict.fromkeys(half_edges)
    walks = []
    while todo:
        edge = next(iter(todo))
        walk = []
        while edge in todo:
            del todo[edge]
            walk.append(edge)
            edge = _next(points, edge, leaving[edge.end])
        walks.append(tuple(walk))
    return walks


def _next(points: Array, edge: Edge, candidates: list[Edge]) -> Edge:
    """The sharpest left turn: the first edge clockwise from the way back."""
    if len(candidates) == 1:
        return candidates[0]
    back = points[edge.start] - points[edge.end]

    def clockwise(other: Edge) -> float:
        ahead = points[other.end] - points[other.start]
        angle = atan2(back[1], back[0]) - atan2(ahead[1], ahead[0])
        return angle % (2.0 * pi) or 2.0 * pi

    return min(candidates, key=lambda other: (other.end == edge.start, clockwise(other)))


def _facets(points: Array, walks: list[tuple[Edge, ...]]) -> tuple[FlatFacet, ...]:
    """Counter-clockwise walks are facets, clockwise ones holes of the smallest facet round them."""
    areas = [_area(points[[edge.start for edge in walk]]) for walk in walks]
    outer = [i for i, area in enumerate(areas) if area > 0.0]
    holes: dict[int, list[tuple[Edge, ...]]] = defaultdict(list)
    for walk, area in zip(walks, areas, strict=True):
        if area <= 0.0:
            corner = points[walk[0].start]
            around = [i for i in outer if _is_inside(corner, points, list(walks[i]))]
            holes[min(around, key=lambda i: areas[i])].append(walk)
    return tuple(FlatFacet((walks[i], *holes[i])) for i in outer)


def _area(corners: Array) -> float:
    x, y = (corners - corners[0]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
