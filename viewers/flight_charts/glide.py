"""The chart of glide: how fast it sinks, and what it drags, at each speed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from airframe.axes import Array
from airframe.flight.power_figures import Drags
from airframe.flight.whole import Flight
from airframe.units import System
from viewers import plots
from viewers.flight_charts.scales import Scale, scales

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

STEPS = 60
FASTEST = 2.2
"""Times the stall speed."""


def glide(flight: Flight, system: System) -> Figure:
    """Without power, from the stall on: sinking downward, and drag."""
    drags, unit = flight.drags, scales(system)
    words = (
        "Estimates, propeller folded or stopped; hatched: how far off they may be. The line starts at the stall. "
        "Sinking is drawn downward, as it is flown."
    )
    fig, (above, below) = plots.figure("How it glides without power", words, (plots.WIDE_IN, 4.8), (2, 1), share_x=True)
    speeds = np.linspace(drags.likely.stall_speed_m_s, FASTEST * drags.likely.stall_speed_m_s, STEPS)
    _curve(above, unit.speed, speeds, _over(drags, "sink_m_s", speeds) / unit.speed.size)
    _curve(below, unit.speed, speeds, _over(drags, "drag_n", speeds) / unit.force.size)
    above.set_ylim(above.get_ylim()[1], 0.0)
    below.set_ylim(bottom=0.0)
    _marks(above, below, flight, system)
    plots.label(above, "", f"sink, {unit.speed.unit}")
    plots.label(below, f"speed, {unit.speed.unit}", f"drag, {unit.force.unit}")
    return fig


def _over(drags: Drags, figure: str, speeds: Array) -> Array:
    """(3, n) low, likely and high of a figure of the polar."""
    polars = (drags.slippery, drags.likely, drags.draggy)
    return np.array([[getattr(polar, figure)(float(speed)) for speed in speeds] for polar in polars])


def _curve(ax: Axes, speed: Scale, speeds: Array, values: Array) -> None:
    low, middle, high = values
    plots.band(ax, speeds / speed.size, low, high, 0)
    plots.line(ax, speeds / speed.size, middle, 0, width=2.4)


def _marks(above: Axes, below: Axes, flight: Flight, system: System) -> None:
    """Speeds worth a name, on both curves."""
    polar, unit = flight.drags.likely, scales(system)
    ratio = polar.glide_ratio(polar.flattest_glide_m_s)
    named = (
        (above, polar.least_sink_speed_m_s, "slowest sink", (3.0, -18.0), 2),
        (above, polar.flattest_glide_m_s, f"flattest glide, {ratio:.1f} to 1", (4.0, 16.0), 1),
        (below, flight.cruise_m_s, "slow cruise", (4.0, -14.0), 3),
    )
    for ax, speed, words, beside, number in named:
        value = polar.sink_m_s(speed) / unit.speed.size if ax is above else polar.drag_n(speed) / unit.force.size
        look, at = plots.stroke(number), (speed / unit.speed.size, value)
        ax.plot(*at, marker=look.marker, markersize=8, color=look.colour, zorder=5)
        plots.note(ax, at, words, beside, color=look.colour)
