"""The ways into the fuselage: hatches, holes in its sides, and the bays that no deck closes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from airframe.checks.changes import Change, altered
from airframe.drawing import PartError
from airframe.layout import Edge, Layout
from airframe.parts import decks, fuselage_sides, inside
from airframe.parts.inside import Box
from airframe.schema.fuselage import Opening

LEAST_MM = 10.0
"""Nothing goes in, nor does a finger, through what is smaller than this."""
NEAR_FACE_MM = 15.0
"""What stands across the fuselage this near an open top or bottom cuts the opening in two."""


@dataclass(frozen=True)
class Way:
    """One rectangular way in, clear of what stands across it."""

    name: str
    face: str
    """top, bottom, left, right or sides."""
    from_mm: float
    to_mm: float
    low_mm: float
    """Left butt line of an opening in top or bottom; lower water line of one in a side."""
    high_mm: float

    @property
    def is_level(self) -> bool:
        """Whether things go in from above or below."""
        return self.face in ("top", "bottom")

    @property
    def size(self) -> tuple[float, float]:
        """Fore and aft, and across."""
        return self.to_mm - self.from_mm, self.high_mm - self.low_mm


def ways(layout: Layout) -> list[Way]:
    """Every way in. A hatch or bay with a former or brace across it counts as two."""
    return [*(way for opening in layout.design.fuselage.openings for way in _hatch(layout, opening)), *_bays(layout)]


def cut(layout: Layout, changes: Sequence[Change]) -> Layout | None:
    """The layout with openings or formers changed; None for no change, or if sides and decks cannot be cut so."""
    if not changes:
        return None
    new = Layout(altered(layout.design, *changes))
    try:
        decks.parts(new)
        fuselage_sides.parts(new)
    except PartError:
        return None
    return new


def _hatch(layout: Layout, opening: Opening) -> Iterator[Way]:
    a, b, low, high = opening.from_station_mm, opening.to_station_mm, opening.low_mm, opening.high_mm
    if opening.face in ("top", "bottom"):
        for start, end in _clear(layout, opening.face, a, b):
            yield Way(f"the {opening.name}", opening.face, start, end, low, high)
    else:
        yield Way(f"the {opening.name}", opening.face, a, b, low, high)


def _bays(layout: Layout) -> Iterator[Way]:
    """Stretches without a deck, as wide as the fuselage is inside. The wing that lies over one comes off."""
    wing = layout.design.wing
    edges: tuple[Edge, ...] = ("top", "bottom")
    for edge in edges:
        for a, b in _uncovered(layout, edge):
            is_under_wing = edge == "top" and a < wing.station_mm + wing.root_chord_mm and b > wing.station_mm
            name = "the open bay under the wing" if is_under_wing else f"the open {edge}"
            for start, end in _clear(layout, edge, a, b):
                half = min(layout.inner_half_width_mm(x) for x in (start, end))
                yield Way(name, edge, start, end, -half, half)


def _uncovered(layout: Layout, edge: Edge) -> list[tuple[float, float]]:
    covers = [
        Box(deck.name, deck.from_station_mm, deck.to_station_mm)
        for deck in layout.design.fuselage.decks
        if deck.face == edge
    ]
    if edge == "bottom" and layout.gear_plate is not None:
        covers.append(Box("the gear plate", layout.gear_plate.from_mm, layout.gear_plate.to_mm))
    return _without(layout.nose_mm, layout.tail_mm, covers)


def _clear(layout: Layout, edge: Edge, a: float, b: float) -> list[tuple[float, float]]:
    """A stretch of the top or bottom without what stands across the fuselage there."""
    across = [*inside.cross_pieces(layout), *inside.braces(layout), *inside.dowels(layout)]
    return _without(a, b, [piece for piece in across if _is_near(layout, edge, piece)])


def _is_near(layout: Layout, edge: Edge, piece: Box) -> bool:
    z = layout.water_line_mm(edge, (piece.from_mm + piece.to_mm) / 2.0)
    return piece.high_mm > z - NEAR_FACE_MM if edge == "top" else piece.low_mm < z + NEAR_FACE_MM


def _without(a: float, b: float, pieces: list[Box]) -> list[tuple[float, float]]:
    free, start = [], a
    for piece in sorted(pieces, key=lambda one: one.from_mm):
        if min(piece.from_mm, b) - start >= LEAST_MM:
            free.append((start, min(piece.from_mm, b)))
        start = max(start, piece.to_mm)
    return [*free, (start, b)] if b - start >= LEAST_MM else free
