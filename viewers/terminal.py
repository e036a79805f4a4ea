"""Tables set in plain type for a terminal: columns that line up and fit its width."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Iterator
from itertools import permutations, zip_longest
from textwrap import wrap

from viewers.tables import Column, Headline, Table

GAP = "  "
NARROWEST = 16
"""A column of words is never narrower than this; numbers never give way."""

Bold = Callable[[str], str]


def screen_width() -> int | None:
    """Characters across the screen that results go to; None where they go into a file or to another program."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else None


def table_text(table: Table, bold: Bold, width: int | None = None, indent: str = "  ") -> str:
    """A table with its title, headings and a rule; group and total rows in bold type.

    Where a width in characters is given, columns of words give way until the table fits, in the way that makes it
    the least tall; what is too long for its column goes on in the line below.
    """
    headings = [column.title for column in table.columns]
    has_groups = any(row.kind == "group" for row in table.rows)
    cells = [
        [indent + row.cells[0] if has_groups and row.kind == "part" else row.cells[0], *row.cells[1:]]
        for row in table.rows
    ]
    widths = [max(len(line[i]) for line in [headings, *cells]) for i in range(len(headings))]
    if width is not None:
        widths = _squeezed(widths, cells, table.columns, width)
    rule = GAP.join("─" * size for size in widths)
    lines = [bold(table.title), *_lines(headings, widths, table.columns), rule]
    for row, line in zip(table.rows, cells, strict=True):
        if row.kind == "total":
            lines.append(rule)
        texts = _lines(line, widths, table.columns)
        lines += texts if row.kind == "part" else [bold(text) for text in texts]
    return "\n".join(lines)


def _squeezed(widths: list[int], cells: list[list[str]], columns: tuple[Column, ...], width: int) -> list[int]:
    """Widths that fit, with as few lines as can be had; words are broken only where all else fails."""
    words = [i for i, column in enumerate(columns) if column.align == "left"]
    result = [min(size, width) if i in words else size for i, size in enumerate(widths)]
    whole = [max(NARROWEST, *(len(word) for line in cells for word in line[i].split())) for i in range(len(columns))]
    excess = sum(result) + len(GAP) * (len(result) - 1) - width
    for least in (whole, [NARROWEST] * len(columns)):
        while excess > 0 and (free := [i for i in words if result[i] > least[i]]):
            result[max(free, key=lambda i: result[i])] -= 1
            excess -= 1
        if excess <= 0:
            return _traded(result, cells, words, least)
    return result


def _traded(widths: list[int], cells: list[list[str]], words: list[int], least: list[int]) -> list[int]:
    """The same width in all, handed from one column of words to another as long as that saves lines."""
    best, lines = widths, _height(cells, widths)
    is_better = True
    while is_better:
        is_better = False
        for trial in _trades(best, words, least):
            if (count := _height(cells, trial)) < lines:
                best, lines, is_better = trial, count, True
    return best


def _trades(widths: list[int], words: list[int], least: list[int]) -> Iterator[list[int]]:
    for giving, taking in permutations(words, 2):
        for amount in range(1, widths[giving] - least[giving] + 1):
            trial = list(widths)
            trial[giving], trial[taking] = trial[giving] - amount, trial[taking] + amount
            yield trial


def _height(cells: list[list[str]], widths: list[int]) -> int:
    """How many lines a table is tall, about: where words end is left out."""
    return sum(max(-(-len(text) // max(size, 1)) for text, size in zip(line, widths, strict=True)) for line in cells)


def headline_text(items: tuple[Headline, ...], bold: Bold) -> str:
    """Label, figure, and what it means, one line each."""
    label = max(len(item.label) for item in items)
    value = max(len(item.value) for item in items)
    return "\n".join(f"  {i.label:<{label}}  {bold(f'{i.value:<{value}}')}  {i.detail}".rstrip() for i in items)


def _lines(cells: list[str], widths: list[int], columns: tuple[Column, ...]) -> list[str]:
    """One row's lines: as many as its longest text needs."""
    texts = [[cell] if len(cell) <= width else _wrapped(cell, width) for cell, width in zip(cells, widths, strict=True)]
    lines = zip_longest(*texts, fillvalue="")
    return [
        GAP.join(
            f"{part:>{width}}" if column.align == "right" else f"{part:<{width}}"
            for part, width, column in zip(line, widths, columns, strict=True)
        ).rstrip()
        for line in lines
    ]


def _wrapped(text: str, width: int) -> list[str]:
    """The text in lines, those that follow set in as the first one is, and two more."""
    indent = " " * (len(text) - len(text.lstrip()))
    return wrap(text, width, initial_indent="", subsequent_indent=indent + "  ", drop_whitespace=True)
