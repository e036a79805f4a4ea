"""A sweep's table as CSV, as Parquet, and as plain data in SI units for JSON."""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from math import isfinite
from typing import Any

from airframe.sweep.keys import Axis
from airframe.sweep.measures import Measure, Value
from airframe.sweep.rows import Row, Table


def csv_bytes(table: Table) -> bytes:
    """One line a variant, units in the headings and as the design shows them, numbers to the last digit."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(table.headings())
    writer.writerows(table.cells(row) for row in table.rows)
    return text.getvalue().encode()


def parquet_bytes(table: Table) -> bytes:
    """The same columns as CSV has, each of one type."""
    import pyarrow
    from pyarrow import parquet

    rows = [table.cells(row) for row in table.rows]
    columns = [[row[index] for row in rows] for index in range(len(table.headings()))]
    made = pyarrow.table([_array(column) for column in columns], names=table.headings())
    written = BytesIO()
    parquet.write_table(made, written)
    return written.getvalue()


def _array(values: list[Value]) -> Any:
    import pyarrow

    is_text = any(isinstance(value, str) for value in values) or all(value is None for value in values)
    return pyarrow.array(values, pyarrow.string() if is_text else pyarrow.float64())


def to_json(table: Table) -> dict[str, Any]:
    """Plain data in SI units; degrees and percent stay. Every column's unit stands beside its name."""
    return {
        "name": table.name,
        "variants": table.count,
        "is_paired": table.is_paired,
        "keys": [{"key": axis.key, "unit": axis.unit.si_name} for axis in table.axes],
        "measures": [{"code": one.code, "unit": one.unit.si_name} for one in table.measures],
        "rows": [_row(row, table) for row in table.rows],
    }


def _row(row: Row, table: Table) -> dict[str, Any]:
    return {
        "values": {axis.key: _si(value, axis) for value, axis in zip(row.values, table.axes, strict=True)},
        "measures": {one.code: _si(row.answers.get(one.code), one) for one in table.measures},
        "verdict": row.verdict,
        "message": row.message or None,
    }


def _si(value: Value, column: Axis | Measure) -> Value:
    if not isinstance(value, (int, float)):
        return value
    return column.unit.si(value) if isfinite(value) else None
