"""Elevator and rudder through their full throw: what they come near, and each other."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, cos, degrees, floor, inf, radians, sin

from airframe import units
from airframe.checks.changes import Change, settings
from airframe.checks.control_surfaces import SEARCH_MM, Tail
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.pairs import NOISE_MM3, ROUNDING_MM, Pairs, judged
from airframe.checks.rounding import length_text, round_down, round_up
from airframe.checks.sweeps import Nearest
from airframe.parts.tail_lines import tail_lines
from airframe.schema.design import Design

SPARE_MM = 0.5
"""What a remedy leaves beyond the gap."""
FURTHEST_MM = 30.0
"""No remedy moves the tail, or the fin alone, further than this."""
SOURCE = "geometry, stiff parts; our choice: limits.moving.gap"


def findings(pairs: Pairs) -> list[Finding]:
    """Elevator, rudder, and the two against each other."""
    tail = Tail(pairs, pairs.aeroplane.design, pairs.aeroplane.parts)
    return [_swing(tail, "elevator"), _swing(tail, "rudder"), _together(tail)]


# --- against what stays still -------------------------------------------------------------------------------


def _swing(tail: Tail, name: str) -> Finding:
    near = tail.nearest(name, tail.angles(name))
    verdict = judged(near.meeting, tail.design.limits.moving.gap_mm)
    remedies = () if verdict == "pass" else tuple(_swing_remedies(tail, name, near))
    return _finding(tail, f"moving.{name}", f"the {name}", near, verdict, remedies)


def _finding(
    tail: Tail, code: str, what: str, near: Nearest, verdict: Verdict, remedies: tuple[Remedy, ...]
) -> Finding:
    limit, system = tail.design.limits.moving.gap_mm, tail.design.units
    if near.gap_mm == inf:
        text = f"{what} keeps more than {units.length(SEARCH_MM, system)} from everything through its full throw"
        return Finding(code, verdict, None, "mm", (limit, None), text, SOURCE)
    where = f"at {units.angle(abs(near.angle_rad))} {_direction(code, near.angle_rad)}".rstrip()
    if near.overlap_mm3 > NOISE_MM3:
        text = f"the {near.part} hits the {near.other} {where}"
    else:
        text = f"the {near.part} comes within {units.length(near.gap_mm, system)} of the {near.other} {where}"
    if near.other_angle_rad:
        text += f", the rudder at {units.angle(abs(near.other_angle_rad))}"
    parts = (near.part, near.other)
    return Finding(code, verdict, near.gap_mm, "mm", (limit, None), text, SOURCE, remedies, parts)


def _direction(code: str, angle_rad: float) -> str:
    if abs(angle_rad) < 1e-9:
        return ""
    names = ("right", "left") if code == "moving.rudder" else ("up", "down")
    return names[0] if angle_rad > 0.0 else names[1]


def _swing_remedies(tail: Tail, name: str, near: Nearest) -> Iterator[Remedy]:
    system, limit = tail.design.units, tail.design.limits.moving.gap_mm
    group = next((part.group for part in tail.still if part.name == near.other), "")
    if group in ("fuselage", "landing gear"):
        for aft in range(1, int(FURTHEST_MM) + 1):
            changes = _tail_aft(tail.design, float(aft))
            trial = tail.with_changes(*changes)
            if trial and judged(trial.nearest(name, trial.angles(name)).meeting, limit + ROUNDING_MM) == "pass":
                yield Remedy(f"move the whole tail {units.length(aft, system)} aft", settings(changes, system))
                break
    if near.other == "fin":
        yield from _fin_forward(tail, name)
    throw = _throw_that_passes(tail, name, near.angle_rad)
    if throw:
        field = {"rudder": "throw_rad"}.get(name, "throw_up_rad" if near.angle_rad > 0.0 else "throw_down_rad")
        change = Change(("tail", name, field), throw)
        word = _direction(f"moving.{name}", near.angle_rad) if name == "elevator" else ""
        text = f"limit the {name}'s throw {word + ' ' if word else ''}to {units.angle(throw)}"
        yield Remedy(text, settings([change], system))


def _fin_forward(tail: Tail, name: str) -> Iterator[Remedy]:
    """The fin so far ahead that the surface swings clear of it: the first whole step that does."""
    system, limit, now = tail.design.units, tail.design.limits.moving.gap_mm, tail.design.tail.fin.station_mm
    for forward in range(1, int(FURTHEST_MM) + 1):
        change = Change(("tail", "fin", "station_mm"), round_down(now - forward, system))
        trial = tail.with_changes(change)
        if trial and judged(trial.nearest(name, trial.angles(name)).meeting, limit + ROUNDING_MM) == "pass":
            yield Remedy(f"move the fin forward to station {change.written(system)}", settings([change], system))
            return


def _tail_aft(design: Design, aft_mm: float) -> list[Change]:
    return [
        Change(("tail", name, "station_mm"), round(getattr(design.tail, name).station_mm + aft_mm, 2))
        for name in ("stabiliser", "fin")
    ]


def _throw_that_passes(tail: Tail, name: str, worst_rad: float) -> float:
    """The largest whole number of degrees towards the worst angle at which nothing is near yet; 0 if none."""
    sign = 1.0 if worst_rad > 0.0 else -1.0
    limit, end = tail.design.limits.moving.gap_mm, degrees(max(abs(angle) for angle in tail.throw(name)))
    signs = (1.0, -1.0) if name == "rudder" else (sign,)
    passed = 0
    for whole in range(ceil(end)):
        near = tail.nearest(name, [one * radians(whole) for one in signs])
        if judged(near.meeting, limit) != "pass":
            break
        passed = whole
    return radians(passed)


# --- against each other -------------------------------------------------------------------------------------


def _together(tail: Tail) -> Finding:
    near = tail.between(tail.angles("elevator"))
    verdict = judged(near.meeting, tail.design.limits.moving.gap_mm)
    remedies = () if verdict == "pass" else tuple(_together_remedies(tail))
    return _finding(tail, "moving.elevator_rudder", "elevator against rudder", near, verdict, remedies)


def _together_remedies(tail: Tail) -> Iterator[Remedy]:
    design, layout = tail.design, tail.pairs.aeroplane.layout
    lines, gap = tail_lines(layout), design.limits.moving.gap_mm
    up = design.tail.elevator.throw_up_rad
    offset = lines.rudder_pivot_mm - lines.elevator_pivot_mm
    elevator_mm, rudder_mm = (
        getattr(design.tail, name).root_chord_mm + getattr(design.tail, name).hinge.gap_mm / 2.0
        for name in ("elevator", "rudder")
    )
    rise = risen_mm(elevator_mm, offset + rudder_mm, up)
    clearance = round_up(rise + gap, design.units)
    if clearance < design.tail.fin.height_mm / 2.0:
        change = Change(("tail", "rudder", "root_clearance_mm"), clearance)
        text = f"cut the rudder off {length_text(clearance, design.units)} above the stabiliser"
        yield Remedy(text, settings([change], design.units))
    yield from _split(tail, rudder_mm * sin(design.tail.rudder.throw_rad) + lines.thickness_mm / 2.0)
    allowed = 0
    for whole in range(floor(degrees(up))):
        if judged(tail.between([radians(whole)]).meeting, gap) != "pass":
            break
        allowed = whole
    if allowed:
        change = Change(("tail", "elevator", "throw_up_rad"), radians(allowed))
        yield Remedy(f"limit the elevator's throw up to {allowed} deg", settings([change], design.units))


def _split(tail: Tail, half_mm: float) -> Iterator[Remedy]:
    """Halves of an elevator as far from the centre plane as the rudder swings, and the gap; if they can be drawn."""
    design = tail.design
    split = round_up(2.0 * (half_mm + design.limits.moving.gap_mm + SPARE_MM), design.units)
    changes = [Change(("tail", "elevator", "split"), True), Change(("tail", "elevator", "split_gap_mm"), split)]
    if split >= design.tail.stabiliser.span_mm / 2.0 or tail.with_changes(*changes) is None:
        return
    text = f"split the elevator, with {length_text(split, design.units)} between its halves for the rudder"
    yield Remedy(text, settings(changes, design.units))


def risen_mm(chord_mm: float, reach_mm: float, angle_rad: float) -> float:
    """How high a surface of a chord, from its hinge line, rises under what reaches `reach_mm` aft of that line.

    At a distance s along the chord the surface has risen by s sin a and lies s cos a aft of the hinge, so the
    highest point still under it is at s = min(chord, reach / cos a); 0 where nothing is over it.
    """
    return min(chord_mm, max(reach_mm, 0.0) / cos(angle_rad)) * sin(angle_rad)
