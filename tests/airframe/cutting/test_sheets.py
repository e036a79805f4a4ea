"""Sheets: every part once, on stock that is there, within its margin; refusals that say what would do."""

from __future__ import annotations

from itertools import combinations
from math import ceil

import pytest
import shapely

from airframe.axes import Place
from airframe.cutting.patterns import patterns
from airframe.cutting.sheets import sheets
from airframe.drawing import Panel, Part, PartError, rectangle
from airframe.materials import MATERIALS
from airframe.schema.stock import Stock

FOAM, PLYWOOD = MATERIALS["foam board 5 mm"], MATERIALS["birch plywood 3 mm"]


def plates(count: int, length: float, width: float, material=FOAM):
    panel = Panel(rectangle(0, 0, length, width), material.thickness_mm)
    return patterns([Part(f"plate {k}", "wing", panel, Place(), material) for k in range(count)])


def stock(**changes) -> Stock:
    return Stock.model_validate({"sheet_length": "300 mm", "sheet_width": "200 mm", **changes})


def test_every_part_to_be_cut_is_there_exactly_once_and_nothing_else(demo, demo_plan) -> None:
    """Of all parts that are weighed, those of foam, plywood, balsa and clear sheet are on the sheets, those of music
    wire have a bend table, dowels and strips are sawn from a length: each name once, and no other name."""
    cut = [pattern.name for sheet in demo_plan.sheets for pattern in sheet.patterns]
    bent = [wire.part.name for wire in demo_plan.wires]
    sawn = [stick.part.name for stick in demo_plan.sticks]
    looks = {"foam": cut, "plywood": cut, "clear": cut, "wire": bent, "wood": cut + sawn}
    assert {part.material.look for part in demo.parts if part.name in cut + bent + sawn} <= set(looks)
    for look, found in looks.items():
        weighed = [part.name for part in demo.parts if part.material.look == look]
        assert sorted(name for name in found if name in weighed) == sorted(weighed), look
    assert len({*cut, *bent, *sawn}) == len(cut + bent + sawn)
    for sheet in demo_plan.sheets:
        assert {pattern.material.name for pattern in sheet.patterns} == {sheet.material.name}


def test_no_two_parts_of_the_demo_overlap(demo, demo_plan) -> None:
    """Exact outlines keep gap and kerf from one another, and the margin from the sheet's edge."""
    design = demo.design.stock
    for sheet in demo_plan.sheets:
        areas = [shapely.Polygon(pattern.outline.flattened()) for pattern in sheet.patterns]
        m = design.margin_mm
        usable = shapely.box(m, m, sheet.length_mm - m, sheet.width_mm - m).buffer(1e-6)
        assert all(usable.contains(area) for area in areas)
        for one, other in combinations(areas, 2):
            assert one.distance(other) >= design.gap_mm + design.kerf_mm - 1e-6


def test_the_demo_takes_as_few_foam_sheets_as_its_area_allows(teasel_plan) -> None:
    """No layout can do with fewer sheets than the parts' area over the sheet's."""
    foam = [sheet for sheet in teasel_plan.sheets if sheet.material.look == "foam"]
    assert len(foam) == ceil(sum(sheet.used_share for sheet in foam))


def test_patterns_keep_their_shape_on_the_sheet(demo, demo_plan) -> None:
    """Laying down moves and turns a pattern, and changes neither its area nor its length."""
    before = {pattern.name: pattern for pattern in patterns(demo.parts, demo.design.stock.trim)}
    for sheet in demo_plan.sheets:
        for pattern in sheet.patterns:
            assert pattern.outline.area() == pytest.approx(before[pattern.name].outline.area(), rel=1e-9)
            assert pattern.outline.length() == pytest.approx(before[pattern.name].outline.length(), rel=1e-9)


def test_off_cuts_are_used_first_and_only_as_often_as_they_are_there() -> None:
    """With one off-cut at hand, one plate goes on it and the other on a bought sheet."""
    have = [
        {"material": FOAM.name, "length": "300 mm", "width": "200 mm"},
        {"material": FOAM.name, "length": "120 mm", "width": "90 mm", "count": 1},
    ]
    laid = sheets(plates(2, 100, 70), stock(sheets=have), 0.0, 0)
    assert [(sheet.length_mm, sheet.is_bought) for sheet in laid] == [(120.0, False), (300.0, True)]


def test_a_part_that_fits_no_sheet_is_named_with_what_would_do() -> None:
    """The message has the part, its size, and the sheet that would take it with its margin."""
    with pytest.raises(PartError, match=r"^plate 0: .*350 mm x 80\.0 mm.*A sheet of 360 mm x 90\.0 mm would do"):
        sheets(plates(1, 350, 80), stock(), 0.0, 0)


def test_sheets_that_run_out_are_told() -> None:
    """One sheet of the usual size and three plates that fill one each: two are named, two more sheets would do."""
    have = [{"material": FOAM.name, "length": "300 mm", "width": "200 mm", "count": 1}]
    with pytest.raises(PartError, match="2 more of 300 mm x 200 mm"):
        sheets(plates(3, 280, 180), stock(sheets=have), 0.0, 0)


@pytest.mark.parametrize(("grain", "is_level"), [(None, True), ("length", True), ("width", False)])
def test_plywood_lies_along_the_grain(grain, is_level) -> None:
    """A long plate lies along the length of the sheet, or along its width where the grain runs so."""
    sheet = {"material": PLYWOOD.name, "length": "300 mm", "width": "200 mm"} | ({"grain": grain} if grain else {})
    (laid,) = sheets(plates(1, 120, 30, PLYWOOD), stock(sheets=[sheet]), 0.0, 0)
    x0, y0, x1, y1 = shapely.Polygon(laid.patterns[0].outline.points).bounds
    assert (x1 - x0 > y1 - y0) == is_level


def test_kerf_is_kept_free_beside_the_gap() -> None:
    """With 2 mm of gap and 3 mm of kerf, parts lie 5 mm apart or more."""
    (laid,) = sheets(plates(4, 100, 60), stock(kerf="3 mm"), 0.0, 0)
    areas = [shapely.Polygon(pattern.outline.points) for pattern in laid.patterns]
    assert min(one.distance(other) for one, other in combinations(areas, 2)) >= 5.0 - 1e-6


def test_a_wing_skin_that_is_too_long_is_told_to_become_two() -> None:
    """The remedy names the key that parts the panel; twenty parts of one size are told once."""
    panel = Panel(rectangle(0, 0, 350, 80), FOAM.thickness_mm)
    skins = patterns([Part(f"wing skin {k}", "wing", panel, Place(), FOAM) for k in range(1, 21)])
    with pytest.raises(PartError, match=r"as two in wing\.panels") as told:
        sheets(skins, stock(), 0.0, 0)
    assert str(told.value).count("350 mm") == 1


def test_refusals_speak_inches_where_the_design_does() -> None:
    """In an imperial design the part, the room and the sheet that would do are in inches."""
    with pytest.raises(PartError, match=r"13\.78 in x 3\.15 in.*11\.42 in x 7\.48 in.*A sheet of 14\.17 in x 3\.54 in"):
        sheets(plates(1, 350, 80), stock(), 0.0, 0, system="imperial")
