"""Tables set in plain type for a terminal: columns that line up and fit its width."""

from __future__ import annotations

from collections.abc import Callable

from viewers.tables import Column, Headline, Table

GAP = "  "
NARROWEST = 16
"""A column of words is never cut below this; numbers are never cut."""

Bold = Callable[[str], str]


def table_text(table: Table, bold: Bold, width: int | None = None, indent: str = "  ") -> str:
    """A table with its title, headings and a rule; group and total rows in bold type.

    Where a width in characters is given, columns of words give way, the last one first, until the table fits.
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
    lines = [bold(table.title), _line(headings, widths, table.columns), rule]
    for row, line in zip(table.rows, cells, strict=True):
        if row.kind == "total":
            lines.append(rule)
        text = _line(line, widths, table.columns)
        lines.append(text if row.kind == "part" else bold(text))
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


def _line(cells: list[str], widths: list[int], columns: tuple[Column, ...]) -> str:
    padded = [
        f"{cell:>{width}}" if column.align == "right" else f"{_cut(cell, width):<{width}}"
        for cell, width, column in zip(cells, widths, columns, strict=True)
    ]
    return GAP.join(padded).rstrip()


def _cut(text: str, limit: int) -> str:
    return text if len(text) <= limit else text[: limit - 1] + "…"
