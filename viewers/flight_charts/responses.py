"""The chart of one response: what it does after a gust, a pull of the stick or a kick of the rudder."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from airframe.axes import Array
from airframe.flight.responses import Response
from airframe.units import System
from viewers import plots
from viewers.flight_charts.scales import Scale, scales
from viewers.palette import INK, PAPER_SHADE

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

PANEL_IN, TOP_IN = 0.78, 1.2
SMALL_CHANGES = {"bank deg": 30.0, "incidence change deg": 10.0, "slip deg": 15.0}
"""Past these the motion is no longer a small change, and the linear model says too much (our choice, no source)."""
SHOWN_BEYOND = 1.6
"""Times as long as the changes stay small: what comes later is not drawn."""
LEAST_SPAN = 0.5
"""An axis is not drawn finer than this, in its unit: smaller changes are nothing to a builder."""


def response(found: Response, system: System) -> Figure:
    """A panel for each channel, one over the other, on one axis of time."""
    channels = list(found.channels.items())
    size = (plots.WIDE_IN, TOP_IN + PANEL_IN * len(channels))
    said = f"An estimate: {found.words}."
    doubt = doubtful_from_s(found)
    if doubt is not None:
        said += " Shaded: changes are no longer small, and the sums say too much."
    fig, axes = plots.figure(f"After a {found.name}", said, size, (len(channels), 1), share_x=True)
    shown = found.times_s <= (np.inf if not doubt else SHOWN_BEYOND * doubt)
    end = float(found.times_s[shown][-1])
    for number, (ax, (name, values)) in enumerate(zip(axes, channels, strict=True)):
        what, unit = _named(name, system)
        _channel(ax, found.times_s[shown], values[shown] / unit.size, number)
        if doubt is not None:
            ax.axvspan(doubt, end, color=PAPER_SHADE, zorder=0.3)
        plots.label(ax, "time, s" if ax is axes[-1] else "", f"{what},\n{unit.unit}")
        ax.yaxis.label.set(rotation=0.0, ha="right", va="center", color=plots.stroke(number).colour)
    fig.align_ylabels(axes)
    return fig


def _channel(ax: Axes, times: Array, values: Array, number: int) -> None:
    """One line over its zero line."""
    ax.axhline(0.0, color=INK, linewidth=0.8, zorder=1)
    plots.line(ax, times, values, number, width=2.0)
    low, high = min(float(values.min()), 0.0), max(float(values.max()), 0.0)
    room = 0.12 * max(high - low, LEAST_SPAN)
    ax.set(xlim=(0.0, float(times[-1])), ylim=(low - room, high + room))
    ax.locator_params(axis="y", nbins=4)


def doubtful_from_s(found: Response) -> float | None:
    """When the changes first are no longer small; None where they stay so."""
    past = np.zeros(len(found.times_s), dtype=np.bool_)
    for name, limit in SMALL_CHANGES.items():
        if name in found.channels:
            past |= np.abs(found.channels[name]) > limit
    return float(found.times_s[int(np.argmax(past))]) if past.any() else None


def _named(name: str, system: System) -> tuple[str, Scale]:
    """What a channel is and the unit it is shown in; a channel's name ends in its own: "bank deg"."""
    what, _, unit = name.rpartition(" ")
    own = {"m/s": scales(system).speed, "m": scales(system).height}
    return what, own.get(unit, Scale(unit, 1.0))
