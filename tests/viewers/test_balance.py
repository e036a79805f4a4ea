"""Balance on screen: tables that say what the answers say, and a chart that is drawn to scale."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

import pytest

from airframe.balance.whole import Balances, balances
from airframe.checks.balance import overturn_of
from tests.fittings import MOTOR, gear_data
from tests.mending import data_with, flown
from viewers import balance_chart, balance_tables
from viewers.balance_chart import chart, spread, ticks
from viewers.terminal import table_text

SVG = "{http://www.w3.org/2000/svg}"
OPTIONS = {
    "large": {"mass": "150 g", "size": ["60 mm", "30 mm", "20 mm"]},
    "small & light": {"mass": "60 g", "size": ["50 mm", "30 mm", "15 mm"]},
}
BATTERY = {
    "kind": "battery",
    "options": OPTIONS,
    "station": "60 mm",
    "water_line": "-20 mm",
    "tray_from": "8 mm",
    "tray_to": "112 mm",
}
CAMERA = {"mass": "60 g", "size": ["30 mm", "30 mm", "30 mm"], "station": "200 mm", "water_line": "-15 mm"}


def tables(**changes: Any) -> dict[str, Any]:
    """The plain design on its gear, with two batteries and a camera that may stay at home."""
    equipment = {"battery": BATTERY, "motor": MOTOR, "camera": CAMERA}
    return data_with(equipment=equipment, gear=gear_data(), balance={"optional": ["camera"]}) | changes


@pytest.fixture(scope="module")
def found() -> Balances:
    aeroplane = flown(tables())
    return balances(aeroplane, overturn_of(aeroplane))


def test_one_line_a_case(found: Balances) -> None:
    """The stations in the table are the answers' own, and the words fit."""
    table = balance_tables.cases_table(found, "metric")
    assert [row.cells[0] for row in table.rows] == [answer.case.name for answer in found.answers]
    for row, answer in zip(table.rows, found.answers, strict=True):
        low, high = answer.usable[0]
        assert row.cells[1].startswith(f"{low:.1f} to {high:.1f}")
        assert (row.cells[2] == "none") == (not answer.in_range)
        is_tail_heavy = answer.now.cg_mm[0] > found.target.aft_mm
        assert (row.cells[3] == "tail-heavy") == is_tail_heavy


def test_what_the_station_does(found: Balances) -> None:
    """Each state is one line under its case, none twice; the overturn angle is there with gear, in degrees."""
    table = balance_tables.effects_table(found, "metric")
    assert sum(row.kind == "group" for row in table.rows) == len(found.answers)
    first = next(row for row in table.rows if row.kind == "part")
    assert first.cells[:2] == ("now", "60.0")
    assert float(first.cells[2]) == pytest.approx(found.mass_g, abs=0.1)
    assert 10.0 < float(first.cells[6]) < 90.0
    assert all(len(row.cells) == len(table.columns) for row in table.rows)


def test_levers_in_both_systems(found: Balances) -> None:
    """Ten mm of the heaviest item is ten m / M; in inches the step is half an inch, and the ratio is the same."""
    metric = balance_tables.levers_table(found, "metric").rows[0].cells
    inches = balance_tables.levers_table(found, "imperial").rows[0].cells
    assert float(metric[3]) == pytest.approx(10.0 * found.levers[0].share, abs=0.006)
    assert float(inches[3]) == pytest.approx(0.5 * found.levers[0].share, abs=0.0006)


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_tables_fit_a_terminal(found: Balances, system: Any) -> None:
    """No line of any table is wider than 100 characters, and no word of it is cut."""
    for make in (balance_tables.cases_table, balance_tables.effects_table, balance_tables.levers_table):
        text = table_text(make(found, system), str, 100)
        assert max(len(line) for line in text.splitlines()) <= 100
        assert "…" not in text


def test_headlines_say_how_it_balances(found: Balances) -> None:
    """Fore and aft, the range, sideways and vertical, in this order."""
    lines = balance_tables.headlines(found, "metric")
    assert [line.label for line in lines] == ["fore and aft", "range", "sideways", "vertical"]
    assert "% of the mean chord" in lines[0].detail


def test_advice_for_several_cases_is_told_once() -> None:
    """A tray too short for one battery is so with the camera and without: one line names both cases."""
    short = tables()
    short["equipment"] |= {"battery": BATTERY | {"tray_to": "60 mm"}}
    aeroplane = flown(short)
    (advice,) = [one for one in balance_tables.advice(balances(aeroplane), aeroplane.design) if "short" in one.text]
    assert advice.case == "large, camera in; large, camera out"


def test_what_no_digit_shows_is_on_the_line(found: Balances) -> None:
    """0.1 mm is 0.00 in: then it is on the centre plane, and no weight at a tip is proposed."""
    nearly = replace(found, cg_mm=(found.cg_mm[0], 0.1, found.cg_mm[2]))
    metric, imperial = (balance_tables.headlines(nearly, system)[2].detail for system in ("metric", "imperial"))
    assert metric.startswith("to the right of the centre plane;")
    assert imperial == "on the centre plane"


def test_without_gear_there_is_no_overturn_angle() -> None:
    """A column that says nothing is not there."""
    aeroplane = flown(data_with(equipment={"battery": BATTERY}))
    table = balance_tables.effects_table(balances(aeroplane), "metric")
    assert "overturn deg" not in [column.title for column in table.columns]
    assert {len(row.cells) for row in table.rows} == {len(table.columns)}


def test_advice_and_notes(found: Balances) -> None:
    """Every case that is not well has advice with settings; the notes say what limits the tray."""
    design = flown(tables()).design
    unwell = {answer.case.name for answer in found.answers if not answer.is_well_now}
    advice = balance_tables.advice(found, design)
    assert {one.case for one in advice} == unwell
    assert all(one.settings for one in advice)
    assert any("from 8.0 to 112.0 mm (tray_from and tray_to)" in note for note in balance_tables.notes(found, "metric"))


# --- the chart ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_the_chart_is_sound(found: Balances, system: Any) -> None:
    """It is XML, names every case, both axes with their unit and the range, and nothing lies off the page."""
    root = ElementTree.fromstring(chart(found, system))
    words = ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]
    unit = "in" if system == "imperial" else "mm"
    for answer in found.answers:
        assert answer.case.name in words
    assert f"station of the battery's middle, {unit}" in words
    assert f"balance point behind the leading edge, {unit}" in words
    assert sum(text.startswith("range ") and text.endswith("% of the mean chord") for text in words) == 1
    for text in root.iter(f"{SVG}text"):
        if "transform" not in text.attrib:
            assert 0.0 <= float(text.attrib["x"]) <= balance_chart.WIDTH
            assert 0.0 <= float(text.attrib["y"]) <= balance_chart.HEIGHT
            assert float(text.attrib["font-size"]) >= 12.0


def test_the_chart_is_to_scale(found: Balances) -> None:
    """The filled circle stands where the axes say the battery and the balance point are.

    Read back from the page: each axis is the straight line through its own tick marks.
    """
    root = ElementTree.fromstring(chart(found))
    circle = next(one for one in root.iter(f"{SVG}circle") if one.attrib["fill"] != "#f7f0e0")
    texts = [(t.text or "", float(t.attrib.get("x", 0)), float(t.attrib.get("y", 0))) for t in root.iter(f"{SVG}text")]
    numbers = [(float(text), x, y) for text, x, y in texts if re.fullmatch(r"-?[\d.]+", text)]
    bottom = max(y for _, _, y in numbers)
    across = sorted((x, value) for value, x, y in numbers if y == bottom)
    upright = sorted((y - 5.0, value) for value, _, y in numbers if y != bottom)
    assert _read(across, float(circle.attrib["cx"])) == pytest.approx(60.0, abs=0.1)
    behind = found.target.behind_mm(found.cg_mm[0])
    assert _read(upright, float(circle.attrib["cy"])) == pytest.approx(behind, abs=0.1)


def _read(marks: list[tuple[float, float]], place: float) -> float:
    (a, low), (b, high) = marks[0], marks[-1]
    return low + (place - a) / (b - a) * (high - low)


def test_no_battery_no_chart() -> None:
    """It says so instead of drawing an empty page."""
    with pytest.raises(ValueError, match="no battery"):
        chart(balances(flown(tables(equipment={"camera": CAMERA}))))


@pytest.mark.parametrize(
    ("low", "high", "marks"),
    [
        (0.0, 10.0, ["0", "2", "4", "6", "8", "10"]),
        (1.68, 1.88, ["1.70", "1.75", "1.80", "1.85"]),
        (-0.3, 0.31, ["-0.3", "-0.2", "-0.1", "0.0", "0.1", "0.2", "0.3"]),
        (40.0, 79.0, ["40", "45", "50", "55", "60", "65", "70", "75"]),
    ],
)
def test_ticks_are_round(low: float, high: float, marks: list[str]) -> None:
    """One, two or five times a power of ten apart, all with the same decimals."""
    assert ticks(low, high) == marks


def test_names_are_moved_apart() -> None:
    """At least a gap between any two, within the bounds, and unmoved where there is room."""
    assert spread([100.0, 104.0, 300.0], 30.0, 0.0, 400.0) == [100.0, 130.0, 300.0]
    assert spread([390.0, 395.0], 30.0, 0.0, 400.0) == [370.0, 400.0]
