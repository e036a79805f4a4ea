"""All flight tables of one aeroplane in the order a builder asks, and what could not be told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from airframe.balance.margins import case_margins
from airframe.balance.whole import Balances
from airframe.checks.flight_controls import not_stated
from airframe.compare.motions import motion_changes, part_shares
from airframe.compare.parts import paired
from airframe.flight.trim import NoTrimError
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from viewers import (
    flight_change_tables,
    flight_level_tables,
    flight_power_tables,
    flight_steering_tables,
    flight_tables,
)
from viewers.flight_power_tables import NONE
from viewers.tables import Table


@dataclass(frozen=True)
class Summary:
    """What there is to show, and notes on what is not."""

    tables: tuple[Table, ...]
    notes: tuple[str, ...]


def summary(aeroplane: Aeroplane, found: Balances) -> Summary:
    """Every table that the design gives; `found` is where its batteries may sit."""
    power, notes = _power(aeroplane)
    flight, system = aeroplane.flight, aeroplane.design.units
    controls = flight_power_tables.controls_table(flight, system)
    try:
        held = tuple(_held(aeroplane, found))
    except NoTrimError as error:
        held, notes = (), (f"no figures on balance, steering and motions: {error}", *notes)
    lacking = not_stated(aeroplane.design, flight.control_runs)
    notes = (
        (*notes, f"where the table of controls has {NONE}: {lacking[:1].lower()}{lacking[1:]}") if lacking else notes
    )
    return Summary((flight_tables.speeds_table(flight, system), *held, *power, *_filled(controls)), notes)


def changes(old: Aeroplane, new: Aeroplane) -> Summary:
    """How a redesign flies beside its prototype, and what drives each change of its motions."""
    names, system = (old.design.name, new.design.name), new.design.units
    figures = flight_change_tables.flights_table(old.flight, new.flight, names, system)
    try:
        motions = motion_changes(old, new)
    except NoTrimError as error:
        return Summary((figures,), (f"no motions side by side: {error}",))
    driven = flight_change_tables.causes_table(motions)
    notes = () if driven.rows else ("the two do not make the same motions: what drives the changes is not told",)
    pairs = paired(old.statement, new.statement)
    single = flight_change_tables.parts_table(motions, part_shares(old, new, pairs))
    side_by_side = flight_change_tables.motions_table(motions, names)
    return Summary((figures, side_by_side, *_filled(driven), *_filled(single)), notes)


def _held(aeroplane: Aeroplane, found: Balances) -> Iterator[Table]:
    """What asks for level flight. Raises NoTrimError."""
    flight, system = aeroplane.flight, aeroplane.design.units
    yield flight_level_tables.slowest_table(flight, found.target, system)
    yield flight_level_tables.level_table(flight, system)
    yield flight_tables.balance_table(flight, system)
    yield from _filled(flight_tables.margins_table(case_margins(found, flight.neutral_point_mm), system))
    yield flight_steering_tables.steering_table(flight)
    yield flight_steering_tables.motions_table(flight)
    yield flight_steering_tables.responses_table(flight)


def _power(aeroplane: Aeroplane) -> tuple[list[Table], tuple[str, ...]]:
    tables, notes = [], []
    for option in battery_options(aeroplane):
        figures = aeroplane.flight.power(option or None)
        if isinstance(figures, str):
            notes.append(f"no power figures{f' on the {option} battery' if option else ''}: {figures}")
        else:
            tables.append(flight_power_tables.power_table(figures, option, aeroplane.design.units))
    return tables, tuple(notes)


def battery_options(aeroplane: Aeroplane) -> list[str]:
    """The battery options that are in the design; an empty name for a battery without any, or for none at all."""
    batteries = [item for item in aeroplane.design.equipment.values() if isinstance(item, Battery) and item.fitted]
    return list(batteries[0].options) or [""] if batteries else [""]


def _filled(table: Table) -> tuple[Table, ...]:
    return (table,) if table.rows else ()
