"""Paint, filler and tape as surfaces to draw: they weigh by area and have no solid of their own."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array
from airframe.drawing import Film
from airframe.folding import fold


def surface(film: Film) -> tuple[Array, NDArray[np.int64]]:
    """Triangles that cover a film's face, panel folded as it is built: corners (n, 3) in its own frame, faces (m, 3).

    Seen from where the film is put on, they run counter-clockwise.
    """
    covered = [_triangles(rings) for rings in fold(film.panel).rings(film.face)]
    corners = np.concatenate(covered).reshape(-1, 3)
    return corners, np.arange(len(corners), dtype=np.int64).reshape(-1, 3)


def _triangles(rings: list[Array]) -> Array:
    """(n, 3, 3) the triangles of one flat piece, given by its boundary and its holes."""
    import shapely

    origin = rings[0][0]
    arms = rings[0] - origin
    normal = np.cross(arms, np.roll(arms, -1, axis=0)).sum(axis=0)
    normal /= np.linalg.norm(normal)
    across = arms[int(np.argmax(np.linalg.norm(arms, axis=1)))]
    across = across / np.linalg.norm(across)
    axes = np.array([across, np.cross(normal, across)])
    flat = shapely.Polygon((rings[0] - origin) @ axes.T, [(ring - origin) @ axes.T for ring in rings[1:]])
    if not flat.is_valid:
        flat = flat.buffer(0.0)
    pieces = shapely.orient_polygons(shapely.get_parts(shapely.constrained_delaunay_triangles(flat)))
    drawn = np.array([shapely.get_coordinates(piece)[:3] for piece in pieces]).reshape(-1, 3, 2)
    triangles: Array = origin + drawn @ axes
    return triangles
