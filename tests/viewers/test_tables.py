"""The weight statement as tables and as JSON."""

from __future__ import annotations

import numpy as np
import pytest

from airframe import inertia, materials
from airframe.drawing import Bead, Film
from airframe.model import Aeroplane
from tests.viewers.conftest import fitted
from viewers import tables, terminal, weight_json, weight_tables
from viewers.tables import Column, Row, Table


def test_groups_add_up_in_the_table(aeroplane: Aeroplane) -> None:
    """The printed masses add up to the printed whole within their rounding, the entries exactly."""
    *groups, whole = weight_tables.group_table(aeroplane).rows
    assert sum(int(row.cells[1]) for row in groups) == int(whole.cells[1]) == len(aeroplane.parts)
    assert sum(float(row.cells[2]) for row in groups) == pytest.approx(float(whole.cells[2]), abs=0.05 * len(groups))
    assert sum(float(row.cells[3]) for row in groups) == pytest.approx(100.0, abs=0.05 * len(groups))
    assert whole.kind == "total"


def test_every_part_has_a_line(aeroplane: Aeroplane) -> None:
    """The full table names every part once, under its group."""
    rows = weight_tables.parts_table(aeroplane).rows
    assert sorted(row.cells[0] for row in rows if row.kind == "part") == sorted(p.name for p in aeroplane.parts)
    assert [row.cells[0] for row in rows if row.kind == "group"] == list(aeroplane.statement.groups)


def test_imperial_shows_ounces_and_inches() -> None:
    """units = "imperial" changes the headings and the figures: 200 mm of track are 7.87 in (200 / 25.4)."""
    plane = fitted("imperial")
    assert {"mass oz", "station in"} <= {column.title for column in weight_tables.group_table(plane).columns}
    headline = {item.label: item.value for item in weight_tables.headlines(plane)}
    assert headline["track"] == "7.87 in"
    assert headline["wing loading"].endswith("oz/ft²")


def test_wing_loading_is_mass_over_area(aeroplane: Aeroplane) -> None:
    """The plain wing is 900 x 200 mm: 18 dm^2."""
    headline = {item.label: item for item in weight_tables.headlines(aeroplane)}
    assert headline["wing loading"].detail == "area 18.0 dm²"
    expected = aeroplane.statement.whole.mass / 18.0
    assert headline["wing loading"].value == f"{expected:.1f} g/dm²"


BOARD = materials.sheet("board", "foam", 5.0, 440.0, "test")
WIRE = materials.solid("wire", "wire", 7850.0, "test")


@pytest.mark.parametrize(
    ("material", "system", "text"),
    [
        (BOARD, "metric", "440 g/m²"),
        (WIRE, "metric", "7850 kg/m³"),
        (materials.line("bead", "glue", 6.0, "test"), "metric", "6 g/m"),
        (materials.film("paint", "paint", 70.0, "test"), "metric", "70 g/m²"),
        # 440 g/m^2 x 0.09290304 m^2 per ft^2 / 28.349523125 g per oz = 1.442
        (BOARD, "imperial", "1.44 oz/ft²"),
        # 7850 kg/m^3 x 0.028316846592 m^3 per ft^3 / 0.45359237 kg per lb = 490.06
        (WIRE, "imperial", "490 lb/ft³"),
    ],
)
def test_material_weights_read_as_they_are_measured(material, system, text) -> None:
    """Sheets and films by area, solids by volume, lines by length."""
    assert tables.weight_text(material, system) == text


def test_basis_notes_cover_the_whole_mass(aeroplane: Aeroplane) -> None:
    """The shares of weighed, calculated and estimated add up to 100 within rounding."""
    shares = [int(note.split("(")[1].split(" %")[0]) for note in weight_tables.notes(aeroplane)]
    assert sum(shares) == pytest.approx(100, abs=len(shares))


def test_json_parts_add_up_to_the_whole(aeroplane: Aeroplane) -> None:
    """Mass, centre and inertia of the JSON's parts give the JSON's whole by the parallel-axis theorem, to 1e-9."""
    data = weight_json.as_json(aeroplane)
    bodies = [
        inertia.Body(part["mass_kg"], np.array(part["cg_m"]), np.array(part["inertia_kg_m2"])) for part in data["parts"]
    ]
    whole = inertia.combined(bodies)
    assert whole.mass == pytest.approx(data["mass_kg"], rel=1e-9)
    np.testing.assert_allclose(whole.centre, data["cg_m"], rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(whole.inertia, data["inertia_kg_m2"], rtol=1e-9, atol=1e-12)


def test_json_keeps_the_contract(aeroplane: Aeroplane) -> None:
    """The keys are those agreed, and only beads and films have no volume."""
    data = weight_json.as_json(aeroplane)
    assert list(data) == [
        "name", "mass_kg", "cg_m", "cg_behind_leading_edge_m", "cg_percent_mac", "inertia_kg_m2",
        "principal_inertia_kg_m2", "radii_of_gyration_m", "parts", "groups",
    ]  # fmt: skip
    assert data["cg_m"][0] - 0.120 == pytest.approx(data["cg_behind_leading_edge_m"], abs=1e-12)
    shapes = {part.name: part.shape for part in aeroplane.parts}
    for part in data["parts"]:
        assert (part["volume_m3"] is None) == isinstance(shapes[part["name"]], (Bead, Film))
    assert np.all(np.diff(data["principal_inertia_kg_m2"]) >= 0.0)


def test_table_fits_a_hundred_columns(aeroplane: Aeroplane) -> None:
    """Words give way, numbers never: every line fits, and every mass is still there."""
    table = weight_tables.parts_table(aeroplane)
    lines = terminal.table_text(table, lambda text: text, width=100).splitlines()
    assert max(len(line) for line in lines) <= 100
    for row in table.rows:
        assert any(row.cells[3] in line.split() for line in lines)


def test_what_is_too_long_goes_on_below() -> None:
    """Nothing of a text is lost: its words follow one another in the lines below, the numbers beside the first."""
    words = "new shape, moved 0.14 in forward, 0.02 in down"
    table = Table("parts", (Column("part"), Column("change"), Column("mass", "right")), (Row(("floor", words, "1.0")),))
    lines = terminal.table_text(table, str, width=40)
    rows = lines.splitlines()[3:]
    assert len(rows) == 2 and rows[0].endswith("1.0")
    assert " ".join(" ".join(row.removeprefix("floor").removesuffix("1.0").split()) for row in rows) == words


def test_a_long_text_takes_room_from_columns_that_have_it_to_spare() -> None:
    """240 characters beside one text of 40: of 100 columns it gets nearly 60, so that it takes 5 lines and not 15."""
    long = " ".join(["eleven wide"] * 20)
    rows = (Row(("first", "the width of this text is forty letters.", "1")), Row(("second", long, "2")))
    turned = tuple(Row((row.cells[1], row.cells[0], row.cells[2])) for row in rows)
    columns = (Column("one"), Column("other"), Column("mass", "right"))
    for some in (rows, turned):
        lines = terminal.table_text(Table("parts", columns, some), str, width=100).splitlines()
        assert len(lines) - 3 <= 1 + 4 and max(len(line) for line in lines) <= 100
    both = Table("parts", columns, (rows[0], Row((long, "short", "2")), Row(("short", long, "3"))))
    lines = terminal.table_text(both, str, width=100).splitlines()
    assert len(lines) - 3 <= 1 + 2 * 6 and max(len(line) for line in lines) <= 100


def test_numbers_line_up(aeroplane: Aeroplane) -> None:
    """In every row of the group table the mass ends in the column where its heading ends."""
    lines = terminal.table_text(weight_tables.group_table(aeroplane), lambda text: text).splitlines()
    end = lines[1].index("mass g") + len("mass g")
    for line in lines[3:]:
        assert line[end - 1].isdigit() or line[end - 1] == "─"
