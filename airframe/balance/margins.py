"""The static margin of every case: with its battery where the design has it, and at the ends of its free stations."""

from __future__ import annotations

from dataclasses import dataclass

from airframe.balance.answers import Answer
from airframe.balance.lever import moved_by_mm
from airframe.balance.whole import Balances


@dataclass(frozen=True)
class Place:
    """A station of the battery's middle and what it makes of the static margin."""

    station_mm: float
    margin: float
    """Neutral point behind the balance point, in mean aerodynamic chords."""


@dataclass(frozen=True)
class CaseMargins:
    """One case; estimates, as the neutral point is."""

    case: str
    now: Place
    foremost: Place | None
    """Of the free stations; None where there is none."""
    rearmost: Place | None


def case_margins(found: Balances, neutral_point_mm: float) -> tuple[CaseMargins, ...]:
    """Of every case, against one neutral point: that of the design as it is."""

    def place(answer: Answer, station_mm: float) -> Place:
        move = moved_by_mm(answer.case.body.mass, answer.now.mass_g, station_mm - answer.now.station_mm)
        balance_mm = answer.now.cg_mm[0] + move
        return Place(station_mm, (neutral_point_mm - balance_mm) / answer.target.chord_mm)

    made = []
    for answer in found.answers:
        ends = (answer.usable[0][0], answer.usable[-1][1]) if answer.usable else ()
        first, last = (place(answer, station) for station in ends) if ends else (None, None)
        made.append(CaseMargins(answer.case.name, place(answer, answer.now.station_mm), first, last))
    return tuple(made)
