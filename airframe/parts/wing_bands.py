"""Rubber bands over the wing, hooked on the dowels."""

from __future__ import annotations

import numpy as np

from airframe.axes import Array, Place
from airframe.drawing import Part, bead
from airframe.layout import Layout
from airframe.parts import common
from airframe.parts.wing_section import Section

STRETCH = 2.5
"""Length in use over length at rest: estimate, no source; a stretched band weighs what the slack loop weighs."""
LIFT_MM = 0.5
"""Between the skin and the middle of a band."""


def parts(layout: Layout, section: Section) -> list[Part]:
    """Every band, from a front dowel over the wing's first panel to a rear dowel, as a loop of two strands.

    Bands run straight fore and aft, half of them on each side, next to one another along the dowels'
    ends; an odd one crosses from the right front to the left rear.
    """
    mounting = layout.design.wing.mounting
    if mounting is None or mounting.bands == 0:
        return []
    each_side, is_odd = divmod(mounting.bands, 2)
    places = each_side + is_odd
    made: list[Part] = []
    for k in range(places):
        out = mounting.projection_mm * (k + 0.5) / places
        if k < each_side:
            made += common.both_sides(_band(layout, section, f"rubber band {k + 1}", out, 1.0))
        else:
            made.append(_band(layout, section, f"rubber band {k + 1} across", out, -1.0))
    return made


def _band(layout: Layout, section: Section, name: str, out_mm: float, rear_side: float) -> Part:
    mounting = layout.design.wing.mounting
    assert mounting is not None
    front, rear = mounting.front, mounting.rear
    ends = np.array(
        [
            (front.station_mm, layout.half_width_mm(front.station_mm) + out_mm, front.water_line_mm),
            (rear.station_mm, rear_side * (layout.half_width_mm(rear.station_mm) + out_mm), rear.water_line_mm),
        ]
    )
    over = _over_wing(layout, section, ends[0, 1], ends[1, 1])
    strand = _taut(np.vstack([ends[:1], over, ends[1:]]))
    loop = np.vstack([strand, strand[-2::-1]])
    material = layout.design.material(mounting.band_material)
    length = float(np.linalg.norm(np.diff(loop, axis=0), axis=1).sum())
    mass = material.weight * length / STRETCH
    return Part(name, common.WING, bead(loop.tolist()), Place(), material, mass, "estimated")


def _over_wing(layout: Layout, section: Section, front_y_mm: float, rear_y_mm: float) -> Array:
    """(n, 3) points just above the upper skin of the first panel, from leading to trailing edge."""
    place = section.panel.place
    skin = section.outer(0.0)[section.upper :]
    span_direction = float(place.turn((0.0, 1.0, 0.0))[1])
    y = front_y_mm + (rear_y_mm - front_y_mm) * skin[:, 0] / section.panel.root_chord_mm
    along = np.abs(y) / span_direction
    corners = [section.outer(float(out))[section.upper + k] for k, out in enumerate(along)]
    points = place.apply([(x, out, z + LIFT_MM) for (x, z), out in zip(corners, along, strict=True)])
    return np.column_stack([points[:, 0], y, points[:, 2]])


def _taut(points: Array) -> Array:
    """The points that a stretched band touches: seen from the side it only ever bends down, over the wing."""
    kept: list[Array] = []
    for point in points:
        while len(kept) > 1 and _bends_up(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return np.array(kept)


def _bends_up(a: Array, b: Array, c: Array) -> bool:
    return float((b[0] - a[0]) * (c[2] - b[2]) - (b[2] - a[2]) * (c[0] - b[0])) >= 0.0
