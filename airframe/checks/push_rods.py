"""Whether push-rods slide freely from servo to horn."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy
from airframe.checks.openings import cut
from airframe.checks.pairs import Pairs, is_solid, judged
from airframe.checks.rounding import round_down, spread
from airframe.layout import Layout
from airframe.parts import inside, tail
from airframe.parts.equipment import guide_names
from airframe.schema.equipment import PushRod
from airframe.schema.fuselage import Opening

SEARCH_MM = 5.0
"""A gap wider than this is not measured."""
ARM_MM = 15.0
"""What a rod's end is this near to is what it is hooked into: a servo's arm is not drawn, only its case."""
LEAST_RIM_MM = 5.0
"""No remedy cuts a former's rim narrower than this."""
SPARE_MM = 0.2
"""What a remedy leaves beyond the gap."""
LEAST_CUT_MM = 0.05
"""An edge that is nearer to where it is wanted stays."""
SOURCE = "geometry; our choice: limits.moving.gap"


def findings(pairs: Pairs) -> list[Finding]:
    """Every push-rod."""
    items = pairs.aeroplane.design.equipment.items()
    return [_push_rod(pairs, name, item) for name, item in items if isinstance(item, PushRod) and item.fitted]


def _push_rod(pairs: Pairs, name: str, item: PushRod) -> Finding:
    """The rod against all but what its ends are hooked into and its own guides."""
    design = pairs.aeroplane.design
    rod = next(part for part in pairs.aeroplane.parts if part.name == name)
    hooked = _hooked_into(pairs, item) | set(guide_names(name, item))
    others = [part for part in pairs.aeroplane.parts if is_solid(part) and part.name not in (name, *hooked)]
    met = pairs.meetings([rod], others, SEARCH_MM)
    code, limit, system = f"moving.push_rod: {name}", design.limits.moving.gap_mm, design.units
    if not met:
        text = f"the {name} keeps more than {units.length(SEARCH_MM, system)} from everything on its way"
        return Finding(code, "pass", None, "mm", (limit, None), text, SOURCE, (), (name,))
    _, other, worst = min(met, key=lambda one: (-one[2].overlap_mm3, one[2].gap_mm))
    hit = [b.name for _, b, meeting in met if judged(meeting, limit) == "fail"]
    text = f"the {name} comes within {units.length(worst.gap_mm, system)} of the {other.name}"
    if hit:
        text = f"the {name} runs into {', '.join(f'the {one}' for one in hit)}"
    near = {b.name for _, b, meeting in met if judged(meeting, limit) != "pass"}
    parts = (name, *(hit or [other.name]))
    return Finding(
        code,
        judged(worst, limit),
        worst.gap_mm,
        "mm",
        (limit, None),
        text,
        SOURCE,
        tuple(_remedies(pairs.aeroplane.layout, item, near)),
        parts,
    )


def _hooked_into(pairs: Pairs, item: PushRod) -> set[str]:
    """The horn whose hole is nearest, and every item of the controls that is near the other end."""
    horns = tail.horn_points(pairs.aeroplane.layout)
    ends = np.array([item.from_point, item.to_point])
    horn = min(horns, key=lambda name: float(np.linalg.norm(ends - np.array(horns[name]), axis=1).min()))
    servos = [part for part in pairs.aeroplane.parts if part.group == "controls" and is_solid(part)]
    boxes = pairs.boxes(servos)
    near = {
        part.name
        for part, box in zip(servos, boxes, strict=True)
        if any(np.linalg.norm(np.maximum(np.maximum(box[:3] - end, end - box[3:]), 0.0)) <= ARM_MM for end in ends)
    }
    return {horn} | {name for name in near if not isinstance(pairs.aeroplane.design.equipment.get(name), PushRod)}


def _remedies(layout: Layout, item: PushRod, near: set[str]) -> Iterator[Remedy]:
    """Wider windows in formers and larger exits, all in one; notches where formers' windows cannot do it.

    Nothing is proposed for a rod that meets something else besides: half a remedy is none.
    """
    system = layout.design.units
    room = item.diameter_mm / 2.0 + layout.design.limits.moving.gap_mm + SPARE_MM
    changes: list[Change] = []
    words: list[str] = []
    notches: list[str] = []
    others = set(near)
    for i, former in enumerate(layout.design.fuselage.formers):
        name = inside.former_name(former.name)
        rim = _rim(layout, item, former.station_mm, room) if name in near else inf
        others.discard(name)
        if rim < LEAST_RIM_MM:
            _, y, z = _at_station(item, former.station_mm)
            place = f"butt line {units.length(y, system)}, water line {units.length(z, system)}"
            notches.append(f"file a notch {units.length(2.0 * room, system)} wide into {name} at {place}")
        elif rim < inf:
            changes.append(Change(("fuselage", "formers", i, "rim_mm"), round_down(rim, system)))
            words.append(f"cut {name} out to a rim of {changes[-1].written(system)}")
    if notches:
        if not changes and not others:
            yield Remedy(" and ".join(notches))
        return
    for i, opening in enumerate(layout.design.fuselage.openings):
        wider = _opened(layout, item, opening, room) if _is_cut_by(near, opening) else {}
        changes += [Change(("fuselage", "openings", i, edge), value) for edge, value in wider.items()]
        if wider:
            others = {name for name in others if not _is_cut_by({name}, opening)}
            words.append(f"enlarge the {opening.name}")
    if changes and not others and cut(layout, changes) is not None:
        yield Remedy(" and ".join(words), settings(changes, system))


def _at_station(item: PushRod, x_mm: float) -> Array:
    """Where the rod is at a station, between its ends."""
    a, b = np.array(item.from_point), np.array(item.to_point)
    share = (x_mm - a[0]) / (b[0] - a[0]) if b[0] != a[0] else 0.0
    point: Array = a + np.clip(share, 0.0, 1.0) * (b - a)
    return point


def _rim(layout: Layout, item: PushRod, station_mm: float, room_mm: float) -> float:
    """The widest rim of a former that lets the rod through its window."""
    _, y, z = _at_station(item, station_mm)
    low, high = layout.clear_height_mm(station_mm, station_mm + layout.side_thickness_mm)
    half = layout.inner_half_width_mm(station_mm + layout.side_thickness_mm)
    return float(min(half - abs(y), z - low, high - z)) - room_mm


def _is_cut_by(near: set[str], opening: Opening) -> bool:
    sheet = {"top": "deck", "bottom": "floor"}.get(opening.face, "side")
    return any(sheet in name for name in near)


def _opened(layout: Layout, item: PushRod, opening: Opening, room_mm: float) -> dict[str, float]:
    """The edges of an opening spread so that the rod passes; empty for one that the rod does not go through."""
    crossing = _crossing(layout, item, opening.face, room_mm)
    is_there = (opening.from_station_mm < crossing[:, 0]) & (crossing[:, 0] < opening.to_station_mm)
    if not is_there.any():
        return {}
    level = opening.face in ("top", "bottom")
    across = crossing[:, 1] if level else crossing[:, 2]
    wanted = {
        "from_station_mm": min(opening.from_station_mm, float(crossing[:, 0].min())),
        "to_station_mm": max(opening.to_station_mm, float(crossing[:, 0].max())),
        "low_mm": min(opening.low_mm, float(across.min()) - room_mm),
        "high_mm": max(opening.high_mm, float(across.max()) + room_mm),
    }
    marks: dict[str, float] = {}
    for low, high in (("from_station_mm", "to_station_mm"), ("low_mm", "high_mm")):
        edges = spread(wanted[low], wanted[high], layout.design.units)
        marks |= dict(zip((low, high), edges, strict=True))
    return {edge: marks[edge] for edge, value in wanted.items() if abs(value - getattr(opening, edge)) > LEAST_CUT_MM}


def _crossing(layout: Layout, item: PushRod, face: str, room_mm: float) -> Array:
    """Points (n, 3) of the rod that lie within the sheet of a face, or nearer to it than the room it needs."""
    ends = sorted((item.from_point[0], item.to_point[0]))
    points = np.array([_at_station(item, x) for x in np.arange(ends[0], min(ends[1], layout.tail_mm), 1.0)])
    kept = []
    for x, y, z in points.reshape(-1, 3):
        if face in ("top", "bottom"):
            edge = layout.water_line_mm("top" if face == "top" else "bottom", x)
            depth = edge - z if face == "top" else z - edge
            thickness = layout.closing_thickness_mm("top" if face == "top" else "bottom", x)
        else:
            side = {"left": -1.0, "right": 1.0}.get(face, 1.0 if y > 0.0 else -1.0)
            depth = layout.half_width_mm(x) - side * y
            thickness = layout.half_width_mm(x) - layout.inner_half_width_mm(x)
        if -room_mm <= depth <= thickness + room_mm:
            kept.append((x, y, z))
    return np.array(kept).reshape(-1, 3)
