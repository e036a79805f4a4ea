"""What runs into what: every carried item against everything else, and built parts against each other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from math import inf

import numpy as np

from airframe import units
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, verdict
from airframe.checks.fit_fastenings import screw_parts
from airframe.checks.fit_inside import Boxed, boxed_items
from airframe.checks.pairs import NOISE_MM3, TOUCH_MM, Meeting, Pairs, is_curved, is_solid
from airframe.checks.room import best_room
from airframe.drawing import Part
from airframe.parts.equipment import guide_names
from airframe.schema.equipment import Motor, Propeller, PushRod, Screws

ITEM_MM3 = 1.0
"""A bought item is hard: it may share no more than rounding with anything."""
SEARCH_MM = 5.0
"""A gap wider than this is not measured."""
FURTHEST_MOVE_MM = 60.0
"""No remedy moves an item further than this, nor off its station by more than this."""

MOST_MOVES = 2
"""Of all the directions that would do, the shortest moves are proposed."""
UNDER_SHARE = 0.9
"""A part lies under another if going down closes the gap by this share of the way: floors may slope a little."""

_MOVES = (("station_mm", (1, 0, 0)), ("butt_line_mm", (0, 1, 0)), ("water_line_mm", (0, 0, 1)))
_WORDS = {
    ("station_mm", 1): "aft",
    ("station_mm", -1): "forward",
    ("butt_line_mm", 1): "to the right",
    ("butt_line_mm", -1): "to the left",
    ("water_line_mm", 1): "up",
    ("water_line_mm", -1): "down",
}


def names_of(pairs: Pairs, *kinds: type) -> set[str]:
    """Names of all parts that equipment of these kinds is drawn as, a push-rod's guides with it."""
    items = pairs.aeroplane.design.equipment
    chosen = {name: item for name, item in items.items() if isinstance(item, kinds) and item.fitted}
    screws = [screw_parts(name, item) for name, item in chosen.items() if isinstance(item, Screws)]
    guides = [guide_names(name, item) for name, item in chosen.items() if isinstance(item, PushRod)]
    return set(chosen).union(*screws, *guides)


def findings(pairs: Pairs) -> list[Finding]:
    """Overlaps one by one, or one pass if there are none; and for each carried item its smallest gap.

    Push-rods are asked about with the moving parts, screws with the fastenings.
    """
    apart = names_of(pairs, PushRod, Screws)
    solid = [part for part in pairs.aeroplane.parts if is_solid(part) and part.name not in apart]
    carried = {part.name: item for part, item in boxed_items(pairs)}
    hard = set(carried) | names_of(pairs, Motor, Propeller)
    items = [part for part in solid if part.name in hard]
    built = [part for part in solid if part.name not in hard]
    search = max(SEARCH_MM, pairs.aeroplane.design.limits.fit.gap_mm)
    meetings = pairs.meetings(items, [*items, *built], search)
    between = pairs.meetings(built, built, 0.0, pairs.aeroplane.design.limits.fit.overlap_mm3 / 2.0)
    found = list(_overlaps(pairs, meetings, between, carried))
    return [*found, *(_room(pairs, part, carried[part.name], meetings) for part in items if part.name in carried)]


# --- overlaps ---------------------------------------------------------------------------------------------


Met = list[tuple[Part, Part, Meeting]]


def _overlaps(pairs: Pairs, items: Met, built: Met, carried: dict[str, Boxed]) -> Iterator[Finding]:
    most = pairs.aeroplane.design.limits.fit.overlap_mm3
    hits = [(*met, ITEM_MM3) for met in items if met[2].overlap_mm3 > ITEM_MM3]
    hits += [(*met, most) for met in built if met[2].overlap_mm3 > most]
    for a, b, meeting, limit in sorted(hits, key=lambda hit: -hit[2].overlap_mm3):
        yield _overlap(pairs, a, b, meeting, limit, carried)
    if not hits:
        worst = max((met[2].overlap_mm3 for met in built), default=0.0)
        text = f"no two parts take the same room; {units.volume(worst, pairs.aeroplane.design.units)} at most is shared"
        yield Finding("fit.overlap", "pass", worst, "mm^3", (None, most), text, "our choice: limits.fit.overlap")


def _overlap(pairs: Pairs, a: Part, b: Part, meeting: Meeting, limit_mm3: float, carried: dict[str, Boxed]) -> Finding:
    shared = units.volume(meeting.overlap_mm3, pairs.aeroplane.design.units)
    text = f"the {a.name} and the {b.name} take the same room: they share {shared}"
    remedies = tuple(
        remedy for part in (a, b) if part.name in carried for remedy in _moves(pairs, part, carried[part.name])
    )
    source = "geometry" if limit_mm3 == ITEM_MM3 else "our choice: limits.fit.overlap"
    value, limit = meeting.overlap_mm3, (None, limit_mm3)
    return Finding(
        f"fit.overlap: {a.name}, {b.name}", "fail", value, "mm^3", limit, text, source, remedies, (a.name, b.name)
    )


def _moves(pairs: Pairs, part: Part, item: Boxed) -> tuple[Remedy, ...]:
    """The shortest moves along the three axes that take the item clear of everything, shortest first."""
    found: list[tuple[int, Remedy]] = []
    system = pairs.aeroplane.design.units
    # All that the item could meet on its way: asked once, instead of at every step.
    reach = [other for _, other in pairs.near([part], _others(pairs, part), FURTHEST_MOVE_MM)]
    for (field, way), sign in product(_MOVES, (1, -1)):
        step = _first_clear(pairs, part, item, reach, np.array(way) * sign)
        if step is not None:
            change = Change(("equipment", part.name, field), round(getattr(item, field) + sign * step, 2))
            text = f"move the {part.name} {units.length(step, system)} {_WORDS[field, sign]}"
            found.append((step, Remedy(text, settings([change], system))))
    return tuple(remedy for _, remedy in sorted(found, key=lambda one: one[0])[:MOST_MOVES])


def _others(pairs: Pairs, part: Part) -> list[Part]:
    apart = names_of(pairs, PushRod, Screws) | {part.name}
    return [other for other in pairs.aeroplane.parts if is_solid(other) and other.name not in apart]


def _first_clear(pairs: Pairs, part: Part, item: Boxed, others: list[Part], way: np.ndarray) -> int | None:
    """The first whole number of mm along a direction at which nothing is hit or too near; None if there is none."""
    limit = pairs.aeroplane.design.limits.fit.gap_mm
    touched = {b.name for _, b, meeting in pairs.meetings([part], others) if not meeting.overlap_mm3}
    for step in range(1, int(FURTHEST_MOVE_MM) + 1):
        moved = _shifted(part, way * step)
        box = pairs.boxes([moved])[0]
        if item.place == "inside" and best_room(pairs.aeroplane.layout, box).missing(TOUCH_MM):
            return None
        met = pairs.meetings([moved], others, limit, inf)
        if any(meeting.gap_mm <= TOUCH_MM and not _may_touch(pairs, moved, b, touched) for _, b, meeting in met):
            continue
        nearest = _nearest(pairs, moved, met)
        if nearest is None or nearest[0] >= limit:
            return step
    return None


def _may_touch(pairs: Pairs, moved: Part, other: Part, touched: set[str]) -> bool:
    """What it lay against before it may lie against still, and on what is under it; neither may be hit."""
    own, its = pairs.boxes([moved, other])
    is_hit = pairs.meeting(moved, other, settle_mm3=inf).overlap_mm3 > NOISE_MM3
    return not is_hit and (other.name in touched or bool(its[5] <= own[2] + TOUCH_MM))


def _shifted(part: Part, step_mm: np.ndarray) -> Part:
    dx, dy, dz = (float(v) for v in step_mm)
    return replace(part, place=part.place.moved(dx, dy, dz))


# --- gaps -------------------------------------------------------------------------------------------------


def _room(pairs: Pairs, part: Part, item: Boxed, meetings: Met) -> Finding:
    """The item's smallest gap to what does not hold it."""
    limit, system = pairs.aeroplane.design.limits.fit.gap_mm, pairs.aeroplane.design.units
    nearest = _nearest(pairs, part, [met for met in meetings if part.name in (met[0].name, met[1].name)])
    code, source = f"fit.room: {part.name}", "our choice: limits.fit.gap"
    if nearest is None:
        text = f"the {part.name} has more than {units.length(SEARCH_MM, system)} round it, but for what holds it"
        return Finding(code, "pass", None, "mm", (limit, None), text, source, (), (part.name,))
    gap, other = nearest
    if gap < limit and (is_curved(part.shape) or is_curved(other.shape)):
        gap = pairs.exact_gap_mm(part, other)
    text = f"the {part.name} comes within {units.length(gap, system)} of the {other.name}"
    judged = verdict(gap, (None, None), (limit, None))
    remedies = _moves(pairs, part, item) if judged == "caution" else ()
    return Finding(code, judged, gap, "mm", (limit, None), text, source, remedies, (part.name, other.name))


def _nearest(pairs: Pairs, part: Part, meetings: Met) -> tuple[float, Part] | None:
    """The smallest gap, and to what, among meetings of a part with what it neither touches nor is held by."""
    gaps = [
        (meeting.gap_mm, b if a.name == part.name else a)
        for a, b, meeting in meetings
        if TOUCH_MM < meeting.gap_mm < inf
    ]
    free = [(gap, other) for gap, other in gaps if not _is_held(pairs, part, other, gap)]
    return min(free, key=lambda one: one[0], default=None)


def _is_held(pairs: Pairs, part: Part, other: Part, gap_mm: float) -> bool:
    """Whether the other part lies under this one, with tape or foam between, or is a board that it sits in.

    What lies under it comes nearer by as much as the part goes down; a board has a slot that it passes through.
    """
    lower = pairs.meeting(_shifted(part, np.array([0.0, 0.0, -gap_mm / 2.0])), other, SEARCH_MM, inf)
    own, its = pairs.boxes([part, other])
    within = (its[:3] < own[:3]) & (own[3:] < its[3:])
    through = (own[:3] < its[:3]) & (its[3:] < own[3:])
    return lower.gap_mm <= (1.0 - UNDER_SHARE / 2.0) * gap_mm or bool(within.sum() == 2 and through.sum() == 1)
