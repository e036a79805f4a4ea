"""Bent gear wires as a 3D frame: how far a load at the wheel pushes the wheel.

The frame library does the stiffness method (straight beams of round section, small displacements, no shear); this
file turns wires into beams. Lengths mm, forces N, stresses MPa.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import pi
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array, Point
from airframe.bends import Bend, centre_line
from airframe.drawing import Wire, points3

if TYPE_CHECKING:
    from Pynite import FEModel3D

ARC_BEAMS = 4
"""Straight beams that stand for each bend."""
LINK_THICKNESS = 4.0
"""Diameter of the beams that stand for a brace's binding, in diameters of the leg: 256 times as stiff."""
SAME_POINT_MM = 1e-6
_LOADS = ("FX", "FY", "FZ")


@dataclass(frozen=True)
class Elastic:
    """Young's modulus and shear modulus, MPa."""

    e_mpa: float
    g_mpa: float


MUSIC_WIRE: tuple[tuple[float, Elastic], ...] = (
    (0.8, Elastic(203.4e3, 82.7e3)),
    (1.6, Elastic(200.0e3, 81.7e3)),
    (3.0, Elastic(196.5e3, 81.0e3)),
    (np.inf, Elastic(193.0e3, 80.0e3)),
)
"""Up to each diameter (mm): Shigley, Mechanical Engineering Design, Table 10-5, from memory."""
METALS = {
    "steel": Elastic(207.0e3, 79.3e3),
    "aluminium": Elastic(71.7e3, 26.9e3),
    "brass": Elastic(106.0e3, 40.1e3),
}
"""Shigley, Mechanical Engineering Design, Table A-5, from memory."""


def elastic(material: str, diameter_mm: float) -> Elastic | None:
    """Of a wire of a named material; None for a material whose stiffness is not in the table."""
    if material == "music wire":
        return next(constants for limit, constants in MUSIC_WIRE if diameter_mm <= limit)
    return METALS.get(material)


@dataclass(frozen=True)
class Chain:
    """A bent round wire as a chain of straight beams, its first point held fast in every direction."""

    path: tuple[Point, ...]
    diameter_mm: float
    elastic: Elastic


@dataclass(frozen=True)
class BracedLeg:
    """A leg, where it is loaded, and a brace bound to it along the brace's last beam; or none."""

    leg: Chain
    loaded: Point
    """Taken to the nearest point of the leg."""
    brace: Chain | None = None


def path_of(wire: Wire, arc_beams: int = ARC_BEAMS) -> Array:
    """Points (n, 3) along a wire's centre line: its corners rounded, each bend in so many chords."""
    line = centre_line(wire)
    points = [line.start]
    for bend in line.bends:
        points += _arc_points(bend, arc_beams)
    points.append(line.end)
    return np.array([points[0], *(b for a, b in pairwise(points) if np.linalg.norm(b - a) > SAME_POINT_MM)])


def _arc_points(bend: Bend, beams: int) -> list[Array]:
    radius = bend.start - bend.centre
    across = np.cross(bend.axis, radius)
    angles = np.linspace(0.0, bend.angle_rad, beams + 1)
    return [bend.centre + radius * np.cos(a) + across * np.sin(a) for a in angles]


def with_point(path: ArrayLike, point: ArrayLike) -> tuple[Array, int]:
    """The path with a further corner where it passes nearest to a point, and that corner's number."""
    corners, target = np.asarray(path, dtype=np.float64), np.asarray(point, dtype=np.float64)
    runs = np.diff(corners, axis=0)
    shares = np.clip(np.sum((target - corners[:-1]) * runs, axis=1) / np.sum(runs * runs, axis=1), 0.0, 1.0)
    feet = corners[:-1] + shares[:, None] * runs
    beam = int(np.argmin(np.linalg.norm(feet - target, axis=1)))
    for corner in (beam, beam + 1):
        if np.linalg.norm(corners[corner] - feet[beam]) < SAME_POINT_MM:
            return corners, corner
    return np.insert(corners, beam + 1, feet[beam], axis=0), beam + 1


def _numbers(path: Array, points: Sequence[Point]) -> tuple[Array, list[int]]:
    """The path with corners at all of these points, and their numbers."""
    for point in points:
        path, _ = with_point(path, point)
    return path, [with_point(path, point)[1] for point in points]


@lru_cache(maxsize=64)
def flexibility(leg: BracedLeg) -> tuple[tuple[float, ...], ...]:
    """Displacement of the loaded point in x, y, z (rows, mm) for 1 N along x, y, z (columns)."""
    from Pynite import FEModel3D

    model = FEModel3D()
    bound = leg.brace.path[-2:] if leg.brace is not None else ()
    path, marks = _numbers(np.array(leg.leg.path), [leg.loaded, *bound])
    _add_chain(model, "leg", path, leg.leg)
    if leg.brace is not None:
        _add_chain(model, "brace", np.array(leg.brace.path), leg.brace)
        _add_binding(model, marks[1:], len(leg.brace.path), leg.leg)
    node = f"leg {marks[0]}"
    for load in _LOADS:
        model.add_node_load(node, load, 1.0, case=load)
        model.add_load_combo(load, {load: 1.0})
    model.analyze_linear(check_stability=False, sparse=False)
    moved = model.nodes[node]
    return tuple(tuple(float(shift[load]) for load in _LOADS) for shift in (moved.DX, moved.DY, moved.DZ))


def _add_chain(model: FEModel3D, name: str, path: Array, chain: Chain) -> None:
    _add_section(model, name, chain.diameter_mm, chain.elastic)
    for number, (x, y, z) in enumerate(path.tolist()):
        model.add_node(f"{name} {number}", x, y, z)
    for number in range(len(path) - 1):
        model.add_member(f"{name} {number}", f"{name} {number}", f"{name} {number + 1}", name, name)
    model.def_support(f"{name} 0", *[True] * 6)


def _add_binding(model: FEModel3D, leg_nodes: list[int], brace_points: int, leg: Chain) -> None:
    """Short stiff beams from leg to brace, at both ends of the length that is bound and soldered."""
    _add_section(model, "link", LINK_THICKNESS * leg.diameter_mm, leg.elastic)
    for number, leg_node in enumerate(leg_nodes):
        brace_node = brace_points - 2 + number
        model.add_member(f"link {number}", f"leg {leg_node}", f"brace {brace_node}", "link", "link")


def _add_section(model: FEModel3D, name: str, diameter_mm: float, constants: Elastic) -> None:
    """A round section: A = pi d^2 / 4, I = pi d^4 / 64, J = 2 I."""
    second_moment = pi * diameter_mm**4 / 64.0
    poisson = constants.e_mpa / (2.0 * constants.g_mpa) - 1.0
    model.add_material(name, constants.e_mpa, constants.g_mpa, poisson, 0.0)
    model.add_section(name, pi * diameter_mm**2 / 4.0, second_moment, second_moment, 2.0 * second_moment)


def clamped(path: Array, at_mm: float, axis: int = 1) -> tuple[Point, ...]:
    """The part of a path beyond a coordinate (butt line: axis 1), its first point where the path first passes it."""
    for number, (a, b) in enumerate(pairwise(path)):
        if a[axis] <= at_mm < b[axis]:
            start = a + (b - a) * (at_mm - a[axis]) / (b[axis] - a[axis])
            return points3(np.vstack([start, path[number + 1 :]]).tolist())
    return points3(path.tolist())
