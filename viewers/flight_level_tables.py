"""Level flight as tables: from the stall up, speed by speed, and how the balance point moves the stall."""

from __future__ import annotations

from math import degrees, inf

from airframe import units
from airframe.balance.target import Target
from airframe.flight.level import LevelPoint
from airframe.flight.loading import Slowest
from airframe.flight.whole import Flight
from airframe.units import System
from viewers.tables import Column, Row, Table, length_number

MIDDLE_SHARE, TIP_SHARE = 0.3, 0.65
"""Of the half span: nearer to the centre a stall lets the nose fall, farther out it may drop a wing."""
NOT_HELD = "none holds it"


def level_table(flight: Flight, system: System) -> Table:
    """What each speed asks of wing, elevator and motor, as far as the motor carries it where that is known."""
    top = flight.top_speed_m_s
    fastest = inf if top is None else max(top.high, flight.cruise_m_s)
    rows = tuple(_level_row(point, system) for point in flight.level if point.speed_m_s <= fastest)
    columns = (
        Column("speed"), Column("times stall", "right"), Column("lift coefficient", "right"),
        Column("elevator", "right"), Column("up left", "right"), Column("drag", "right"), Column("power", "right"),
        Column("sink", "right"), Column("glide (band)", "right"),
    )  # fmt: skip
    return Table(
        "level flight from the stall up (estimates; drag, power and sink spread as the glide does)", columns, rows
    )


def _level_row(point: LevelPoint, system: System) -> Row:
    elevator, left = NOT_HELD, "–"
    if point.elevator_rad is not None and point.elevator_left_rad is not None:
        elevator = elevator_words(point.elevator_rad)
        left = f"{degrees(point.elevator_left_rad):.0f} deg"
    drag, glide = point.drag_n.middle, point.glide
    return Row(
        (
            units.speed(point.speed_m_s, system),
            f"{point.times_stall:.1f}",
            f"{point.lift_coefficient:.2f}",
            elevator,
            left,
            units.force(drag, system) if system == "imperial" else f"{drag:.2f} N",
            f"{point.power_w.middle:.1f} W",
            units.speed(point.sink_m_s.middle, system),
            f"{glide.middle:.1f} ({glide.low:.1f} to {glide.high:.1f})",
        )
    )


def elevator_words(angle_rad: float) -> str:
    """An elevator angle with its direction: "1.3 deg up"."""
    angle = degrees(angle_rad)
    if abs(angle) < 0.05:
        return "level"
    return f"{abs(angle):.1f} deg {'down' if angle > 0.0 else 'up'}"


def slowest_table(flight: Flight, target: Target, system: System) -> Table:
    """The slowest level flight as it balances now and at both ends of the range. Raises NoTrimError."""
    chosen = [("as it balances now", None), ("forward end of the range", target.forward_mm), ("aft end", target.aft_mm)]
    rows = []
    for name, station in chosen:
        x = float(flight.whole.centre[0]) if station is None else station
        found = flight.slowest(station)
        share = flight.stall_m_s.times(found.trim.speed_m_s / flight.stall_m_s.middle)
        band = " to ".join(units.speed(speed, system) for speed in (share.low, share.high))
        behind = length_number(target.behind_mm(x), system)
        cells = (units.speed(share.middle, system), band, elevator_words(found.trim.elevator_rad), _end(found, flight))
        rows.append(Row((name, behind, *cells)))
    unit = "in" if system == "imperial" else "mm"
    columns = (
        Column("balance point"), Column(f"behind LE {unit}", "right"), Column("slowest", "right"), Column("band"),
        Column("elevator", "right"), Column("what ends it"),
    )  # fmt: skip
    return Table(
        "slowest level flight till some part of the wing lets go, by where it balances (LE: leading edge)",
        columns,
        tuple(rows),
    )


def _end(found: Slowest, flight: Flight) -> str:
    """What happens first when it is slowed down."""
    if found.limit == "elevator":
        return "the elevator is fully up: it mushes"
    share = 2.0 * abs(float(found.stall_place_m[1])) / flight.air.wing.span_m
    if share < MIDDLE_SHARE:
        return "the wing lets go in the middle first: the nose falls"
    return "the wing lets go half-way out" if share < TIP_SHARE else "the wing lets go near a tip: it may drop a wing"
