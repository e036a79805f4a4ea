"""The root plot: every motion that the aeroplane makes by itself, by how fast it swings and how fast it dies away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, log, sqrt
from typing import TYPE_CHECKING, Any

from airframe.flight.modes import Mode, Name
from viewers import plots
from viewers.palette import BALANCE, INK, INK_SOFT, PAPER, PAPER_SHADE

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

ALONG: tuple[Name, ...] = ("short period", "phugoid")
SLOW: tuple[Name, ...] = ("phugoid", "spiral", "roll and spiral")
"""Seen only close up."""
PLAIN: dict[Name, str] = {
    "short period": "nods\n(short period)",
    "phugoid": "swoops\n(phugoid)",
    "Dutch roll": "wags and rocks\n(Dutch roll)",
    "roll": "rolls on\n(roll)",
    "spiral": "leans\n(spiral)",
    "roll and spiral": "rolls and weaves\n(roll and spiral)",
}
DAMPING = (0.1, 0.3, 0.5, 0.7)
TIMES_S = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
LEAST_REACH = 0.05
"""1/s: closer up than this nothing differs for a builder."""
ROOM = 1.35
APART = 0.13
"""Least distance of two such names, as a share of the frame."""
NAMED_AT = 0.88
SMALL: dict[str, Any] = {
    "textcoords": "offset points",
    "size": plots.SMALL_PT,
    "color": INK_SOFT,
    "ha": "center",
    "va": "bottom",
}


@dataclass(frozen=True)
class Motions:
    """The motions of one aeroplane and its name."""

    name: str
    modes: Sequence[Mode]


def motions(new: Motions, old: Motions | None = None) -> Figure:
    """Both axes, whole and close up; a prototype's roots hollow, with a line from each to the new one."""
    words = (
        "Slow cruise, an estimate. Left of the upright: dies away; shaded: grows. On the floor it does not swing; "
        "higher up it swings faster. At the top: time until half is gone, or twice is there. "
        "Slanting lines: damping, as a share of what stops all swinging."
    )
    if old is not None:
        words += f"\nFilled: {new.name}. Hollow: {old.name}."
    fig, axes = plots.figure("What it does when left alone", words, (plots.WIDE_IN, 6.6), (2, 2))
    for row, (title, is_along) in enumerate((("nose up and down", True), ("wings and tail", False))):
        for column, is_close in enumerate((False, True)):
            ax = axes[2 * row + column]
            roots = [_shown(one, is_along, is_close) for one in (new, old) if one is not None]
            _frame(ax, [mode.root for modes in roots for mode in modes])
            _roots(ax, roots[0], roots[1] if old is not None else ())
            plots.label(ax, "growth, 1/s", "swing, rad/s", f"{title}{', close up' if is_close else ''}", 17.0)
    return fig


def _shown(one: Motions, is_along: bool, is_close: bool) -> list[Mode]:
    mine = [mode for mode in one.modes if (mode.name in ALONG) == is_along]
    return [mode for mode in mine if mode.name in SLOW] if is_close else mine


def _frame(ax: Axes, roots: Sequence[complex]) -> None:
    """Limits that show all roots and the line between dying and growing; lines of damping and of times."""
    wide = max([LEAST_REACH, *(abs(root.real) for root in roots)])
    low = ROOM * max([0.2 * wide, LEAST_REACH, *(-root.real for root in roots)])
    high = ROOM * max([0.12 * wide, *(root.real for root in roots)])
    tall = ROOM * max([0.3 * wide, LEAST_REACH, *(root.imag for root in roots)])
    ax.set(xlim=(-low, high), ylim=(-0.06 * tall, tall))
    ax.axvspan(0.0, high, color=PAPER_SHADE, zorder=0.3)
    ax.axvline(0.0, color=INK, linewidth=1.0, zorder=1)
    ax.axhline(0.0, color=INK_SOFT, linewidth=0.8, zorder=1)
    ax.grid(False)
    ax.locator_params(axis="x", nbins=5)
    _times(ax, low, high)
    _damping(ax, low, high, tall)


def _times(ax: Axes, low: float, high: float) -> None:
    """Upright lines at a few round times to half or double, named above the frame, not too near each other."""
    last = 0.0
    for time_s in reversed(TIMES_S):
        rate = log(2.0) / time_s
        if rate - last < APART * (low + high) or rate > 0.97 * low:
            continue
        last = rate
        for at in (-rate, rate):
            if at < 0.97 * high:
                ax.axvline(at, color=plots.RULE, linewidth=0.9, zorder=0.6)
                ax.annotate(f"{time_s:g} s", (at, 1.0), xycoords=ax.get_xaxis_transform(), xytext=(0.0, 3.0), **SMALL)


def _damping(ax: Axes, low: float, high: float, tall: float) -> None:
    """Rays from the origin; each is named near where it leaves the picture, if there is room."""
    named: list[tuple[float, float]] = []
    for share in DAMPING:
        slope = sqrt(1.0 - share**2) / share
        x = min(low, tall / slope)
        ax.plot((0.0, -x), (0.0, x * slope), color=plots.RULE, linewidth=0.9, dashes=(4.0, 2.5), zorder=0.6)
        at = NAMED_AT * x / (low + high), NAMED_AT * x * slope / tall
        if all(hypot(at[0] - other[0], at[1] - other[1]) > APART for other in named):
            named.append(at)
            plots.note(ax, (-NAMED_AT * x, NAMED_AT * x * slope), f"{share:g}", (0.0, 0.0), ha="center", color=INK_SOFT)


def _roots(ax: Axes, new: Sequence[Mode], old: Sequence[Mode]) -> None:
    """Filled and hollow, joined where they are one motion; each named once."""
    for modes, fill in ((old, PAPER), (new, BALANCE)):
        for mode in modes:
            style: dict[str, Any] = {
                "markersize": 8,
                "markeredgecolor": BALANCE,
                "markeredgewidth": 1.8,
                "clip_on": False,
            }
            ax.plot(mode.root.real, mode.root.imag, "o", markerfacecolor=fill, zorder=5, **style)
    rest = list(old)
    for mode in new:
        before = next((one for one in rest if one.name == mode.name), None)
        if before is not None:
            rest.remove(before)
            path = zip(*((root.real, root.imag) for root in (before.root, mode.root)), strict=True)
            ax.plot(*path, color=BALANCE, linewidth=1.2, zorder=3)
    left, right = ax.get_xlim()
    for mode in {mode.name: mode for mode in new}.values():
        is_left = mode.root.real < (left + right) / 2.0
        plots.note(ax, (mode.root.real, mode.root.imag), PLAIN[mode.name], (9.0 if is_left else -9.0, 15.0))
