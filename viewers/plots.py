"""The one look of every plot: warm paper, dark ink, lines told apart without colour, units at every axis.

A figure comes from `figure` and is filled through the helpers here; `viewers.plot_files` makes a file of it. Nothing
here knows what is plotted, and no state is shared between figures.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from numpy.typing import ArrayLike

from viewers.palette import AXES, BALANCE, CONTACT, INK, INK_SOFT, PAPER

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Corner = Literal[
    "best", "center", "upper left", "upper right", "lower left", "lower right", "upper center", "lower center"
]

WIDE_IN, TALL_IN = 7.2, 4.2
"""A figure fills an A4 page's width at its own size; on a screen it is shown larger."""
TITLE_PT, TYPE_PT, SMALL_PT = 13.0, 9.8, 9.0
"""Nothing is set smaller than nine points at the size of paper."""
LETTER_SHARE = 0.5
"""Mean width of a letter of running text, of its size."""
RULE = "#d8cbb0"
"""Grid lines."""
PASS = "#cfe5d6"
"""What passes, or lies within limits, is shaded so."""
BAND_OPACITY = 0.16


@dataclass(frozen=True)
class Stroke:
    """How one line of several looks: each differs from all others in more than its colour."""

    colour: str
    dashes: tuple[float, ...]
    """Lengths drawn and left out in turn, in line widths; none for a whole line."""
    marker: str
    """The mark of its points, where points are marked."""
    hatch: str
    """The filling of its band, where bands lie over each other."""


STROKES = (
    Stroke(AXES["up"], (), "o", "////"),
    Stroke(BALANCE, (5.0, 2.0), "s", "\\\\\\\\"),
    Stroke(CONTACT, (7.0, 1.8, 1.4, 1.8), "^", "||||"),
    Stroke("#8a4b12", (1.4, 1.6), "D", "----"),
    Stroke("#5a3d9a", (10.0, 2.6), "v", "xxxx"),
    Stroke("#6a5c00", (5.0, 1.6, 1.4, 1.6, 1.4, 1.6), "P", "++++"),
    Stroke("#3c4650", (2.8, 1.2), "X", "//\\\\"),
)
"""For the first line, the second, and so on; they repeat after the last."""


def stroke(number: int) -> Stroke:
    """The look of the line with a number, from 0."""
    return STROKES[number % len(STROKES)]


def figure(
    title: str,
    words: str = "",
    size_in: tuple[float, float] = (WIDE_IN, TALL_IN),
    grid: tuple[int, int] = (1, 1),
    share_x: bool = False,
    heights: Sequence[float] | None = None,
) -> tuple[Figure, list[Axes]]:
    """An empty figure with its axes, row by row.

    Args:
        title: What it is, in bold at the top left.
        words: What to look for, small below the title; broken into lines.
        size_in: Width and height as it stands on paper, inches.
        grid: Rows and columns of axes.
        share_x: Whether all axes have one x axis, named at the lowest.
        heights: Of the rows, one against the other; alike unless given.
    """
    from matplotlib.figure import Figure

    words = "\n".join(piece for text in words.splitlines() for piece in wrap(text, _letters(size_in[0])))
    fig = Figure(figsize=size_in, facecolor=PAPER, layout="constrained")
    top = 1.0 - 0.06 / size_in[1]
    lines = words.count("\n") + 1 if words else 0
    below = (TITLE_PT * 1.5 + lines * SMALL_PT * 1.35 + 4.0) / 72.0 / size_in[1]
    fig.text(0.012, top, title, size=TITLE_PT, weight="bold", color=INK, va="top")
    if words:
        at = top - TITLE_PT * 1.5 / 72.0 / size_in[1]
        fig.text(0.012, at, words, size=SMALL_PT, color=INK_SOFT, va="top", linespacing=1.25)
    engine: Any = fig.get_layout_engine()
    engine.set(rect=(0.008, 0.012, 0.98, top - below - 0.012), h_pad=0.05, w_pad=0.05)
    found = fig.subplots(*grid, sharex=share_x, squeeze=False, height_ratios=heights)
    axes: list[Axes] = list(found.ravel())
    for ax in axes:
        _dress(ax)
    return fig, axes


def _letters(width_in: float) -> int:
    """How many small letters a figure's width holds."""
    return int(0.97 * width_in * 72.0 / (LETTER_SHARE * SMALL_PT))


def _dress(ax: Axes) -> None:
    ax.set_facecolor(PAPER)
    ax.grid(True, color=RULE, linewidth=0.6)
    ax.set_axisbelow(True)
    ax.tick_params(labelsize=TYPE_PT, colors=INK, length=3.5, width=0.8)
    for side, spine in ax.spines.items():
        spine.set_visible(side in ("left", "bottom"))
        spine.set_color(INK)


def label(ax: Axes, x: str, y: str, title: str = "", title_pad: float = 6.0) -> None:
    """Name the axes, each with its unit after a comma: "speed, m/s"; and perhaps the axes themselves."""
    ax.set_xlabel(x, size=TYPE_PT, color=INK)
    ax.set_ylabel(y, size=TYPE_PT, color=INK)
    if title:
        ax.set_title(title, size=TYPE_PT, color=INK, loc="left", weight="bold", pad=title_pad)


def line(
    ax: Axes, x: ArrayLike, y: ArrayLike, number: int = 0, name: str = "", width: float = 1.8, marked: bool = False
) -> None:
    """A line in the look of its number; `name` goes into the legend, `marked` shows its points."""
    look = stroke(number)
    (drawn,) = ax.plot(np.asarray(x), np.asarray(y), color=look.colour, linewidth=width, label=name or "_", zorder=3)
    if look.dashes:
        drawn.set_dashes(look.dashes)
    if marked:
        drawn.set(marker=look.marker, markersize=5.0, markerfacecolor=PAPER, markeredgewidth=1.4)


def band(ax: Axes, x: ArrayLike, low: ArrayLike, high: ArrayLike, number: int = 0) -> None:
    """Where a line may turn out to lie, in its look: tinted, and hatched to be told apart without colour."""
    look, places = stroke(number), (np.asarray(x), np.asarray(low), np.asarray(high))
    ax.fill_between(*places, color=look.colour, alpha=BAND_OPACITY, linewidth=0.0, zorder=1.5)
    ax.fill_between(
        *places, facecolor="none", edgecolor=look.colour, alpha=0.3, hatch=look.hatch, linewidth=0.0, zorder=1.5
    )


def pass_region(
    ax: Axes, low: float | None, high: float | None, along: Literal["x", "y"] = "y", name: str = ""
) -> None:
    """Shade what lies between two limits (None: no limit on that side) right across, each limit a thin line.

    Call it when all else is drawn: an open side ends with the axis.
    """
    span, rule = (ax.axvspan, ax.axvline) if along == "x" else (ax.axhspan, ax.axhline)
    limits = (ax.get_xlim if along == "x" else ax.get_ylim)()
    bottom, top = min(limits), max(limits)
    span(bottom if low is None else low, top if high is None else high, color=PASS, zorder=0.4, label=name or "_")
    for limit in (low, high):
        if limit is not None:
            rule(limit, color=CONTACT, linewidth=1.2, zorder=0.9)
    (ax.set_xlim if along == "x" else ax.set_ylim)(*limits)


def contour(
    ax: Axes,
    x: ArrayLike,
    y: ArrayLike,
    z: ArrayLike,
    limit: tuple[float | None, float | None] = (None, None),
    form: str = "%g",
) -> None:
    """Lines of equal z over x and y, each with its number; what lies within the limits is shaded, its edge thick.

    Args:
        ax: Where to draw.
        x: (n,) along the axis.
        y: (m,) up the axis.
        z: (m, n); nan where there is no answer, which leaves a hole.
        limit: Lowest and highest z that pass; None for no limit.
        form: How a number on a line is written.
    """
    across, up, height = np.asarray(x), np.asarray(y), np.ma.masked_invalid(np.asarray(z, dtype=np.float64))
    if height.count() == 0:
        return
    ends = [-np.inf if limit[0] is None else limit[0], np.inf if limit[1] is None else limit[1]]
    if limit != (None, None):
        edges = [max(ends[0], float(height.min()) - 1.0), min(ends[1], float(height.max()) + 1.0)]
        if edges[0] < edges[1]:
            ax.contourf(across, up, height, levels=edges, colors=[PASS], zorder=0.4)
    if height.min() == height.max():
        return
    lines = ax.contour(across, up, height, levels=8, colors=[INK], linewidths=0.9, zorder=2)
    ax.clabel(lines, fmt=form, fontsize=SMALL_PT, colors=[INK])
    for end in ends:
        if np.isfinite(end) and height.min() < end < height.max():
            ax.contour(across, up, height, levels=[end], colors=[CONTACT], linewidths=2.4, zorder=2.5)


def note(
    ax: Axes, at: tuple[float, float], words: str, offset_pt: tuple[float, float] = (6.0, 6.0), **style: Any
) -> None:
    """Words beside a point of the data, on a ground of paper, kept clear of it by an offset in points."""
    given = {"color": INK, "ha": "left" if offset_pt[0] >= 0.0 else "right", "va": "center"} | style
    ground = {"boxstyle": "square,pad=0.12", "facecolor": PAPER, "edgecolor": "none", "alpha": 0.8}
    ax.annotate(words, at, xytext=offset_pt, textcoords="offset points", size=SMALL_PT, bbox=ground, zorder=5, **given)


def legend(ax: Axes, where: Corner = "best", columns: int = 1) -> None:
    """The named lines with enough of each to see its dashes."""
    shown = ax.legend(loc=where, ncols=columns, fontsize=SMALL_PT, labelcolor=INK, handlelength=3.6, borderpad=0.5)
    frame = shown.get_frame()
    frame.set(facecolor=PAPER, edgecolor=RULE, alpha=0.92)
