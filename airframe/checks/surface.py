"""A part's display mesh in the aeroplane's frame, and the shadow that many of them throw sideways."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array
from airframe.drawing import Bead, Film, Part
from airframe.model import Aeroplane

COLUMN_MM = 4.0
"""Width of the columns that a shadow is added up in, by the height at their middles: exact for slanting edges, within
half a column at upright ones."""


def has_surface(part: Part) -> bool:
    """Whether the part has a solid of its own, and so a mesh."""
    return not isinstance(part.shape, Bead | Film)


def placed_mesh(aeroplane: Aeroplane, part: Part) -> tuple[Array, NDArray[np.int32]]:
    """Vertices (n, 3) in mm and triangles (m, 3) of a part where it sits. A left-hand part's triangles face inwards."""
    record = aeroplane.record(part)
    return part.place.apply(record.vertices), record.faces


def placed_meshes(aeroplane: Aeroplane) -> list[tuple[Part, Array, NDArray[np.int32]]]:
    """Every part that has a solid, with its mesh where it sits."""
    return [(part, *placed_mesh(aeroplane, part)) for part in aeroplane.parts if has_surface(part)]


def side_triangles(vertices: Array, faces: NDArray[np.int32]) -> Array:
    """The half of a closed mesh's triangles that faces one side, seen from there: (x, z) corners, shape (k, 3, 2).

    The shadow of a closed body is that of its nearer half.
    """
    corners: Array = vertices[faces][:, :, (0, 2)]
    return corners[signed_areas(corners) > 0.0]


def signed_areas(triangles: Array) -> Array:
    """Of flat triangles, shape (n, 3, 2): positive where the corners turn left."""
    (ax, az), (bx, bz) = ((triangles[:, k] - triangles[:, 0]).T for k in (1, 2))
    areas: Array = (ax * bz - az * bx) / 2.0
    return areas


def shadow(triangles: Iterable[Array], column_mm: float = COLUMN_MM) -> tuple[float, float, float]:
    """Area (mm^2) and centre (x, z) of what triangles (n, 3, 2) cover together, overlaps counted once.

    In each column of x the triangles' spans of z are put in order and joined. Nothing covered has no centre: zeros.
    """
    every = np.concatenate([np.zeros((0, 3, 2)), *triangles])
    column, low, high = _spans(every, column_mm)
    order = np.lexsort((low, column))
    column, low, high = column[order], low[order], high[order]
    if not len(column):
        return 0.0, 0.0, 0.0
    # Columns are set apart by more than any height, so that one running maximum serves them all.
    apart = (column - column[0]) * (float(high.max() - low.min()) + 1.0)
    reached = np.concatenate([[-np.inf], np.maximum.accumulate(high + apart)[:-1]])
    start = np.maximum(low + apart, reached) - apart
    height = np.maximum(high - start, 0.0)
    total = float(height.sum())
    if total <= 0.0:
        return 0.0, 0.0, 0.0
    x = float(np.sum(height * (column + 0.5))) * column_mm / total
    z = float(np.sum(height * (high + start) / 2.0)) / total
    return total * column_mm, x, z


def _spans(triangles: Array, column_mm: float) -> tuple[NDArray[np.int64], Array, Array]:
    """For every triangle and every column whose middle it covers: number of the column, lowest and highest z there."""
    order = np.argsort(triangles[:, :, 0], axis=1)
    (xa, za), (xb, zb), (xc, zc) = np.take_along_axis(triangles, order[:, :, None], axis=1).transpose(1, 2, 0)
    first = np.ceil(xa / column_mm - 0.5).astype(np.int64)
    counts = np.maximum(np.floor(xc / column_mm - 0.5).astype(np.int64) - first + 1, 0)
    which = np.repeat(np.arange(len(triangles)), counts)
    column = np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts) + first[which]
    x = (column + 0.5) * column_mm
    xa, xb, xc, za, zb, zc = (values[which] for values in (xa, xb, xc, za, zb, zc))
    is_before = x < xb
    long = _between(x, xa, za, xc, zc)
    short = np.where(is_before, _between(x, xa, za, xb, zb), _between(x, xb, zb, xc, zc))
    return column, np.minimum(long, short), np.maximum(long, short)


def _between(x: Array, x0: Array, z0: Array, x1: Array, z1: Array) -> Array:
    run = x1 - x0
    share = np.divide(x - x0, run, out=np.zeros_like(x), where=run > 0.0)
    height: Array = z0 + share * (z1 - z0)
    return height
