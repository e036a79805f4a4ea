"""All wires drawn at true size on one drawing, each square to the planes of its bends."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, hypot

from airframe import units
from airframe.cutting.loops import bounds
from airframe.cutting.wire_tables import Elevation, WireTable
from airframe.drawing import Point2
from viewers.paper.drawing import Curve, Drawing, Text, line
from viewers.paper.lettering import LINE_PITCH, width_mm

LETTER_MM = 2.5
NUMBER_MM = 2.0
NUMBER_CLEAR_MM = 5.0
"""From a wire's skin to the middle of a bend's number."""
GAP_MM = 10.0
EDGE_MM = 4.0


def wire_drawing(wires: Sequence[WireTable], system: units.System) -> Drawing | None:
    """One elevation under the other, each under its name; None without wires."""
    if not wires:
        return None
    curves: list[Curve] = []
    texts: list[Text] = []
    y, right = 0.0, 0.0
    for wire in wires:
        for elevation in wire.elevations:
            x0, y0, x1, y1 = bounds(point for edge in elevation.edges for point in edge)
            words = _words(wire, elevation, system)
            for k, text in enumerate(words):
                texts.append(_left(text, 0.0, y - (k + 0.5) * LINE_PITCH * LETTER_MM))
            y -= len(words) * LINE_PITCH * LETTER_MM + 2.0 + (y1 - y0)
            drawn, lettered = _drawn(wire, elevation, (-x0, y - y0))
            curves += drawn
            texts += lettered
            right = max(right, x1 - x0, *(width_mm(text, LETTER_MM) for text in words))
            y -= GAP_MM
    box = (-EDGE_MM, y + GAP_MM - EDGE_MM, right + EDGE_MM, EDGE_MM)
    return Drawing("wires", "wires at true size", box, tuple(curves), tuple(texts))


def _left(text: str, x: float, y: float) -> Text:
    return Text((x, y), text, LETTER_MM, is_centred=False)


def _words(wire: WireTable, elevation: Elevation, system: units.System) -> list[str]:
    """What the wire is, and how far this elevation is true."""
    name = f"{wire.part.name}: {wire.part.material.name} {wire.diameter_mm:.3g} mm, cut {wire.cut_mm:.1f} mm"
    if not elevation.bends:
        return [f"{name}, straight"]
    radius = f"bends of {units.length(wire.inside_radius_mm, system)} inside radius"
    numbers = " and ".join(str(number) for number in elevation.bends)
    true = "true all over" if elevation.is_whole else f"true at bend {numbers} and the straights beside it"
    return [name, f"{radius}; this view is {true}"]


def _drawn(wire: WireTable, elevation: Elevation, shift: Point2) -> tuple[list[Curve], list[Text]]:
    def moved(points: Sequence[Point2]) -> list[Point2]:
        return [(x + shift[0], y + shift[1]) for x, y in points]

    curves = [line("MARK", moved(edge)) for edge in elevation.edges]
    texts = []
    corners = [elevation.middle[0], *elevation.bend_middles, elevation.middle[-1]]
    for number in elevation.bends:
        (x0, y0), (x, y), (x1, y1) = corners[number - 1 : number + 2]
        away = x - (x0 + x1) / 2.0, y - (y0 + y1) / 2.0
        reach = (wire.diameter_mm / 2.0 + NUMBER_CLEAR_MM) / max(hypot(*away), 1e-6)
        text = f"{number}: {degrees(wire.rows[number - 1].angle_rad):.0f}°"
        texts.append(Text(moved([(x + away[0] * reach, y + away[1] * reach)])[0], text, NUMBER_MM))
    return curves, texts
