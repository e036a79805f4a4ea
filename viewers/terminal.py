"""Tables set in plain type for a terminal: columns that line up, within a hundred characters."""

from __future__ import annotations

from collections.abc import Callable

from viewers.tables import Column, Headline, Table

GAP = "  "
WIDEST = {"part": 40, "material": 22, "source": 60}
"""Longest text shown under these headings; more is cut with an ellipsis. Numbers are never cut."""

Bold = Callable[[str], str]


def table_text(table: Table, bold: Bold, indent: str = "  ") -> str:
    """A table with its title, headings and a rule; group and total rows in bold type."""
    limits = [WIDEST.get(column.title, 200) for column in table.columns]
    cells = [[_cut(cell, limit) for cell, limit in zip(row.cells, limits, strict=True)] for row in table.rows]
    headings = [column.title for column in table.columns]
    has_groups = any(row.kind == "group" for row in table.rows)
    for row, line in zip(table.rows, cells, strict=True):
        if has_groups and row.kind == "part":
            line[0] = indent + line[0]
    widths = [max(len(line[i]) for line in [headings, *cells]) for i in range(len(headings))]
    rule = GAP.join("─" * width for width in widths)
    lines = [bold(table.title), _line(headings, widths, table.columns), rule]
    for row, line in zip(table.rows, cells, strict=True):
        text = _line(line, widths, table.columns)
        if row.kind == "total":
            lines.append(rule)
        lines.append(text if row.kind == "part" else bold(text))
    return "\n".join(lines)


def headline_text(items: tuple[Headline, ...], bold: Bold) -> str:
    """Label, figure, and what it means, one line each."""
    label = max(len(item.label) for item in items)
    value = max(len(item.value) for item in items)
    return "\n".join(f"  {i.label:<{label}}  {bold(f'{i.value:<{value}}')}  {i.detail}".rstrip() for i in items)


def _line(cells: list[str], widths: list[int], columns: tuple[Column, ...]) -> str:
    padded = [
        f"{cell:>{width}}" if column.align == "right" else f"{cell:<{width}}"
        for cell, width, column in zip(cells, widths, columns, strict=True)
    ]
    return GAP.join(padded).rstrip()


def _cut(text: str, limit: int) -> str:
    return text if len(text) <= limit else text[: limit - 1] + "…"
