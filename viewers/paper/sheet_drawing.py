"""One sheet drawn at true size, with everything that is cut from it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from math import degrees

from airframe import units
from airframe.cutting.lengths import exact
from airframe.cutting.papers import Box
from airframe.cutting.patterns import Pattern, PencilLine
from airframe.cutting.sheets import Sheet
from airframe.drawing import Point2
from viewers.paper.drawing import LEAST_LETTER_MM, Curve, Drawing, Text, line, outline
from viewers.paper.lettering import Lettering

NAME_HEIGHTS_MM = (3.5, 3.0, 2.5, 2.0, LEAST_LETTER_MM)
NOTE_HEIGHTS_MM = (2.0, LEAST_LETTER_MM)
TITLE_MM = 3.5
TITLE_ROOM_MM = 9.0
"""Under the sheet, for its title."""
GRAIN_ARROWS_MM = (24.0, 12.0, 7.0, 4.5)
"""Lengths of the grain's arrow, in the order they are tried."""
GRAIN_OFF = (-0.3, 0.3, 0.0, -0.15, 0.15)
"""Where across the piece it is tried, from its middle, in widths."""
GRAIN_CLEAR_MM = 1.0
"""From the arrow to the edge of its piece, at least."""
HEAD_MM, HEAD_SLOPE = 2.0, 0.35
CUT_V_RAD = 0.17
"""From this bend on (10 degrees) a score is opened to a V."""


Seams = Sequence[tuple[Point2, Point2]]


def sheet_drawing(sheet: Sheet, numbers: Mapping[str, int], system: units.System, seams: Seams = ()) -> Drawing:
    """The sheet's own corner is the drawing's origin; lettering keeps off the seams between pages where it can."""
    curves: list[Curve] = [line("MARK", _rectangle(sheet.length_mm, sheet.width_mm))]
    texts: list[Text] = []
    for pattern in sheet.patterns:
        drawn, lettered = _piece(pattern, numbers[pattern.name], sheet, system, seams)
        curves += drawn
        texts += lettered
    title = _title(sheet, system)
    texts.append(Text((0.4 * TITLE_MM * len(title) + 2.0, -TITLE_ROOM_MM / 2.0), title, TITLE_MM))
    plain = re.sub(r"[^a-z0-9]+", "-", sheet.material.name.lower()).strip("-")
    return Drawing(f"sheet-{sheet.number}-{plain}", title, sheet_box(sheet), tuple(curves), tuple(texts))


def sheet_box(sheet: Sheet) -> Box:
    """The sheet with its edge and its title."""
    return -2.0, -TITLE_ROOM_MM, sheet.length_mm + 2.0, sheet.width_mm + 2.0


def _title(sheet: Sheet, system: units.System) -> str:
    size = f"{units.length(sheet.length_mm, system)} x {units.length(sheet.width_mm, system)}"
    return f"sheet {sheet.number}: {sheet.material.name}, {size}"


def _rectangle(length: float, width: float) -> list[Point2]:
    return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width), (0.0, 0.0)]


def _piece(
    pattern: Pattern, number: int, sheet: Sheet, system: units.System, seams: Seams
) -> tuple[list[Curve], list[Text]]:
    import shapely

    holes = [hole.flattened() for hole in pattern.holes]
    lettering = Lettering(shapely.Polygon(pattern.outline.flattened(), holes), seams)
    curves = [outline("CUT", pattern.outline), *(outline("CUT", hole) for hole in pattern.holes)]
    curves += [line("SCORE", (s.start, s.end), s.is_far) for s in pattern.scores]
    curves += [line("BEVEL", (b.start, b.end), b.is_far) for b in pattern.bevels]
    curves += [line("MARK", mark.path, mark.is_far) for mark in pattern.pencil]
    grain = _grain(lettering, sheet.grain)
    curves += grain
    lettering.avoid(curve.points for curve in curves if curve.layer != "CUT")
    _name(lettering, pattern, number, system)
    _notes(lettering, pattern)
    return curves, lettering.texts


def _name(lettering: Lettering, pattern: Pattern, number: int, system: units.System) -> None:
    """What is written on a piece: all of it in one place, or line by line, or its number alone."""
    head = f"{number} {pattern.name}"
    count = "1 off" if pattern.alike == 1 else f"1 of {pattern.alike} alike"
    face = f"this face looks {pattern.looks}"
    depth = []
    if pattern.scores:
        depth = [f"scores {exact(pattern.scores[0].depth_mm, system)} deep"]
    full = [head, f"{pattern.material.name}, {count}", face, *depth]
    if lettering.block([full, [head, count, face, *depth]], NAME_HEIGHTS_MM):
        return
    for words in ([head], _halved(head), [str(number)]), ([face], [f"looks {pattern.looks}"]), ([count],), (depth,):
        lettering.block([one for one in words if one], NAME_HEIGHTS_MM[2:])


def _halved(words: str) -> list[str]:
    """The words on two lines of about the same length."""
    spaces = [k for k, letter in enumerate(words) if letter == " "]
    middle = min(spaces, key=lambda k: abs(2 * k - len(words)))
    return [words[:middle], words[middle + 1 :]]


def _grain(lettering: Lettering, grain: str) -> list[Curve]:
    """An arrow with two heads along the grain, where it fits inside the piece."""
    import shapely

    if grain not in ("length", "width"):
        return []
    x0, y0, x1, y1 = lettering.area.bounds
    along, across = ((1.0, 0.0), (0.0, 1.0)) if grain == "length" else ((0.0, 1.0), (1.0, 0.0))
    middle = shapely.maximum_inscribed_circle(lettering.area, tolerance=0.5).coords[0]
    centre = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    off = [((x1 - x0) * across[0] + (y1 - y0) * across[1]) * share for share in GRAIN_OFF]
    spots = [*((centre[0] + d * across[0], centre[1] + d * across[1]) for d in off), middle]
    for x, y in spots:
        for size in GRAIN_ARROWS_MM:
            ends = [(x + way * size / 2.0 * along[0], y + way * size / 2.0 * along[1]) for way in (-1.0, 1.0)]
            if lettering.area.contains(shapely.LineString(ends).buffer(GRAIN_CLEAR_MM)):
                heads = [_head(end, way, along, across) for end, way in zip(ends, (1.0, -1.0), strict=True)]
                return [line("GRAIN", ends), *heads]
    return []


def _head(tip: Point2, way: float, along: Point2, across: Point2) -> Curve:
    """Two fins back from the tip."""
    fins = [
        tuple(tip[k] + way * HEAD_MM * along[k] + side * HEAD_MM * HEAD_SLOPE * across[k] for k in (0, 1))
        for side in (1.0, -1.0)
    ]
    return line("GRAIN", ((fins[0][0], fins[0][1]), tip, (fins[1][0], fins[1][1])))


def _notes(lettering: Lettering, pattern: Pattern) -> None:
    for one in pattern.scores:
        cut = "V" if one.angle_rad >= CUT_V_RAD else "score"
        lettering.along((one.start, one.end), f"{cut} {degrees(one.angle_rad):.0f}°", NOTE_HEIGHTS_MM)
    said = None
    for bevel in pattern.bevels:
        text = f"bevel {degrees(bevel.angle_rad):.0f}°" + (" under" if bevel.is_far else "")
        if text != said and lettering.along((bevel.start, bevel.end), text, NOTE_HEIGHTS_MM):
            said = text
    for name, paths in _by_name(pattern.pencil):
        any(lettering.along(mark.path, name + (" (under)" if mark.is_far else ""), NOTE_HEIGHTS_MM) for mark in paths)


def _by_name(pencil: tuple[PencilLine, ...]) -> Iterator[tuple[str, list[PencilLine]]]:
    """Pencil lines by what they say, the longest of each first: one lettering is enough."""
    for name in dict.fromkeys(mark.name for mark in pencil):
        same = [mark for mark in pencil if mark.name == name]
        yield name, sorted(same, key=lambda mark: -_reach(mark.path))


def _reach(path: tuple[Point2, ...]) -> float:
    return max(abs(path[0][0] - x) + abs(path[0][1] - y) for x, y in path)
