"""The only door to trimesh: closed triangle meshes, and what they weigh.

Bent wires and turned bodies are meshed here, ring by ring from the drawing; boards and blocks in `skins`. The CAD
kernel's mesher takes ten to a hundred times as long and leaves open points on cones; its exact integrals are
what the tests hold every mesh against.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array
from airframe.bends import CentreLine
from airframe.inertia import Body

FINE_RAD = 0.05
"""Weighing mesh: an arc's chords turn by half of this, which takes (angle / 2)^2 / 6 = 1e-4 off a round section."""
COARSE_RAD = 0.35
"""Display mesh."""
AXIS_MM = 1e-9
"""A turned profile's corner nearer to its axis is on it."""

Triangles = NDArray[np.int64]


class MeshError(ValueError):
    """A mesh that encloses no volume, and why."""


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles, counter-clockwise seen from outside."""

    vertices: Array
    """mm, shape (n, 3)."""
    faces: Triangles
    """Rows of `vertices`, shape (m, 3)."""


def weighed(mesh: Mesh) -> Body:
    """Volume, centre and inertia at unit density.

    Raises MeshError unless the mesh is a closed volume with every triangle facing outwards.
    """
    import trimesh

    body = trimesh.Trimesh(mesh.vertices, mesh.faces, process=True)
    if not body.is_watertight:
        raise MeshError("its mesh is open: some edges do not have a triangle on either side")
    if not body.is_winding_consistent:
        raise MeshError("its mesh has triangles that face inwards among others that face outwards")
    if body.volume < 0.0:
        raise MeshError("its mesh is inverted: it faces inwards")
    if not body.is_volume:
        raise MeshError("its mesh encloses no volume")
    sums = body.mass_properties
    return Body(float(sums.mass), np.array(sums.center_mass), np.array(sums.inertia))


# --- wires and turned bodies --------------------------------------------------------------------------


def swept(line: CentreLine, diameter_mm: float, angle_rad: float) -> Mesh:
    """A round section carried along a bent wire's centre line, flat ends.

    All corners lie on the wire's surface. Chords round the section turn by half of `angle_rad`, those along a
    bend by as much as loses no more volume over the whole wire, or by `angle_rad`.
    """
    circle = _circle(angle_rad)
    across = _square_to(line.way)
    axes = np.array([across, np.cross(line.way, across)])
    rings = [line.start + circle @ axes * (diameter_mm / 2.0)]
    # Chords that turn by b lose b^2 / 6 of what they follow, round a section as along a bend.
    share = line.radius_mm * sum(bend.angle_rad for bend in line.bends) / line.length()
    step = angle_rad * min(0.45 / sqrt(share), 1.0) if line.bends else angle_rad
    for bend in line.bends:
        count = ceil(bend.angle_rad / step)
        for k in range(count + 1):
            turn = _rotation(bend.axis, bend.angle_rad * k / count)
            middle = bend.centre + turn @ (bend.start - bend.centre)
            rings.append(middle + circle @ (axes @ turn.T) * (diameter_mm / 2.0))
        axes = axes @ _rotation(bend.axis, bend.angle_rad).T
    rings.append(line.end + circle @ axes * (diameter_mm / 2.0))
    return _capped(_without_empty_legs(rings))


def _without_empty_legs(rings: list[Array]) -> list[Array]:
    """Bends that use up the leg between them would leave two sections in one place."""
    kept = rings[:1]
    kept.extend(ring for before, ring in pairwise(rings) if np.abs(ring - before).max() > AXIS_MM)
    return kept


def _capped(rings: list[Array]) -> Mesh:
    count, size = len(rings), len(rings[0])
    ends = np.array([rings[0].mean(axis=0), rings[-1].mean(axis=0)])
    vertices = np.vstack([*rings, ends])
    first = np.arange(size)
    after = np.roll(first, -1)
    start, last = count * size, (count - 1) * size
    front = np.column_stack([after, first, np.full(size, start)])
    rear = np.column_stack([last + first, last + after, np.full(size, start + 1)])
    sides = [_band(k * size, (k + 1) * size, size) for k in range(count - 1)]
    return Mesh(vertices, np.vstack([front, *sides, rear]))


def _band(first: int, second: int, size: int) -> Triangles:
    """Two triangles for each chord between two rings of corners."""
    i = np.arange(size)
    j = np.roll(i, -1)
    return np.vstack(
        [np.column_stack([first + i, first + j, second + j]), np.column_stack([first + i, second + j, second + i])]
    )


def turned(corners: Array, angle_rad: float) -> Mesh:
    """A profile of (x, radius) corners, counter-clockwise, turned once about the x axis.

    All corners lie on the body's surface; chords round it turn by half of `angle_rad`.
    """
    circle = _circle(angle_rad)
    size = len(circle)
    starts, vertices, on_axis = [], [], corners[:, 1] <= AXIS_MM
    total = 0
    for (x, radius), single in zip(corners, on_axis, strict=True):
        ring = np.array([[x, 0.0, 0.0]]) if single else np.column_stack([np.full(size, x), circle * radius])
        starts.append(total)
        vertices.append(ring)
        total += len(ring)
    bands = []
    for i in range(len(corners)):
        j = (i + 1) % len(corners)
        if on_axis[i] and on_axis[j]:
            continue
        bands.append(_turned_band(starts[i], bool(on_axis[i]), starts[j], bool(on_axis[j]), size))
    return Mesh(np.vstack(vertices), np.vstack(bands))


def _turned_band(first: int, first_single: bool, second: int, second_single: bool, size: int) -> Triangles:
    i = np.arange(size)
    j = np.roll(i, -1)
    if first_single:
        return np.column_stack([np.full(size, first), second + i, second + j])
    if second_single:
        return np.column_stack([first + i, np.full(size, second), first + j])
    return _band(first, second, size)[:, ::-1]


def _circle(angle_rad: float) -> Array:
    """Corners of a circle of radius 1, whose chords turn by half the angle or less."""
    count = max(ceil(4.0 * pi / angle_rad), 8)
    turns = np.arange(count) * (2.0 * pi / count)
    return np.column_stack([np.cos(turns), np.sin(turns)])


def _square_to(way: Array) -> Array:
    """A unit vector square to the given one."""
    least = np.eye(3)[int(np.argmin(np.abs(way)))]
    across: Array = np.cross(way, least)
    return across / np.linalg.norm(across)


def _rotation(axis: Array, angle_rad: float) -> Array:
    """Rodrigues' formula."""
    x, y, z = axis
    k = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    rotation: Array = np.eye(3) + np.sin(angle_rad) * k + (1.0 - np.cos(angle_rad)) * (k @ k)
    return rotation
