"""Findings on balance: whether the balance point is in range now, and whether every battery can bring it there."""

from __future__ import annotations

from math import isfinite

from airframe import units
from airframe.axes import Array
from airframe.balance.answers import Answer, Overturn
from airframe.balance.remedies import remedies
from airframe.balance.whole import Balances, balances
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, Verdict, verdict
from airframe.checks.pairs import PairCache
from airframe.checks.standing import standing
from airframe.checks.tipping import worst_overturn_rad
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.units import System

SOURCE = "moments; the range is [balance], its default our choice (common practice, no source)"
_SIDEWAYS = "moments; balance.sideways is our choice"
ON_CENTRE_MM = 0.05
"""Nearer to the centre plane than this nobody measures."""
SEEN_MM: dict[System, float] = {"metric": 0.1, "imperial": 0.254}
"""The least length that is told in each: 0.1 mm, 0.01 in."""


def overturn_of(aeroplane: Aeroplane) -> Overturn | None:
    """The overturn angle by the balance point's place; None where the aeroplane has no gear or cannot stand."""
    stands = standing(aeroplane)
    if stands is None:
        return None

    def angle(cg: Array) -> float:
        return worst_overturn_rad(stands.with_cg(cg))

    try:
        return angle if isfinite(worst_overturn_rad(stands)) else None
    except ValueError:
        return None


def findings(aeroplane: Aeroplane, cache: PairCache | None = None) -> list[Finding]:
    """The range now, the reach of each case, and the balance sideways. A cache that is kept saves unchanged pairs."""
    found, design = balances(aeroplane, cache=cache), aeroplane.design
    reach = [_reach(one, design) for one in found.answers]
    if not reach:
        text = "Whether a battery can bring the balance point into range does not apply: no battery is fitted."
        reach = [Finding("balance.reach", "info", None, "mm", (None, None), text, SOURCE)]
    return [_range(found, design), *reach, _sideways(found, design)]


def _range(found: Balances, design: Design) -> Finding:
    """Where the balance point is, with everything as the design has it."""
    target, system = found.target, design.units
    low, high = (target.behind_mm(x) for x in target.window_mm)
    value = target.behind_mm(found.cg_mm[0])
    judged = "pass" if low <= value <= high else _out_of_range(value < low, design)
    way = "nose-heavy: {} ahead of" if value < low else "tail-heavy: {} aft of"
    missed = _miss(max(low - value, value - high), system)
    where = f"The balance point is {target.spoken(found.cg_mm[0], system)}"
    message = (
        f"{where}, in the range of {target.range_words(system)}."
        if judged == "pass"
        else f"{where}: {way.format(missed)} the range of {target.range_words(system)}."
    )
    mends = () if judged == "pass" or found.current is None else remedies(found.current, design)
    return Finding("balance.range", judged, round(value, 4), "mm", (low, high), message, SOURCE, mends)


def _miss(by_mm: float, system: System) -> str:
    """By how much, where that can be read off a ruler."""
    text = units.length(by_mm, system)
    return text if float(text.split()[0]) != 0.0 else f"less than {units.length(SEEN_MM[system], system)}"


def _out_of_range(is_nose_heavy: bool, design: Design) -> Verdict:
    """A range that the builder states is kept or failed; of ours only the aft end fails: tail-heavy, it may crash."""
    is_stated = bool({"forward", "aft"} & design.balance.model_fields_set)
    return "caution" if is_nose_heavy and not is_stated else "fail"


def _reach(answer: Answer, design: Design) -> Finding:
    """Whether any station of the tray brings the balance point into range."""
    system, case = design.units, answer.case
    code, parts = f"balance.reach: {case.name}", (case.battery,)
    if answer.in_range:
        spans = " or ".join(f"{units.length(a, system)} to {units.length(b, system)}" for a, b in answer.in_range)
        text = f"With {case.spoken}, the battery's middle may sit at station {spans}."
        return Finding(code, "pass", 0.0, "mm", (0.0, 0.0), text, SOURCE, (), parts)
    bad: Verdict = _out_of_range(answer.missed_mm < 0.0, design) if case.is_current else "caution"
    mends = remedies(answer, design)
    if answer.best is None:
        text = f"With {case.spoken}, there is no room: {no_room(answer, design)}."
        return Finding(code, bad, None, "mm", (None, None), text, "geometry", mends, parts)
    miss = units.length(abs(answer.missed_mm), system)
    side = "aft of" if answer.missed_mm > 0.0 else "ahead of"
    text = (
        f"With {case.spoken}, no station on its tray brings the balance point into range; at station "
        f"{units.length(answer.best.station_mm, system)} it is {miss} {side} it."
    )
    return Finding(code, bad, round(answer.missed_mm, 4), "mm", (0.0, 0.0), text, SOURCE, mends, parts)


def no_room(answer: Answer, design: Design) -> str:
    """Why no station is usable."""
    low, high = answer.reach_mm
    if high < low:
        return f"it is {units.length(low - high, design.units)} longer than its tray ({answer.tray.given_by})"
    return f"everywhere on its tray it runs into the {', the '.join(one.name for one in answer.met)}"


def _sideways(found: Balances, design: Design) -> Finding:
    """How far the balance point lies beside the centre plane."""
    system, y = design.units, found.cg_mm[1]
    limit = found.target.sideways_mm
    judged = verdict(y, (None, None), (-limit, limit))
    side = "right" if y > 0.0 else "left"
    if abs(y) < ON_CENTRE_MM:
        message = "The balance point lies on the centre plane."
        return Finding("balance.sideways", judged, round(y, 4), "mm", (-limit, limit), message, _SIDEWAYS)
    message = (
        f"The balance point lies {units.length(abs(y), system)} to the {side} of the centre plane; "
        f"{units.mass(found.tip_weight_g, system)} at the {'left' if y > 0.0 else 'right'} wing tip would centre it."
    )
    mends = () if judged == "pass" else _centred(found, design)
    return Finding("balance.sideways", judged, round(y, 4), "mm", (-limit, limit), message, _SIDEWAYS, mends)


def _centred(found: Balances, design: Design) -> tuple[Remedy, ...]:
    """The battery to the other side: d = y M / m; or the weight at the tip."""
    weight = Remedy(f"put {units.mass(found.tip_weight_g, design.units)} into the lighter wing's tip")
    if found.current is None:
        return (weight,)
    case = found.current.case
    middle = float(case.body.centre[1]) - found.cg_mm[1] * found.mass_g / case.body.mass
    change = Change(("equipment", case.battery, "butt_line_mm"), round(middle, 1))
    text = f"put the battery at butt line {change.written(design.units)}"
    return Remedy(text, settings([change], design.units)), weight
