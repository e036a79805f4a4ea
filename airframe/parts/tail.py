"""Stabiliser, elevator, fin and rudder: flat sheet, hinged with strips of glue."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from airframe import ruler
from airframe.axes import Place, Point
from airframe.drawing import Bevel, Loop, Panel, Part, PartError, loop, points3
from airframe.layout import Layout
from airframe.parts import common, tail_horns
from airframe.parts.tail_horns import horn_points
from airframe.parts.tail_lines import Surface, TailLines, strip_spans, tail_lines

__all__ = ["horn_points", "parts"]

TOUCH_MM = 1.0
"""A stabiliser that hangs further than this above the fuselage's top edges is not glued to them."""
LEAST_SEAT_SHARE = 0.5
"""How much of the fin's root must stand on the stabiliser."""


def parts(layout: Layout) -> list[Part]:
    """Every part of the tail with its glue. Raises PartError for what cannot be built."""
    lines = tail_lines(layout)
    return [
        _stabiliser(layout, lines),
        *_elevator(layout, lines),
        _fin(layout, lines),
        _rudder(layout, lines),
        *_seats(layout, lines),
        *_hinges(layout, lines),
        *tail_horns.parts(layout, lines),
    ]


# --- surfaces -------------------------------------------------------------------------------------------


def _flat(layout: Layout, name: str, panel: Panel, own: Place) -> Part:
    material = layout.design.material(layout.design.tail.material)
    return Part(name, common.TAIL, panel, layout.stabiliser_place.after(own), material)


def _stabiliser(layout: Layout, lines: TailLines) -> Part:
    """Straight hinge line, swept leading edge; its outer face is the upper one."""
    fixed = lines.stabiliser
    rear, half, tip = fixed.hinge_edge_mm, fixed.to_mm, fixed.hinge_edge_mm - fixed.tip_chord_mm
    corners = [(tip, -half), (rear, -half), (rear, half), (tip, half)]
    if tip:
        corners.append((0.0, 0.0))
    return _flat(layout, "stabiliser", Panel(loop(corners), lines.thickness_mm), common.level(lines.thickness_mm))


def _elevator(layout: Layout, lines: TailLines) -> list[Part]:
    moving, upper = lines.elevator, common.level(lines.thickness_mm)
    bevel = layout.design.tail.elevator.hinge.bevel_rad
    if layout.design.tail.elevator.split:
        half = _beveled(_swinging(moving), bevel, lines.thickness_mm)
        return common.both_sides(_flat(layout, "elevator", half, upper))
    front, half_span = moving.hinge_edge_mm, moving.to_mm
    tip = front + moving.tip_chord_mm
    corners = [(front, half_span), (front, -half_span), (tip, -half_span), (tip, half_span)]
    if moving.tip_chord_mm != moving.root_chord_mm:
        corners.insert(3, (front + moving.root_chord_mm, 0.0))
    return [_flat(layout, "elevator", _beveled(loop(corners), bevel, lines.thickness_mm), upper)]


def _swinging(moving: Surface) -> Loop:
    """A moving surface; its first edge is the leading edge, down from the tip."""
    front = moving.hinge_edge_mm
    return loop(
        [
            (front, moving.to_mm),
            (front, moving.from_mm),
            (front + moving.chord_mm(moving.from_mm), moving.from_mm),
            (front + moving.tip_chord_mm, moving.to_mm),
        ]
    )


def _beveled(outline: Loop, bevel_rad: float, thickness_mm: float) -> Panel:
    """The leading edge, edge 0, cut back on the inner face: the glue strip lies on the outer one."""
    return Panel(outline, thickness_mm, bevels=(Bevel(0, bevel_rad),) if bevel_rad else ())


def _fin(layout: Layout, lines: TailLines) -> Part:
    """Upright hinge line, swept leading edge; its outer face is the left one."""
    fixed, rear = lines.fin, lines.fin.hinge_edge_mm
    root, tip = rear - fixed.root_chord_mm, rear - fixed.tip_chord_mm
    outline = loop([(root, fixed.from_mm), (rear, fixed.from_mm), (rear, fixed.to_mm), (tip, fixed.to_mm)])
    return _flat(layout, "fin", Panel(outline, lines.thickness_mm), _upright(lines))


def _rudder(layout: Layout, lines: TailLines) -> Part:
    panel = _beveled(_swinging(lines.rudder), layout.design.tail.rudder.hinge.bevel_rad, lines.thickness_mm)
    return _flat(layout, "rudder", panel, _upright(lines))


def _upright(lines: TailLines) -> Place:
    return common.upright_left_face(-lines.thickness_mm / 2.0)


# --- glue -----------------------------------------------------------------------------------------------


def _seats(layout: Layout, lines: TailLines) -> list[Part]:
    """Stabiliser on the fuselage's edges, fin on the stabiliser."""
    design, t = layout.design, lines.thickness_mm
    sheet = design.material(design.tail.material)
    front = max(lines.fin.hinge_edge_mm - lines.fin.root_chord_mm, 0.0)
    rear = min(lines.fin.hinge_edge_mm, lines.stabiliser.hinge_edge_mm)
    if rear - front < LEAST_SEAT_SHARE * lines.fin.root_chord_mm:
        along = layout.stabiliser_place.apply((lines.stabiliser.hinge_edge_mm - lines.fin.root_chord_mm, 0.0, t))
        problem = "less than half of its root stands on the stabiliser"
        raise PartError("fin", f"{problem}; with its station at {ruler.about(along[0])} the hinge lines meet")
    paths = [[(front, y, t), (rear, y, t)] for y in (-t / 2.0, t / 2.0)]
    glue = [common.joint("fin to stabiliser", _placed(layout, paths), common.adhesive(design, sheet))]
    edges = _touching_edges(layout, lines)
    if edges:
        side = design.material(design.fuselage.material)
        glue.append(common.joint("stabiliser to fuselage", edges, common.adhesive(design, sheet, side)))
    return glue


def _placed(layout: Layout, paths: Iterable[Iterable[Point]]) -> list[tuple[Point, ...]]:
    """Paths of the stabiliser's frame, in the aeroplane's frame."""
    return [points3(layout.stabiliser_place.apply(list(path)).tolist()) for path in paths]


def _touching_edges(layout: Layout, lines: TailLines) -> list[tuple[Point, ...]]:
    """The stretch of both sides' top edges that the stabiliser lies on, if it does."""
    fixed = lines.stabiliser
    beside = min(layout.half_width_mm(layout.design.tail.stabiliser.station_mm), fixed.to_mm)
    ends = [(fixed.hinge_edge_mm - fixed.chord_mm(beside), 0.0, 0.0), (fixed.hinge_edge_mm, 0.0, 0.0)]
    front, rear = layout.stabiliser_place.apply(ends)
    a, b = max(float(front[0]), layout.nose_mm), min(float(rear[0]), layout.tail_mm)
    if b <= a:
        return []
    edge = [layout.water_line_mm("top", x) for x in (a, b)]
    under = np.interp((a, b), (front[0], rear[0]), (front[2], rear[2]))
    if float(np.abs(under - edge).max()) > TOUCH_MM:
        return []
    return common.both_sides_paths([[(x, layout.half_width_mm(x), z) for x, z in zip((a, b), edge, strict=True)]])


def _hinges(layout: Layout, lines: TailLines) -> list[Part]:
    """Strips of glue over the gaps: on the upper face for the elevator, on the left face for the rudder.

    A split elevator's strips are shared between its halves, rounded up to an even number.
    """
    design, t = layout.design, lines.thickness_mm
    split = design.tail.elevator.split
    hinge, pivot = design.tail.elevator.hinge, lines.elevator_pivot_mm
    whole = lines.elevator if split else _both_halves(lines.elevator)
    count = (hinge.strips + 1) // 2 if split and hinge.strips is not None else hinge.strips
    spans = strip_spans(whole, hinge, count)
    if split:
        spans += [(-b, -a) for a, b in spans]
    elevator = [[(pivot, a, t), (pivot, b, t)] for a, b in spans]
    upright = design.tail.rudder.hinge
    strips = strip_spans(lines.rudder, upright, upright.strips)
    rudder = [[(lines.rudder_pivot_mm, -t / 2.0, a), (lines.rudder_pivot_mm, -t / 2.0, b)] for a, b in strips]
    return [
        common.joint("elevator hinge", _placed(layout, elevator), design.material(hinge.material)),
        common.joint("rudder hinge", _placed(layout, rudder), design.material(upright.material)),
    ]


def _both_halves(half: Surface) -> Surface:
    return Surface(half.name, half.hinge_edge_mm, -half.to_mm, half.to_mm, 0.0, half.root_chord_mm, half.tip_chord_mm)
