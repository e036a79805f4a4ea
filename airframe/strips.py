"""Bent strips unrolled into flat drawings.

A strip is ruled between two polylines of equally many corners; ruling i joins first[i] to second[i].
Between two rulings it is flat, so it can be cut from sheet, scored along the rulings and bent.
Its outer side is the one that (second - first) x (next - first) points to: exchange the two
polylines to have the other side out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import atan, atan2, degrees

import numpy as np
from numpy.typing import ArrayLike

from airframe import ruler
from airframe.axes import Array, Place, cross, frame
from airframe.drawing import COORDINATE_DECIMALS, Bevel, Loop, Panel, Point2, Score, score

FLATNESS_MM = 0.2
"""How far a corner of a facet may lie out of its plane: sheet takes up that much without a crease."""
STRAIGHT_RAD = 1e-6
"""Turns smaller than this need no score."""
STRIPS_KEPT = 256
"""Drawings of strips that are kept: those of some ten aeroplanes."""
_SAME_POINT_MM = 1e-6


class FlatnessError(ValueError):
    """A strip that no flat sheet can follow."""


@dataclass(frozen=True)
class Unrolled:
    """A strip laid flat: own x runs along the first ruling from `first`, own y to the next ruling, outer face up."""

    first: Array
    """Corners along the first edge, mm, shape (n, 2)."""
    second: Array
    """Corners along the second edge, mm, shape (n, 2)."""
    angles: Array
    """Turn at each of the n - 2 interior rulings, radians; positive where the outer side is convex."""
    place: Place
    """Carries the drawing of the first facet to where the strip has it; folding brings the rest home."""
    normals: Array
    """Outward unit normal of each facet in space, shape (n - 1, 3)."""


def unrolled(first: ArrayLike, second: ArrayLike, tolerance_mm: float = FLATNESS_MM) -> Unrolled:
    """The strip between two polylines in space, laid flat.

    A facet that is not quite plane is projected on the plane through its middle. Raises
    FlatnessError if a corner lies further than `tolerance_mm` from that plane, or a facet has no area.
    """
    a, b = _edges(first, second)
    normals = _facet_normals(a, b, tolerance_mm)
    angles = _turns(a, b, normals)
    flat_a, flat_b = np.zeros((len(a), 2)), np.zeros((len(a), 2))
    axes = [_facet_axes(a[i : i + 2], b[i : i + 2], normal) for i, normal in enumerate(normals)]
    flat_b[0] = _local(axes[0], b[0] - a[0])
    for i, pair in enumerate(axes):
        turn = np.eye(2)
        if i:
            # Go on from the ruling as the facet before laid it down: its start and its direction.
            turn = _turn_between(_local(pair, b[i] - a[i]), flat_b[i] - flat_a[i])
        flat_a[i + 1] = flat_a[i] + turn @ _local(pair, a[i + 1] - a[i])
        flat_b[i + 1] = flat_a[i] + turn @ _local(pair, b[i + 1] - a[i])
    return Unrolled(flat_a, flat_b, angles, frame(*axes[0], a[0]), normals)


def _edges(first: ArrayLike, second: ArrayLike) -> tuple[Array, Array]:
    a, b = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    if a.shape != b.shape or a.ndim != 2 or a.shape[1] != 3 or len(a) < 2:
        raise ValueError(
            f"a strip needs two edges of the same number of corners, two or more: got {a.shape}, {b.shape}"
        )
    return a, b


def _facet_normals(a: Array, b: Array, tolerance_mm: float) -> Array:
    """Unit normals; the cross product of a quad's diagonals leaves its corners equally far on either side."""
    normals = np.cross(b[1:] - a[:-1], a[1:] - b[:-1])
    sizes = np.linalg.norm(normals, axis=1)
    if np.any(sizes <= _SAME_POINT_MM**2):
        raise FlatnessError(f"the strip has no area between corners {int(np.argmin(sizes))} and the next")
    normals /= sizes[:, None]
    out_of_plane = np.abs(np.einsum("ij,ij->i", normals, (a[:-1] + b[1:] - a[1:] - b[:-1]))) / 4.0
    worst = int(np.argmax(out_of_plane))
    if out_of_plane[worst] > tolerance_mm:
        raise FlatnessError(
            f"the facet between corners {worst} and {worst + 1} is twisted: its corners lie "
            f"{ruler.fine(out_of_plane[worst])} out of its plane, {ruler.exact(tolerance_mm)} is allowed"
        )
    result: Array = normals
    return result


def _facet_axes(a: Array, b: Array, normal: Array) -> tuple[Array, Array]:
    """The facet's own x along its ruling (along the next one where it starts in a point), and own y."""
    for ruling in (b[0] - a[0], b[1] - a[1]):
        x = ruling - normal * float(ruling @ normal)
        size = float(np.linalg.norm(x))
        if size > _SAME_POINT_MM:
            return x / size, cross(normal, x / size)
    raise FlatnessError("a facet's rulings both have no length")


def _local(axes: tuple[Array, Array], vector: Array) -> Array:
    return np.array([vector @ axes[0], vector @ axes[1]])


def _turn_between(start: Array, end: Array) -> Array:
    angle = atan2(end[1], end[0]) - atan2(start[1], start[0])
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s], [s, c]])


def _turns(a: Array, b: Array, normals: Array) -> Array:
    """Signed turn of the normal about each interior ruling; tiny ones are 0."""
    angles = np.zeros(max(len(a) - 2, 0))
    for i in range(len(angles)):
        before, after = normals[i], normals[i + 1]
        ruling = b[i + 1] - a[i + 1]
        size = float(np.linalg.norm(ruling))
        if size <= _SAME_POINT_MM:
            raise FlatnessError(f"the ruling at corner {i + 1} has no length")
        forward = cross(before, ruling / size)
        angle = atan2(float(after @ forward), float(after @ before))
        angles[i] = angle if abs(angle) >= STRAIGHT_RAD else 0.0
    return angles


# --- ready drawings ---------------------------------------------------------------------------------


def strip_panel(
    first: ArrayLike,
    second: ArrayLike,
    thickness_mm: float,
    first_plane_normal: ArrayLike | None = None,
    second_plane_normal: ArrayLike | None = None,
    tolerance_mm: float = FLATNESS_MM,
) -> tuple[Panel, Place]:
    """The drawing of a bent panel whose outer face runs between two polylines in space, and its place.

    Where a plane normal is given, the walls along that edge are bevelled to lie in the plane through
    the edge with that normal, as at a dihedral joint; without, they stand square to the sheet.
    Raises FlatnessError for a strip that is twisted, bends back, or leaves the plane asked for.
    """
    a, b = _edges(first, second)
    planes = [
        None if normal is None else tuple(np.asarray(normal, dtype=np.float64).tolist())
        for normal in (first_plane_normal, second_plane_normal)
    ]
    return _strip_panel(a.tobytes(), b.tobytes(), thickness_mm, planes[0], planes[1], tolerance_mm)


@lru_cache(maxsize=STRIPS_KEPT)
def _strip_panel(
    first: bytes,
    second: bytes,
    thickness_mm: float,
    first_plane_normal: tuple[float, ...] | None,
    second_plane_normal: tuple[float, ...] | None,
    tolerance_mm: float,
) -> tuple[Panel, Place]:
    """The same of the bytes of the edges, so that a strip which did not change is not drawn again."""
    a, b = (np.frombuffer(edge).reshape(-1, 3) for edge in (first, second))
    flat = unrolled(a, b, tolerance_mm)
    back = np.flatnonzero(flat.angles < 0.0)
    if len(back):
        raise FlatnessError(
            f"the strip bends back by {degrees(-flat.angles[back[0]]):.2f} deg at corner {back[0] + 1}: scored board "
            "bends away from its outer face only; exchange the two edges, or straighten them there"
        )
    first_bevels = _edge_bevels(a, flat.normals, first_plane_normal, tolerance_mm, inward=b - a)
    second_bevels = _edge_bevels(b, flat.normals, second_plane_normal, tolerance_mm, inward=a - b)
    return _outlined(flat, first_bevels, second_bevels, thickness_mm), flat.place


def _outlined(flat: Unrolled, first_bevels: list[float], second_bevels: list[float], thickness_mm: float) -> Panel:
    """Round the strip: along ruling 0, the second edge, the last ruling, and back along the first edge."""
    points = [flat.first[0], *flat.second, *flat.first[:0:-1]]
    slants = [0.0, *second_bevels, 0.0, *reversed(first_bevels)]
    corners: list[Point2] = [_rounded(p) for p in points]
    kept = [i for i in range(len(corners)) if corners[i] != corners[(i + 1) % len(corners)]]
    bevels = tuple(Bevel(k, round(slants[i], 9)) for k, i in enumerate(kept) if slants[i])
    scores: list[Score] = [
        score(flat.first[i + 1], flat.second[i + 1], angle) for i, angle in enumerate(flat.angles) if angle > 0.0
    ]
    outline = Loop(tuple(corners[i] for i in kept), (0.0,) * len(kept))
    return Panel(outline, thickness_mm, scores=tuple(scores), bevels=bevels)


def _rounded(point: Array) -> Point2:
    return round(float(point[0]), COORDINATE_DECIMALS) + 0.0, round(float(point[1]), COORDINATE_DECIMALS) + 0.0


def _edge_bevels(
    edge: Array, normals: Array, plane_normal: ArrayLike | None, tolerance_mm: float, inward: Array
) -> list[float]:
    """The bevel of each facet's end edge that lays its wall into the plane: tan = (n . p) / (m . p).

    n is the facet's outward normal, m the direction in the facet square to the edge into the
    sheet, p the plane's normal: the wall runs from the outer edge by -t n + t tan(bevel) m.
    """
    if plane_normal is None:
        return [0.0] * len(normals)
    p = np.asarray(plane_normal, dtype=np.float64)
    p = p / np.linalg.norm(p)
    away = np.abs((edge - edge[0]) @ p)
    if away.max() > tolerance_mm:
        raise FlatnessError(f"the strip's end edge leaves its joint plane by {ruler.fine(away.max())}")
    bevels = []
    for i, normal in enumerate(normals):
        along = edge[i + 1] - edge[i]
        square = cross(normal, along)
        size = float(np.linalg.norm(square))
        if size <= _SAME_POINT_MM:
            bevels.append(0.0)
            continue
        square = square / size
        if float(square @ (inward[i] + inward[i + 1])) < 0.0:
            square = -square
        if abs(float(square @ p)) < 0.1:
            raise FlatnessError("the joint plane lies too flat to the sheet for a bevel")
        bevels.append(atan(float(normal @ p) / float(square @ p)))
    return bevels
