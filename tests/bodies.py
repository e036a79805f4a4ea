"""Entries of a weight statement made by hand, for tests."""

from __future__ import annotations

import numpy as np

from airframe.axes import Place, at
from airframe.drawing import Block, Part, Shape
from airframe.inertia import Body, box
from airframe.mass import Entry, Statement, statement
from airframe.materials import Material, board

FOAM = board("test foam", "foam", 5.0, 80.0, "invented for a test")


def entry(
    name: str,
    mass_g: float = 10.0,
    place: Place | None = None,
    shape: Shape | None = None,
    material: Material = FOAM,
    group: str = "payload",
) -> Entry:
    """A part of stated mass; its body is that of a box of 30 x 20 x 10 mm, whatever its shape."""
    shape = shape or Block((30.0, 20.0, 10.0))
    place = place or at()
    part = Part(name, group, shape, place, material, mass_g)
    unit = box(30.0, 20.0, 10.0)
    body = unit.scaled(mass_g / unit.mass).placed(place.rotation, place.origin)
    return Entry(part, "estimated", body, unit.mass, mass_g)


def whole(*entries: Entry) -> Statement:
    """The statement of these entries."""
    unit = box(30.0, 20.0, 10.0)
    return statement([one.part for one in entries], [unit for _ in entries])


def lump(mass_g: float, centre: tuple[float, float, float], roots: tuple[float, ...]) -> Body:
    """A body of any mass and centre whose tensor is A A^T, made of nine numbers: symmetric, never negative."""
    half = np.array(roots).reshape(3, 3)
    return Body(mass_g, np.array(centre), mass_g * half @ half.T)
