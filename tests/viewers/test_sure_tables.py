"""How sure the weights are, as tables and as JSON."""

from __future__ import annotations

import json

import pytest

from airframe.inertia import combined
from airframe.model import Aeroplane
from airframe.schema.weighing import Swung, Weighed
from viewers import sure_json, sure_tables

SWUNG = {"axis": "yaw", "string_length": "1 m", "string_spacing": "300 mm", "time": "70 s"}


@pytest.fixture(scope="module")
def weighed(aeroplane: Aeroplane) -> Aeroplane:
    """The fitted plane with a log, one line of which is far off, and swung far too slowly."""
    drawn = {entry.part.name: entry.drawn_g for entry in aeroplane.statement.entries}
    skins = sum(mass for name, mass in drawn.items() if name.startswith("wing skin"))
    rest = combined([e.body for e in aeroplane.statement.entries if e.part.name != "battery"])
    fin = drawn["fin"] + drawn["acrylic paint, fin"]
    balance = f"{rest.centre[0]:.0f} mm"
    rows = [
        {"what": "wing skin *", "mass": f"{skins * 1.04:.0f} g"},
        {"what": "fin", "together_with": ["acrylic paint, fin"], "mass": f"{fin:.0f} g"},
        {"what": "stabiliser", "mass": f"{drawn['stabiliser'] + 14.0:.0f} g"},
        {"what": "whole", "without": ["battery"], "mass": f"{rest.mass + 9.0:.0f} g", "balances_at": balance},
    ]
    log = {"weighed": tuple(Weighed.model_validate(row) for row in rows), "swung": (Swung.model_validate(SWUNG),)}
    return aeroplane.changed(aeroplane.design.model_copy(update=log))


def test_without_a_log_there_is_nothing_to_tell(aeroplane: Aeroplane) -> None:
    """No log, no lesson, no swing: no table; and dashes where nothing was learned or weighed."""
    assert sure_tables.log_table(aeroplane) is None
    assert sure_tables.materials_table(aeroplane) is None
    assert sure_tables.swings_table(aeroplane) is None
    assert sure_tables.remarks(aeroplane) == ()
    assert sure_tables.groups_table(aeroplane).rows[-1].cells[2:4] == ("–", "–")


def test_headlines_say_value_and_interval(aeroplane: Aeroplane) -> None:
    """The mass is that of the statement, its ± half the 95 % interval beside it."""
    mass, balance, predicted = sure_tables.headlines(aeroplane)
    value, _, spread, unit = mass.value.split()
    low, high = (float(word) for word in mass.detail.split() if word.replace(".", "").isdigit() and word != "95")
    assert (unit, float(value)) == ("g", pytest.approx(aeroplane.statement.whole.mass, abs=0.05))
    assert high - low == pytest.approx(2.0 * float(spread), abs=0.2)
    assert balance.detail.startswith("behind the leading edge")
    assert float(predicted.value.split()[0]) > float(value)


def test_drawn_learned_and_weighed_stand_side_by_side(weighed: Aeroplane) -> None:
    """A weighed part shows all three, an unweighed one a dash; every part has its line, and the columns add up."""
    table = sure_tables.parts_table(weighed)
    cells = {row.cells[0]: row.cells[1:] for row in table.rows if row.kind == "part"}
    assert set(cells) == {part.name for part in weighed.parts}
    fin, side = cells["fin"], cells["fuselage side right"]
    assert fin[2] == fin[3] != "–"
    assert side[2] == "–" and side[1] == side[3] != side[0]
    whole = table.rows[-1]
    assert float(whole.cells[4]) == pytest.approx(weighed.statement.whole.mass, abs=0.05)
    groups = sure_tables.groups_table(weighed).rows
    assert sum(float(row.cells[4]) for row in groups[:-1]) == pytest.approx(float(groups[-1].cells[4]), abs=0.5)


def test_every_line_of_the_log_is_listed(weighed: Aeroplane) -> None:
    """Four masses and a balance point; the stabiliser with 14 g too much is called odd, in the table and in words."""
    table = sure_tables.log_table(weighed)
    assert table is not None
    assert [row.cells[0] for row in table.rows] == [
        "wing skin *",
        "fin with acrylic paint, fin",
        "stabiliser",
        "whole without battery",
        "whole without battery, balances at",
    ]
    assert table.rows[2].cells[-1] == "no: odd"
    odd, swing = sure_tables.remarks(weighed)
    assert odd.startswith("stabiliser weighs ")
    assert swing.startswith("In yaw it swings slower")


def test_materials_and_swings_have_their_tables(weighed: Aeroplane) -> None:
    """What the log taught of the sheet, heavier than stated; and the swing, with the period that was to be expected."""
    materials, swings = sure_tables.materials_table(weighed), sure_tables.swings_table(weighed)
    assert materials is not None and swings is not None
    board = next(row for row in materials.rows if row.cells[0] == "foam board 5 mm")
    assert 1.0 < float(board.cells[3]) < 8.0
    assert swings.rows[0].cells[4] == "7.000"
    assert float(swings.rows[0].cells[5]) < 7.0


def test_what_to_weigh_next_comes_greatest_first(aeroplane: Aeroplane) -> None:
    """The shares fall from line to line, and each line says what to do."""
    rows = sure_tables.next_table(aeroplane).rows
    shares = [float(row.cells[2]) for row in rows]
    assert shares == sorted(shares, reverse=True)
    assert len(rows) == sure_tables.MOST_CAUSES
    assert all(row.cells[1] for row in rows)


def test_json_is_si_and_agrees(weighed: Aeroplane) -> None:
    """Kilograms and metres; the parts' drawn masses and the causes' shares add up."""
    data = json.loads(json.dumps(sure_json.as_json(weighed)))
    assert data["mass_kg"]["value"] == pytest.approx(weighed.statement.whole.mass / 1000.0)
    low, high = data["mass_kg"]["interval_95"]
    assert low < data["mass_kg"]["value"] < high
    assert [one["value"] for one in data["cg_m"]] == pytest.approx([one / 1000.0 for one in weighed.cg_mm])
    assert sum(cause["share"] for cause in data["causes"]) == pytest.approx(1.0)
    assert [row["learned_from"] for row in data["log"]] == [True, True, False, True, True]
    assert data["growth"]["predicted_mass_kg"] > data["growth"]["basic_mass_kg"]
    assert sum(part["drawn_kg"] for part in data["parts"]) == pytest.approx(
        sum(entry.drawn_g for entry in weighed.statement.entries) / 1000.0
    )
