"""The fuselage's sides, formers, braces, shelves and dowels."""

from __future__ import annotations

from math import atan2, cos, hypot, pi, tan
from typing import Any

import numpy as np
import pytest

from airframe import solids
from airframe.drawing import Panel, Part, PartError, Rod
from airframe.folding import fold
from airframe.layout import Layout
from airframe.parts import fuselage
from tests.designs import plain
from tests.overlaps import overlaps

SLIVER_MM3 = 10.0
BOX = [
    {"station": "0 mm", "top": "40 mm", "bottom": "-40 mm"},
    {"station": "600 mm", "top": "40 mm", "bottom": "-40 mm"},
]
LONG = [
    {"station": "0 mm", "top": "40 mm", "bottom": "-40 mm"},
    {"station": "1000 mm", "top": "40 mm", "bottom": "-40 mm"},
]
TAPER = {"tail_width": "40 mm", "taper_station": "300 mm"}
MOUNTING = {
    "front": {"station": "100 mm", "water_line": "20 mm"},
    "rear": {"station": "340 mm", "water_line": "20 mm"},
    "reinforcement": "birch plywood 0.8 mm",
}


def built(**changes: Any) -> dict[str, Part]:
    """The parts of a plain fuselage with changes, by name."""
    mounting = changes.pop("mounting", None)
    design = plain(fuselage=changes, **({"wing": {"mounting": mounting}} if mounting else {}))
    found = fuselage.parts(Layout(design))
    assert len({part.name for part in found}) == len(found)
    return {part.name: part for part in found}


def panel(part: Part) -> Panel:
    """The part's drawing."""
    assert isinstance(part.shape, Panel)
    return part.shape


def volume(part: Part) -> float:
    """The kernel's exact volume."""
    assert isinstance(part.shape, Panel | Rod)
    return solids.exact(solids.solid(part.shape)).mass


def corners(part: Part) -> np.ndarray:
    """Every corner of a folded panel in the aeroplane's frame."""
    folded = fold(panel(part))
    rings = [ring for face in folded.faces() for ring in face]
    return part.place.apply(np.vstack(rings))


def refused(match: str, **changes: Any) -> None:
    """Assert that the fuselage cannot be drawn, for this reason."""
    with pytest.raises(PartError, match=match):
        built(**changes)


# --- sides ---------------------------------------------------------------------------------------------


def test_side_is_the_polygon_of_the_station_table() -> None:
    """A straight side has the area of its trapezoids: 350 x 80 + 250 x (80 + 40) / 2."""
    right = built()["fuselage side right"]
    assert panel(right).area() == pytest.approx(350 * 80 + 250 * (80 + 40) / 2)
    assert volume(right) == pytest.approx(5.0 * 43000)


def test_sides_are_mirror_images_of_one_drawing() -> None:
    """Left and right share a shape; outer faces are the fuselage's width apart and the sheet lies inside them."""
    parts = built(**TAPER)
    right, left = parts["fuselage side right"], parts["fuselage side left"]
    assert right.shape == left.shape
    assert left.place == right.place.mirrored()
    y = corners(right)[:, 1]
    assert (y.max(), corners(left)[:, 1].min()) == pytest.approx((35.0, -35.0))


def test_tapered_side_is_measured_along_the_slant() -> None:
    """Developed length is 300 + 300 / cos(taper); folded, the tail is as wide as asked."""
    taper = atan2(15.0, 300.0)
    parts = built(**TAPER, stations=BOX)
    side = panel(parts["fuselage side right"])
    along = [x for x, _ in side.outline.points]
    assert max(along) - min(along) == pytest.approx(300.0 + hypot(300.0, 15.0))
    assert side.scores[0].angle_rad == pytest.approx(taper)
    ends = corners(parts["fuselage side right"])
    assert ends[:, 0].max() == pytest.approx(600.0)
    assert ends[np.argmax(ends[:, 0]), 1] == pytest.approx(20.0)


def test_score_takes_its_groove_out_of_a_tapered_side() -> None:
    """Area times thickness less t^2 tan(angle / 2) for each mm of score: the board bends about its outer paper."""
    side = built(**TAPER, stations=BOX)["fuselage side right"]
    groove = 80.0 * 5.0**2 * tan(atan2(15.0, 300.0) / 2)
    assert volume(side) == pytest.approx(panel(side).area() * 5.0 - groove)


def test_opening_in_the_left_side_alone() -> None:
    """It takes its rectangle out of the left side, and leaves the right one whole."""
    window = {"name": "window", "face": "left", "from_station": "100 mm", "to_station": "130 mm"}
    parts = built(openings=[{**window, "low": "-10 mm", "high": "20 mm", "cover": True}])
    left, right = panel(parts["fuselage side left"]), panel(parts["fuselage side right"])
    assert right.area() - left.area() == pytest.approx(30 * 30)
    assert panel(parts["window lid"]).area() == pytest.approx(29 * 29)
    assert "window lid right" not in parts
    assert corners(parts["window lid"])[:, 1].min() == pytest.approx(-35.0)


def test_lid_across_the_taper_is_scored_like_its_side() -> None:
    """A lid lies in its hole half a millimetre off all round, bent where the side is."""
    hatch = {"name": "hatch", "face": "sides", "from_station": "280 mm", "to_station": "330 mm"}
    parts = built(**TAPER, stations=BOX, openings=[{**hatch, "low": "-10 mm", "high": "20 mm", "cover": True}])
    lid, side = panel(parts["hatch lid right"]), panel(parts["fuselage side right"])
    assert lid.scores[0].angle_rad == side.scores[0].angle_rad
    assert parts["hatch lid right"].shape == parts["hatch lid left"].shape
    assert overlaps(parts.values(), 0.1) == {}
    assert side.holes[0].area() - lid.area() == pytest.approx(side.holes[0].length() * 0.5 - 4 * 0.25)


@pytest.mark.parametrize(
    ("low", "station", "reason"),
    [("-39 mm", "100 mm", "water line -38.0 and 38.0"), ("-10 mm", "0 mm", "between station 2.0")],
)
def test_opening_that_breaks_out_is_refused(low: str, station: str, reason: str) -> None:
    """The message says how far it may reach."""
    opening = {"name": "exit", "face": "right", "from_station": station, "to_station": "150 mm"}
    refused(reason, openings=[{**opening, "low": low, "high": "0 mm"}])


def test_openings_that_run_together_are_refused() -> None:
    """Two holes need sheet between them."""
    one = {
        "name": "one",
        "face": "left",
        "from_station": "100 mm",
        "to_station": "150 mm",
        "low": "0 mm",
        "high": "9 mm",
    }
    refused(
        "opening two: runs into opening one",
        openings=[one, {**one, "name": "two", "from_station": "149 mm", "to_station": "170 mm"}],
    )


def test_side_wider_than_the_sheet_is_refused() -> None:
    """With the height it has and the sheet's."""
    tall = [{**row, "top": "500 mm"} for row in BOX]
    refused("is 540.0 mm high; inside its margins the sheet has 498.0 mm", stations=tall)


def test_tail_narrower_than_two_sides_is_refused() -> None:
    """The sides would run into one another."""
    refused("tail_width is less than two sides thick; 10.1 mm", tail_width="8 mm", taper_station="300 mm")


# --- splices ---------------------------------------------------------------------------------------------


def test_long_side_is_spliced_as_far_aft_as_the_sheet_reaches() -> None:
    """1000 mm from sheet of 762, 5 mm of margin round it: pieces of 752 mm and 248, a doubler of 80 mm inside."""
    parts = built(stations=LONG)
    front, rear = (panel(parts[f"fuselage side {where} right"]) for where in ("front", "rear"))
    assert front.area() == pytest.approx(752 * 80)
    assert rear.area() == pytest.approx(248 * 80)
    assert panel(parts["side doubler left"]).area() == pytest.approx(80 * 80)
    assert overlaps(parts.values(), 0.1) == {}


def test_splice_keeps_clear_of_a_former() -> None:
    """A former at 755 mm pushes the splice to 10 mm ahead of it; the doubler ends at the former's face."""
    parts = built(stations=LONG, formers=[{"name": "F1", "station": "755 mm"}])
    front = panel(parts["fuselage side front right"])
    assert front.area() == pytest.approx(745 * 80)
    doubler = corners(parts["side doubler right"])
    assert (doubler[:, 0].min(), doubler[:, 0].max()) == pytest.approx((705.0, 755.0))


def test_stated_splice_at_a_former_is_refused() -> None:
    """The doubler has no room."""
    refused(
        "side doubler: has no room beside former F1",
        stations=LONG,
        splice_station="500 mm",
        formers=[{"name": "F1", "station": "498 mm"}],
    )


def test_splice_that_leaves_too_long_a_piece_is_refused() -> None:
    """Both pieces must come out of the sheet."""
    refused("rear: is 900.0 mm long; inside its margins the sheet has 752.0 mm", stations=LONG, splice_station="100 mm")


def test_doubler_keeps_clear_of_decks_and_shelves() -> None:
    """It takes the higher of what is left above and below a shelf, between floor and deck."""
    shelf = {"name": "tray", "from_station": "700 mm", "to_station": "800 mm", "water_line": "10 mm"}
    decks = [
        {"name": face, "face": face, "from_station": "0 mm", "to_station": "1000 mm"} for face in ("top", "bottom")
    ]
    parts = built(stations=LONG, shelves=[shelf], decks=decks, splice_station="740 mm")
    z = corners(parts["side doubler right"])[:, 2]
    assert (z.min(), z.max()) == pytest.approx((-35.0, 5.0))
    assert overlaps(parts.values(), 0.1) == {}


def test_splice_where_its_doublers_would_meet_is_refused() -> None:
    """In a tail that narrows to 11 mm two doublers of 5 mm side by side have no room."""
    narrow = {"width": "40 mm", "taper_station": "100 mm", "tail_width": "11 mm", "splice_station": "750 mm"}
    refused("side doubler: is 5 mm thick; to the centre plane there are", stations=LONG, **narrow)


def test_side_of_three_sheets_is_refused() -> None:
    """One splice a side is all."""
    refused("is 1600.0 mm long; two sheets give 1504", stations=[BOX[0], {**BOX[1], "station": "1600 mm"}])


# --- formers and braces ------------------------------------------------------------------------------------


def test_whole_former_fills_the_box() -> None:
    """70 mm wide less two sides of 5, 80 mm high, 5 thick: 60 x 80 x 5 mm^3 of 440 g/m^2 board."""
    former = built(formers=[{"name": "F1", "station": "100 mm"}])["former F1"]
    assert volume(former) == pytest.approx(60 * 80 * 5)
    assert volume(former) * former.material.weight == pytest.approx(60 * 80 * 440e-6)
    x = corners(former)[:, 0]
    assert (x.min(), x.max()) == pytest.approx((100.0, 105.0))


def test_former_in_a_three_inch_fuselage() -> None:
    """With sides of 3/16 in it is 2 5/8 in wide, so a 2 1/2 in figure passes (common practice, no source)."""
    board = "foam board 3/16 in"
    former = built(width="3 in", material=board, formers=[{"name": "F1", "station": "4 in"}])["former F1"]
    assert np.ptp(corners(former)[:, 1]) == pytest.approx(2.625 * 25.4)


def test_rim_leaves_a_window() -> None:
    """The window is the former less a rim all round, its corners rounded to half the rim."""
    former = panel(built(formers=[{"name": "F1", "station": "100 mm", "rim": "10 mm"}])["former F1"])
    window, r = former.holes[0], 5.0
    assert window.area() == pytest.approx(40 * 60 - (4 - pi) * r * r)
    refused("29.0 mm or less", formers=[{"name": "F1", "station": "100 mm", "rim": "30 mm"}])


def test_former_stands_between_floor_and_deck() -> None:
    """Decks of 5 mm set in between the sides take 10 mm of its height; a deck laid over them none."""
    decks = [{"name": face, "face": face, "from_station": "0 mm", "to_station": "300 mm"} for face in ("top", "bottom")]
    former = [{"name": "F1", "station": "100 mm"}]
    assert panel(built(formers=former, decks=decks)["former F1"]).area() == pytest.approx(60 * 70)
    over = [{**deck, "fit": "over"} for deck in decks]
    assert panel(built(formers=former, decks=over)["former F1"]).area() == pytest.approx(60 * 80)


def test_former_glue_has_both_sides_and_what_covers_it() -> None:
    """Two beads down each side, and two along the deck: 4 x 75 + 2 x 60 mm at 6 g/m."""
    deck = {"name": "top", "face": "top", "from_station": "0 mm", "to_station": "300 mm"}
    glue = built(formers=[{"name": "F1", "station": "100 mm"}], decks=[deck])["glue, former F1"]
    length = sum(float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum()) for path in glue.shape.paths)
    assert length == pytest.approx(4 * 75 + 2 * 60)


def test_everything_follows_the_width() -> None:
    """A fuselage 22 mm wider has formers, braces, shelves and dowels 22 mm wider, and the same sides."""
    things: dict[str, Any] = {
        "formers": [{"name": "F1", "station": "200 mm"}],
        "braces": [{"name": "brace", "station": "150 mm", "water_line": "39 mm", "depth": "12 mm"}],
        "shelves": [{"name": "tray", "from_station": "20 mm", "to_station": "90 mm", "water_line": "0 mm"}],
        "mounting": MOUNTING,
    }
    narrow, wide = built(**things), built(width="92 mm", **things)
    for name in ("former F1", "brace", "tray"):
        assert np.ptp(corners(wide[name])[:, 1]) - np.ptp(corners(narrow[name])[:, 1]) == pytest.approx(22.0)
    assert wide["front wing dowel"].shape.length_mm - narrow["front wing dowel"].shape.length_mm == pytest.approx(22.0)
    assert wide["fuselage side right"].shape == narrow["fuselage side right"].shape


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"formers": [{"name": "F1", "station": "598 mm"}]}, "the sides reach from 0.0 to 600.0"),
        ({"formers": [{"name": "F1", "station": "1 mm"}]}, "runs into the firewall"),
        ({"formers": [{"name": "F1", "station": "90 mm"}, {"name": "F2", "station": "93 mm"}]}, "runs into former F"),
        (
            {"braces": [{"name": "brace", "station": "150 mm", "water_line": "45 mm", "depth": "12 mm"}]},
            "-40.0 to 40.0 mm is free",
        ),
        (
            {
                "formers": [{"name": "F1", "station": "155 mm"}],
                "braces": [{"name": "brace", "station": "150 mm", "water_line": "30 mm", "depth": "12 mm"}],
            },
            "brace: runs into former F1, which takes station 155.0 to 160.0",
        ),
    ],
)
def test_cross_pieces_without_room_are_refused(change: dict[str, Any], reason: str) -> None:
    """By name, with the stretch that is taken."""
    refused(reason, **change)


# --- shelves -----------------------------------------------------------------------------------------------

TRAY = {"name": "tray", "from_station": "20 mm", "to_station": "140 mm", "water_line": "0 mm"}


def test_shelf_is_cut_at_formers() -> None:
    """A board from 20 to 140 mm past a former at 60 mm is two: 40 and 75 mm long."""
    parts = built(shelves=[TRAY], formers=[{"name": "F1", "station": "60 mm", "rim": "10 mm"}])
    assert "tray" not in parts
    assert panel(parts["tray 1"]).area() == pytest.approx(40 * 60)
    assert panel(parts["tray 2"]).area() == pytest.approx(75 * 60)
    assert overlaps(parts.values(), 0.1) == {}


def test_narrow_shelf_goes_through_a_window() -> None:
    """A board no wider than a former's window is left whole."""
    former = [{"name": "F1", "station": "60 mm", "rim": "10 mm"}]
    parts = built(shelves=[{**TRAY, "width": "40 mm"}], formers=former)
    assert panel(parts["tray"]).area() == pytest.approx(120 * 40)
    assert "tray 1" in built(shelves=[{**TRAY, "width": "41 mm"}], formers=former)


def test_shelf_behind_the_taper_is_a_trapezoid() -> None:
    """Its sides follow the inner faces: from 400 to 500 mm, 60 mm wide less 2 tan(taper) a mm aft of the score."""
    shelf = {**TRAY, "from_station": "400 mm", "to_station": "500 mm"}
    parts = built(**TAPER, stations=BOX, shelves=[shelf])
    taper = atan2(15.0, 300.0)
    widths = [70.0 - 2 * aft * tan(taper) - 2 * 5.0 / cos(taper) for aft in (100.0, 200.0)]
    assert panel(parts["tray"]).area() == pytest.approx(100 * sum(widths) / 2)
    assert overlaps(parts.values(), 0.1) == {}


def test_shelf_is_notched_for_the_firewall_doublers() -> None:
    """Between doublers of 1.5 mm it is 3 mm narrower, as far as they reach."""
    parts = built(shelves=[TRAY], firewall={"doubler_material": "birch plywood 1.5 mm", "doubler_behind": "40 mm"})
    assert panel(parts["tray"]).area() == pytest.approx(120 * 60 - (43 - 20) * 3)


def test_slots_are_cut_where_they_lie() -> None:
    """A servo's slot comes out of the piece that it lies on; one across a former is refused."""
    slot = {"station": "100 mm", "length": "23 mm", "width": "12 mm"}
    former = [{"name": "F1", "station": "60 mm"}]
    parts = built(shelves=[{**TRAY, "slots": [slot]}], formers=former)
    assert [len(panel(parts[f"tray {i}"]).holes) for i in (1, 2)] == [0, 1]
    assert panel(parts["tray 2"]).holes[0].area() == pytest.approx(23 * 12)
    refused(
        "slot 1 at station 48.5 to 71.5", shelves=[{**TRAY, "slots": [{**slot, "station": "60 mm"}]}], formers=former
    )


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"water_line": "42 mm"}, "-40.0 to 40.0 mm is free"),
        ({"width": "64 mm"}, "is 64 mm wide; it has 60.0 mm"),
        ({"to_station": "700 mm"}, "the sides reach from 0.0 to 600.0"),
    ],
)
def test_shelf_without_room_is_refused(change: dict[str, str], reason: str) -> None:
    """With the room there is."""
    refused(reason, shelves=[{**TRAY, **change}])


# --- dowels ------------------------------------------------------------------------------------------------


def test_dowels_pass_through_both_sides() -> None:
    """70 mm of fuselage and 15 mm out of each side; each side has two holes of the dowel's size."""
    parts = built(mounting=MOUNTING)
    dowel = parts["rear wing dowel"]
    assert dowel.shape == Rod(100.0, 6.0)
    assert dowel.place.origin == (340.0, 0.0, 20.0)
    holes = panel(parts["fuselage side left"]).holes
    assert [hole.area() for hole in holes] == pytest.approx([9 * pi] * 2)
    assert panel(parts["front dowel reinforcement right"]).area() == pytest.approx(30 * 30 - 9 * pi)
    assert overlaps(parts.values(), 3.0) == {}


def test_reinforcement_gives_way_to_a_former() -> None:
    """A former at 110 mm cuts the plate round a dowel at 100 mm from 30 to 25 mm."""
    parts = built(mounting=MOUNTING, formers=[{"name": "F1", "station": "110 mm"}])
    assert panel(parts["front dowel reinforcement right"]).area() == pytest.approx(25 * 30 - 9 * pi)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"formers": [{"name": "F1", "station": "98 mm"}]}, "front wing dowel: runs into former F1"),
        ({"formers": [{"name": "F1", "station": "104 mm"}]}, "reinforcement: has no room beside former F1"),
        (
            {"firewall": {"doubler_material": "birch plywood 1.5 mm", "doubler_behind": "95 mm"}},
            "front wing dowel: runs into firewall doubler",
        ),
        (
            {"mounting": {**MOUNTING, "front": {"station": "100 mm", "water_line": "39 mm"}}},
            "breaks through the side's",
        ),
        ({"mounting": {**MOUNTING, "reinforcement_size": "8 mm"}}, "is 8 mm wide; round this dowel it must be 12.0 mm"),
    ],
)
def test_dowel_without_room_is_refused(change: dict[str, Any], reason: str) -> None:
    """By name, with what is in the way."""
    refused(reason, **{"mounting": MOUNTING, **change})


# --- all together -------------------------------------------------------------------------------------------

FULL: dict[str, Any] = {
    "formers": [
        {"name": "F1", "station": "60 mm", "rim": "10 mm"},
        {"name": "F2", "station": "350 mm", "rim": "10 mm"},
        {"name": "F3", "station": "590 mm"},
    ],
    "braces": [{"name": "brace", "station": "150 mm", "water_line": "32 mm", "depth": "12 mm"}],
    "decks": [
        {"name": "nose deck", "face": "top", "from_station": "5 mm", "to_station": "90 mm"},
        {"name": "rear deck", "face": "top", "from_station": "330 mm", "to_station": "600 mm"},
        {"name": "floor", "face": "bottom", "from_station": "0 mm", "to_station": "600 mm"},
    ],
    "shelves": [TRAY],
    "mounting": MOUNTING,
}


@pytest.mark.parametrize(
    "change", [{}, TAPER, {"line": "curved", **TAPER}, {"width": "4 in", "material": "foam board 3/16 in"}]
)
def test_nothing_stands_in_anything_else(change: dict[str, Any]) -> None:
    """No two parts share more than a sliver: plain, tapered, curved, in inches."""
    assert overlaps(built(**FULL, **change).values(), SLIVER_MM3) == {}


def test_fuselage_is_symmetric() -> None:
    """Every part has its centre on the centre plane, or a twin whose centre is the mirror image of its own."""
    parts = built(**FULL, **TAPER)
    for name, part in parts.items():
        if not isinstance(part.shape, Panel | Rod) or name.endswith(" left"):
            continue
        centre = part.place.apply(solids.exact(solids.solid(part.shape)).centre)
        if name.endswith(" right"):
            twin = parts[name.removesuffix("right") + "left"]
            mirrored = twin.place.apply(solids.exact(solids.solid(twin.shape)).centre) * (1.0, -1.0, 1.0)
            assert mirrored == pytest.approx(centre, abs=1e-6)
        else:
            assert centre[1] == pytest.approx(0.0, abs=1e-6)
