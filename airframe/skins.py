"""Closed meshes of boards and blocks, straight from their drawings.

A square-edged board is its outline twice with walls between; a scored or bevelled one is the flat faces of its
folded facets. The CAD kernel makes the same solids (`solids`), ten times slower; the tests hold every mesh here
against the kernel's exact integrals.
"""

from __future__ import annotations

import numpy as np

from airframe.axes import Array
from airframe.drawing import Block, Panel
from airframe.facets import rings
from airframe.folding import fold
from airframe.meshes import Mesh, Triangles
from airframe.solids import SEWING_MM, require_sides, require_thickness


def board(panel: Panel, angle_rad: float) -> Mesh:
    """The closed surface of a panel as it is built; chords of an arc turn by half of `angle_rad` at most.

    Raises ValueError with the reason for outlines that are tangled and folds that cannot be.
    """
    require_thickness(panel)
    if panel.scores or panel.bevels:
        return _sewn(fold(panel).faces())
    rings(panel)
    turn = angle_rad / 2.0
    return _prism(
        [panel.outline.chorded(turn), *(hole.chorded(turn)[::-1] for hole in panel.holes)], panel.thickness_mm
    )


def box(block: Block) -> Mesh:
    """The six faces of a block. Raises ValueError for sides that are not positive."""
    require_sides(block)
    x, y, z = (side / 2.0 for side in block.size)
    return _prism([np.array([(-x, -y), (x, -y), (x, y), (-x, y)])], 2.0 * z, z)


def _prism(outlines: list[Array], height_mm: float, top_mm: float = 0.0) -> Mesh:
    """Outline (counter-clockwise) and holes (clockwise) at the top and again below, joined by walls."""
    corners = np.vstack(outlines)
    count = len(corners)
    top = np.column_stack([corners, np.full(count, top_mm)])
    bottom = np.column_stack([corners, np.full(count, top_mm - height_mm)])
    lid = _triangles(outlines)
    walls, first = [], 0
    for outline in outlines:
        here = first + np.arange(len(outline))
        then = np.roll(here, -1)
        walls.append(np.column_stack([here, here + count, then + count]))
        walls.append(np.column_stack([here, then + count, then]))
        first += len(outline)
    return Mesh(np.vstack([top, bottom]), np.vstack([lid, lid[:, ::-1] + count, *walls]))


def _sewn(faces: list[list[Array]]) -> Mesh:
    """Plane faces in space (boundary counter-clockwise from outside, then holes) made one surface."""
    corners, triangles, first = [], [], 0
    for face in faces:
        points = np.vstack(face)
        corners.append(points)
        triangles.append((_triangles(_flat(face)) if len(points) > 3 else np.array([[0, 1, 2]])) + first)
        first += len(points)
    return _joined(np.vstack(corners), np.vstack(triangles))


def _flat(face: list[Array]) -> list[Array]:
    """The face's rings in its own plane, boundary counter-clockwise."""
    boundary = face[0] - face[0][0]
    normal = np.cross(boundary, np.roll(boundary, -1, axis=0)).sum(axis=0)
    normal /= np.linalg.norm(normal)
    across = np.cross(normal, np.eye(3)[int(np.argmin(np.abs(normal)))])
    across /= np.linalg.norm(across)
    axes = np.column_stack([across, np.cross(normal, across)])
    return [ring @ axes for ring in face]


def _triangles(outlines: list[Array]) -> Triangles:
    """Triangles between the corners of a plane figure, numbered through its rings."""
    import manifold3d

    return np.asarray(manifold3d.triangulate(outlines), dtype=np.int64)


def _joined(corners: Array, triangles: Triangles) -> Mesh:
    """Corners that faces share made one: faces of one edge come from the same numbers, to rounding."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    pairs = cKDTree(corners).query_pairs(SEWING_MM, output_type="ndarray")
    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(corners), len(corners)))
    _, labels = connected_components(links, directed=False)
    _, kept = np.unique(labels, return_index=True)
    a, b, c = labels[triangles].T
    is_left = (a != b) & (b != c) & (c != a)
    return Mesh(corners[kept], np.column_stack([a, b, c])[is_left].astype(np.int64))
