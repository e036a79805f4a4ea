"""The cutting outline of one part with its sizes, as a small drawing for the page."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from airframe import units
from airframe.cutting.patterns import Pattern
from airframe.drawing import Point2
from airframe.units import System
from viewers.bench.refusals import NotFound
from viewers.paper.drawing import Curve, Drawing, Text, line, outline
from viewers.paper.svg import svg

ROOM_SHARE = 0.12
"""Of the part's longer side, kept free round it for its sizes."""
LETTER_SHARE = 0.035
LEAST_LETTER_MM, LEAST_ROOM_MM = 2.0, 7.0
ARROW_SHARE, ARROW_SLOPE = 0.6, 0.3
"""Length of an arrowhead, in letters, and half its width in lengths."""


def template_svg(drawn: Sequence[Pattern], name: str, system: System) -> str:
    """The outline as the knife goes, scores, bevels and pencil marks, length and width; one unit is 1 mm.

    Raises NotFound for what is not among the patterns of what is cut from sheet.
    """
    found = next((one for one in drawn if one.name == name), None)
    if found is None:
        message = f"'{name}' is not cut from sheet: it has no template"
        raise NotFound(message)
    return svg(_drawing(found, system)).decode()


def _drawing(pattern: Pattern, system: System) -> Drawing:
    length, width = pattern.size
    longer = max(length, width)
    letter = max(LETTER_SHARE * longer, LEAST_LETTER_MM)
    room = max(ROOM_SHARE * longer, LEAST_ROOM_MM)
    curves = [outline("CUT", pattern.outline), *(outline("CUT", hole) for hole in pattern.holes)]
    curves += [line("SCORE", (one.start, one.end), one.is_far) for one in pattern.scores]
    curves += [line("BEVEL", (one.start, one.end), one.is_far) for one in pattern.bevels]
    curves += [line("MARK", one.path, one.is_far) for one in pattern.pencil]
    across, along = room / 2.0, ARROW_SHARE * letter
    curves += _sized((0.0, -across), (length, -across), along) + _sized((-across, 0.0), (-across, width), along)
    above = letter * 0.8
    texts = (
        Text((length / 2.0, -across - above), units.length(length, system), letter),
        Text((-across - above, width / 2.0), units.length(width, system), letter, pi / 2.0),
    )
    box = (-room - above, -room - above, length + room / 2.0, width + room / 2.0)
    return Drawing("template", f"{pattern.name}, {pattern.material.name}", box, tuple(curves), texts)


def _sized(start: Point2, end: Point2, arrow_mm: float) -> list[Curve]:
    """A dimension line from one point to another, along one of the drawing's axes, with its arrowheads."""
    is_level = start[1] == end[1]
    fin = ARROW_SLOPE * arrow_mm
    heads = []
    for (x, y), inward in ((start, arrow_mm), (end, -arrow_mm)):
        fins = [(x + inward, y + side) if is_level else (x + side, y + inward) for side in (fin, -fin)]
        heads.append(line("MARK", (fins[0], (x, y), fins[1])))
    return [line("MARK", (start, end)), *heads]
