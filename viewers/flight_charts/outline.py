"""The aeroplane seen from the left, as flat outlines that a chart can lie on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from airframe.axes import Array
from viewers.palette import PAPER, rgb
from viewers.scene import Body, Scene

if TYPE_CHECKING:
    from shapely.geometry import MultiPolygon, Polygon
    from shapely.geometry.base import BaseGeometry

SNAP_MM = 0.01
"""Corners nearer than this are one when faces are laid together."""
SIMPLER_MM = 0.2
LEAST_MM2 = 4.0
"""Outlines smaller than this do not show at the size of a page."""
LEAST_FACE_MM2 = 1e-6
TINT = 0.45
"""How much of its colour a part keeps; the rest is paper, so that arrows stand out."""


@dataclass(frozen=True, eq=False)
class Outline:
    """One part's outline from the left: rings (n, 2) of station and water line, the first round the outside."""

    rings: tuple[Array, ...]
    tint: str


def from_left(scene: Scene) -> tuple[Outline, ...]:
    """Outlines of all parts, the farthest first."""
    ordered = sorted(scene.bodies, key=lambda body: -float(body.vertices[:, 1].min()))
    found = []
    for body in ordered:
        tint = _tinted(body.tint.colour)
        found += [Outline(rings, tint) for rings in _rings(_shadow(body))]
    return tuple(found)


def _shadow(body: Body) -> BaseGeometry:
    """The part's faces that look to the left, laid flat together."""
    import shapely

    corners = body.vertices[body.faces][:, :, [0, 2]]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    facing = corners[a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] > LEAST_FACE_MM2]
    return shapely.union_all(shapely.polygons(facing), grid_size=SNAP_MM).simplify(SIMPLER_MM)


def _rings(shadow: BaseGeometry) -> list[tuple[Array, ...]]:
    pieces: list[Polygon] = _polygons(shadow)
    return [
        tuple(np.asarray(ring.coords) for ring in (piece.exterior, *piece.interiors))
        for piece in pieces
        if piece.area > LEAST_MM2
    ]


def _polygons(shadow: BaseGeometry) -> list[Polygon]:
    if shadow.geom_type == "Polygon":
        one: Polygon = shadow  # type: ignore[assignment]
        return [one]
    many: MultiPolygon = shadow  # type: ignore[assignment]
    return [piece for piece in getattr(many, "geoms", ()) if piece.geom_type == "Polygon"]


def _tinted(colour: str) -> str:
    mixed = (round(TINT * own + (1.0 - TINT) * paper) for own, paper in zip(rgb(colour), rgb(PAPER), strict=True))
    return "#" + "".join(f"{value:02x}" for value in mixed)
