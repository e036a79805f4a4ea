"""Level boards between the fuselage's sides: battery tray, servo deck, seats."""

from __future__ import annotations

from dataclasses import replace
from math import inf, tan

from airframe import ruler
from airframe.axes import Point
from airframe.drawing import Loop, Panel, Part, PartError, loop, rectangle
from airframe.layout import Layout
from airframe.parts import inside
from airframe.parts.common import FUSELAGE, adhesive, joint, level
from airframe.parts.firewall_plate import firewall_plate
from airframe.parts.inside import Box
from airframe.parts.side_planes import taper_station_mm
from airframe.schema.fuselage import Former, Shelf

SLOT_EDGE_MM = 1.0
"""The least left of a board between a slot and its edge."""
_STEP_MM = 1e-6
"""Just beside a station where the clear width may step."""
_MEETS_MM = 0.5
"""An end this near a cross piece is glued to it."""


def parts(layout: Layout) -> list[Part]:
    """Every shelf in one or more pieces with its glue. Raises PartError where one has no room."""
    result: list[Part] = []
    boxes = inside.shelves(layout)
    for i, shelf in enumerate(layout.design.fuselage.shelves):
        inside.refuse_outside(layout, boxes[i])
        inside.refuse_height(layout, boxes[i])
        inside.refuse_meeting(boxes[i], [*boxes[:i], *inside.braces(layout)])
        result += _shelf(layout, shelf, boxes[i])
    return result


def _shelf(layout: Layout, shelf: Shelf, box: Box) -> list[Part]:
    material = layout.design.material(shelf.material or layout.design.fuselage.material)
    pieces = _between_cross_pieces(layout, shelf, box)
    outlines = [_outline(layout, shelf, piece) for piece in pieces]
    slots = _slots(shelf, pieces, outlines)
    result: list[Part] = []
    lines: list[list[Point]] = []
    for piece, right, holes in zip(pieces, outlines, slots, strict=True):
        outline = loop([*right, *((x, -y) for x, y in reversed(right))])
        panel = Panel(outline, material.thickness_mm, holes)
        result.append(Part(piece.name, FUSELAGE, panel, level(shelf.water_line_mm), material))
        lines += _seams(layout, shelf, piece, right)
    if lines:
        sides = layout.design.material(layout.design.fuselage.material)
        result.append(joint(shelf.name, lines, adhesive(layout.design, sides, material)))
    return result


def _between_cross_pieces(layout: Layout, shelf: Shelf, box: Box) -> list[Box]:
    """The shelf cut wherever something stands across the fuselage that does not let it pass."""
    free = [(box.from_mm, box.to_mm)]
    for other in _in_the_way(layout, shelf, box):
        cut = [(a, min(b, other.from_mm)) for a, b in free] + [(max(a, other.to_mm), b) for a, b in free]
        free = sorted((a, b) for a, b in set(cut) if b - a >= inside.LEAST_MM)
    if not free:
        raise PartError(box.name, f"nothing is left of it between formers; {ruler.least(inside.LEAST_MM)} is the least")
    if len(free) == 1:
        return [replace(box, from_mm=free[0][0], to_mm=free[0][1])]
    return [replace(box, name=f"{box.name} {i}", from_mm=a, to_mm=b) for i, (a, b) in enumerate(free, 1)]


def _in_the_way(layout: Layout, shelf: Shelf, box: Box) -> list[Box]:
    plate, half = firewall_plate(layout), layout.inner_half_width_mm(0.0)
    # Only the part of the tilted firewall at the shelf's own height and width counts.
    half = half if shelf.width_mm is None else shelf.width_mm / 2.0
    reach = ((-half, half), (box.low_mm, box.high_mm))
    firewall = Box("the firewall", plate.front_mm(*reach), plate.rear_mm(*reach))
    named = {inside.former_name(former.name): former for former in layout.design.fuselage.formers}
    others = [other for other in inside.cross_pieces(layout)[1:] if other.meets(box)]
    return [other for other in (firewall, *others) if not _passes(layout, shelf, box, named.get(other.name))]


def _passes(layout: Layout, shelf: Shelf, box: Box, former: Former | None) -> bool:
    """Whether a narrow shelf goes through a former's window."""
    if former is None or former.rim_mm is None or shelf.width_mm is None:
        return False
    x = former.station_mm
    thickness = layout.design.material(former.material or layout.design.fuselage.material).thickness_mm
    low, high = layout.clear_height_mm(x, x + thickness)
    window = layout.inner_half_width_mm(x + thickness) - former.rim_mm
    fits_upright = low + former.rim_mm <= box.low_mm and box.high_mm <= high - former.rim_mm
    return fits_upright and shelf.width_mm / 2.0 <= window


def _outline(layout: Layout, shelf: Shelf, piece: Box) -> list[tuple[float, float]]:
    """The right edge of a piece, front to rear: (station, butt line)."""
    a, b = piece.from_mm, piece.to_mm
    widest = inf if shelf.width_mm is None else shelf.width_mm / 2.0
    clear = min(layout.inner_half_width_mm(x) for x in (a, b))
    if clear < inside.LEAST_MM or (shelf.width_mm is not None and widest > clear + inside.TOUCH_MM):
        stated = "has" if shelf.width_mm is None else f"is {ruler.exact(shelf.width_mm)} wide; it has"
        text = f"{stated} {ruler.about(2.0 * clear)} between the sides at station {ruler.about(b)}"
        raise PartError(piece.name, text)
    marks = [a, b, *(box.to_mm for box in inside.firewall_doublers(layout) or ())]
    if layout.taper_rad:
        # The inner faces turn where the score's groove closes, a little ahead of the score itself.
        marks.append(taper_station_mm(layout) - layout.side_thickness_mm * tan(layout.taper_rad / 2.0))
    edge: list[tuple[float, float]] = []
    for x in sorted({x for x in marks if a <= x <= b}):
        for beside in (x - _STEP_MM, x + _STEP_MM):
            y = min(inside.clear_half_width_mm(layout, beside), widest)
            if a < beside < b and not (edge and edge[-1][0] == x and abs(edge[-1][1] - y) < inside.TOUCH_MM):
                edge.append((x, y))
    return edge


def _slots(shelf: Shelf, pieces: list[Box], outlines: list[list[tuple[float, float]]]) -> list[tuple[Loop, ...]]:
    """The slots that fall on each piece. Raises PartError for one that lies on none."""
    result: list[list[Loop]] = [[] for _ in pieces]
    for number, slot in enumerate(shelf.slots, 1):
        x, y = slot.station_mm, slot.butt_line_mm
        a, b = x - slot.length_mm / 2.0, x + slot.length_mm / 2.0
        reach = abs(y) + slot.width_mm / 2.0 + SLOT_EDGE_MM
        for holes, piece, edge in zip(result, pieces, outlines, strict=True):
            is_inside = piece.from_mm + SLOT_EDGE_MM <= a and b <= piece.to_mm - SLOT_EDGE_MM
            if is_inside and reach <= min(half for _, half in edge):
                holes.append(rectangle(a, y - slot.width_mm / 2.0, b, y + slot.width_mm / 2.0))
                break
        else:
            room = ", ".join(
                f"{ruler.span(piece.from_mm, piece.to_mm)} by {ruler.about(2.0 * min(half for _, half in edge))} wide"
                for piece, edge in zip(pieces, outlines, strict=True)
            )
            text = f"slot {number} at station {ruler.span(a, b)}, butt line {ruler.exact(y)}, does not lie on the board"
            raise PartError(shelf.name, f"{text} ({room}) with {ruler.exact(SLOT_EDGE_MM)} to spare")
    return [tuple(holes) for holes in result]


def _seams(layout: Layout, shelf: Shelf, piece: Box, right: list[tuple[float, float]]) -> list[list[Point]]:
    """Joint lines under a piece, its upper face stays clear: along the sides, and where an end meets a cross piece."""
    z = piece.low_mm
    lines: list[list[Point]] = []
    if shelf.width_mm is None:
        lines += [[(x, sign * y, z) for x, y in right] for sign in (1.0, -1.0)]
    for x, half in (right[0], right[-1]):
        if any(min(abs(x - other.from_mm), abs(x - other.to_mm)) < _MEETS_MM for other in inside.cross_pieces(layout)):
            lines.append([(x, -half, z), (x, half, z)])
    return lines
