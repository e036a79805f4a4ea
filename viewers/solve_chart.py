"""The chart of what moves a result most: bars in both directions, the longest first, by centimetre, gram and degree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from airframe.solve.slopes import Sensitivity, Slope
from viewers import plots
from viewers.palette import AXES, CONTACT, INK, INK_SOFT, PAPER
from viewers.solve_tables import moved

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_BARS = 10
BAR_IN, ROOM_IN, HEAD_IN = 0.24, 0.95, 0.9
"""Height of a bar, of the words round a panel, and of the figure's head."""
BAR_SHARE = 0.66
ROOM_SHARE = 0.22
"""Of the width of all bars, kept free at both ends for their numbers."""
MOST_TICKS = 6
MORE, LESS = AXES["up"], CONTACT
WORDS = (
    "How much each key moves the result, about the design as it is; each panel has its own scale. "
    "Whole bars: more of the key gives more. Hatched: more gives less."
)


def chart(found: Sensitivity) -> Figure:
    """A panel for each result and kind of key that moves it."""
    panels = [
        (one.code, one.unit.name(found.system), per, bars)
        for one in found.measures
        for per in found.amounts()
        if (bars := found.ranked(one.code, per)[:MOST_BARS])
    ]
    heights = [ROOM_IN + BAR_IN * len(bars) for *_, bars in panels] or [ROOM_IN]
    words = WORDS if panels else "No key that was tried moves any result."
    size = (plots.WIDE_IN, HEAD_IN + sum(heights))
    fig, axes = plots.figure(f"{found.name}: what moves it most", words, size, (len(heights), 1), heights=heights)
    for ax, (code, unit, per, bars) in zip(axes, panels, strict=False):
        _bars(ax, bars, found)
        plots.label(ax, f"{unit or 'change'} for {per} more", "", f"{code}, for {per}")
    return fig


def _bars(ax: Axes, bars: list[Slope], found: Sensitivity) -> None:
    unit = bars[0].measure.unit
    widths = [unit.shown(one.change or 0.0, found.system) for one in bars]
    for row, (one, width) in enumerate(zip(bars, widths, strict=True)):
        is_more = width > 0.0
        colour, hatch = (MORE, "") if is_more else (PAPER, "////")
        ax.barh(row, width, BAR_SHARE, facecolor=colour, edgecolor=MORE if is_more else LESS, hatch=hatch, zorder=3)
        away = 4.0 if is_more else -4.0
        plots.note(ax, (width, float(row)), moved(one, found), (away, 0.0))
    ax.axvline(0.0, color=INK, linewidth=1.0, zorder=4)
    ax.set_yticks(range(len(bars)), [one.key.name for one in bars], color=INK_SOFT)
    ax.grid(False, axis="y")
    ax.locator_params(axis="x", nbins=MOST_TICKS)
    low, high = min(0.0, *widths), max(0.0, *widths)
    room = ROOM_SHARE * (high - low)
    below, above = (room if end else 0.0 for end in (low, high))
    ax.set(ylim=(len(bars) - 0.4, -0.6), xlim=(low - below, high + above))
