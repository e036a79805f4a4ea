"""All wires drawn at true size on one drawing, each square to the planes of its bends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import count
from math import ceil, degrees, hypot, inf

from airframe import units
from airframe.cutting.lengths import exact
from airframe.cutting.loops import bounds
from airframe.cutting.papers import OVERLAP_MM, Box
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


@dataclass(frozen=True)
class _Block:
    """One elevation under its words."""

    curves: tuple[Curve, ...]
    texts: tuple[Text, ...]

    def box(self) -> Box:
        """Round everything, lettering too."""
        corners = [point for curve in self.curves for point in curve.points]
        for text in self.texts:
            width = width_mm(text.text, text.height_mm)
            left = text.at[0] - width / 2.0 if text.is_centred else text.at[0]
            corners += [(left, text.at[1] - text.height_mm), (left + width, text.at[1] + text.height_mm)]
        return bounds(corners)

    def moved(self, x: float, y: float) -> _Block:
        """The block elsewhere."""
        return _Block(
            tuple(replace(one, points=tuple((px + x, py + y) for px, py in one.points)) for one in self.curves),
            tuple(replace(text, at=(text.at[0] + x, text.at[1] + y)) for text in self.texts),
        )


def wire_drawing(wires: Sequence[WireTable], system: units.System, window: Point2 | None = None) -> Drawing:
    """Every elevation under its wire's name, its upper left corner the drawing's origin.

    With the window of a page, none of them lies across a seam unless it is larger than the page; the
    longest come first. Without, they stand one under the other.
    """
    blocks = [_block(wire, elevation, system) for wire in wires for elevation in wire.elevations]
    boxes = [block.box() for block in blocks]
    sizes = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes]
    corners = _stacked(sizes) if window is None else on_pages(sizes, window)
    laid = [block.moved(x - box[0], y - box[3]) for block, box, (x, y) in zip(blocks, boxes, corners, strict=True)]
    right = max(x + size[0] for (x, _), size in zip(corners, sizes, strict=True)) + EDGE_MM
    bottom = min(y - size[1] for (_, y), size in zip(corners, sizes, strict=True)) - EDGE_MM
    curves = tuple(curve for block in laid for curve in block.curves)
    texts = tuple(text for block in laid for text in block.texts)
    return Drawing("wires", "wires: true size, each square to its bends", (0.0, bottom, right, 0.0), curves, texts)


def _stacked(sizes: Sequence[Point2]) -> list[Point2]:
    corners, y = [], -EDGE_MM
    for _, height in sizes:
        corners.append((EDGE_MM, y))
        y -= height + GAP_MM
    return corners


def on_pages(sizes: Sequence[Point2], window: Point2) -> list[Point2]:
    """Upper left corners of boxes on pages that overlap, clear of the overlaps; the largest first, then in order."""
    step = window[0] - OVERLAP_MM, window[1] - OVERLAP_MM
    spans = [tuple(_pages(size[k], 0, step[k]) for k in (0, 1)) for size in sizes]
    columns = max(across for across, _ in spans)
    filled: dict[tuple[int, int], float] = {}
    corners: dict[int, Point2] = {}
    for number in sorted(range(len(sizes)), key=lambda k: (-spans[k][1], -spans[k][0])):
        width, height = sizes[number]
        for row, column in ((r, c) for r in count() for c in range(columns)):
            across, down = _pages(width, column, step[0]), _pages(height, row, step[1])
            cells = [(row + i, column + j) for i in range(down) for j in range(across)]
            depth = max(filled.get(cell, 0.0) for cell in cells)
            fits = depth == 0.0 or (down == 1 and _lead(row) + depth + height <= step[1])
            if column + across <= columns and fits:
                filled |= dict.fromkeys(cells, depth + height + GAP_MM if down == 1 else inf)
                corners[number] = column * step[0] + _lead(column), -(row * step[1] + _lead(row) + depth)
                break
    return [corners[number] for number in range(len(sizes))]


def _lead(number: int) -> float:
    """From a page's edge to what is drawn on it: the first has no neighbour before it, and no overlap to keep clear."""
    return OVERLAP_MM if number else EDGE_MM


def _pages(extent_mm: float, first: int, step_mm: float) -> int:
    """How many pages something takes along one axis, starting on this one."""
    return ceil((extent_mm + _lead(first)) / step_mm)


def _block(wire: WireTable, elevation: Elevation, system: units.System) -> _Block:
    """Its words start at (0, 0) and go down, the wire under them."""
    x0, _, _, y1 = bounds(point for edge in elevation.edges for point in edge)
    words = _words(wire, elevation, system)
    texts = [_left(text, 0.0, -(k + 0.5) * LINE_PITCH * LETTER_MM) for k, text in enumerate(words)]
    y = -len(words) * LINE_PITCH * LETTER_MM - NUMBER_CLEAR_MM
    curves, numbers = _drawn(wire, elevation, (-x0, y - y1))
    return _Block(tuple(curves), (*texts, *numbers))


def _left(text: str, x: float, y: float) -> Text:
    return Text((x, y), text, LETTER_MM, is_centred=False)


def _words(wire: WireTable, elevation: Elevation, system: units.System) -> list[str]:
    """What the wire is, and how far this elevation is true."""
    section = f"{wire.part.material.name} {exact(wire.diameter_mm, system)}"
    name = f"{wire.part.name}: {section}, cut {exact(wire.cut_mm, system)}"
    if not elevation.bends:
        return [f"{name}, straight"]
    radius = f"inside radius {exact(wire.inside_radius_mm, system)}"
    numbers = " and ".join(str(number) for number in elevation.bends)
    true = "all over" if elevation.is_whole else f"at bend {numbers} and beside it"
    return [name, f"{radius}; true size {true}"]


def _drawn(wire: WireTable, elevation: Elevation, shift: Point2) -> tuple[list[Curve], list[Text]]:
    def moved(points: Sequence[Point2]) -> list[Point2]:
        return [(x + shift[0], y + shift[1]) for x, y in points]

    curves = [line("MARK", moved(edge)) for edge in elevation.edges]
    texts = []
    corners = [elevation.middle[0], *elevation.bend_middles, elevation.middle[-1]]
    for number in elevation.bends:
        before, (x, y), after = corners[number - 1 : number + 2]
        out = _unit(x - before[0], y - before[1]), _unit(x - after[0], y - after[1])
        away = _unit(out[0][0] + out[1][0], out[0][1] + out[1][1])
        reach = wire.diameter_mm / 2.0 + NUMBER_CLEAR_MM
        text = f"{number}: {degrees(wire.rows[number - 1].angle_rad):.0f}°"
        texts.append(Text(moved([(x + away[0] * reach, y + away[1] * reach)])[0], text, NUMBER_MM))
    return curves, texts


def _unit(x: float, y: float) -> Point2:
    size = hypot(x, y) or 1.0
    return x / size, y / size
