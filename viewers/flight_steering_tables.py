"""How it steers, how it moves when left alone, and what it does after a kick or a gust, as tables."""

from __future__ import annotations

from math import degrees

from airframe.checks.flight_course import motion_words
from airframe.flight.trim import NoTrimError, elevator_left
from airframe.flight.whole import Flight
from viewers.flight_cells import three
from viewers.tables import Column, Row, Table

READILY = 0.20
"""Fin volume times spiral rule above which it turns readily by rudder alone (as limits.flight.rudder_roll_low)."""


def steering_table(flight: Flight) -> Table:
    """Dihedral, spiral rule, elevator to trim."""
    dihedral = flight.dihedral
    even, ellipse = degrees(dihedral.uniform_rad), degrees(dihedral.elliptic_rad)
    rule = flight.spiral_rule
    limits = flight.layout.design.limits.flight
    verdict = "a bank dies away" if rule >= limits.spiral_low else "a bank grows slowly: keep steering"
    figure = flight.rudder_figure
    rows = [
        ("dihedral of a plain V that does as much", f"{ellipse:.1f} deg", f"{even:.1f} deg by even loading"),
        (
            f"spiral rule (above {limits.spiral_low:.3g}: dies away)",
            f"{rule:.1f}",
            f"{verdict}; rule of thumb, from memory",
        ),
        ("turning by rudder alone, figure", f"{figure:.2f}", _rudder_words(figure, limits.rudder_roll_low)),
        *_roll_rows(flight),
        *_trim_rows(flight),
    ]
    return three("how it steers", tuple(rows))


def _rudder_words(figure: float, low: float) -> str:
    """Fin volume times spiral rule (rule of thumb, from memory)."""
    word = "turns unwillingly" if figure < low else "turns well" if figure <= READILY else "turns readily"
    return f"{word}; {low:.2f} to {READILY:.2f} is usual (rule of thumb, from memory)"


def _roll_rows(flight: Flight) -> list[tuple[str, str, str]]:
    try:
        kick = flight.rudder_kick
    except NoTrimError:
        return []
    reached = "does not bank 30 deg" if kick.bank_30_s is None else f"banked 30 deg after {kick.bank_30_s:.1f} s"
    share = degrees(kick.rudder_rad)
    return [
        (
            "rolls by rudder alone at",
            f"{degrees(kick.most_roll_rad_s):.0f} deg/s",
            f"with {share:.0f} deg of rudder; {reached}",
        )
    ]


def responses_table(flight: Flight) -> Table:
    """What it does after a disturbance at slow cruise, in words."""
    rows = tuple(Row((one.name, one.words)) for one in flight.responses)
    return Table("after a disturbance at slow cruise", (Column("what happens"), Column("what you would see")), rows)


def motions_table(flight: Flight) -> Table:
    """What it does when left alone at slow cruise, in words."""
    rows = tuple(Row((mode.name, motion_words(mode))) for mode in flight.modes)
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
