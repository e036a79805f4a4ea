"""Pencil lines: where other parts are glued on, hinges and centre lines, on a panel as it lies flat."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

import numpy as np

from airframe.axes import Array
from airframe.drawing import Bead, Panel, Part, Point2
from airframe.facets import parted
from airframe.folding import fold
from airframe.parts.common import GLUE

if TYPE_CHECKING:
    import shapely

ON_FACE_MM = 0.6
"""A glue line this near a face lies on it."""
ON_EDGE_MM = 1.0
"""A glue line this near the panel's own edge all along shows nothing: it holds the edge itself."""
LEAST_MARK_MM = 3.0
ONE_WAY = 0.6
"""Share of a panel's area that must look one way, the facets' directions summed, for that way to be named."""
CENTRED_MM = 1.0
"""How far a part may lie off the centre plane and still have a centre line."""

_WAYS = (("aft", "forward"), ("to the right", "to the left"), ("up", "down"))

Kind = Literal["glue", "hinge", "centre", "trim"]
Face = Literal["outer", "inner"]


@dataclass(frozen=True)
class Mark:
    """One pencil line in the panel's own drawing."""

    path: tuple[Point2, ...]
    name: str
    """What belongs there."""
    face: Face
    kind: Kind = "glue"


@dataclass(frozen=True)
class _Flat:
    """One facet: what carries its drawing to where it is folded, and its outline in the drawing."""

    rotation: Array
    shift: Array
    area: shapely.Polygon

    def unfolded(self, points: Array) -> Array:
        """Points (n, 3) of the folded panel in the drawing: x, y and the height above the outer face."""
        back: Array = (points - self.shift) @ self.rotation
        return back


@dataclass(frozen=True)
class GluedLine:
    """One path of glue, in the aeroplane's frame, and the joint's name."""

    name: str
    path: Array
    is_hinge: bool


def glued_lines(parts: Iterable[Part]) -> list[GluedLine]:
    """Every path of every joint."""
    return [
        GluedLine(part.name.removeprefix("glue, "), part.place.apply(path), "hinge" in part.material.name)
        for part in parts
        if part.group == GLUE and isinstance(part.shape, Bead)
        for path in part.shape.paths
    ]


def marks(part: Part, panel: Panel, lines: Iterable[GluedLine]) -> list[Mark]:
    """What is pencilled on a panel: glued parts by name, hinges, and its centre line if it lies astride y = 0."""
    import shapely

    rotation, origin = np.array(part.place.rotation), np.array(part.place.origin)
    flats = _flats(panel)
    edge = shapely.LinearRing(panel.outline.flattened()).buffer(ON_EDGE_MM)
    found = list(_centre_lines(part, panel, flats))
    for line in lines:
        own = (line.path - origin) @ rotation
        for flat in flats:
            for face, path in _on_face(flat.unfolded(own), flat, panel.thickness_mm):
                if path.length >= LEAST_MARK_MM and (line.is_hinge or not edge.contains(path)):
                    found.append(Mark(_points(path), line.name, face, "hinge" if line.is_hinge else "glue"))
    return found


def looks(part: Part, panel: Panel, face: Face) -> str:
    """Which way a face of a panel looks in the finished aeroplane, on the whole: "up", "to the left".

    Of a panel folded so far round that its facets look every way: "inwards" or "outwards".
    """
    flats = _flats(panel)
    total = np.array([flat.rotation[:, 2] * flat.area.area for flat in flats]).sum(axis=0)
    if np.linalg.norm(total) < ONE_WAY * sum(flat.area.area for flat in flats):
        return "inwards" if face == "inner" else "outwards"
    way = part.place.turn(total) * (1.0 if face == "outer" else -1.0)
    axis = int(np.argmax(np.abs(way)))
    return _WAYS[axis][0 if way[axis] > 0.0 else 1]


def _points(path: shapely.LineString) -> tuple[Point2, ...]:
    return tuple((float(x), float(y)) for x, y in path.coords)


@lru_cache(maxsize=256)
def _flats(panel: Panel) -> tuple[_Flat, ...]:
    import shapely

    if not panel.scores:
        return (_Flat(np.eye(3), np.zeros(3), shapely.Polygon(panel.outline.flattened())),)
    drawn, folded = parted(panel), fold(panel)
    flats = []
    for flat, facet in zip(drawn.facets, folded.facets, strict=True):
        corners = drawn.nodes[[edge.start for edge in flat.rings[0]]]
        rotation, shift = _carries(np.column_stack([corners, np.zeros(len(corners))]), facet.outer[0])
        flats.append(_Flat(rotation, shift, shapely.Polygon(corners)))
    return tuple(flats)


def _carries(drawn: Array, there: Array) -> tuple[Array, Array]:
    """The proper motion that carries corners to their images (least squares by singular values; Kabsch 1976)."""
    middle, image = drawn.mean(axis=0), there.mean(axis=0)
    u, _, vt = np.linalg.svd((drawn - middle).T @ (there - image))
    turn = np.diag([1.0, 1.0, np.sign(np.linalg.det(u @ vt))])
    rotation: Array = vt.T @ turn @ u.T
    return rotation, image - rotation @ middle


def _on_face(path: Array, flat: _Flat, thickness_mm: float) -> Iterator[tuple[Face, shapely.LineString]]:
    """The stretches of a path that lie on either face of a facet."""
    import shapely

    heights: tuple[tuple[Face, float], ...] = (("outer", 0.0), ("inner", -thickness_mm))
    x0, y0, x1, y1 = flat.area.buffer(ON_FACE_MM).bounds
    low, high = path[:, :2].min(axis=0), path[:, :2].max(axis=0)
    if low[0] > x1 or low[1] > y1 or high[0] < x0 or high[1] < y0:
        return
    for face, height in heights:
        lies = np.abs(path[:, 2] - height) <= min(ON_FACE_MM, thickness_mm / 2.0)
        runs = [shapely.LineString(path[i : i + 2, :2]) for i in range(len(path) - 1) if lies[i] and lies[i + 1]]
        if not runs:
            continue
        within = shapely.line_merge(shapely.union_all(runs).intersection(flat.area.buffer(ON_FACE_MM)))
        for piece in getattr(within, "geoms", [within]):
            if isinstance(piece, shapely.LineString) and not piece.is_empty:
                yield face, piece


def _centre_lines(part: Part, panel: Panel, flats: Sequence[_Flat]) -> Iterator[Mark]:
    """Where the plane y = 0 cuts the outer face, for a part that lies evenly astride it."""
    import shapely

    rotation, origin = np.array(part.place.rotation), np.array(part.place.origin)
    butt_lines = []
    for flat in flats:
        corners = shapely.get_coordinates(flat.area)
        lifted = np.column_stack([corners, np.zeros(len(corners))]) @ flat.rotation.T + flat.shift
        butt_lines.append(part.place.apply(lifted)[:, 1])
    every = np.concatenate(butt_lines)
    if abs(every.min() + every.max()) > CENTRED_MM or np.ptp(every) < 2.0 * panel.thickness_mm:
        return
    for flat in flats:
        # y = a x + b y' + c in the facet's drawing.
        row = rotation[1] @ flat.rotation
        offset = float(rotation[1] @ flat.shift + origin[1])
        slope = float(np.hypot(row[0], row[1]))
        if slope < 0.5:
            continue
        normal = row[:2] / slope
        foot, way = -normal * offset / slope, np.array([-normal[1], normal[0]])
        cut = shapely.LineString([foot - way * 1e4, foot + way * 1e4]).intersection(flat.area)
        if isinstance(cut, shapely.LineString) and cut.length > LEAST_MARK_MM:
            yield Mark(_points(cut), "centre line", "outer", "centre")
            yield Mark(_points(cut), "centre line", "inner", "centre")
