"""Findings on balance in flight: the static margin of every way to fly it, and where the balance range ends."""

from __future__ import annotations

from collections.abc import Iterator

from airframe import units
from airframe.balance.cases import Case, cases
from airframe.balance.space import tray
from airframe.balance.target import target
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, verdict
from airframe.checks.flight_remedies import LATTICE, Remedies
from airframe.checks.rounding import near, round_down, round_up, short
from airframe.flight.whole import NEUTRAL_POINT_SHARE, Flight
from airframe.inertia import Body, combined
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from airframe.schema.limits_flight import FlightLimits

_MARGIN = f"{LATTICE}; models and gliders have 5 to 40 % (Drela, from memory)"
RESERVE = 0.003
"""Of the mean chord: what a remedy leaves beyond the limit, for what it does to mass and balance."""


def findings(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> list[Finding]:
    """All of them. Raises NoTrimError where nothing holds it level at slow cruise."""
    return [*_margins(aeroplane, flight, mends), _range_end(aeroplane, flight)]


def _margins(aeroplane: Aeroplane, flight: Flight, mends: Remedies) -> Iterator[Finding]:
    """Of every way to fly it, the battery where the design has it."""
    found = cases(aeroplane)
    if not found:
        yield _margin(aeroplane, flight, mends, None, aeroplane.statement.whole)
    for case in found:
        body = aeroplane.statement.whole if case.is_current else combined([case.rest, case.body])
        yield _margin(aeroplane, flight, mends, case, body)


def _margin(aeroplane: Aeroplane, flight: Flight, mends: Remedies, case: Case | None, body: Body) -> Finding:
    limits, system = aeroplane.design.limits.flight, aeroplane.design.units
    x = float(body.centre[0])
    margin = flight.static_margin((x, 0.0, 0.0))
    ahead = units.length(abs(flight.neutral_point_mm - x), system)
    place = f"{ahead} {'ahead of' if margin >= 0.0 else 'aft of'} the neutral point"
    worth = f"a static margin of {short(100.0 * margin, 1)} % of the mean chord ({_band(margin)})"
    message = f"Estimate: {_with(case)}the balance point lies {place}, {worth}{_margin_words(margin, limits)}."
    bounds = (100.0 * limits.margin_low_share, 100.0 * limits.margin_high_share)
    judged = verdict(100.0 * margin, (0.0, None), bounds)
    if judged == "fail" and case is not None and not case.is_current:
        judged = "caution"
    mended = () if judged == "pass" else tuple(_rebalanced(aeroplane, flight, mends, case, body))
    code = "flight.margin" if case is None else f"flight.margin: {case.name}"
    parts = () if case is None else (case.battery,)
    return Finding(code, judged, round(100.0 * margin, 4), "%", bounds, message, _MARGIN, mended, parts)


def _band(margin: float) -> str:
    low, high = (100.0 * (margin + step) for step in (-NEUTRAL_POINT_SHARE, NEUTRAL_POINT_SHARE))
    return f"{short(low, 0)} to {short(high, 0)} %"


def _with(case: Case | None) -> str:
    return "" if case is None else f"with {case.spoken}, everything where it is drawn, "


def _margin_words(margin: float, limits: FlightLimits) -> str:
    if margin < 0.0:
        return ": tail-heavy, it will not hold its nose by itself"
    if margin < limits.margin_low_share:
        return ": twitchy"
    return ": nose-heavy, it wants much elevator" if margin > limits.margin_high_share else ""


def _rebalanced(
    aeroplane: Aeroplane, flight: Flight, mends: Remedies, case: Case | None, body: Body
) -> Iterator[Remedy]:
    """The battery moved along its tray; a larger tail where it is tail-heavy."""
    limits, system = aeroplane.design.limits.flight, aeroplane.design.units
    is_tail_heavy = flight.static_margin((float(body.centre[0]), 0.0, 0.0)) < limits.margin_low_share
    wanted = limits.margin_low_share + RESERVE if is_tail_heavy else limits.margin_high_share - RESERVE
    if case is not None:
        station = _battery_station(aeroplane, case, body, flight.station_for_margin(wanted), is_tail_heavy)
        if station is not None and case.is_current:
            change = Change(("equipment", case.battery, "station_mm"), station)
            yield Remedy(f"put the battery at station {change.written(system)}", settings([change], system))
        elif station is not None:
            yield Remedy(f"put the {case.battery_words} at station {near(station, system)}")
    if is_tail_heavy:
        yield from mends.larger_tail(lambda trial: trial.static_margin(body) >= wanted)


def _battery_station(aeroplane: Aeroplane, case: Case, body: Body, wanted_mm: float, is_forward: bool) -> float | None:
    """Where the battery's middle brings the balance point to a station: d = (x - x0) M / m; None beyond its tray."""
    item = aeroplane.design.equipment[case.battery]
    assert isinstance(item, Battery)
    shift = (wanted_mm - float(body.centre[0])) * body.mass / case.body.mass
    rounded = round_down if is_forward else round_up
    station = rounded(item.station_mm + shift, aeroplane.design.units)
    rails = tray(aeroplane.layout, item.station_mm, item.water_line_mm, item.tray_from_mm, item.tray_to_mm)
    low, high = rails.reach_mm(case.size[0])
    return station if low <= station <= high else None


def _range_end(aeroplane: Aeroplane, flight: Flight) -> Finding:
    """Whether the balance range ends ahead of the neutral point."""
    limits, system = aeroplane.design.limits.flight, aeroplane.design.units
    wanted = target(aeroplane.layout, lambda: flight.neutral_point_mm)
    margin = flight.static_margin((wanted.aft_mm, 0.0, 0.0))
    low = limits.margin_low_share
    judged = verdict(100.0 * margin, (None, None), (100.0 * low - 1e-6, None))
    message = (
        f"Estimate: the balance range ends {units.length(wanted.behind_mm(wanted.aft_mm), system)} behind the leading "
        f"edge; balanced there the static margin is {short(100.0 * margin, 1)} % of the mean chord "
        f"({_band(margin)})."
    )
    words = f"{100.0 * low:.3g} % margin"
    mends = (Remedy(f"end the range at a static margin of {100.0 * low:.3g} %", (f'balance.aft="{words}"',)),)
    bounds = (100.0 * low, None)
    mended = () if judged == "pass" else mends
    return Finding("flight.range", judged, round(100.0 * margin, 4), "%", bounds, message, _MARGIN, mended)
