"""A sweep's table as CSV, Parquet and JSON: units in the headings, numbers to the last digit."""

from __future__ import annotations

import csv
import json
from io import BytesIO, StringIO

import pytest
from pyarrow import parquet

from airframe.sweep.codes import FINDINGS
from airframe.sweep.forms import csv_bytes, parquet_bytes, to_json
from airframe.sweep.keys import typed
from airframe.sweep.measures import measure
from airframe.sweep.quantities import Unit
from airframe.sweep.rows import Row, Table
from airframe.units import G_PER_OUNCE, MM_PER_INCH, System
from viewers import finding_tables

AXES = (typed("gear.track=240 mm,254 mm"), typed("equipment.battery.use=2-cell,3-cell"))
MEASURES = tuple(measure(code) for code in ("mass", "inertia.roll", "ground.overturn", "ground.overturn.verdict"))
ROWS = (
    Row(0, (240.0, "2-cell"), {"mass": 0.1 + 0.2, "inertia.roll": 5e6, "ground.overturn": 54.5,
                               "ground.overturn.verdict": "pass"}, "pass"),
    Row(1, (254.0, "3-cell"), {}, None, "camera: does not fit, at all"),
)  # fmt: skip


def table(system: System = "metric") -> Table:
    return Table("Plain", system, AXES, MEASURES, ROWS, 2, True)


def test_csv_holds_the_last_digit() -> None:
    """A number comes back from its text as it was; an empty cell is nothing; commas in a message are kept."""
    heading, first, second = csv.reader(StringIO(csv_bytes(table()).decode()))
    assert heading == [
        "gear.track (mm)", "equipment.battery.use", "mass (g)", "inertia.roll (g m^2)", "ground.overturn (deg)",
        "ground.overturn.verdict", "verdict", "message",
    ]  # fmt: skip
    assert float(first[2]) == 0.1 + 0.2
    assert first[3:] == ["5.0", "54.5", "pass", "pass", ""]
    assert second == ["254.0", "3-cell", "", "", "", "", "", "camera: does not fit, at all"]


def test_an_imperial_design_has_imperial_columns() -> None:
    """Headings and numbers are in the units of the design: 254 mm is 10 in exactly."""
    heading, first, second = csv.reader(StringIO(csv_bytes(table("imperial")).decode()))
    assert heading[:4] == ["gear.track (in)", "equipment.battery.use", "mass (oz)", "inertia.roll (oz in^2)"]
    assert float(second[0]) == 10.0
    assert float(first[2]) == (0.1 + 0.2) / G_PER_OUNCE
    assert float(first[3]) == pytest.approx(5e6 / (G_PER_OUNCE * MM_PER_INCH**2), rel=1e-15)


def test_parquet_has_the_same_columns() -> None:
    """Numbers are numbers, words are words, what is not there is null."""
    read = parquet.read_table(BytesIO(parquet_bytes(table())))
    assert read.column_names == table().headings()
    assert read["mass (g)"].to_pylist() == [0.1 + 0.2, None]
    assert read["verdict"].to_pylist() == ["pass", None]
    assert [str(field.type) for field in read.schema] == [
        "double", "string", "double", "double", "double", "string", "string", "string",
    ]  # fmt: skip


def test_json_is_in_si_units() -> None:
    """Metres and kilograms; degrees stay; each column says its unit; it is JSON that any reader takes."""
    made = json.loads(json.dumps(to_json(table()), allow_nan=False))
    assert made["keys"][0] == {"key": "gear.track", "unit": "m"}
    assert made["measures"][:3] == [
        {"code": "mass", "unit": "kg"}, {"code": "inertia.roll", "unit": "kg m^2"},
        {"code": "ground.overturn", "unit": "deg"},
    ]  # fmt: skip
    first, second = made["rows"]
    assert first["values"] == {"gear.track": 240.0 * 1e-3, "equipment.battery.use": "2-cell"}
    assert first["measures"]["mass"] == (0.1 + 0.2) * 1e-3
    assert first["measures"]["ground.overturn"] == 54.5
    assert second["measures"]["mass"] is None
    assert second["message"] == "camera: does not fit, at all"


def test_a_value_is_written_as_it_was_typed() -> None:
    """6 in is 152.4 mm inside and 6 in again, not 6.000000000000001 in."""
    inches = Table("Plain", "imperial", (typed("wing.station=6 in,6.1 in"),), (), (), 2)
    assert [inches.cells(Row(0, (value,), {}))[0] for value in inches.axes[0].values] == [6.0, 6.1]


@pytest.mark.parametrize("unit", sorted({unit for _, unit in FINDINGS.values()}))
def test_a_column_has_the_unit_of_the_finding(unit: str) -> None:
    """In inches as `check` says it in inches: a turn in feet, a stall in mph."""
    name, factor = finding_tables.IMPERIAL.get(unit, (unit, 1.0))
    assert (Unit(unit).name("imperial"), Unit(unit).shown(factor, "imperial")) == (name, 1.0)


@pytest.mark.parametrize("inside", ["mm", "g", "g mm^2", "m/s", "N", "deg", "%", "", "C", "rad/s/V", "g/mm^3", "1"])
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_every_unit_has_a_name(inside: str, system: System) -> None:
    """No unit is shown without its name, and nothing changes sign or size to nothing."""
    unit = Unit(inside)
    assert bool(unit.name(system)) == bool(inside)
    assert unit.shown(2.0, system) == pytest.approx(2.0 * unit.shown(1.0, system))
    assert unit.si(1.0) > 0.0
