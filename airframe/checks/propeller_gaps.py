"""How near the structure comes to the disk that the propeller sweeps, exact for triangle meshes.

Points are in the disk's own frame: x aft along its axis, origin in its middle; (y, z) across. The disk is a flat
cylinder of a radius and a thickness.
"""

from __future__ import annotations

from math import inf

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array

Faces = NDArray[np.int32]
_ON_EDGE = 1e-12
"""Relative size of what counts as zero: a direction across the axis, an area seen along it."""


def axial_gap(vertices: Array, faces: Faces, radius_mm: float, half_mm: float) -> float:
    """Room along the axis between disk and surface, where the surface lies within the disk's radius.

    Positive where the nearest surface lies aft, negative ahead; 0 where it reaches into the disk; infinite where no
    surface lies within the radius. On a triangle within the cylinder, x is least or greatest at a corner, where an
    edge pierces the cylinder, or on the rim where the triangle falls most steeply.
    """
    if radial_reach(vertices, faces, half_mm) < radius_mm:
        return 0.0
    corners = vertices[faces]
    inside = vertices[np.hypot(vertices[:, 1], vertices[:, 2]) <= radius_mm][:, 0]
    found = np.concatenate([inside, _edges_through_cylinder(corners, radius_mm), _on_the_rim(corners, radius_mm)])
    if not len(found):
        return inf
    nearest = float(found[int(np.argmin(np.abs(found)))])
    return float(np.sign(nearest)) * max(abs(nearest) - half_mm, 0.0)


def radial_reach(vertices: Array, faces: Faces, half_mm: float) -> float:
    """Least distance from the axis of the surface between the planes x = +-half; infinite where none lies there.

    It lies on an edge, on the triangle's cut with one of the planes, or where the axis pierces the triangle.
    """
    corners = vertices[faces]
    near = (corners[:, :, 0].min(axis=1) <= half_mm) & (corners[:, :, 0].max(axis=1) >= -half_mm)
    corners = corners[near]
    if not len(corners):
        return inf
    if _is_pierced(corners, half_mm):
        return 0.0
    starts, ends = _edges(corners)
    low, high = _share_between(starts[:, 0], ends[:, 0], half_mm)
    has_part = low <= high
    runs = (ends - starts)[has_part]
    first, last = starts[has_part] + low[has_part, None] * runs, starts[has_part] + high[has_part, None] * runs
    reaches = [_from_axis(first, last)]
    reaches += [_from_axis(*_cut(corners, x)) for x in (-half_mm, half_mm)]
    return float(min(reach.min(initial=inf) for reach in reaches))


def _edges(corners: Array) -> tuple[Array, Array]:
    """Start and end of every triangle's three edges."""
    return corners.reshape(-1, 3), np.roll(corners, -1, axis=1).reshape(-1, 3)


def _edges_through_cylinder(corners: Array, radius_mm: float) -> Array:
    """x where edges pierce the cylinder: |p + t d| = R, a square equation in t."""
    starts, ends = _edges(corners)
    p, d = starts[:, 1:], (ends - starts)[:, 1:]
    a, b, c = np.sum(d * d, axis=1), np.sum(p * d, axis=1), np.sum(p * p, axis=1) - radius_mm**2
    under_root = b * b - a * c
    may = (under_root >= 0.0) & (a > _ON_EDGE)
    root = np.sqrt(under_root[may])
    found = []
    for t in ((-b[may] - root) / a[may], (-b[may] + root) / a[may]):
        x = starts[may, 0] + t * (ends[may, 0] - starts[may, 0])
        found.append(x[(t >= 0.0) & (t <= 1.0)])
    return np.concatenate(found)


def _on_the_rim(corners: Array, radius_mm: float) -> Array:
    """x at the two points of the rim where each triangle's plane lies furthest fore and aft, if they are within it."""
    first, second = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = first[:, 1] * second[:, 2] - first[:, 2] * second[:, 1]
    seen = np.abs(area) > _ON_EDGE
    corner, first, second, area = corners[seen, 0], first[seen], second[seen], area[seen]
    # The plane is x = x0 + slope . (y, z); Cramer's rule for the slope, then for the shares of the two edges.
    slope = np.column_stack(
        [
            (first[:, 0] * second[:, 2] - second[:, 0] * first[:, 2]) / area,
            (second[:, 0] * first[:, 1] - first[:, 0] * second[:, 1]) / area,
        ]
    )
    steepness = np.linalg.norm(slope, axis=1)
    is_flat = steepness <= _ON_EDGE
    way = np.where(is_flat[:, None], (1.0, 0.0), slope / np.where(is_flat, 1.0, steepness)[:, None])
    found = []
    for side in (-radius_mm, radius_mm):
        offset = side * way - corner[:, 1:]
        s = (offset[:, 0] * second[:, 2] - offset[:, 1] * second[:, 1]) / area
        t = (offset[:, 1] * first[:, 1] - offset[:, 0] * first[:, 2]) / area
        has = (s >= 0.0) & (t >= 0.0) & (s + t <= 1.0)
        found.append(corner[has, 0] + np.sum(slope * offset, axis=1)[has])
    return np.concatenate(found)


def _is_pierced(corners: Array, half_mm: float) -> bool:
    """Whether the axis itself passes through a triangle between the planes."""
    return bool(np.any(np.abs(_on_the_rim(corners, 0.0)) <= half_mm))


def _share_between(start: Array, end: Array, half_mm: float) -> tuple[Array, Array]:
    """The stretch of each edge between the planes, as shares of its length; low > high where there is none."""
    run = end - start
    slopes = np.abs(run) > _ON_EDGE
    safe = np.where(slopes, run, 1.0)
    a, b = (-half_mm - start) / safe, (half_mm - start) / safe
    is_in = np.abs(start) <= half_mm
    low = np.where(slopes, np.minimum(a, b), np.where(is_in, 0.0, 1.0))
    high = np.where(slopes, np.maximum(a, b), np.where(is_in, 1.0, 0.0))
    return np.clip(low, 0.0, None), np.clip(high, None, 1.0)


def _cut(corners: Array, x_mm: float) -> tuple[Array, Array]:
    """Ends of the line that a plane across the axis cuts from each triangle it passes through."""
    side = corners[:, :, 0] >= x_mm
    count = side.sum(axis=1)
    is_cut = (count == 1) | (count == 2)
    corners, side, count = corners[is_cut], side[is_cut], count[is_cut]
    # The corner that lies alone on its side: both cut edges start there.
    alone = np.argmax(side == (count == 1)[:, None], axis=1)
    rows = np.arange(len(corners))
    apex = corners[rows, alone]
    ends = []
    for step in (1, 2):
        other = corners[rows, (alone + step) % 3]
        share = (x_mm - apex[:, 0]) / (other[:, 0] - apex[:, 0])
        ends.append(apex + share[:, None] * (other - apex))
    return ends[0], ends[1]


def _from_axis(starts: Array, ends: Array) -> Array:
    """Least distance of each straight line from the axis, seen along it."""
    p, d = starts[:, 1:], (ends - starts)[:, 1:]
    square = np.sum(d * d, axis=1)
    share = np.divide(-np.sum(p * d, axis=1), square, out=np.zeros(len(p)), where=square > _ON_EDGE)
    nearest = p + np.clip(share, 0.0, 1.0)[:, None] * d
    reach: Array = np.hypot(nearest[:, 0], nearest[:, 1])
    return reach
