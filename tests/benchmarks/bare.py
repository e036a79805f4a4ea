"""The bare cost of a cold `weigh`: import the kernel and the mesh library, build, mesh and integrate the same solids.

Prints seconds: importing, building, meshing and integrating. Run in a fresh process.
"""

from __future__ import annotations

import sys
import time

START = time.perf_counter()

import cadquery as cq  # noqa: E402
import numpy as np  # noqa: E402
import trimesh  # noqa: E402

IMPORTED = time.perf_counter()


def main(config: str) -> None:
    """Time the kernel's own calls on every distinct solid of a config."""
    from airframe.config import load
    from airframe.drawing import Bead, Film
    from airframe.layout import Layout
    from airframe.parts.whole import build
    from airframe.solids import solid

    design = load(config)
    shapes = dict.fromkeys(part.shape for part in build(Layout(design)) if not isinstance(part.shape, Bead | Film))
    start = time.perf_counter()
    solids = [solid(shape) for shape in shapes]
    built = time.perf_counter()
    for made in solids:
        weigh(made, design.mesh_angle_rad)
    meshed = time.perf_counter()
    print(IMPORTED - START, built - start, meshed - built, len(solids))


def weigh(made: cq.Shape, angle_rad: float) -> float:
    """Mesh one solid by the library's own tessellation and integrate it."""
    vertices, triangles = made.tessellate(0.1, angle_rad)
    mesh = trimesh.Trimesh(np.array([v.toTuple() for v in vertices]), np.array(triangles))
    assert mesh.is_volume
    properties = mesh.mass_properties
    return float(properties.volume) + float(properties.inertia[0][0])


if __name__ == "__main__":
    main(sys.argv[1])
