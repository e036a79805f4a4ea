"""The mends of a case in words, each with the --set lines that make it so."""

from __future__ import annotations

from collections.abc import Container

from airframe import units
from airframe.axes import Point
from airframe.balance.answers import Answer
from airframe.balance.mending import Ballast, ItemMove, station_near
from airframe.checks.changes import Change, item_key, setting, settings
from airframe.checks.finding import Remedy
from airframe.checks.rounding import length_text, short
from airframe.schema.design import Design
from airframe.units import G_PER_OUNCE, System


def remedies(answer: Answer, design: Design) -> tuple[Remedy, ...]:
    """What brings a case into range, the least change first; nothing for a case that is well as it is."""
    if answer.is_well_now:
        return ()
    if answer.in_range:
        return (_battery_only(answer, design),)
    if answer.best is None:
        longer = _longer_tray(answer, design)
        return () if longer is None else (longer,)
    flown = flown_as(answer, design)
    moved = [_item_moved(answer, move, design, flown) for move in answer.moves]
    if answer.ballast is None:
        return tuple(moved)
    return (_with_ballast(answer, answer.ballast, design, flown), *moved)


def flown_as(answer: Answer, design: Design) -> tuple[str, ...]:
    """The --set lines that make the design fly this case, battery at its best; empty where it does so already."""
    case = answer.case
    changes = [
        Change(("equipment", item, "fitted"), is_in)
        for item, is_in in case.aboard
        if design.equipment[item].fitted != is_in
    ]
    lines = settings(changes, design.units)
    if case.option is not None and case.option != _used(design, case.battery):
        lines = (setting(item_key(case.battery, "use"), case.option), *lines)
    if answer.best is not None and abs(answer.best.station_mm - answer.now.station_mm) > 0.005:
        lines = (*lines, _station(case.battery, answer.best.station_mm, design.units))
    return lines


def _used(design: Design, battery: str) -> str | None:
    item = design.equipment[battery]
    options = list(getattr(item, "options", ()))
    used = getattr(item, "use", None)
    return used if used is not None else next(iter(options), None)


def _station(item: str, station_mm: float, system: System) -> str:
    return Change(("equipment", item, "station_mm"), round(station_mm, 2)).setting(system)


def _battery_only(answer: Answer, design: Design) -> Remedy:
    """The nearest station that will do."""
    case, system = answer.case, design.units
    station = station_near(answer.in_range, answer.now.station_mm, system)
    assert station is not None
    lines = [line for line in flown_as(answer, design) if not line.startswith(f"{item_key(case.battery, 'station')}=")]
    text = f"put the {answer.case.battery_words} at station {length_text(station, system)}"
    return Remedy(text, (*lines, _station(case.battery, station, system)))


def _longer_tray(answer: Answer, design: Design) -> Remedy | None:
    """For a battery longer than its tray; one that is blocked everywhere has no simple remedy."""
    low, high = answer.reach_mm
    if high >= low:
        return None
    short, rear = low - high, answer.tray.to_mm + low - high
    text = f"make room for the {answer.case.battery_words}: its tray is {units.length(short, design.units)} too short"
    if answer.met:
        names = " and the ".join(one.name for one in answer.met)
        return Remedy(f"{text}; the {names} {'stand' if len(answer.met) > 1 else 'stands'} in the way")
    if getattr(design.equipment[answer.case.battery], "tray_to_mm", None) is None:
        return Remedy(text)
    change = Change(("equipment", answer.case.battery, "tray_to_mm"), rear)
    return Remedy(text, settings([change], design.units))


def _item_moved(answer: Answer, move: ItemMove, design: Design, flown: tuple[str, ...]) -> Remedy:
    way, system = ("aft" if move.to_mm > move.from_mm else "forward"), design.units
    by = units.length(abs(move.to_mm - move.from_mm), system)
    text = f"move the {move.item} {by} {way}, to station {length_text(move.to_mm, system)}{_battery_at(answer, design)}"
    return Remedy(text, (*flown, _station(move.item, move.to_mm, system)))


def _battery_at(answer: Answer, design: Design) -> str:
    """Where the battery must be for it, if that is not where it is."""
    assert answer.best is not None
    if abs(answer.best.station_mm - answer.now.station_mm) <= 0.005:
        return ""
    return f", with the battery at station {length_text(answer.best.station_mm, design.units)}"


def _with_ballast(answer: Answer, bar: Ballast, design: Design, flown: tuple[str, ...]) -> Remedy:
    system, (x, _, z) = design.units, bar.middle
    place = f"station {units.length(x, system)}, water line {units.length(z, system)}"
    text = f"add {mass_text(bar.mass_g, system)} of ballast at {place}{_battery_at(answer, design)}"
    return Remedy(text, (*flown, *_ballast_lines(unused("ballast", design.equipment), bar, system)))


def _ballast_lines(name: str, bar: Ballast, system: System) -> tuple[str, ...]:
    x, y, z = (length_text(value, system) for value in bar.middle)
    return (
        setting(item_key(name, "mass"), mass_text(bar.mass_g, system)),
        f"{item_key(name, 'size')}={_list(bar.size, system)}",
        setting(item_key(name, "station"), x),
        setting(item_key(name, "butt_line"), y),
        setting(item_key(name, "water_line"), z),
    )


def unused(name: str, taken: Container[str]) -> str:
    """A name that is not taken: "ballast", "ballast 2", ..."""
    number, result = 1, name
    while result in taken:
        number += 1
        result = f"{name} {number}"
    return result


def _list(size: Point, system: System) -> str:
    return "[" + ", ".join(f'"{length_text(value, system)}"' for value in size) + "]"


def mass_text(mass_g: float, system: System) -> str:
    """A mass that reads back as the same value, to a hundredth of a gram or ounce."""
    value, unit = (mass_g / G_PER_OUNCE, "oz") if system == "imperial" else (mass_g, "g")
    return f"{short(value, 2)} {unit}"
