"""Flight estimates as tables: how slowly, how steadily, on what power, with what throws; every figure in its band."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import degrees, radians

from airframe import units
from airframe.balance.margins import CaseMargins, Place
from airframe.flight.bands import Band
from airframe.flight.power_figures import PowerFigures
from airframe.flight.speeds import stall_speed_in_turn_m_s, turn_radius_m
from airframe.flight.trim import NoTrimError, elevator_left
from airframe.flight.whole import NEUTRAL_POINT_SHARE, Flight
from airframe.units import System
from viewers.tables import Column, Row, Table, length_number

TURN_RAD = radians(30.0)
"""The bank for which a turn is told."""
RUDDER_FIGURE = 0.10, 0.20
"""Fin volume times spiral rule for turning by rudder alone (design rules of a course, from memory, not found)."""
UNGUIDED_MARGIN = 2.0
"""What a push-rod without guides should bear over the most that is asked of it (our choice, no source)."""
CAUTIONS = (
    "Estimates from the drawing and published trends; they give no clearance to fly. Local rules and the flying site "
    "come first: have an experienced flyer check balance, controls and range, and fly the first flights beside one.",
    "Low-speed lift and drag of sharp-edged plates vary from one wing to the next: trust the differences between two "
    "designs more than the figures.",
)

_Words = Callable[[float, System], str]


def speeds_table(flight: Flight, system: System) -> Table:
    """How slowly it flies, glides, sinks and turns."""
    drags, cruise, stall = flight.drags, flight.cruise_m_s, flight.stall_m_s
    polars = (drags.likely, drags.slippery, drags.draggy)
    glide = _band([polar.glide_ratio(cruise) for polar in polars])
    sink = _band([polar.sink_m_s(cruise) for polar in polars])
    power = _band([polar.power_w(cruise) for polar in polars])
    turn = turn_radius_m(max(cruise, stall_speed_in_turn_m_s(stall.middle, TURN_RAD)), TURN_RAD)
    loading = drags.likely.wing_loading_kg_m2 * 10.0
    rows = (
        ("stall, clean", *_cells(stall, units.speed, system)),
        ("slow cruise, 1.3 times that", units.speed(cruise, system), ""),
        ("glide at slow cruise", f"{glide.middle:.1f} to 1", f"{glide.low:.1f} to {glide.high:.1f}"),
        ("sink at slow cruise", *_cells(sink, units.speed, system)),
        ("power in level flight at slow cruise", f"{power.middle:.1f} W", f"{power.low:.1f} to {power.high:.1f} W"),
        ("turn radius at 30 deg of bank", _distance(turn, system), ""),
        ("wing loading", f"{loading:.0f} g/dm²", ""),
        ("cubic wing loading", f"{drags.likely.cubic_loading_kg_m3:.1f} kg/m³", ""),
    )
    return _three("how slowly it flies", rows)


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
    volumes = flight.air.volumes
    rows = [
        ("neutral point behind the leading edge", f"{length_number(point, system)} {unit}", f"{band} {unit}"),
        ("static margin as it balances now", f"{100.0 * flight.static_margin():.0f} %", f"{shares} %"),
        (
            "balance for a margin of 5 %",
            units.length(flight.station_for_margin(0.05) - leading, system),
            "aft limit to choose",
        ),
        ("balance for a margin of 15 %", units.length(flight.station_for_margin(0.15) - leading, system), "steadier"),
        *_tail_rows(flight, system),
        ("tail volume, horizontal", f"{volumes.horizontal:.2f}", "0.30 to 0.60 usual for models (from memory)"),
        ("tail volume, vertical", f"{volumes.vertical:.3f}", "0.02 to 0.05 usual for models (from memory)"),
    ]
    return _three("balance and steadiness", tuple(rows))


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
        (f"the tail does, gaps {gaps}", f"{100.0 * share.middle:.0f} %", f"{percent} % in slow wake or in slipstream"),
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


def steering_table(flight: Flight) -> Table:
    """Dihedral, spiral rule, elevator to trim."""
    dihedral = flight.dihedral
    even, ellipse = degrees(dihedral.uniform_rad), degrees(dihedral.elliptic_rad)
    rule = flight.spiral_rule
    verdict = "a bank dies away" if rule > 5.0 else "a bank grows slowly: keep steering"
    rows = [
        ("dihedral of a plain V that does as much", f"{ellipse:.1f} deg", f"{even:.1f} deg by even loading"),
        ("spiral rule (above 5: dies away)", f"{rule:.1f}", f"{verdict}; rule of thumb, from memory"),
        ("turning by rudder alone, figure", f"{flight.rudder_figure:.2f}", _rudder_words(flight.rudder_figure)),
        *_roll_rows(flight),
        *_trim_rows(flight),
    ]
    return _three("how it steers", tuple(rows))


def _rudder_words(figure: float) -> str:
    """Fin volume times spiral rule (rule of thumb, from memory)."""
    low, high = RUDDER_FIGURE
    word = "turns unwillingly" if figure < low else "turns well" if figure <= high else "turns readily"
    return f"{word}; {low:.2f} to {high:.2f} is usual (rule of thumb, from memory)"


def _roll_rows(flight: Flight) -> list[tuple[str, str, str]]:
    try:
        kick = flight.rudder_kick
    except NoTrimError:
        return []
    reached = "does not bank 30 deg" if kick.bank_30_s is None else f"banked 30 deg after {kick.bank_30_s:.1f} s"
    share = degrees(kick.most_roll_rad_s / kick.roll_per_rudder)
    return [
        ("rolls by rudder alone at", f"{degrees(kick.most_roll_rad_s):.0f} deg/s", f"{share:.0f} deg of it: {reached}")
    ]


def responses_table(flight: Flight) -> Table:
    """What it does after a disturbance at slow cruise, in words."""
    rows = tuple(Row((one.name, one.words)) for one in flight.responses)
    return Table("after a disturbance at slow cruise", (Column("what happens"), Column("what you would see")), rows)


def motions_table(flight: Flight) -> Table:
    """What it does when left alone at slow cruise, in words."""
    rows = tuple(Row((mode.name, mode.words)) for mode in flight.modes)
    return Table("left alone after a gust, at slow cruise", (Column("motion"), Column("what you would see")), rows)


def _trim_rows(flight: Flight) -> list[tuple[str, str, str]]:
    rows = []
    throw = flight.layout.design.tail.elevator.throw_up_rad
    for name, speed in (("slow cruise", flight.cruise_m_s), ("the stall", flight.stall_m_s.middle)):
        try:
            trim = flight.trimmed(speed)
        except NoTrimError as error:
            rows.append((f"elevator at {name}", "none holds it", str(error)))
            continue
        angle = degrees(trim.elevator_rad)
        left = degrees(elevator_left(trim, throw))
        way = "down" if angle > 0.0 else "up"
        rows.append((f"elevator at {name}", f"{abs(angle):.1f} deg {way}", f"{left:.0f} deg of up elevator left"))
    return rows


def power_table(figures: PowerFigures, battery: str, system: System) -> Table:
    """Thrust, current against its limits, speed, climb and time in the air on one battery."""
    rows = [
        ("static thrust", *_cells(figures.static_thrust_n, units.force, system)),
        ("thrust over weight", f"{figures.thrust_to_weight.middle:.2f}", _ends(figures.thrust_to_weight, 2)),
        (
            "current, standing at full throttle",
            f"{figures.static_current_a.middle:.1f} A",
            f"{_ends(figures.static_current_a, 1)} A",
        ),
    ]
    for limit in figures.limits:
        kind = "stated" if limit.is_stated else "estimated"
        word = "TOO MUCH" if limit.use.middle > 1.0 else "may be too much" if limit.use.high > 1.0 else "within"
        rows.append(
            (f"of the {limit.what}'s {limit.limit_a:.0f} A ({kind})", f"{100.0 * limit.use.middle:.0f} %", word)
        )
    if figures.top_speed_m_s is None:
        rows.append(("level flight", "not on this power", ""))
    else:
        rows.append(("top speed in level flight", *_cells(figures.top_speed_m_s, units.speed, system)))
    rows.append(("best climb", *_cells(figures.climb_rate_m_s, units.speed, system)))
    if figures.cruise_current_a is not None and figures.cruise_time_s is not None:
        minutes = figures.cruise_time_s.times(1.0 / 60.0)
        rows.append(
            (
                "current at slow cruise",
                f"{figures.cruise_current_a.middle:.1f} A",
                f"{_ends(figures.cruise_current_a, 1)} A",
            )
        )
        rows.append(("time at slow cruise", f"{minutes.middle:.0f} min", f"{_ends(minutes, 0)} min"))
    return _three(f"power on the {battery} battery" if battery else "power", tuple(rows))


def controls_table(flight: Flight, system: System) -> Table:
    """Each control from servo to surface, at the top of level flight."""
    unit = "in" if system == "imperial" else "mm"
    rows = []
    for run in flight.control_runs:
        reached = "–" if run.throw_reached_rad is None else f"{degrees(run.throw_reached_rad):.0f}"
        torque = "–" if run.torque_margin is None else f"{run.torque_margin.low:.1f}"
        margin = run.buckling_margin
        guides = "none needed" if margin >= UNGUIDED_MARGIN else "guide it in the middle, or use thicker wire"
        cells = (f"{degrees(run.throw_wanted_rad):.0f}", reached, length_number(run.arm_needed_mm, system), torque)
        rows.append(Row((run.surface, *cells, f"{margin:.1f}", guides)))
    columns = (
        Column("surface"), Column("throw wanted deg", "right"), Column("reached deg", "right"),
        Column(f"arm for it {unit}", "right"), Column("servo torque times", "right"),
        Column("push-rod bears times", "right"), Column("guides"),
    )  # fmt: skip
    return Table(
        "controls at the top of level flight (times: what it bears over what is asked, worst case)",
        columns,
        tuple(rows),
    )


def _band(values: list[float]) -> Band:
    return Band(min(values), values[0], max(values))


def _cells(band: Band, words: _Words, system: System) -> tuple[str, str]:
    return words(band.middle, system), f"{words(band.low, system)} to {words(band.high, system)}"


def _ends(band: Band, decimals: int) -> str:
    return f"{band.low:.{decimals}f} to {band.high:.{decimals}f}"


def _distance(value_m: float, system: System) -> str:
    return f"{value_m * 1000.0 / units.MM_PER_FOOT:.0f} ft" if system == "imperial" else f"{value_m:.1f} m"


def _three(title: str, rows: tuple[tuple[str, str, str], ...]) -> Table:
    columns = (Column("figure"), Column("estimate", "right"), Column("band, or what it means"))
    return Table(title, columns, tuple(Row(row) for row in rows))
