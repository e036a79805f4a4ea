"""The chart of power: thrust needed and available over speed, and the same as power, for each battery."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from airframe.axes import Array
from airframe.flight.power import PowerTrain, end_of_thrust_m_s, operating_point
from airframe.flight.power_figures import Drags, Guess
from airframe.flight.roots import NoRoot
from airframe.flight.whole import Flight
from airframe.units import System
from viewers import plots
from viewers.flight_charts.scales import scales
from viewers.palette import INK_SOFT

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

STEPS = 25
BEYOND = 1.08
"""How far past the end of thrust the speeds go."""
HEADROOM = 1.2
"""Above the most that there is of thrust or power: what is needed may leave the picture."""
MOST_OPTIONS = 3
"""More batteries than this cannot be told apart with their bands."""


def power(flight: Flight, guesses: Sequence[tuple[str, Guess]], system: System) -> Figure:
    """Level flight against full throttle; `guesses` are the power train with each battery, by its name."""
    shown = guesses[:MOST_OPTIONS]
    words = (
        "Estimates; hatched: how far off each may be. Where a battery's line meets the thick one, level flight ends; "
        "what lies between them is there to climb with."
        + (f" {len(shown)} of {len(guesses)} batteries." if len(shown) < len(guesses) else "")
    )
    fig, (above, below) = plots.figure(
        "Thrust and power over speed, full throttle", words, (plots.WIDE_IN, 5.1), (2, 1), share_x=True
    )
    unit, density = scales(system), flight.drags.likely.density_kg_m3
    ends = [_end(guess.likely, density) for _, guess in shown]
    speeds = np.linspace(0.0, BEYOND * max([2.0 * flight.cruise_m_s, *ends]), STEPS)
    _needed(above, below, flight.drags, speeds, system)
    tops = [
        _available(above, below, guess, (speeds, density), system, (number, option))
        for number, (option, guess) in enumerate(shown, 1)
    ]
    for ax, top in zip((above, below), np.max(tops, axis=0), strict=True):
        ax.axvline(flight.cruise_m_s / unit.speed.size, color=INK_SOFT, linewidth=1.0, dashes=(2.0, 2.0), zorder=1)
        ax.set_xlim(0.0, speeds[-1] / unit.speed.size)
        ax.set_ylim(0.0, HEADROOM * top)
    at = flight.cruise_m_s / unit.speed.size, below.get_ylim()[1]
    plots.note(below, at, "slow cruise", (4.0, -8.0), color=INK_SOFT)
    plots.label(above, "", f"thrust, {unit.force.unit}")
    plots.label(below, f"speed, {unit.speed.unit}", "power to the air, W")
    plots.legend(above, "upper right")
    return fig


def _end(train: PowerTrain, density_kg_m3: float) -> float:
    """Where full throttle pulls no more; 0 for a motor that does not turn."""
    try:
        return end_of_thrust_m_s(train, density_kg_m3)
    except NoRoot:
        return 0.0


def _needed(above: Axes, below: Axes, drags: Drags, speeds: Array, system: System) -> None:
    """From the stall on."""
    flown = np.union1d(speeds[speeds > drags.likely.stall_speed_m_s], drags.likely.stall_speed_m_s)
    polars = (drags.slippery, drags.likely, drags.draggy)
    low, middle, high = (np.array([polar.drag_n(float(speed)) for speed in flown]) for polar in polars)
    unit = scales(system)
    for ax, factor in ((above, np.full(len(flown), 1.0 / unit.force.size)), (below, flown)):
        plots.band(ax, flown / unit.speed.size, low * factor, high * factor, 0)
        plots.line(ax, flown / unit.speed.size, middle * factor, 0, "needed in level flight, from the stall on", 2.8)


def _available(
    above: Axes, below: Axes, guess: Guess, where: tuple[Array, float], system: System, named: tuple[int, str]
) -> tuple[float, float]:
    """Full throttle, while it pulls, with the band of the guesses; the tops of both curves."""
    speeds, density = where
    number, option = named
    pulls = np.array([_thrusts(train, speeds, density) for train in (guess.likely, *guess.others)])
    low, high = pulls.min(axis=0), pulls.max(axis=0)
    unit, name = scales(system), f"with the {option} battery" if option else "full throttle"
    for ax, factor in ((above, np.full(len(speeds), 1.0 / unit.force.size)), (below, speeds)):
        plots.band(ax, speeds / unit.speed.size, low * factor, high * factor, number)
        plots.line(ax, speeds / unit.speed.size, np.where(pulls[0] > 0.0, pulls[0] * factor, np.nan), number, name)
    return float(high.max()) / unit.force.size, float((high * speeds).max())


def _thrusts(train: PowerTrain, speeds: Array, density_kg_m3: float) -> Array:
    """Nothing where the propeller would brake, or does not turn."""
    found = []
    for speed in speeds:
        try:
            found.append(operating_point(train, float(speed), density_kg_m3).thrust_n)
        except NoRoot:
            found.append(0.0)
    pulls: Array = np.maximum(np.array(found), 0.0)
    return pulls
