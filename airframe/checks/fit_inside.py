"""Whether what should be inside the fuselage is, and what would make room for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import count, takewhile

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.checks.changes import Change, altered, settings
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.pairs import TOUCH_MM, Pairs
from airframe.checks.room import Room, best_room, fuselage_space
from airframe.checks.rounding import length_text, round_up
from airframe.drawing import Part
from airframe.layout import Layout
from airframe.schema.equipment import Battery, Item, RoundItem

INSIDE = "geometry; the gap is limits.fit.gap"
WIDEST_MM = 400.0
"""No remedy proposes a fuselage wider than this."""
SCAN_MM = 5.0
"""Step in which other stations are tried for an item that does not fit where it is."""
_WHERE = {
    "ahead": "ahead of the nose",
    "behind": "behind the tail",
    "left": "through the left side",
    "right": "through the right side",
    "below": "below the floor",
    "above": "above the deck",
}

Boxed = Item | RoundItem | Battery
"""Equipment with a place of its own and room of its own."""


def boxed_items(pairs: Pairs) -> Iterator[tuple[Part, Boxed]]:
    """Every fitted item of a plain shape, with its part."""
    parts = {part.name: part for part in pairs.aeroplane.parts}
    for name, item in pairs.aeroplane.design.equipment.items():
        if item.fitted and isinstance(item, Item | RoundItem | Battery):
            yield parts[name], item


def findings(pairs: Pairs) -> list[Finding]:
    """One finding for each item that has a place inside or outside the fuselage."""
    found = []
    for part, item in boxed_items(pairs):
        box = pairs.boxes([part])[0]
        if item.place == "inside":
            found.append(_inside(pairs.aeroplane.layout, part, box, item))
        else:
            found += _outside(pairs.aeroplane.layout, part, box)
    return found


# --- inside ---------------------------------------------------------------------------------------------


def _inside(layout: Layout, part: Part, box: Array, item: Boxed) -> Finding:
    gap, system = layout.design.limits.fit.gap_mm, layout.design.units
    room = best_room(layout, box)
    _, least = room.least()
    missing = room.missing(TOUCH_MM)
    verdict: Verdict
    if missing:
        sticks = ", ".join(f"{units.length(mm, system)} {_WHERE[name]}" for name, mm in missing.items())
        verdict, text = "fail", f"the {part.name} should be inside but sticks out {sticks}"
    elif tight := _tight(room, gap):
        verdict = "caution"
        text = f"the {part.name} has only {units.length(max(tight[1], 0.0), system)} to spare {_TO[tight[0]]}"
        least = max(tight[1], 0.0)
    else:
        side = min(room.left, room.right)
        verdict, text = "pass", f"the {part.name} is inside, {units.length(max(side, 0.0), system)} clear of the sides"
    remedies = () if verdict == "pass" else tuple(_remedies(layout, part, box, item))
    value = -missing_most(room) if missing else max(least, 0.0)
    return Finding(f"fit.inside: {part.name}", verdict, value, "mm", (0.0, None), text, INSIDE, remedies, (part.name,))


_TO = {
    "left": "at the left side",
    "right": "at the right side",
    "below": "below it",
    "above": "above it",
    "ahead": "at the nose",
    "behind": "at the tail",
}


def missing_most(room: Room) -> float:
    """How far the item sticks out where it does so most (mm); 0 inside."""
    return max(0.0, -room.least()[1])


def _tight(room: Room, gap_mm: float) -> tuple[str, float] | None:
    """The face that leaves too little, or None.

    An item may lie against one wall, which then holds it; what counts is that it can be put there: the
    opposite wall is clear of it by the gap, and no wall is nearer than the gap without holding it. How far it
    is above the floor does not matter: something flat is under it, tape or foam.
    """
    for low, high in (("left", "right"), ("below", "above")):
        near, far = sorted((low, high), key=lambda face: float(getattr(room, face)))
        first, second = getattr(room, near), getattr(room, far)
        if second < gap_mm - 1e-6:
            return far, second
        if TOUCH_MM < first < gap_mm - 1e-6 and near != "below":
            return near, first
    return None


def _is_well(room: Room, gap_mm: float) -> bool:
    return not room.missing(TOUCH_MM) and _tight(room, gap_mm) is None


# --- remedies -------------------------------------------------------------------------------------------


def _remedies(layout: Layout, part: Part, box: Array, item: Boxed) -> Iterator[Remedy]:
    """Move it where it is; make the fuselage wider; or move it along to where there is room."""
    system = layout.design.units
    here = _moved(layout, part.name, box, item)
    if here:
        yield Remedy(f"move the {part.name} to {_spoken(here, layout)}", settings(here, system))
        return
    wider = _widened(layout, part.name, box, item)
    if wider:
        width, *moves = wider
        text = f"widen the fuselage to {width.written(system)}"
        if moves:
            text += f" and move the {part.name} to {_spoken(moves, layout)}"
        yield Remedy(text, settings(wider, system))
    along = _elsewhere(layout, part.name, box, item)
    if along:
        yield Remedy(f"move the {part.name} to {_spoken(along, layout)}", settings(along, system))
    lacking = _height_lacking(layout, box)
    if not wider and not along and lacking > 0.0:
        yield Remedy(f"make the fuselage {length_text(round_up(lacking, system), system)} higher there")


def _spoken(changes: list[Change], layout: Layout) -> str:
    names = {"station_mm": "station", "butt_line_mm": "butt line", "water_line_mm": "water line"}
    return " and ".join(f"{names[str(one.path[-1])]} {one.written(layout.design.units)}" for one in changes)


def _moved(layout: Layout, name: str, box: Array, item: Boxed, to_mm: float | None = None) -> list[Change]:
    """The moves that put the item well inside at its station, or at another; none if nothing does.

    It comes to the nearest place across, and stands on the floor if its height is wrong.
    """
    gap = layout.design.limits.fit.gap_mm
    half = (box[3:] - box[:3]) / 2.0
    middle = (box[3:] + box[:3]) / 2.0
    target = middle.copy()
    if to_mm is not None:
        target[0] = to_mm
    space = fuselage_space(layout, float(target[0] - half[0]), float(target[0] + half[0]))
    free = space.half_width_mm - gap - half[1]
    if free < 0.0 or space.high_mm - space.low_mm < 2.0 * half[2] + gap:
        return []
    as_it_is = space.room(np.concatenate([target - half, target + half]))
    if min(as_it_is.left, as_it_is.right) < gap:
        target[1] = _inwards(np.clip(target[1], -free, free))
    if not _is_well(replace(as_it_is, left=gap, right=gap), gap):
        target[2] = space.low_mm + half[2]
    if not _is_well(space.room(np.concatenate([target - half, target + half])), gap):
        return []
    return _as_changes(name, item, target - middle)


def _inwards(y_mm: float) -> float:
    """The next whole millimetre towards the centre plane."""
    return float(np.trunc(y_mm))


def _as_changes(name: str, item: Boxed, move: Array) -> list[Change]:
    """A move as new values of the item's own coordinates; what does not move is left out."""
    fields = ("station_mm", "butt_line_mm", "water_line_mm")
    return [
        Change(("equipment", name, field), round(getattr(item, field) + float(step), 2))
        for field, step in zip(fields, move, strict=True)
        if abs(step) > 1e-3
    ]


def _widened(layout: Layout, name: str, box: Array, item: Boxed) -> list[Change]:
    """The least whole width that takes the item at its station, and the moves that go with it."""
    design = layout.design
    half = float(box[4] - box[1]) / 2.0
    t, gap = layout.side_thickness_mm, design.limits.fit.gap_mm
    start = max(2.0 * (half + gap + t), design.fuselage.width_mm)
    widths = (round_up(start, design.units) + step for step in count(0.0, round_up(1e-3, design.units)))
    for width in takewhile(lambda mm: mm <= WIDEST_MM, widths):
        change = Change(("fuselage", "width_mm"), width)
        wide = Layout(altered(design, change))
        moves = _moved(wide, name, box, item)
        if moves or _is_well(best_room(wide, box), gap):
            return [change, *moves]
    return []


def _elsewhere(layout: Layout, name: str, box: Array, item: Boxed) -> list[Change]:
    """The nearest other station where the item fits between the sides, standing on the floor."""
    here, half = float(box[0] + box[3]) / 2.0, float(box[3] - box[0]) / 2.0
    stations = np.arange(layout.nose_mm + half, layout.tail_mm - half, SCAN_MM)
    for x in sorted(stations, key=lambda station: abs(station - here)):
        moves = _moved(layout, name, box, item, round(float(x)))
        if moves:
            return moves
    return []


def _height_lacking(layout: Layout, box: Array) -> float:
    space = fuselage_space(layout, float(box[0]), float(box[3]))
    return float(box[5] - box[2]) + layout.design.limits.fit.gap_mm - (space.high_mm - space.low_mm)


# --- outside --------------------------------------------------------------------------------------------


def _outside(layout: Layout, part: Part, box: Array) -> list[Finding]:
    """A caution for an item said to be outside that lies wholly inside; partly inside, it meets the walls."""
    room = best_room(layout, box)
    code = f"fit.outside: {part.name}"
    if room.missing(TOUCH_MM):
        text = f"the {part.name} is outside the fuselage, as it should be"
        return [Finding(code, "pass", None, "mm", (None, None), text, "geometry", (), (part.name,))]
    inside = Change(("equipment", part.name, "place"), "inside")
    remedy = Remedy(f"say that the {part.name} belongs inside", (inside.setting(layout.design.units),))
    text = f"the {part.name} is said to be outside the fuselage and lies wholly inside it"
    return [Finding(code, "caution", None, "mm", (None, None), text, "geometry", (remedy,), (part.name,))]
