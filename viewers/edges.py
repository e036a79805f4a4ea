"""The edges of a mesh that a draughtsman would ink: its creases and its rims."""

from __future__ import annotations

from math import cos, radians

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array

CREASE_RAD = radians(25.0)
"""Two faces that meet at more than this are told apart by a line; the facets of round wire are not."""
WELD_DECIMALS = 4
"""Corners that agree to this many decimals of a millimetre are one corner."""


def inked(vertices: Array, faces: NDArray[np.int64], crease_rad: float = CREASE_RAD) -> Array:
    """Start and end points (n, 2, 3) of the edges that are creased or open."""
    corners, index = np.unique(np.round(vertices, WELD_DECIMALS) + 0.0, axis=0, return_inverse=True)
    triangles = index.reshape(-1)[faces]
    triangles = triangles[_has_area(corners, triangles)]
    if len(triangles) == 0:
        return np.zeros((0, 2, 3))
    normals = _normals(corners, triangles)
    sides = np.sort(triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    owner = np.repeat(np.arange(len(triangles)), 3)
    edges, group, count = np.unique(sides, axis=0, return_inverse=True, return_counts=True)
    order = np.argsort(group.reshape(-1), kind="stable")
    starts = np.concatenate([[0], np.cumsum(count)[:-1]])
    first, last = owner[order[starts]], owner[order[starts + count - 1]]
    smooth = (count == 2) & (np.einsum("ij,ij->i", normals[first], normals[last]) > cos(crease_rad))
    drawn: Array = corners[edges[~smooth]]
    return drawn


def _has_area(corners: Array, triangles: NDArray[np.int64]) -> NDArray[np.bool_]:
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    has_area: NDArray[np.bool_] = np.linalg.norm(np.cross(b - a, c - a), axis=1) > 0.0
    return has_area


def _normals(corners: Array, triangles: NDArray[np.int64]) -> Array:
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    across = np.cross(b - a, c - a)
    normals: Array = across / np.linalg.norm(across, axis=1, keepdims=True)
    return normals
