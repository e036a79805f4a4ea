"""Findings on power: current, thrust, climb and time in the air on every battery."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from airframe import units
from airframe.checks.changes import Change, altered, item_key, setting
from airframe.checks.finding import PRACTICE, Finding, Remedy, Verdict
from airframe.checks.flight_speeds import spread
from airframe.checks.rounding import short
from airframe.flight.bands import Band
from airframe.flight.power import operating_point
from airframe.flight.power_figures import CurrentLimit, PowerFigures
from airframe.flight.trains import train_guess
from airframe.flight.whole import Flight
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.schema.equipment import Battery, Propeller
from airframe.units import MM_PER_INCH

_POWER = "motor, battery and propeller trends, or what was measured: an estimate"
STEP_IN = 0.5
"""Propellers are sold in steps of half an inch."""
LEAST_SHARE = 0.6
"""No propeller is proposed of less than so much of the diameter."""
_S_PER_MIN = 60.0
_C_PER_MAH = 3.6


@dataclass(frozen=True)
class Option:
    """One battery of the design, as the power figures are asked for it."""

    name: str
    """Empty for a battery without options."""
    key: str | None
    """What the estimates call it; None for the one in use."""
    battery: str
    """Name of the item of equipment."""

    @property
    def is_used(self) -> bool:
        """Whether it is the one in the aeroplane."""
        return self.key is None

    @property
    def spoken(self) -> str:
        """Its beginning of a sentence: "on the 3-cell battery"."""
        return f"on the {self.name} {self.battery}" if self.name else f"on the {self.battery}"

    def code(self, subject: str, thing: str = "") -> str:
        """Of a finding: "flight.current: 3-cell, speed controller"."""
        after = ", ".join(word for word in (self.name, thing) if word)
        return f"flight.{subject}: {after}" if after else f"flight.{subject}"


NO_BATTERY = Option("", None, "battery")
"""Asked for where there is none: the estimates then say what else is missing."""


def options(design: Design) -> tuple[Option, ...]:
    """Every option of the first fitted battery, the one in use first; none without a battery."""
    found = ((name, item) for name, item in design.equipment.items() if isinstance(item, Battery) and item.fitted)
    for battery, item in found:
        if not item.options:
            return (Option("", None, battery),)
        used = item.use if item.use is not None else next(iter(item.options))
        others = tuple(Option(name, name, battery) for name in item.options if name != used)
        return (Option(used, None, battery), *others)
    return ()


def findings(aeroplane: Aeroplane, flight: Flight) -> list[Finding]:
    """Each battery's; one that says what is not stated."""
    found: list[Finding] = []
    missing: dict[str, None] = {}
    for option in options(aeroplane.design) or (NO_BATTERY,):
        figures = flight.power(option.key)
        if isinstance(figures, str):
            missing[figures] = None
        else:
            found += _on(aeroplane, flight, option, figures)
    return [*found, *(_not_stated(words) for words in missing)]


def _not_stated(words: str) -> Finding:
    message = f"Current, thrust, climb and time in the air are not estimated: {words}."
    return Finding("flight.power", "info", None, "", (None, None), message, "equipment")


def _on(aeroplane: Aeroplane, flight: Flight, option: Option, figures: PowerFigures) -> Iterator[Finding]:
    for limit in figures.limits:
        yield _current(aeroplane.design, flight, option, figures.static_current_a, limit)
    yield _thrust(aeroplane, option, figures)
    yield _climb(aeroplane, option, figures)
    if figures.cruise_time_s is not None:
        yield _time(aeroplane, option, figures.cruise_time_s)


def _current(design: Design, flight: Flight, option: Option, drawn: Band, limit: CurrentLimit) -> Finding:
    """Fails only where the limit is stated, the battery in use, and even the low end of the band too much."""
    most = f"{limit.limit_a:.0f} A{'' if limit.is_stated else ' (estimated)'}"
    judged: Verdict = "pass" if limit.use.high <= 1.0 else "caution"
    if limit.use.low > 1.0 and limit.is_stated and option.is_used:
        judged = "fail"
    is_much = {"pass": "within", "caution": "perhaps beyond", "fail": "beyond"}[judged]
    message = (
        f"Estimate: {option.spoken}, standing at full throttle, it draws {drawn.middle:.1f} A ({drawn.low:.1f} to "
        f"{drawn.high:.1f}), {is_much} the {limit.what}'s {most}."
    )
    mends = () if judged == "pass" else _smaller_propeller(design, flight, option, limit.limit_a)
    code, value = option.code("current", limit.what), round(drawn.middle, 4)
    return Finding(code, judged, value, "A", (None, limit.limit_a), message, _POWER, mends, (option.battery,))


def _smaller_propeller(design: Design, flight: Flight, option: Option, most_a: float) -> tuple[Remedy, ...]:
    """The largest of the same pitch that keeps every guess within the limit; measured again where it was measured."""
    found = next((name, item) for name, item in design.equipment.items() if isinstance(item, Propeller) and item.fitted)
    name, propeller = found
    if design.flight.measured_current_a is not None or design.flight.measured_thrust_n is not None:
        return (Remedy("fit a smaller propeller, and measure again"),)
    density = flight.drags.likely.density_kg_m3
    now_in = propeller.diameter_mm / MM_PER_INCH
    for steps in range(ceil(now_in / STEP_IN - 1e-6) - 1, ceil(LEAST_SHARE * now_in / STEP_IN) - 1, -1):
        diameter_in = steps * STEP_IN
        change = Change(("equipment", name, "diameter_mm"), diameter_in * MM_PER_INCH)
        guess = train_guess(altered(design, change), option.key)
        trains = (guess.likely, *guess.others)
        if max(operating_point(one, 0.0, density).battery_current_a for one in trains) <= most_a:
            typed = f"{short(diameter_in, 1)} in"
            return (Remedy(f"fit a propeller of {typed} or less", (setting(item_key(name, "diameter"), typed),)),)
    return ()


def _thrust(aeroplane: Aeroplane, option: Option, figures: PowerFigures) -> Finding:
    low, ratio = aeroplane.design.limits.flight.thrust_to_weight_low, figures.thrust_to_weight
    judged: Verdict = "pass" if ratio.middle >= low else "caution"
    message = (
        f"Estimate: {option.spoken} it pulls {units.force(figures.static_thrust_n.middle, aeroplane.design.units)} "
        f"standing still, {ratio.middle:.2f} times its weight ({ratio.low:.2f} to {ratio.high:.2f})."
    )
    mends = (
        () if judged == "pass" else (Remedy("fit a battery of more cells, or a motor and propeller that pull more"),)
    )
    code, source = option.code("thrust"), f"{_POWER}; limit: {PRACTICE}"
    return Finding(code, judged, round(ratio.middle, 4), "", (low, None), message, source, mends)


def _climb(aeroplane: Aeroplane, option: Option, figures: PowerFigures) -> Finding:
    """Fails where the battery in use does not carry it level by any guess."""
    low, rate, system = aeroplane.design.limits.flight.climb_m_s, figures.climb_rate_m_s, aeroplane.design.units
    judged: Verdict = "pass" if rate.middle >= low else "caution"
    if rate.high < 0.0 and option.is_used:
        judged = "fail"
    top = figures.top_speed_m_s
    level = "it does not fly level" if top is None else f"it flies level at up to {spread(top, system)}"
    goes = f"climbs {spread(rate, system)} at best"
    if rate.middle < 0.0:
        goes = f"sinks {units.speed(-rate.middle, system)} even at full throttle"
    message = f"Estimate: {option.spoken} {level}, and {goes}."
    mends = (
        () if judged == "pass" else (Remedy("fit a battery of more cells, or a motor and propeller that pull more"),)
    )
    code, source = option.code("climb"), f"{_POWER}; limits.flight.climb is our choice"
    return Finding(code, judged, round(rate.middle, 4), "m/s", (low, None), message, source, mends)


def _time(aeroplane: Aeroplane, option: Option, time_s: Band) -> Finding:
    design = aeroplane.design
    low, minutes = design.limits.flight.flight_time_s / _S_PER_MIN, time_s.times(1.0 / _S_PER_MIN)
    judged: Verdict = "pass" if minutes.middle >= low else "caution"
    share = design.flight.usable_capacity_share
    message = (
        f"Estimate: {option.spoken} it stays up {minutes.middle:.0f} min ({minutes.low:.0f} to {minutes.high:.0f}) at "
        f"slow cruise, on {100.0 * share:.0f} % of the charge."
    )
    mends: tuple[Remedy, ...] = ()
    charge_c = _charge_c(design, option)
    if judged == "caution" and charge_c is not None:
        wanted = ceil(charge_c / _C_PER_MAH * low / minutes.middle / 50.0) * 50
        mends = (Remedy(f"fit a battery of {wanted} mAh or more"),)
    code, source = option.code("time"), f"{_POWER}; limits.flight.flight_time is our choice"
    return Finding(code, judged, round(minutes.middle, 4), "min", (low, None), message, source, mends)


def _charge_c(design: Design, option: Option) -> float | None:
    item = design.equipment[option.battery]
    assert isinstance(item, Battery)
    chosen = item.chosen() if option.key is None else item.model_copy(update={"use": option.key}).chosen()
    return chosen.capacity_c
