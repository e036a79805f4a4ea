"""Decks, floors and windscreens: strips that follow the fuselage's top and bottom lines."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from airframe import ruler, strips
from airframe.axes import Place, Point
from airframe.drawing import Loop, Panel, Part, PartError, points3, rectangle
from airframe.layout import Layout
from airframe.materials import Material
from airframe.parts import inside
from airframe.parts.common import FUSELAGE, SLACK_MM, adhesive, both_sides_paths, joint
from airframe.parts.deck_runs import Run, Strip, inner_line, runs, strip
from airframe.parts.side_openings import EDGE_MM, LID_GAP_MM
from airframe.schema.fuselage import Deck, Opening


@dataclass(frozen=True)
class Piece:
    """One strip of a deck, as named in the weight statement."""

    name: str
    deck: Deck
    run: Run
    strip: Strip
    material: Material


def parts(layout: Layout) -> list[Part]:
    """Every deck in one or more strips, lids of their openings, glue. Raises PartError for what cannot be cut."""
    decks = layout.design.fuselage.decks
    boxes = [inside.Box(deck.name, deck.from_station_mm, deck.to_station_mm) for deck in decks]
    pieces: list[Piece] = []
    result: list[Part] = []
    for i, deck in enumerate(decks):
        inside.refuse_outside(layout, boxes[i])
        rivals = [
            box
            for box, other in zip(boxes[:i], decks[:i], strict=True)
            if (other.face, other.fit) == (deck.face, deck.fit)
        ]
        inside.refuse_meeting(boxes[i], rivals)
        own = _pieces(layout, deck)
        pieces += own
        result += [_panel_part(layout, piece) for piece in own]
        result += _glue(layout, deck, own)
    return result + [lid for opening in _openings(layout) for lid in _lids(opening, pieces)]


def _pieces(layout: Layout, deck: Deck) -> list[Piece]:
    design = layout.design
    material = design.material(deck.material or design.fuselage.material)
    longest = design.stock.usable_mm(material.name)[0] if material.look == "foam" else float("inf")
    cut = runs(layout, deck, longest)
    if not cut:
        raise PartError(deck.name, "nothing is left of it beside the gear plate")
    names = [deck.name] if len(cut) == 1 else [f"{deck.name} {i}" for i in range(1, len(cut) + 1)]
    pieces = [
        Piece(name, deck, run, strip(layout, deck, run, material.thickness_mm), material)
        for name, run in zip(names, cut, strict=True)
    ]
    for piece in pieces:
        if piece.strip.half_mm.min() < inside.LEAST_MM / 2.0:
            x = piece.strip.line[int(np.argmin(piece.strip.half_mm)), 0]
            room = f"{ruler.about(2.0 * piece.strip.half_mm.min())} between the sides at station {ruler.about(x)}"
            raise PartError(piece.name, f"has only {room}; end it where there are {ruler.least(inside.LEAST_MM)}")
    return pieces


def _panel_part(layout: Layout, piece: Piece) -> Part:
    panel, place = _bent(piece, piece.strip)
    holes = tuple(_hole(piece, opening) for opening in _openings(layout) if _is_cut(piece, opening))
    panel = replace(panel, holes=holes, bevels=piece.strip.bevels())
    return Part(piece.name, FUSELAGE, panel, place, piece.material)


def _bent(piece: Piece, outer: Strip) -> tuple[Panel, Place]:
    """The strip's drawing: own y runs aft from its front end, own x across it."""
    right = np.column_stack([outer.line[:, 0], outer.half_mm, outer.line[:, 1]])
    left = right * (1.0, -1.0, 1.0)
    first, second = (right, left) if outer.faces_up else (left, right)
    try:
        return strips.strip_panel(first, second, piece.material.thickness_mm)
    except strips.FlatnessError as error:
        raise PartError(piece.name, str(error)) from error


# --- openings ---------------------------------------------------------------------------------------------


def _openings(layout: Layout) -> list[Opening]:
    return [opening for opening in layout.design.fuselage.openings if opening.face in ("top", "bottom")]


def _is_cut(piece: Piece, opening: Opening) -> bool:
    is_along = opening.from_station_mm < piece.run.to_mm and opening.to_station_mm > piece.run.from_mm
    return opening.face == piece.deck.face and is_along


def _hole(piece: Piece, opening: Opening) -> Loop:
    """The opening in the strip's drawing. Raises PartError where it does not lie well inside the strip."""
    a, b, name = opening.from_station_mm, opening.to_station_mm, f"opening {opening.name}"
    first, last = piece.run.from_mm + EDGE_MM, piece.run.to_mm - EDGE_MM
    if a < first - SLACK_MM or b > last + SLACK_MM:
        between = f"station {ruler.ends(first, last)}"
        raise PartError(name, f"crosses an end of {piece.name}; keep it between {between}")
    half = float(piece.strip.clipped(a, b).half_mm.min()) - EDGE_MM
    if max(abs(opening.low_mm), abs(opening.high_mm)) > half + SLACK_MM:
        raise PartError(name, f"breaks out of {piece.name}; keep it within {ruler.most(half)} of the centre plane")
    across = _across(piece, opening)
    along = (piece.strip.along_mm(a), piece.strip.along_mm(b))
    return rectangle(across[0], along[0], across[1], along[1], opening.corner_radius_mm)


def _across(piece: Piece, opening: Opening) -> tuple[float, float]:
    """Own x of the opening's sides: the drawing starts at the right edge where the outer paper looks up."""
    start, sign = piece.strip.half_mm[0], -1.0 if piece.strip.faces_up else 1.0
    return float(start + sign * opening.low_mm), float(start + sign * opening.high_mm)


def _lids(opening: Opening, pieces: list[Piece]) -> list[Part]:
    """The lid of an opening, bent as the strip it is cut from; two where the opening goes through two decks."""
    cut = [piece for piece in pieces if _is_cut(piece, opening)]
    if not cut:
        text = f"no {opening.face} deck covers station {ruler.span(opening.from_station_mm, opening.to_station_mm)}"
        raise PartError(f"opening {opening.name}", f"{text}, so there is nothing to cut it in")
    if not opening.cover:
        return []
    names = [f"{opening.name} lid"] if len(cut) == 1 else [f"{opening.name} lid, {piece.deck.name}" for piece in cut]
    return [_lid(name, piece, opening) for name, piece in zip(names, cut, strict=True)]


def _lid(name: str, piece: Piece, opening: Opening) -> Part:
    size = min(opening.to_station_mm - opening.from_station_mm, opening.high_mm - opening.low_mm)
    if size < 4.0 * LID_GAP_MM:
        raise PartError(name, f"is {ruler.exact(size)} small; {ruler.least(4.0 * LID_GAP_MM)} each way is the least")
    outer = piece.strip
    ends = [
        outer.station_mm(outer.along_mm(x) + gap)
        for x, gap in ((opening.from_station_mm, LID_GAP_MM), (opening.to_station_mm, -LID_GAP_MM))
    ]
    outer = outer.clipped(*ends)
    half = (opening.high_mm - opening.low_mm) / 2.0 - LID_GAP_MM
    panel, place = _bent(piece, replace(outer, half_mm=np.full(len(outer.line), half)))
    # Rounded corners begin on the first facet, which is the one that the place carries.
    radius = min(max(opening.corner_radius_mm - LID_GAP_MM, 0.0), outer.along_mm(float(outer.line[1, 0])) / 2.0)
    corners = np.array(panel.outline.points)
    (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
    outline = rectangle(x0, y0, x1, y1, radius)
    middle = (opening.low_mm + opening.high_mm) / 2.0
    return Part(name, FUSELAGE, replace(panel, outline=outline), place.moved(dy_mm=middle), piece.material)


# --- glue ---------------------------------------------------------------------------------------------------


def _glue(layout: Layout, deck: Deck, pieces: list[Piece]) -> list[Part]:
    """A bead inside along both edges, and one across every butt joint."""
    paths: list[tuple[Point, ...]] = []
    for piece in pieces:
        line = inner_line(deck, piece.run, piece.material.thickness_mm)
        half = [layout.inner_half_width_mm(x) for x in line[:, 0]]
        paths += both_sides_paths([np.column_stack([line[:, 0], half, line[:, 1]])])
    for front, rear in pairwise(pieces):
        if rear.run.from_mm - front.run.to_mm < inside.TOUCH_MM:
            x, z = inner_line(deck, rear.run, rear.material.thickness_mm)[0]
            half_width = layout.inner_half_width_mm(float(x))
            paths.append(points3([(x, -half_width, z), (x, half_width, z)]))
    side = layout.design.material(layout.design.fuselage.material)
    return [joint(deck.name, paths, adhesive(layout.design, side, pieces[0].material))]
