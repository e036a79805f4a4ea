"""How the gear gives under load: wheels moved by the bending of their wires."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from airframe.axes import Array, Point
from airframe.bends import centre_line
from airframe.checks.contact import LEVEL, Foot
from airframe.checks.gear_frame import BracedLeg, Chain, clamped, elastic, flexibility, path_of
from airframe.checks.standing import LEFT, RIGHT, THIRD, Standing
from airframe.drawing import Part, Wire, points3
from airframe.model import Aeroplane
from airframe.parts.main_gear import LEG, STRUT

ROUNDS = 4
"""Loads change with the attitude and the attitude with the loads; each round is some ten times nearer."""
LARGE_SHARE = 0.15
"""Deflection over the leg's height above which small-displacement sums fall short."""
_MIRROR = np.diag([1.0, -1.0, 1.0])


@dataclass(frozen=True, eq=False)
class Springs:
    """Displacement of each foot (mm) for a force on it (N): three 3 x 3 matrices, in the order of the feet."""

    matrices: tuple[Array, Array, Array]


def springs(aeroplane: Aeroplane, feet: Sequence[Foot]) -> Springs | None:
    """Of the gear's wires; None where the wire's material is not one whose stiffness is known.

    Main legs are held fast where they leave the plate (the foam sides carry nothing), braces likewise; the third
    wire where its first bend begins. A fairing, tyres and the plate add no stiffness and no give.
    """
    shapes = {part.name: part for part in aeroplane.parts if isinstance(part.shape, Wire)}
    material = aeroplane.design.gear.wire_material
    right = _main_leg(aeroplane, shapes, material, feet[RIGHT])
    third = _third_leg(shapes, material, feet[THIRD])
    if right is None or third is None:
        return None
    main, rear = np.array(flexibility(right)), np.array(flexibility(third))
    return Springs((main, _MIRROR @ main @ _MIRROR, rear))


def sagged(standing: Standing, give: Springs, load_factor: float) -> Standing:
    """On all three feet with the weight times a load factor on the wires."""
    sunk = standing
    for _ in range(ROUNDS):
        up, loads = sunk.stance.up, np.array(sunk.shares) * standing.weight_n * load_factor
        sunk = _moved(standing, [give.matrices[k] @ up * loads[k] for k in (RIGHT, LEFT, THIRD)])
    return sunk


def sagged_level(standing: Standing, give: Springs, load_factor: float) -> Standing:
    """Thrust line level, all of the weight on the main wheels."""
    half = standing.weight_n * load_factor / 2.0
    return _moved(standing, [give.matrices[RIGHT] @ LEVEL * half, give.matrices[LEFT] @ LEVEL * half, np.zeros(3)])


def _moved(standing: Standing, shifts: list[Array]) -> Standing:
    right, left, third = (foot.moved(shift) for foot, shift in zip(standing.feet, shifts, strict=True))
    return replace(standing, feet=(right, left, third))


def _main_leg(aeroplane: Aeroplane, shapes: dict[str, Part], material: str, foot: Foot) -> BracedLeg | None:
    leg = _chain(aeroplane, shapes[f"{LEG} right"], material)
    strut = shapes.get(f"{STRUT} right")
    if leg is None:
        return None
    brace = _chain(aeroplane, strut, material) if strut is not None else None
    return BracedLeg(leg, foot.centres[0], brace)


def _chain(aeroplane: Aeroplane, part: Part, material: str) -> Chain | None:
    """A main leg or its strut, from the edge of the plate outwards."""
    assert isinstance(part.shape, Wire)
    constants = elastic(material, part.shape.diameter_mm)
    if constants is None:
        return None
    path = part.place.apply(path_of(part.shape))
    edge = aeroplane.layout.inner_half_width_mm(float(path[0, 0]))
    return Chain(clamped(path, edge), part.shape.diameter_mm, constants)


def _third_leg(shapes: dict[str, Part], material: str, foot: Foot) -> BracedLeg | None:
    part = shapes.get(foot.name, shapes.get(f"{foot.name} wire"))
    assert part is not None and isinstance(part.shape, Wire)
    constants = elastic(material, part.shape.diameter_mm)
    if constants is None:
        return None
    path = part.place.apply(path_of(part.shape))
    start = part.place.apply(centre_line(part.shape).bends[0].start)
    first = int(np.argmin(np.linalg.norm(path - start, axis=1)))
    chain = Chain(points3(path[first:].tolist()), part.shape.diameter_mm, constants)
    return BracedLeg(chain, _load_point(foot))


def _load_point(foot: Foot) -> Point:
    """The wheel's middle, or where the skid touches with the fuselage level."""
    if foot.axle is not None:
        return foot.centres[0]
    return min(foot.centres, key=lambda point: point[2])
