"""Decks, floors and windscreens."""

from __future__ import annotations

from math import atan2, cos, hypot, pi, tan
from typing import Any

import numpy as np
import pytest

from airframe.drawing import Panel, Part, PartError
from airframe.folding import fold
from airframe.layout import Layout
from airframe.parts import decks, fuselage
from tests.designs import plain
from tests.overlaps import overlaps

SLIVER_MM3 = 3.0
RIDGE = [
    {"station": "0 mm", "top": "20 mm", "bottom": "-40 mm"},
    {"station": "200 mm", "top": "40 mm", "bottom": "-40 mm"},
    {"station": "600 mm", "top": "20 mm", "bottom": "-40 mm"},
]
DIP = [
    {"station": "0 mm", "top": "40 mm", "bottom": "-40 mm"},
    {"station": "200 mm", "top": "20 mm", "bottom": "-40 mm"},
    {"station": "600 mm", "top": "40 mm", "bottom": "-40 mm"},
]
WAVE = [
    {"station": "0 mm", "top": "20 mm", "bottom": "-20 mm"},
    {"station": "200 mm", "top": "40 mm", "bottom": "-40 mm"},
    {"station": "400 mm", "top": "20 mm", "bottom": "-20 mm"},
    {"station": "600 mm", "top": "20 mm", "bottom": "-20 mm"},
]
TOP = {"name": "deck", "face": "top", "from_station": "0 mm", "to_station": "600 mm"}
FLOOR = {"name": "floor", "face": "bottom", "from_station": "0 mm", "to_station": "600 mm"}
HATCH = {
    "name": "hatch",
    "face": "top",
    "from_station": "40 mm",
    "to_station": "100 mm",
    "low": "-20 mm",
    "high": "10 mm",
}


def built(*rows: dict[str, str], **changes: Any) -> dict[str, Part]:
    """The decks of a plain fuselage with changes, by name."""
    gear = changes.pop("gear", {"arrangement": "none"})
    found = decks.parts(Layout(plain(fuselage={"decks": rows, **changes}, gear=gear)))
    return {part.name: part for part in found}


def panel(part: Part) -> Panel:
    """The part's drawing."""
    assert isinstance(part.shape, Panel)
    return part.shape


def faces(part: Part) -> tuple[np.ndarray, np.ndarray]:
    """Corners of the outer and of the inner face in the aeroplane's frame."""
    folded = fold(panel(part))
    return tuple(  # type: ignore[return-value]
        part.place.apply(np.vstack([ring for facet in folded.rings(face) for ring in facet]))
        for face in ("outer", "inner")
    )


def test_level_deck_is_a_rectangle() -> None:
    """Set in between the sides it is as wide as they are apart, laid over them as wide as the fuselage."""
    row = {**TOP, "to_station": "300 mm"}
    assert panel(built(row)["deck"]).area() == pytest.approx(300 * 60)
    assert panel(built({**row, "fit": "over"})["deck"]).area() == pytest.approx(300 * 70)


def test_deck_between_is_flush_and_over_lies_on_top() -> None:
    """The weather face of the one and the lower face of the other are level with the sides' edges."""
    outer, inner = faces(built({**TOP, "to_station": "300 mm"})["deck"])
    assert (outer[:, 2].min(), inner[:, 2].max()) == pytest.approx((40.0, 35.0))
    outer, inner = faces(built({**TOP, "to_station": "300 mm", "fit": "over"})["deck"])
    assert (outer[:, 2].min(), inner[:, 2].max()) == pytest.approx((45.0, 40.0))


def test_ridge_is_scored_and_bent_about_its_outer_paper() -> None:
    """The strip is as long as both slopes together, and turns by the angle between them at its one score."""
    deck = panel(built(TOP, stations=RIDGE)["deck"])
    assert deck.area() == pytest.approx((hypot(200, 20) + hypot(400, 20)) * 60)
    assert [score.angle_rad for score in deck.scores] == pytest.approx([atan2(20, 200) + atan2(20, 400)])
    outer, _ = faces(built(TOP, stations=RIDGE)["deck"])
    assert outer[:, 2].max() == pytest.approx(40.0)


def test_dip_is_the_same_strip_turned_over() -> None:
    """Its outer paper looks inside, its weather face still runs along the sides' edges."""
    part = built(TOP, stations=DIP)["deck"]
    outer, inner = faces(part)
    for x, _, z in inner:
        assert z == pytest.approx(20.0 + (0.1 * (200 - x) if x < 200 else 0.05 * (x - 200)))
    assert part.place.turn((0.0, 0.0, 1.0))[2] < -0.9
    assert outer[:, 2].min() < 15.1


def test_line_that_bends_both_ways_is_cut_halfway() -> None:
    """Between a hump at 200 and a hollow at 400 mm the deck parts at 300 mm, in a butt joint that is glued."""
    parts = built(TOP, stations=WAVE)
    ends = [faces(parts[f"deck {i}"])[0][:, 0] for i in (1, 2)]
    assert (ends[0].max(), ends[1].min()) == pytest.approx((300.0, 300.0))
    paths = parts["glue, deck"].shape.paths
    assert len(paths) == 2 + 2 + 1
    assert {x for x, _, _ in paths[-1]} == {300.0}


def test_deck_ends_are_upright() -> None:
    """Where the line slopes the ends are bevelled, so that both faces end at the same station."""
    for part in (built({**TOP, "to_station": "150 mm"}, stations=RIDGE)["deck"], built(TOP, stations=DIP)["deck"]):
        for face in faces(part):
            assert face[:, 0].min() == pytest.approx(0.0, abs=1e-6)
    _, inner = faces(built({**TOP, "to_station": "150 mm"}, stations=RIDGE)["deck"])
    assert inner[:, 0].max() == pytest.approx(150.0)


def test_deck_follows_the_taper() -> None:
    """Its plan is the trapezoid between the inner faces; nothing sticks into the sides."""
    taper = {"tail_width": "40 mm", "taper_station": "300 mm"}
    level = [{"station": f"{x} mm", "top": "40 mm", "bottom": "-40 mm"} for x in (0, 600)]
    angle = atan2(15, 300)
    turn = 300 - 5 * tan(angle / 2)
    tail = 40 - 10 / cos(angle)
    deck = panel(built(TOP, stations=level, **taper)["deck"])
    assert deck.area() == pytest.approx(turn * 60 + (600 - turn) * (60 + tail) / 2)


@pytest.mark.parametrize(("fit", "width"), [("between", 60.0), ("over", 70.0)])
def test_floor_is_interrupted_by_the_gear_plate(fit: str, width: float) -> None:
    """A plate from 100 to 150 mm leaves a floor of 100 mm ahead and of 450 mm behind; the legs come out between."""
    gear = {
        "arrangement": "tail wheel",
        "wheel": {"diameter": "50 mm", "width": "15 mm", "mass": "8 g"},
        "plate": {"from_station": "100 mm", "to_station": "150 mm"},
        "skid": {"front_station": "560 mm", "contact_station": "590 mm", "height": "60 mm"},
    }
    level = [{"station": f"{x} mm", "top": "40 mm", "bottom": "-40 mm"} for x in (0, 600)]
    parts = built({**FLOOR, "fit": fit}, stations=level, gear=gear)
    assert [panel(parts[f"floor {i}"]).area() for i in (1, 2)] == pytest.approx([100 * width, 450 * width])
    assert len(parts["glue, floor"].shape.paths) == 4


def test_curved_line_is_bent_in_even_steps() -> None:
    """A curved deck is scored every 25 mm or so, all turns of one sign, and touches the curve at its scores."""
    layout = Layout(plain(fuselage={"decks": [TOP], "stations": RIDGE, "line": "curved"}))
    part = next(part for part in decks.parts(layout) if isinstance(part.shape, Panel))
    assert len(panel(part).scores) > 8
    assert all(score.angle_rad > 0 for score in panel(part).scores)
    outer, _ = faces(part)
    assert [z for _, _, z in outer] == pytest.approx([layout.water_line_mm("top", x) for x, _, _ in outer], abs=0.06)


def test_windscreen_is_a_deck_of_clear_sheet() -> None:
    """Half a millimetre thick, along the rise of the top line."""
    row = {**TOP, "name": "windscreen", "to_station": "200 mm", "material": "clear sheet 0.5 mm"}
    part = built(row, stations=RIDGE)["windscreen"]
    assert part.material.look == "clear"
    assert panel(part).area() == pytest.approx(hypot(200, 20) * 60)
    assert panel(part).thickness_mm == 0.5


def test_deck_longer_than_the_sheet_is_cut_in_equal_pieces() -> None:
    """1000 mm from sheet of 762 mm: two of 500 mm."""
    level = [{"station": f"{x} mm", "top": "40 mm", "bottom": "-40 mm"} for x in (0, 1000)]
    parts = built({**TOP, "to_station": "1000 mm"}, stations=level)
    assert [panel(parts[f"deck {i}"]).area() for i in (1, 2)] == pytest.approx([500 * 60] * 2)


# --- openings -----------------------------------------------------------------------------------------------


def test_hatch_lies_where_it_was_asked() -> None:
    """Its hole, folded, spans the stations and butt lines stated; on a slope it is longer along the sheet."""
    part = built(TOP, stations=RIDGE, openings=[HATCH])["deck"]
    hole = panel(part).holes[0]
    assert hole.area() == pytest.approx(60 * hypot(1, 0.1) * 30)
    corners = part.place.apply([(x, y, 0.0) for x, y in hole.points])
    assert (corners[:, 0].min(), corners[:, 0].max()) == pytest.approx((40.0, 100.0))
    assert (corners[:, 1].min(), corners[:, 1].max()) == pytest.approx((-20.0, 10.0))


def test_hatch_in_a_floor_is_not_mirrored() -> None:
    """A floor looks down, so its drawing runs from left to right: low stays left."""
    part = built(FLOOR, openings=[{**HATCH, "face": "bottom"}])["floor"]
    corners = part.place.apply([(x, y, 0.0) for x, y in panel(part).holes[0].points])
    assert (corners[:, 1].min(), corners[:, 1].max()) == pytest.approx((-20.0, 10.0))


@pytest.mark.parametrize("stations", [RIDGE, DIP])
def test_lid_across_a_score_fills_its_hole(stations: list[dict[str, str]]) -> None:
    """It is bent like the deck, half a millimetre smaller all round, rounded corners and all."""
    hatch = {**HATCH, "from_station": "170 mm", "to_station": "240 mm", "corner_radius": "6 mm", "cover": True}
    parts = built(TOP, stations=stations, openings=[hatch])
    deck, lid = panel(parts["deck"]), panel(parts["hatch lid"])
    assert lid.scores[0].angle_rad == pytest.approx(deck.scores[0].angle_rad)
    hole = deck.holes[0]
    length = hole.area() + (4 - pi) * 36
    sides = (length / 30 - 1) * 29
    assert lid.area() == pytest.approx(sides - (4 - pi) * 5.5**2)
    assert overlaps(parts.values(), 0.01) == {}


@pytest.mark.parametrize(
    ("rows", "opening", "reason"),
    [
        ([TOP], {"high": "29 mm"}, "within 28.0 mm of the centre plane"),
        ([{**TOP, "to_station": "80 mm"}], {}, "crosses an end of deck; keep it between station 2.0 and 78.0"),
        ([FLOOR], {}, "no top deck covers station 40.0 to 100.0 mm"),
        ([TOP], {"from_station": "98.5 mm", "cover": True}, "hatch lid: is 1.5 mm small"),
    ],
)
def test_opening_that_does_not_fit_is_refused(rows: list[dict[str, str]], opening: dict[str, Any], reason: str) -> None:
    """With the limits that would do."""
    with pytest.raises(PartError, match=reason):
        built(*rows, openings=[{**HATCH, **opening}])


@pytest.mark.parametrize(
    ("rows", "reason"),
    [
        ([TOP, {**TOP, "name": "other", "from_station": "500 mm"}], "other: runs into deck"),
        ([{**TOP, "to_station": "610 mm"}], "the sides reach from 0.0 to 600.0"),
    ],
)
def test_deck_without_room_is_refused(rows: list[dict[str, str]], reason: str) -> None:
    """By name."""
    with pytest.raises(PartError, match=reason):
        built(*rows)


def test_deck_ends_where_the_sides_meet() -> None:
    """With 1 mm between the sides at the tail a deck that reaches there is refused."""
    with pytest.raises(PartError, match="between the sides at station 600"):
        built(TOP, tail_width="11.2 mm", taper_station="300 mm")


@pytest.mark.parametrize("stations", [RIDGE, DIP, WAVE])
@pytest.mark.parametrize("line", ["straight", "curved"])
@pytest.mark.parametrize("taper", [{}, {"tail_width": "40 mm", "taper_station": "300 mm"}])
def test_decks_fit_sides_and_formers(stations: list[dict[str, str]], line: str, taper: dict[str, str]) -> None:
    """On a hump, a hollow and a wave, straight or curved, tapered or not, nothing overlaps by more than a sliver."""
    formers = [{"name": f"F{x}", "station": f"{x} mm"} for x in (50, 197, 350, 595)]
    design = plain(fuselage={"decks": [TOP, FLOOR], "stations": stations, "line": line, "formers": formers, **taper})
    assert overlaps(fuselage.parts(Layout(design)), SLIVER_MM3) == {}
