"""Room for what fastens and connects: screw heads, the motor's shaft, leads."""

from __future__ import annotations

from itertools import pairwise, product
from math import inf
from typing import Any

import numpy as np

from airframe import units
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.pairs import NOISE_MM3, TOUCH_MM, Pairs, is_solid
from airframe.checks.rounding import round_up
from airframe.drawing import Bead, Part
from airframe.schema.equipment import Lead, Motor, Screws

HEAD_SEARCH_MM = 5.0
AHEAD_MM = 2.0
"""What begins this near ahead of a screw's tip is what it is screwed into."""
SAMPLES = 12
"""Points along a shank that are asked what they lie in."""
LEAD_MM = 2.0
"""Thickness that a lead is taken to have: a pair of thin wires; our choice."""
LEAD_MM3 = 2.0
"""A lead that shares less than this with a part grazes it; our choice."""
BUILT = ("wing", "tail", "fuselage", "landing gear")
"""Groups that a lead must go round or through a hole of."""


def findings(pairs: Pairs) -> list[Finding]:
    """Screw by screw set, the motor's shaft, and lead by lead."""
    found: list[Finding] = []
    for name, item in pairs.aeroplane.design.equipment.items():
        if isinstance(item, Screws) and item.fitted:
            found.append(_screws(pairs, name, item))
        elif isinstance(item, Motor) and item.fitted:
            found.append(_shaft(pairs, name, item))
        elif isinstance(item, Lead) and item.fitted and not _is_elastic(item):
            found.append(_lead(pairs, name))
    return found


# --- screws -----------------------------------------------------------------------------------------------


def _screws(pairs: Pairs, name: str, item: Screws) -> Finding:
    """The least gap of the heads to what they do not press on.

    A screw presses on what it touches, and goes through what is no wider from it than a hole for it.
    """
    limit, system = pairs.aeroplane.design.limits.fit.gap_mm, pairs.aeroplane.design.units
    own = [part for part in pairs.aeroplane.parts if part.name in screw_parts(name, item)]
    others = [part for part in pairs.aeroplane.parts if is_solid(part) and part not in own]
    met = pairs.meetings(own, others, HEAD_SEARCH_MM, inf)
    gaps = [
        (meeting.gap_mm, a, b)
        for a, b, meeting in met
        if meeting.gap_mm > TOUCH_MM and not _is_round_it(pairs, a, item, b)
    ]
    code, limits, source = f"fit.screws: {name}", (limit, None), "our choice: limits.fit.gap"
    if not gaps:
        text = f"the heads of the {name} are clear by more than {units.length(HEAD_SEARCH_MM, system)}"
        return Finding(code, "pass", None, "mm", limits, text, source, (), tuple(part.name for part in own))
    gap, screw, other = min(gaps, key=lambda one: one[0])
    text = f"the {screw.name} comes within {units.length(gap, system)} of the {other.name}"
    verdict: Verdict = "pass" if gap >= limit else "caution"
    return Finding(code, verdict, gap, "mm", limits, text, source, (), (screw.name, other.name))


def screw_parts(name: str, item: Screws) -> tuple[str, ...]:
    """Names of the parts that a set of screws is drawn as."""
    count = len(item.points)
    return (name,) if count == 1 else tuple(f"{name} {i + 1}" for i in range(count))


def _is_round_it(pairs: Pairs, screw: Part, item: Screws, other: Part) -> bool:
    """Whether the screw's shank, or what lies just ahead of its tip, is in the other part's box: it goes in there."""
    along = screw.place.turn((1.0, 0.0, 0.0))
    depths = np.linspace(0.0, item.length_mm + AHEAD_MM, SAMPLES)[1:]
    points = np.array(screw.place.origin) + depths[:, None] * along
    low, high = pairs.boxes([other])[0].reshape(2, 3)
    return bool(((low <= points) & (points <= high)).all(axis=1).any())


# --- shaft ------------------------------------------------------------------------------------------------


def _shaft(pairs: Pairs, name: str, motor: Motor) -> Finding:
    """The firewall's hole for the shaft's rear end, which turns."""
    design = pairs.aeroplane.design
    need = motor.shaft_diameter_mm + 2.0 * design.limits.fit.gap_mm
    hole, system = design.fuselage.firewall.shaft_hole_mm, design.units
    shaft = units.size(motor.shaft_diameter_mm, system)
    verdict: Verdict
    remedies: tuple[Remedy, ...] = ()
    if hole is None:
        verdict, text = "caution", f"the firewall has no hole for the rear end of the {name}'s {shaft} shaft"
    else:
        verdict = "pass" if hole >= need else ("caution" if hole > motor.shaft_diameter_mm else "fail")
        text = f"the {name}'s {shaft} shaft turns in a {units.length(hole, system)} hole in the firewall"
    if verdict != "pass":
        change = Change(("fuselage", "firewall", "shaft_hole_mm"), round_up(need, system))
        text_of = f"drill the firewall's shaft hole {change.written(system)}"
        remedies = (Remedy(text_of, settings([change], system)),)
    source = "our choice: shaft and limits.fit.gap all round"
    return Finding(f"fit.shaft: {name}", verdict, hole, "mm", (need, None), text, source, remedies, (name, "firewall"))


# --- leads ------------------------------------------------------------------------------------------------


def _lead(pairs: Pairs, name: str) -> Finding:
    """What a lead's path runs through; it bends, so this is a caution."""
    part = next(part for part in pairs.aeroplane.parts if part.name == name)
    assert isinstance(part.shape, Bead)
    cable = _cable(part.shape)
    low, high = np.array(cable.bounding_box()).reshape(2, 3)
    built = [other for other in pairs.aeroplane.parts if is_solid(other) and other.group in BUILT]
    boxes = pairs.boxes(built)
    near = np.all((boxes[:, :3] <= high) & (low <= boxes[:, 3:]), axis=1).tolist()
    hit = [
        other.name
        for other, is_near in zip(built, near, strict=True)
        if is_near and (cable ^ pairs.body(other)).volume() > max(LEAD_MM3, NOISE_MM3)
    ]
    code, source = f"fit.lead: {name}", "geometry; a lead is taken as 2 mm thick"
    if not hit:
        text = f"the path of the {name} is clear of everything built"
        return Finding(code, "pass", 0.0, "", (None, 0.0), text, source, (), (name,))
    text = f"the path of the {name} runs through {', '.join(hit)}: lead it round, or cut a hole for it"
    return Finding(code, "caution", float(len(hit)), "", (None, 0.0), text, source, (), (name, *hit))


def _is_elastic(item: Lead) -> bool:
    """A rubber band or strap is drawn like a lead; it is stretched round things from outside and is none."""
    return any(word in item.material for word in ("band", "strap", "elastic"))


def _cable(bead: Bead) -> Any:
    """The lead as a chain of square rods from corner to corner."""
    import manifold3d

    corners = LEAD_MM * (np.array(list(product((0.0, 1.0), repeat=3))) - 0.5)
    pieces = []
    for path in bead.paths:
        for a, b in pairwise(path):
            pieces.append(manifold3d.Manifold.hull_points(np.vstack([corners + a, corners + b])))
    return manifold3d.Manifold.batch_boolean(pieces, manifold3d.OpType.Add)
