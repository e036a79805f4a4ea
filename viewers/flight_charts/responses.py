"""The chart of one response: what it does after a gust, a pull of the stick or a kick of the rudder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from airframe.flight.responses import Response
from viewers import plots
from viewers.palette import INK

if TYPE_CHECKING:
    from matplotlib.figure import Figure

PANEL_IN, TOP_IN = 1.05, 1.5


def response(found: Response) -> Figure:
    """A panel for each channel, one over the other, on one axis of time."""
    channels = list(found.channels.items())
    size = (plots.WIDE_IN, TOP_IN + PANEL_IN * len(channels))
    fig, axes = plots.figure(
        f"After a {found.name}", f"An estimate. {found.words}", size, (len(channels), 1), share_x=True
    )
    for number, (ax, (name, values)) in enumerate(zip(axes, channels, strict=True)):
        ax.axhline(0.0, color=INK, linewidth=0.8, zorder=1)
        plots.line(ax, found.times_s, values, number, width=2.2)
        ax.margins(x=0.0, y=0.12)
        plots.label(ax, "time, s" if ax is axes[-1] else "", _upright(name))
    fig.align_ylabels(axes)
    return fig


def _upright(name: str) -> str:
    """The name over its unit, which ends it: "bank deg" as "bank," and "deg"."""
    what, _, unit = name.rpartition(" ")
    return f"{what},\n{unit}" if what else unit
