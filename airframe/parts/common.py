"""Small tools that every part family uses to put drawings into the aeroplane."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import FRONT_VIEW, PLAN_VIEW, SIDE_VIEW, Place, Point, at
from airframe.drawing import Part, bead, points3
from airframe.materials import Material
from airframe.schema.design import Design

GLUE = "glue"
FINISH = "finish"
FUSELAGE = "fuselage"
WING = "wing"
TAIL = "tail"
GEAR = "landing gear"
GROUPS = (
    WING, TAIL, FUSELAGE, GEAR, "propulsion", "controls", "electrical", "payload", GLUE, FINISH,
)  # fmt: skip
"""Every group of the weight statement, in the order it is printed."""


SLACK_MM = 1e-5
"""What misses a limit by no more than this keeps it: it may follow from sums that are rounded."""


def across(x_front_mm: float, y_mm: float = 0.0, z_mm: float = 0.0) -> Place:
    """A drawing stood across the fuselage: own x to the LEFT wing, own y up; it occupies x_front to x_front + t."""
    return at(x_front_mm, y_mm, z_mm).after(FRONT_VIEW)


def level(z_top_mm: float, x_mm: float = 0.0, y_mm: float = 0.0) -> Place:
    """A drawing laid level: own x aft, own y to the right wing; it occupies z_top - t to z_top."""
    return at(x_mm, y_mm, z_top_mm).after(PLAN_VIEW)


def upright_left_face(y_left_mm: float, x_mm: float = 0.0, z_mm: float = 0.0) -> Place:
    """A drawing stood fore and aft: own x aft, own y up; it occupies y_left to y_left + t (outer face: left)."""
    return at(x_mm, y_left_mm, z_mm).after(SIDE_VIEW)


def both_sides(right: Part) -> list[Part]:
    """A right-hand part and its mirror image, named '... right' and '... left'."""
    return [replace(right, name=f"{right.name} right"), right.mirrored(f"{right.name} left")]


def joint(name: str, paths: Iterable[Iterable[Point]], material: Material) -> Part:
    """Glue along one or more joint lines, given in the aeroplane's frame."""
    return Part(f"glue, {name}", GLUE, bead(*paths), Place(), material)


def both_sides_paths(right: Iterable[ArrayLike]) -> list[tuple[Point, ...]]:
    """Paths (n, 3) on the right side, in the aeroplane's frame, and after them their mirror images."""
    paths = [np.asarray(path, dtype=np.float64) for path in right]
    return [points3((path * (1.0, side, 1.0)).tolist()) for side in (1.0, -1.0) for path in paths]


def adhesive(design: Design, *materials: Material) -> Material:
    """What a joint between these materials is glued with: plywood and metal take the plywood adhesive."""
    is_strong = any(material.look in ("plywood", "wire", "metal") for material in materials)
    return design.material(design.glue.plywood_joint if is_strong else design.glue.foam_joint)
