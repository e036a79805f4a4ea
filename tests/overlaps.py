"""How far parts stand into one another, by the kernel's solids: only for tests."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations
from typing import Any

import numpy as np

from airframe import solids
from airframe.drawing import Bead, Film, Part

MESH_MM = 0.05
MESH_RAD = 0.2


def manifolds(parts: Iterable[Part]) -> dict[str, Any]:
    """A manifold in the aeroplane's frame for every part that has a volume, by name."""
    made: dict[object, tuple[np.ndarray, np.ndarray]] = {}
    result = {}
    for part in parts:
        if isinstance(part.shape, Bead | Film):
            continue
        if part.shape not in made:
            vertices, faces = solids.solid(part.shape).tessellate(MESH_MM, MESH_RAD)
            made[part.shape] = np.array([v.toTuple() for v in vertices]), np.array(faces)
        result[part.name] = _manifold(part, *made[part.shape])
    return result


def _manifold(part: Part, vertices: np.ndarray, faces: np.ndarray) -> Any:
    import manifold3d
    import trimesh

    mesh = trimesh.Trimesh(part.place.apply(vertices), faces[:, ::-1] if part.place.is_mirrored else faces)
    assert mesh.is_volume, part.name
    built = manifold3d.Manifold(manifold3d.Mesh64(np.asarray(mesh.vertices), np.asarray(mesh.faces, dtype=np.uint64)))
    assert built.status() == manifold3d.Error.NoError, part.name
    return built


def overlaps(parts: Iterable[Part], more_than_mm3: float) -> dict[tuple[str, str], float]:
    """The pairs of parts that share more than so much volume, mm^3."""
    bodies = manifolds(parts)
    found = {}
    for (a, first), (b, second) in combinations(bodies.items(), 2):
        box, other = np.array(first.bounding_box()), np.array(second.bounding_box())
        if np.any(box[:3] > other[3:]) or np.any(other[:3] > box[3:]):
            continue
        shared = (first ^ second).volume()
        if shared > more_than_mm3:
            found[a, b] = round(shared, 1)
    return found
