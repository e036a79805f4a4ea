"""The chart of the balance range against static margin, with the place of every battery."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from airframe.balance.answers import Answer
from airframe.balance.intervals import Interval
from airframe.balance.lever import loads, placed
from airframe.balance.whole import Balances
from airframe.flight.whole import NEUTRAL_POINT_SHARE, Flight
from airframe.units import System
from viewers import plots
from viewers.flight_charts.scales import Scale, scales
from viewers.palette import BALANCE, INK_SOFT, PAPER

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_CASES = 8
"""More rows than this cannot be read: the design's own case first, then in their order."""
ROW_IN = 0.34
ROOM_SHARE = 0.08


def margins(flight: Flight, found: Balances, system: System) -> Figure:
    """Static margin over the balance point, and below it where each battery on its tray can put that.

    Raises NoTrimError.
    """
    answers = found.answers[:MOST_CASES]
    unit = scales(system).length
    shown = f"; {len(answers)} of {len(found.answers)} cases" if len(found.answers) > len(answers) else ""
    words = (
        "Estimate. Shaded: the range that the design asks for; hatched: how far off the neutral point may be. "
        f"Below: where each battery can put the balance point, thick in range, filled: as designed{shown}."
    )
    low_in = ROW_IN * max(len(answers), 1) + 0.2
    size = (plots.WIDE_IN, 3.4 + low_in)
    fig, (above, below) = plots.figure(
        "Balance range against static margin", words, size, (2, 1), share_x=True, heights=(2.2, low_in)
    )
    reach = _reach(flight, found, answers)
    _line(above, flight, found, reach, unit)
    _now(above, flight, found, unit)
    _rows(below, found, answers, unit)
    low, high = (found.target.behind_mm(x) / unit.size for x in found.target.window_mm)
    for ax in (above, below):
        ax.set_xlim(*(x / unit.size for x in reach))
        plots.pass_region(ax, low, high, "x")
    plots.label(above, "", "static margin, %")
    plots.label(below, f"balance point behind the leading edge, {unit.unit}", "")
    return fig


def behind_mm(answer: Answer, station_mm: float) -> float:
    """Balance behind the leading edge with a case's battery at a station."""
    load = loads([answer.case.rest], [answer.case.body])
    return answer.target.behind_mm(float(placed(load, [station_mm]).cg_mm[0, 0, 0]))


def _reach(flight: Flight, found: Balances, answers: Sequence[Answer]) -> Interval:
    """All that must be seen, behind the leading edge: range, batteries, balance and neutral point."""
    target = found.target
    seen = [target.behind_mm(x) for x in (*target.window_mm, found.cg_mm[0], flight.neutral_point_mm)]
    seen += [behind_mm(one, x) for one in answers for x in (*one.reach_mm, one.now.station_mm)]
    room = ROOM_SHARE * (max(seen) - min(seen))
    return min(seen) - room, max(seen) + room


def _line(ax: Axes, flight: Flight, found: Balances, reach: Interval, unit: Scale) -> None:
    """Margin falls by a chord as the balance point moves a chord aft; nothing is left at the neutral point."""
    behind = np.array(reach)
    neutral = found.target.behind_mm(flight.neutral_point_mm)
    margin = 100.0 * (neutral - behind) / found.target.chord_mm
    spread = 100.0 * NEUTRAL_POINT_SHARE
    plots.band(ax, behind / unit.size, margin - spread, margin + spread)
    plots.line(ax, behind / unit.size, margin, 0)
    ax.axhline(0.0, color=BALANCE, linewidth=1.2, zorder=2)
    plots.note(ax, (reach[0] / unit.size, 0.0), "below this line it does not right itself", (8.0, -9.0), color=BALANCE)
    at = neutral / unit.size
    ax.plot(at, 0.0, marker="D", markersize=7, markerfacecolor=PAPER, markeredgecolor=BALANCE, markeredgewidth=2.0)
    plots.note(ax, (at, 0.0), f"neutral point {_number(neutral, unit)} {unit.unit}", (-8.0, -13.0), color=BALANCE)


def _now(ax: Axes, flight: Flight, found: Balances, unit: Scale) -> None:
    """As it balances now, and what the ends of the range leave."""
    target = found.target
    is_forward = found.cg_mm[0] < target.middle_mm
    for station in target.window_mm:
        margin = 100.0 * flight.static_margin((station, 0.0, 0.0))
        at = target.behind_mm(station) / unit.size, margin
        ax.plot(*at, marker="|", markersize=12, color=INK_SOFT, markeredgewidth=1.5, zorder=4)
        plots.note(ax, at, f"{margin:.0f} %", (-5.0, -11.0) if is_forward else (5.0, 10.0))
    now = 100.0 * flight.static_margin()
    at = target.behind_mm(found.cg_mm[0]) / unit.size, now
    ax.plot(*at, marker="o", markersize=9, color=BALANCE, markeredgecolor=PAPER, zorder=5)
    beside = (10.0, 14.0) if is_forward else (-10.0, -12.0)
    plots.note(ax, at, f"as designed {now:.0f} %", beside, color=BALANCE, weight="bold")


def _rows(ax: Axes, found: Balances, answers: Sequence[Answer], unit: Scale) -> None:
    """A row a case: its reach thin, free and in range thick, the place where it is now marked."""
    for row, one in enumerate(answers):
        look = plots.stroke(row)
        low, high = one.reach_mm
        ends = (low, high) if low <= high else (one.now.station_mm, one.now.station_mm)
        _stretch(ax, one, ends, row, unit, 1.0)
        for part in one.usable:
            _stretch(ax, one, part, row, unit, 2.4)
        for part in one.in_range:
            _stretch(ax, one, part, row, unit, 7.0)
        fill = look.colour if one.case.is_current else PAPER
        at = behind_mm(one, one.now.station_mm) / unit.size
        ax.plot(
            at,
            row,
            marker=look.marker,
            markersize=8,
            markerfacecolor=fill,
            markeredgecolor=look.colour,
            markeredgewidth=1.6,
            zorder=5,
        )
    ax.set_yticks(range(len(answers)), [one.case.name for one in answers])
    ax.set_ylim(len(answers) - 0.4, -0.6)
    if not answers:
        ax.set_yticks([])
        ax.text(0.02, 0.5, "no battery is fitted", transform=ax.transAxes, size=plots.SMALL_PT, color=INK_SOFT)


def _stretch(ax: Axes, one: Answer, part: Interval, row: int, unit: Scale, width: float) -> None:
    places = [behind_mm(one, x) / unit.size for x in part]
    ax.plot(places, [row, row], color=plots.stroke(row).colour, linewidth=width, solid_capstyle="butt", zorder=3)


def _number(value_mm: float, unit: Scale) -> str:
    return f"{unit.of(value_mm):.{2 if unit.unit == 'in' else 0}f}"
