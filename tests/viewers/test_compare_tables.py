"""A redesign beside its prototype, in tables."""

from __future__ import annotations

from dataclasses import replace

import pytest

from airframe.axes import about_x, at
from airframe.checks.finding import Finding, Verdict
from airframe.compare.attribution import NOTHING
from airframe.compare.findings import FindingPair
from airframe.compare.parts import Pair
from airframe.compare.whole import Comparison, Version, compare
from airframe.config import from_dict
from airframe.drawing import Block, Panel, Rod, bead, rectangle
from airframe.model import Aeroplane
from tests.bodies import FOAM, entry
from tests.designs import plain_data
from tests.fittings import gear_data
from tests.viewers.conftest import BATTERY
from viewers import compare_cells, compare_parts, compare_tables, terminal
from viewers.change_words import shift, what_changed
from viewers.tables import Table


def version(units: str = "metric", **changes: str) -> Version:
    """The plain aeroplane with gear and battery, some texts of its wing, gear or battery replaced."""
    data = plain_data() | {"units": units, "gear": gear_data(), "equipment": {"battery": dict(BATTERY)}}
    for key, text in changes.items():
        table, _, name = key.partition("__")
        (data["equipment"]["battery"] if table == "battery" else data[table])[name] = text
    finding = Finding("ground.overturn", "fail", 70.0, "deg", (None, 55.0), "It tips.", "invented for a test")
    mended = Finding("ground.overturn", "pass", 50.0, "deg", (None, 55.0), "It stands.", "invented for a test")
    return Version(Aeroplane(from_dict(data)), data, (mended if changes else finding,))


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    return compare(version(), version(gear__track="240 mm", battery__station="62 mm", battery__mass="100 g"))


def cells(table: Table) -> dict[str, tuple[str, ...]]:
    """Rows by their first cell."""
    return {row.cells[0]: row.cells[1:] for row in table.rows}


def test_figures_side_by_side(comparison: Comparison) -> None:
    """Old, new, and the difference with its sign; what did not change is nought without one."""
    rows = cells(compare_tables.figures_table(comparison))
    assert rows["track"][1:] == ("240.0 mm", "+40.0 mm")
    assert rows["span"] == ("900.0 mm", "900.0 mm", "0.0 mm")


def test_figures_in_inches() -> None:
    """40 mm of track are 1.57 in (40 / 25.4)."""
    found = compare(version(), version("imperial", gear__track="240 mm"))
    assert cells(compare_tables.figures_table(found))["track"][2] == "+1.57 in"
    assert cells(compare_tables.changes_table(found))["gear.track"][2] == "+1.575 in"


def test_changes_keep_the_builder_s_words(comparison: Comparison) -> None:
    """Key, both texts as written, the difference."""
    rows = cells(compare_tables.changes_table(comparison))
    assert rows["gear.track"] == ("200 mm", "240 mm", "+40 mm")
    assert rows["equipment.battery.mass"] == ("90 g", "100 g", "+10 g")


def test_parts_say_what_became_of_them(comparison: Comparison) -> None:
    """The battery moved and is heavier; a left and a right wheel share a line; group and whole have their totals."""
    rows = cells(compare_parts.parts_table(comparison))
    assert rows["battery"][:2] == ("moved 22 mm aft, heavier by 10.0 g", "+10.0")
    wheels = next(row for name, row in rows.items() if name.startswith("main wheel, both"))
    assert wheels[0] == "moved 20 mm outward"
    whole = comparison.attribution.whole
    assert rows["whole aeroplane"][1] == f"{whole.mass_g:+.1f}"


def test_group_lines_add_up_to_the_difference(comparison: Comparison) -> None:
    """The printed masses and shifts add up to the printed total within their rounding."""
    *groups, total = compare_tables.attribution_table(comparison).rows
    for column, step in ((1, 0.05), (2, 0.005), (4, 0.005), (5, 0.005), (7, 0.005)):
        numbers = [float(row.cells[column]) for row in groups if row.cells[column] != compare_cells.NONE]
        assert sum(numbers) == pytest.approx(float(total.cells[column]), abs=step * (len(numbers) + 1))


def test_every_part_is_accounted_for(comparison: Comparison) -> None:
    """The shares of the lines, trifles included, add up to the whole."""
    told = compare_parts._without_trifles(compare_parts._part_lines(comparison, "metric"))
    total = sum((line.share for line in told), start=NOTHING)
    assert total.mass_g == pytest.approx(comparison.attribution.whole.mass_g, abs=1e-9)
    assert sum(line.count for line in told) + comparison.unchanged == len(comparison.pairs)


def test_findings_tell_what_was_mended(comparison: Comparison) -> None:
    """Both verdicts with their values, and one word for what happened between them."""
    assert cells(compare_tables.findings_table(comparison))["ground.overturn"] == (
        "FAIL 70 deg",
        "pass 50 deg",
        "mended",
    )


def test_no_trend_comes_from_digits_that_nobody_sees(comparison: Comparison) -> None:
    """26.41 and 26.44 mm beyond the range both read 1.04 in: the same; 1.06 in is worse, and another verdict spoilt."""

    def trend(old: float, new: float, verdict: Verdict = "caution") -> str:
        ends = [Finding("balance.reach", verdict, mm, "mm", (0.0, 0.0), "Out.", "invented") for mm in (old, new)]
        pair = FindingPair("balance.reach", replace(ends[0], verdict="caution"), ends[1])
        imperial = replace(comparison, findings=(pair,), new=version("imperial").aeroplane)
        return compare_tables.findings_table(imperial).rows[0].cells[-1]

    assert trend(26.41, 26.44) == ""
    assert trend(26.41, 26.9) == "worse"
    assert trend(26.41, 26.44, "fail") == "spoilt"


def test_material_is_told_apart(comparison: Comparison) -> None:
    """Foam by its area, wire by its length."""
    rows = cells(compare_tables.costs_table(comparison))
    assert rows["foam board 5 mm"][2] == "0 cm²"
    assert any(name.startswith("music wire") and row[2].startswith("+") for name, row in rows.items())


def test_tables_fit_a_hundred_columns(comparison: Comparison) -> None:
    """Words give way; no line of any table is wider."""
    for table in (
        compare_tables.figures_table(comparison),
        compare_tables.changes_table(comparison),
        compare_parts.parts_table(comparison),
        compare_tables.attribution_table(comparison),
        compare_tables.costs_table(comparison),
        compare_tables.findings_table(comparison),
    ):
        text = terminal.table_text(table, lambda words: words, width=100)
        assert max(map(len, text.splitlines())) <= 100
        assert "…" not in text


# --- words -----------------------------------------------------------------------------------------------


PLATE = Panel(rectangle(0.0, 0.0, 60.0, 40.0), 5.0)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (entry("a"), entry("a", place=at(10.0, 0.0, -2.5)), ("moved 10 mm aft, 2.5 mm down",)),
        (entry("a", place=at(0.0, 50.0)), entry("a", place=at(-1.0, 58.0)), ("moved 1 mm forward, 8 mm outward",)),
        (entry("a", place=at(0.0, -50.0)), entry("a", place=at(0.0, -42.0)), ("moved 8 mm inward",)),
        (entry("a"), entry("a", 12.3), ("heavier by 2.3 g",)),
        (entry("a", 10.0), entry("a", 9.0), ("lighter by 1.0 g",)),
        (entry("a"), entry("a", place=about_x(0.1)), ("turned 5.7 deg",)),
        (entry("a", shape=PLATE), entry("a", shape=Panel(rectangle(0, 0, 70, 40), 5.0)), ("new shape",)),
        (entry("a", shape=PLATE), entry("a", shape=Panel(PLATE.outline, 3.0)), ("now 3 mm thick",)),
        (entry("a", shape=Rod(90.0, 6.0)), entry("a", shape=Rod(122.0, 6.0)), ("32 mm longer",)),
        (entry("a", shape=Rod(90.0, 6.0)), entry("a", shape=Rod(90.0, 5.0)), ("now 5 mm round",)),
        (entry("a"), entry("a", shape=Block((40.0, 20.0, 10.0))), ("now 40 mm x 20 mm x 10 mm",)),
        (entry("a", shape=PLATE), entry("a", shape=bead([(0, 0, 0), (9, 0, 0)])), ("new shape",)),
        (entry("floor 2"), entry("floor 3"), ("was floor 2",)),
        (entry("a"), entry("a", place=at(0.04)), ("hardly changed",)),
        (entry("a"), None, ("removed",)),
        (None, entry("a"), ("added",)),
    ],
)
def test_what_changed(old, new, words) -> None:
    """Each kind of change in a builder's words, only what a ruler or a scale can tell."""
    assert what_changed(Pair(old, new), "metric") == words


def test_materials_by_name_and_by_weight() -> None:
    """Another material is named; the same name with another weight is told as that."""
    spruce = replace(FOAM, name="spruce")
    assert what_changed(Pair(entry("a"), entry("a", material=spruce)), "metric") == ("now of spruce",)
    heavy = replace(FOAM, weight=1.0)
    assert what_changed(Pair(entry("a"), entry("a", material=heavy)), "metric") == ("test foam weighs otherwise",)


def test_weighing_is_told_from_redesign() -> None:
    """Where the drawings weigh the same, the difference is the scale's."""
    weighed = replace(entry("a", 12.3), drawn_g=10.0)
    assert what_changed(Pair(weighed, entry("a")), "metric") == ("2.3 g less by weighing alone",)
    assert what_changed(Pair(entry("a"), weighed), "metric") == ("2.3 g more by weighing alone",)


def test_a_difference_has_its_sign() -> None:
    """Plus or minus; a nought has none, and a word stays a word."""
    assert [compare_cells.signed(text) for text in ("3.0 mm", "-3.0 mm", "-0.0 mm", "none")] == [
        "+3.0 mm", "-3.0 mm", "0.0 mm", "none",
    ]  # fmt: skip


def test_a_shift_that_reads_nought_is_not_told() -> None:
    """0.12 mm is 0.005 in, which a ruler shows as nothing; in millimetres it is 0.1 mm."""
    assert shift((0.12, 0.0, 3.2), "imperial") == "0.13 in up"
    assert shift((0.12, 0.0, 3.2), "metric") == "0.1 mm aft, 3.2 mm up"
