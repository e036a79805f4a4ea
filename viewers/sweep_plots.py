"""Plots of a sweep: lines over one key, lines of equal value over two, what passes shaded."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, prod
from typing import TYPE_CHECKING, Any

import numpy as np

from airframe.axes import Array
from airframe.sweep.keys import Axis
from airframe.sweep.measures import Measure, Value
from airframe.sweep.rows import Row, Table
from viewers import plots
from viewers.palette import CONTACT, INK_SOFT
from viewers.sweep_tables import raised, setting_text

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_LINES = len(plots.STROKES)
"""More lines than there are looks cannot be told apart."""
PANEL_IN = 2.7
"""Height of each measure's panel."""
SQUARE_IN = 4.2
"""Height of each panel of equal values."""
LEAST_GRID = 4
"""Values of either key from which on lines of equal value tell more than a line for each value."""
LETTERS, STROKE_LETTERS = 84, 9
"""How many small letters a row of the legend holds, and how many the stroke beside a name takes the room of."""
LEGEND_ROW_IN = 0.17
MARKED = 40
"""Points are marked on lines of no more than so many."""
SHADED = "Shaded: everything that was asked passes, as far as was tried."
CROSSED = "Crosses: cannot be built."
MARGIN, DOT_PT = 0.03, 3.0
"""Round the outermost variants, in shares of the panel; size of a dot."""
ALL_PASS = 1.0 - 1e-6
"""Between points of which some pass (1) and some do not (0) nothing reaches this."""


class PlotError(ValueError):
    """A sweep that cannot be plotted; the message says what can."""


def check(axes: Sequence[Axis], is_paired: bool) -> None:
    """Raises PlotError for more keys than paper has directions."""
    along = 0 if is_paired else _along(axes)
    lines = prod(len(axis.texts) for index, axis in enumerate(axes) if index != along and not is_paired)
    if lines > MOST_LINES and not _are_contours(axes, is_paired):
        message = (
            f"{lines} lines cannot be told apart; plot one or two keys with numbers, or one with numbers and others "
            f"with no more than {MOST_LINES} combinations"
        )
        raise PlotError(message)


def _are_contours(axes: Sequence[Axis], is_paired: bool) -> bool:
    """Whether two keys span the paper."""
    wide = [axis for axis in axes if axis.is_numeric and len(axis.texts) >= LEAST_GRID]
    return len(wide) == len(axes) == 2 and not is_paired


def plot(result: Table) -> Figure:
    """One panel for each measure that is a number. Raises PlotError; see `check`."""
    check(result.axes, result.is_paired)
    measures = [one for one in result.measures if any(_is_number(value) for value in result.column(one.code))]
    if not measures:
        message = "there is nothing to plot: no variant has a number for any measure"
        raise PlotError(message)
    if _are_contours(result.axes, result.is_paired):
        return _contours(result, measures)
    return _lines(result, measures)


def _lines(result: Table, measures: Sequence[Measure]) -> Figure:
    """Every measure over the first key that has many values; a line for each combination of the others."""
    at = 0 if result.is_paired else _along(result.axes)
    axis, families = result.axes[at], _families(result, at)
    words = _words(result, "", SHADED if len(families) == 1 else "", "")
    columns = _columns(list(families))
    above = LEGEND_ROW_IN * (ceil(len(families) / columns) + 1) if len(families) > 1 else 0.0
    size = (plots.WIDE_IN, 0.9 + PANEL_IN * len(measures) + above)
    fig, panels = plots.figure(result.name, words, size, (len(measures), 1), share_x=True)
    for panel, one in zip(panels, measures, strict=True):
        for line, (name, rows) in enumerate(families.items()):
            x = [_place(axis, row.values[at], result) for row in rows]
            y = [_height(row.answers.get(one.code), one, result) for row in rows]
            plots.line(panel, x, y, line, name, marked=len(rows) <= MARKED)
        plots.label(panel, _name(axis, result) if panel is panels[-1] else "", _name(one, result))
        _words_along(panel, axis)
        if len(families) == 1:
            _shade_stretches(panel, axis, at, result)
    if len(families) > 1:
        _legend_above(panels[0], columns)
    return fig


def _columns(names: Sequence[str]) -> int:
    """How many of the names stand side by side."""
    return min(len(names), max(1, LETTERS // (max(map(len, names)) + STROKE_LETTERS)))


def _legend_above(panel: Axes, columns: int) -> None:
    """Which line is which, over the panel and not in it: lines over the whole width leave no corner free."""
    plots.legend(panel, "lower left", columns)
    shown = panel.get_legend()
    assert shown is not None
    shown.set_bbox_to_anchor((0.0, 1.0))


def _along(axes: Sequence[Axis]) -> int:
    """The key that goes along the paper: of those that are numbers the one with the most values."""
    order = sorted(range(len(axes)), key=lambda index: (axes[index].is_numeric, len(axes[index].texts), -index))
    return order[-1]


def _families(result: Table, at: int) -> dict[str, list[Row]]:
    """Rows by what the other keys are, in the order of the plan; in a pairing there is one family."""
    found: dict[str, list[Row]] = {}
    for row in result.rows:
        others = [index for index in range(len(result.axes)) if index != at and not result.is_paired]
        found.setdefault(", ".join(_said(result, index, row.values[index]) for index in others), []).append(row)
    return found


def _said(result: Table, index: int, value: float | str) -> str:
    axis = result.axes[index]
    return f"{axis.key} {setting_text(value, axis.unit, result.system)}"


def _shade_stretches(panel: Axes, axis: Axis, at: int, result: Table) -> None:
    """Stretches of the key between values at all of which everything that was asked passes."""
    rows = sorted(result.rows, key=lambda row: _place(axis, row.values[at], result))
    x = [_place(axis, row.values[at], result) for row in rows]
    for first, last in stretches([row.verdict == "pass" for row in rows]):
        panel.axvspan(x[first], x[last], color=plots.PASS, zorder=0.4, linewidth=0.0)


def stretches(passes: Sequence[bool]) -> list[tuple[int, int]]:
    """First and last index of each run of passes."""
    found: list[tuple[int, int]] = []
    for index, is_passed in enumerate(passes):
        if is_passed and found and found[-1][1] == index - 1:
            found[-1] = (found[-1][0], index)
        elif is_passed:
            found.append((index, index))
    return found


def _contours(result: Table, measures: Sequence[Measure]) -> Figure:
    """Every measure over two keys: the first along the paper, the second up."""
    across, up = result.axes
    words = _words(result, "Lines of equal value; dots: what was tried.", SHADED, CROSSED)
    size = (plots.WIDE_IN, 0.9 + SQUARE_IN * len(measures))
    fig, panels = plots.figure(result.name, words, size, (len(measures), 1), share_x=True)
    rows = {row.number: row for row in result.rows}
    order = [[i * len(up.texts) + j for i in range(len(across.texts))] for j in range(len(up.texts))]
    grid = [[rows.get(number) for number in line] for line in order]
    x = np.array([_place(across, value, result) for value in across.values])
    y = np.array([_place(up, value, result) for value in up.values])
    passed = np.array([[float(row is not None and row.verdict == "pass") for row in line] for line in grid])
    columns, lines = np.argsort(x), np.argsort(y)
    for panel, one in zip(panels, measures, strict=True):
        z = np.array([[_height(row.answers.get(one.code) if row else None, one, result) for row in r] for r in grid])
        _shade(panel, x[columns], y[lines], passed[np.ix_(lines, columns)])
        plots.contour(panel, x[columns], y[lines], z[np.ix_(lines, columns)])
        _dots(panel, across, up, result)
        bottom = _name(across, result) if panel is panels[-1] else ""
        plots.label(panel, bottom, _name(up, result), _name(one, result))
        panel.set(xlim=_widened(x), ylim=_widened(y))
    return fig


def _shade(panel: Axes, x: Array, y: Array, passed: Array) -> None:
    """What lies between points at all of which everything passes: the true region reaches a little further."""
    if passed.any():
        panel.contourf(x, y, passed, levels=[ALL_PASS, 2.0], colors=[plots.PASS], zorder=0.4)
        panel.contour(x, y, passed, levels=[ALL_PASS], colors=[CONTACT], linewidths=1.6, zorder=0.9)


def _widened(places: Array) -> tuple[float, float]:
    """From the lowest to the highest, with a little room for the outermost dots."""
    room = MARGIN * float(np.ptp(places))
    return float(places.min()) - room, float(places.max()) + room


def _dots(panel: Axes, across: Axis, up: Axis, result: Table) -> None:
    """Every variant that was tried; a cross where there is none to be had."""
    for mark, rows in (
        (".", [row for row in result.rows if not row.message]),
        ("x", [row for row in result.rows if row.message]),
    ):
        x = [_place(across, row.values[0], result) for row in rows]
        y = [_place(up, row.values[1], result) for row in rows]
        panel.plot(x, y, mark, color=INK_SOFT, markersize=DOT_PT, zorder=1.8)


def _words(result: Table, lines: str, shaded: str, crossed: str) -> str:
    """What is to be seen, as far as it is there."""
    are_some_passed = any(row.verdict == "pass" for row in result.rows)
    are_some_lost = any(row.message for row in result.rows)
    told = (f"{_counted(result)}.", lines, shaded if are_some_passed else "", crossed if are_some_lost else "")
    return " ".join(word for word in told if word)


def _counted(result: Table) -> str:
    lost = sum(bool(row.message) for row in result.rows)
    whole = f"{len(result.rows)} variants" if result.is_whole else f"{len(result.rows)} of {result.count} variants"
    return f"{whole}, {lost} of which cannot be built" if lost else whole


def _name(column: Axis | Measure, result: Table) -> str:
    name = column.key if isinstance(column, Axis) else column.code
    unit = raised(column.unit.name(result.system))
    return f"{name}, {unit}" if unit else name


def _place(axis: Axis, value: float | str, result: Table) -> float:
    """Along the axis: the number in its unit, or which of the words it is."""
    if isinstance(value, str) or not axis.is_numeric:
        return float(axis.values.index(value))
    return axis.unit.shown(value, result.system)


def _words_along(panel: Axes, axis: Axis) -> None:
    if not axis.is_numeric:
        panel.set_xticks(range(len(axis.values)), [str(value) for value in axis.values], color=INK_SOFT)


def _height(value: Value, one: Measure, result: Table) -> float:
    return one.unit.shown(value, result.system) if isinstance(value, (int, float)) else float("nan")


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float))
