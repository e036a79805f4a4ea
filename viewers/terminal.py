"""Tables set in plain type for a terminal: columns that line up and fit its width."""

from __future__ import annotations

from collections.abc import Callable
from itertools import zip_longest
from textwrap import wrap

from viewers.tables import Column, Headline, Table

GAP = "  "
NARROWEST = 16
"""A column of words is never narrower than this; numbers never give way."""

Bold = Callable[[str], str]


def table_text(table: Table, bold: Bold, width: int | None = None, indent: str = "  ") -> str:
    """A table with its title, headings and a rule; group and total rows in bold type.

    Where a width in characters is given, columns of words give way, the last one first, until the table fits; what
    is too long for its column goes on in the line below.
    """
    headings = [column.title for column in table.columns]
    has_groups = any(row.kind == "group" for row in table.rows)
    cells = [
        [indent + row.cells[0] if has_groups and row.kind == "part" else row.cells[0], *row.cells[1:]]
        for row in table.rows
    ]
    widths = [max(len(line[i]) for line in [headings, *cells]) for i in range(len(headings))]
    if width is not None:
        widths = _squeezed(widths, table.columns, width)
    rule = GAP.join("─" * size for size in widths)
    lines = [bold(table.title), *_lines(headings, widths, table.columns), rule]
    for row, line in zip(table.rows, cells, strict=True):
        if row.kind == "total":
            lines.append(rule)
        texts = _lines(line, widths, table.columns)
        lines += texts if row.kind == "part" else [bold(text) for text in texts]
    return "\n".join(lines)


def _squeezed(widths: list[int], columns: tuple[Column, ...], width: int) -> list[int]:
    result = list(widths)
    words = [i for i, column in enumerate(columns) if column.align == "left"]
    excess = sum(result) + len(GAP) * (len(result) - 1) - width
    for i in reversed(words):
        cut = min(max(excess, 0), max(result[i] - NARROWEST, 0))
        result[i], excess = result[i] - cut, excess - cut
    return result


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
