"""Flight estimates as tables: how slowly, how steadily, on what power, with what throws; every figure in its band."""

from __future__ import annotations

from collections.abc import Sequence
from math import radians

from airframe import units
from airframe.balance.margins import CaseMargins, Place
from airframe.flight.speeds import stall_speed_in_turn_m_s, turn_radius_m
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import NEUTRAL_POINT_SHARE, Flight
from airframe.units import System
from viewers.flight_cells import band_of, cells, three
from viewers.tables import Column, Row, Table, length_number

STEADY_SHARE = 0.15
"""A static margin that flies steadily (common practice, no source)."""
TURN_RAD = radians(30.0)
"""The bank for which a turn is told."""
CAUTIONS = (
    "Estimates from the drawing and published trends; they give no clearance to fly. Local rules and the flying site "
    "come first: have an experienced flyer check balance, controls and range, and fly the first flights beside one.",
    "Low-speed lift and drag of sharp-edged plates vary from one wing to the next: trust the differences between two "
    "designs more than the figures.",
)


def speeds_table(flight: Flight, system: System) -> Table:
    """How slowly it flies, glides, sinks and turns."""
    drags, cruise, stall = flight.drags, flight.cruise_m_s, flight.stall_m_s
    polars = (drags.likely, drags.slippery, drags.draggy)
    glide = band_of([polar.glide_ratio(cruise) for polar in polars])
    sink = band_of([polar.sink_m_s(cruise) for polar in polars])
    power = band_of([polar.power_w(cruise) for polar in polars])
    turn = turn_radius_m(max(cruise, stall_speed_in_turn_m_s(stall.middle, TURN_RAD)), TURN_RAD)
    rows = (
        ("stall, clean", *cells(stall, units.speed, system)),
        ("slow cruise, 1.3 times that", units.speed(cruise, system), ""),
        ("glide at slow cruise", f"{glide.middle:.1f} to 1", f"{glide.low:.1f} to {glide.high:.1f}"),
        ("sink at slow cruise", *cells(sink, units.speed, system)),
        ("power in level flight at slow cruise", f"{power.middle:.1f} W", f"{power.low:.1f} to {power.high:.1f} W"),
        ("turn radius at 30 deg of bank", _distance(turn, system), ""),
        *_ground_rows(flight, system),
        ("wing loading", units.wing_loading(drags.likely.wing_loading_kg_m2, system), ""),
        ("cubic wing loading", units.cubic_loading(drags.likely.cubic_loading_kg_m3, system), ""),
    )
    return three("how slowly it flies", rows)


def _ground_rows(flight: Flight, system: System) -> list[tuple[str, str, str]]:
    """What the ground takes off the drag on landing, where anything holds it level."""
    try:
        near = flight.near_ground
    except NoTrimError:
        return []
    height = units.length(near.wing_height_m * 1000.0, system)
    words = f"of the drag that lift costs, wing {height} up: it floats before it settles"
    return [("landing, wheels just off the ground", f"{100.0 * near.saved_share:.0f} % less", words)]


def balance_table(flight: Flight, system: System) -> Table:
    """Neutral point, static margin as it balances now, where other margins would be, tail volumes."""
    leading, chord = flight.layout.design.wing.station_mm, flight.layout.mean_chord
    unit = "in" if system == "imperial" else "mm"
    spread = NEUTRAL_POINT_SHARE * chord.length_mm
    point = flight.neutral_point_mm - leading
    band = " to ".join(length_number(x, system) for x in (point - spread, point + spread))
    shares = " to ".join(
        f"{100.0 * (flight.static_margin() + d):.0f}" for d in (-NEUTRAL_POINT_SHARE, NEUTRAL_POINT_SHARE)
    )
    volumes, limits = flight.air.volumes, flight.layout.design.limits.flight
    rows = [
        ("neutral point behind the leading edge", f"{length_number(point, system)} {unit}", f"{band} {unit}"),
        ("static margin as it balances now", f"{100.0 * flight.static_margin():.0f} %", f"{shares} %"),
        _balance_row(flight, limits.margin_low_share, "no farther aft than this"),
        _balance_row(flight, STEADY_SHARE, "steadier"),
        *_tail_rows(flight, system),
        (
            "tail volume, horizontal",
            f"{volumes.horizontal:.2f}",
            f"{limits.tail_volume_low:.2f} to {limits.tail_volume_high:.2f} is usual",
        ),
        (
            "tail volume, vertical",
            f"{volumes.vertical:.3f}",
            f"{limits.fin_volume_low:.3f} to {limits.fin_volume_high:.3f} is usual",
        ),
    ]
    return three("balance and steadiness", tuple(rows))


def _balance_row(flight: Flight, margin: float, words: str) -> tuple[str, str, str]:
    """Where it would balance for a static margin, behind the leading edge."""
    design = flight.layout.design
    place = units.length(flight.station_for_margin(margin) - design.wing.station_mm, design.units)
    return f"balance for a margin of {100.0 * margin:.3g} %", place, words


def _tail_rows(flight: Flight, system: System) -> list[tuple[str, str, str]]:
    """The air at the tail and the gaps, and how far they move the neutral point."""
    air, points = flight.tail_air, flight.neutral_points_mm
    leading = flight.layout.design.wing.station_mm
    unit = "in" if system == "imperial" else "mm"
    low, high = (length_number(x - leading, system) for x in (points.low, points.high))
    gaps = flight.layout.design.flight.hinge_gaps
    share = air.share
    percent = " to ".join(f"{100.0 * end:.0f}" for end in (share.low, share.high))
    return [
        (
            f"the tail works at, gaps {gaps}",
            f"{100.0 * share.middle:.0f} %",
            f"{percent} %: in the fuselage's slow wake, or in slipstream",
        ),
        ("neutral point with the tail in that air", "", f"{low} to {high} {unit}"),
    ]


def margins_table(margins: Sequence[CaseMargins], system: System) -> Table:
    """The static margin of each battery option and choice of items, now and at the ends of its free stations."""

    def cell(place: Place | None) -> str:
        if place is None:
            return "no room"
        return f"{100.0 * place.margin:.0f} at {length_number(place.station_mm, system)}"

    rows = tuple(
        Row((one.case, cell(one.foremost), cell(one.now), cell(one.rearmost), _steadiness(one.now.margin)))
        for one in margins
    )
    unit = "in" if system == "imperial" else "mm"
    columns = (
        Column("battery, items"), Column("foremost", "right"), Column("now", "right"), Column("rearmost", "right"),
        Column("as it is now"),
    )  # fmt: skip
    return Table(f"static margin in % with the battery's middle at a station, {unit}", columns, rows)


def _steadiness(margin: float) -> str:
    """What a static margin feels like (common practice, no source)."""
    for limit, words in ((0.0, "TAIL-HEAVY: not to be flown"), (0.05, "twitchy: only for the experienced")):
        if margin < limit:
            return words
    return "lively" if margin < 0.10 else "steady" if margin < 0.20 else "very steady, heavy on the elevator"


def _distance(value_m: float, system: System) -> str:
    return f"{value_m * 1000.0 / units.MM_PER_FOOT:.0f} ft" if system == "imperial" else f"{value_m:.1f} m"
