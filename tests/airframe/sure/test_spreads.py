"""How well each kind of thing is known, by default and as the design says; and what it tends to grow by."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import pytest

from airframe.materials import MATERIALS, Material
from airframe.schema.certainty import Certainty
from airframe.schema.materials import MaterialTable
from airframe.sure.growth import growth
from airframe.sure.spreads import entry_share, material_share, place_mm, stated_shares
from airframe.sure.unknowns import unknowns
from tests import flock
from tests.designs import plain

PLAIN = Certainty()


@pytest.mark.parametrize(
    ("name", "share"),
    [
        ("foam board 5 mm", 0.08),
        ("birch plywood 3 mm", 0.12),
        ("spruce", 0.12),
        ("music wire", 0.01),
        ("nylon", 0.05),
        ("hot glue bead", 0.25),
        ("acrylic paint", 0.30),
    ],
)
def test_a_material_is_as_sure_as_its_kind(name: str, share: float) -> None:
    """Sheet, wood, metal, other solids, lines and films each have their own figure in [certainty]."""
    assert material_share(MATERIALS[name], PLAIN) == share


@pytest.mark.parametrize("name", ["balsa", "balsa sheet 3 mm"])
def test_balsa_is_less_sure_than_other_wood(name: str) -> None:
    """Two standard uncertainties to either side hold most of 60 to 380 kg/m^3 (Borrega & Gibson 2015, abstract)."""
    share, middle = material_share(MATERIALS[name], PLAIN), MATERIALS[name].weight * 1e6
    low, high = middle * (1.0 - 2.0 * share), middle * (1.0 + 2.0 * share)
    assert share > 2.0 * PLAIN.wood_share
    assert 60.0 < low < 90.0 and 250.0 < high < 380.0


def test_a_weighed_material_is_surer_and_a_stated_uncertainty_counts_first() -> None:
    """'weighed' at the beginning of the source, or a number beside the material."""
    rows = {"kind": "sheet", "thickness": "5 mm", "areal_weight": "440 g/m^2", "source": "weighed: a sheet"}
    assert material_share(MaterialTable.model_validate(rows).material("x"), PLAIN) == 0.03
    rows["uncertainty"] = "1.5 %"
    assert material_share(MaterialTable.model_validate(rows).material("x"), PLAIN) == 0.015


def test_items_by_their_basis() -> None:
    """Estimated by [certainty], weighed by the scale's step, and by the design's own figure where it gives one."""
    guessed, read = flock.entries(flock.bought("camera", 96.0, 0.0), flock.bought("motor", 46.0, 0.0, True))
    assert entry_share(guessed, PLAIN, {}) == 0.15
    assert entry_share(guessed, PLAIN, {"camera": 0.05}) == 0.05
    assert entry_share(read, PLAIN, {}) == pytest.approx(1.0 / sqrt(12.0) / 46.0)
    assert (place_mm(guessed.part, PLAIN), place_mm(flock.aeroplane()[0].part, PLAIN)) == (2.0, 1.0)


def test_the_design_says_how_sure_it_is_of_an_item() -> None:
    """`uncertainty` of an item goes to its part by name; a battery's is that of the option in use."""
    size = ["30 mm", "20 mm", "20 mm"]
    option = {"mass": "90 g", "size": size, "uncertainty": "2 %"}
    items = {
        "camera": {"mass": "96 g", "size": size, "station": "100 mm", "uncertainty": "5 %"},
        "receiver": {"mass": "9 g", "size": size, "station": "150 mm"},
        "battery": {"kind": "battery", "options": {"3-cell": option}, "station": "60 mm", "water_line": "0 mm"},
    }
    assert stated_shares(plain(equipment=items)) == {"camera": 0.05, "battery": 0.02}


def test_coats_of_one_paint_share_its_weight() -> None:
    """Two coats of a paint are as much too heavy as one, and taught by it: one quantity for both."""
    paint = MATERIALS["acrylic paint"]
    twice = paint.in_coats(2)
    assert (twice.family, twice.weight, paint.in_coats(1)) == (paint.name, 2 * paint.weight, paint)
    drawn = flock.entries(*(_painted(name, film) for name, film in (("one", paint), ("two", twice))))
    found = [label for label in unknowns(drawn, PLAIN, {}).labels if label.kind == "material"]
    assert [(label.name, label.stated) for label in found] == [(paint.name, pytest.approx(paint.weight))]


def _painted(name: str, film: Material) -> tuple[flock.Part, flock.Body]:
    part, body = flock.part(name, "finish", (0.0, 0.0, 0.0), (100.0, 100.0, 5.0))
    return replace(part, material=film), body


def test_predicted_mass_is_basic_mass_with_the_allowance() -> None:
    """Structure as calculated 4 %, an estimated box of structure's kind 18 %, what was weighed nothing (the table's
    rows and columns as quoted in the module); S-120A's predicted = basic + allowance, from memory.
    """
    drawn = flock.entries(
        flock.part("floor", "fuselage", (0.0, 0.0, 0.0), (100.0, 100.0, 5.0)),
        flock.bought("camera", 100.0, 0.0),
        flock.bought("motor", 46.0, 0.0, True),
    )
    found = growth(drawn)
    assert found.basic_g == pytest.approx(4.4 + 100.0 + 46.0)
    assert found.predicted_g == pytest.approx(4.4 * 1.04 + 118.0 + 46.0)


def test_electrical_items_grow_by_their_own_rows() -> None:
    """Battery 20 %, receiver and servos 30 %, a lead 50 %, all estimated."""
    rows = (
        ("battery cells", "electrical", 0.20),
        ("bought item", "electrical", 0.30),
        ("bought item", "controls", 0.30),
    )
    for material, group, share in rows:
        part, body = flock.bought("item", 10.0, 0.0)
        made = flock.entries((replace(part, material=MATERIALS[material], group=group), body))
        assert growth(made).allowance_g == pytest.approx(10.0 * share), material
    cord, length = flock.glue("lead", 0.0, 100.0)
    lead = replace(cord, group="electrical", material=MATERIALS["servo lead"], mass_g=4.0, basis="estimated")
    assert growth(flock.entries((lead, length))).allowance_g == pytest.approx(2.0)
