"""The firewall, its doublers and its gussets."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin
from typing import Any

import numpy as np
import pytest

from airframe import solids
from airframe.drawing import Panel, Part, PartError
from airframe.layout import Layout
from airframe.materials import MATERIALS
from airframe.parts import firewall, fuselage
from airframe.parts.firewall_plate import firewall_plate
from tests.designs import plain
from tests.overlaps import overlaps

SLIVER_MM3 = 1.0
TILTED = {"down_thrust": "3 deg", "right_thrust": "2 deg"}
MOTOR = {"bolt_circle": "25 mm", "bolt_diameter": "3 mm", "shaft_hole": "8 mm"}
TIED = {
    "doubler_material": "birch plywood 1.5 mm",
    "doubler_behind": "40 mm",
    "gussets_behind": {"leg": "18 mm", "water_lines": ["25 mm", "-20 mm"]},
}
AHEAD = [
    {"station": "-30 mm", "top": "40 mm", "bottom": "-40 mm"},
    {"station": "600 mm", "top": "40 mm", "bottom": "-40 mm"},
]


def built(fuselage_changes: dict[str, Any] | None = None, **changes: Any) -> dict[str, Part]:
    """The firewall's parts in a plain fuselage, by name."""
    layout = Layout(plain(fuselage={**(fuselage_changes or {}), "firewall": changes}))
    return {part.name: part for part in firewall.parts(layout)}


def panel(part: Part) -> Panel:
    """The part's drawing."""
    assert isinstance(part.shape, Panel)
    return part.shape


def corners(part: Part) -> np.ndarray:
    """Corners of a flat part's two faces in the aeroplane's frame."""
    shape = panel(part)
    return part.place.apply([(x, y, z) for x, y in shape.outline.points for z in (0.0, -shape.thickness_mm)])


def test_plate_fills_the_nose() -> None:
    """60 mm between the sides, 80 mm high, 3 mm of birch plywood at 660 kg/m^3, its front face on station 0."""
    plate = built()["firewall"]
    volume = solids.exact(solids.solid(panel(plate))).mass
    assert volume == pytest.approx(60 * 80 * 3)
    assert volume * plate.material.weight == pytest.approx(60 * 80 * 3 * 660e-6)
    x = corners(plate)[:, 0]
    assert (x.min(), x.max()) == pytest.approx((0.0, 3.0))


def test_firewall_plywood_is_an_eighth_of_an_inch() -> None:
    """1/8 in plywood for the firewall (common practice, no source): 3 mm unless the design says otherwise."""
    assert panel(built(material="birch plywood 1/8 in")["firewall"]).thickness_mm == pytest.approx(25.4 / 8)
    assert panel(built()["firewall"]).thickness_mm == pytest.approx(25.4 / 8, abs=0.2)


def test_bolts_stand_on_their_circle() -> None:
    """Four holes of 3 mm at 45 deg on 25 mm, and the shaft's in the middle; the plate loses their area."""
    plate = panel(built(**MOTOR)["firewall"])
    middles = [np.mean(hole.points, axis=0) for hole in plate.holes]
    assert [hypot(*middle) for middle in middles] == pytest.approx([12.5] * 4 + [0.0])
    assert [abs(value) for middle in middles[:4] for value in middle] == pytest.approx([12.5 * cos(pi / 4)] * 8)
    assert plate.area() == pytest.approx(60 * 80 - 4 * pi * 1.5**2 - pi * 4**2)


def test_named_hole_lies_at_its_butt_line() -> None:
    """A hole on the right stays on the right though the drawing is seen from the front."""
    hole = {"name": "leads", "butt_line": "14 mm", "water_line": "-20 mm", "diameter": "9 mm"}
    plate = built(holes=[hole])["firewall"]
    middle = plate.place.apply([*np.mean(panel(plate).holes[0].points, axis=0), 0.0])
    assert middle == pytest.approx([0.0, 14.0, -20.0])


def test_thrust_angles_tilt_the_plate_about_the_thrust_line() -> None:
    """Its front face holds the origin and looks along the thrust axis: down, and to the right."""
    plate = built(**TILTED)["firewall"]
    down, right = radians(3), radians(2)
    ahead = plate.place.turn((0.0, 0.0, 1.0))
    assert ahead == pytest.approx([-cos(down) * cos(right), cos(down) * sin(right), -sin(down)])
    assert plate.place.origin == (0.0, 0.0, 0.0)


@pytest.mark.parametrize(("down", "right"), [(0, 0), (3, 0), (-3, 0), (0, 3), (0, -3), (4, -3), (12, 10)])
def test_tilted_plate_stays_between_sides_and_decks(down: int, right: int) -> None:
    """Every corner lies inside, and at least one touches a side and one floor or deck."""
    closed = [{"name": face, "face": face, "from_station": "0 mm", "to_station": "90 mm"} for face in ("top", "bottom")]
    parts = built({"decks": closed, "stations": AHEAD}, down_thrust=f"{down} deg", right_thrust=f"{right} deg")
    _, y, z = np.abs(corners(parts["firewall"])).max(axis=0)
    assert y == pytest.approx(30.0)
    assert z == pytest.approx(35.0)


@pytest.mark.parametrize(
    "change",
    [
        {},
        TILTED,
        {"down_thrust": "-3 deg", "right_thrust": "-2 deg"},
        {"gussets_ahead": {"leg": "15 mm", "water_lines": ["10 mm"]}},
    ],
)
def test_ties_touch_without_standing_in_one_another(change: dict[str, Any]) -> None:
    """Doublers, gussets and plate, tilted either way, with the fuselage round them."""
    decks = [{"name": face, "face": face, "from_station": "0 mm", "to_station": "300 mm"} for face in ("top", "bottom")]
    former = [{"name": "F1", "station": "60 mm"}]
    shelf = [{"name": "tray", "from_station": "0 mm", "to_station": "60 mm", "water_line": "0 mm"}]
    table = {"stations": AHEAD, "decks": decks, "formers": former, "shelves": shelf, "firewall": {**TIED, **change}}
    layout = Layout(plain(fuselage=table))
    assert overlaps([*firewall.parts(layout), *fuselage.parts(layout)], SLIVER_MM3) == {}


def test_doublers_reach_aft_along_the_sides() -> None:
    """40 mm from the plate's rear face, 1 mm lower than the clear height, against the sides' inner faces."""
    parts = built(**TIED)
    right, left = corners(parts["firewall doubler right"]), corners(parts["firewall doubler left"])
    assert (right[:, 0].min(), right[:, 0].max()) == pytest.approx((3.0, 43.0))
    assert (right[:, 1].min(), right[:, 1].max()) == pytest.approx((28.5, 30.0))
    assert np.ptp(right[:, 2]) < 80.0
    assert sorted(left[:, 1]) == pytest.approx(sorted(-right[:, 1]))
    assert parts["firewall doubler right"].shape == parts["firewall doubler left"].shape


def test_right_thrust_moves_the_right_doubler_aft() -> None:
    """Each doubler starts where the tilted plate ends on its own side."""
    parts = built(**{**TIED, "right_thrust": "4 deg"})
    starts = [corners(parts[f"firewall doubler {side}"])[:, 0].min() for side in ("right", "left")]
    assert starts[0] - starts[1] == pytest.approx((2 * 30 - 1.5) * np.tan(radians(4)))


def test_gussets_stand_in_the_corners() -> None:
    """Right-angled triangles of 18 mm legs: half of 18 x 18, level, one shape for all four."""
    parts = built(**TIED)
    gussets = [part for name, part in parts.items() if name.startswith("firewall gusset")]
    assert len(gussets) == 4
    assert len({part.shape for part in gussets}) == 1
    assert panel(gussets[0]).area() == pytest.approx(18 * 18 / 2)
    first = corners(parts["firewall gusset behind 1 right"])
    assert (first[:, 0].min(), first[:, 1].max(), first[:, 2].max()) == pytest.approx((3.0, 28.5, 25.0))


def test_gussets_ahead_are_the_same_drawing() -> None:
    """A quarter turn of the drawing behind serves ahead; its legs run forward and inboard."""
    legs = {"leg": "18 mm", "water_lines": ["0 mm"]}
    parts = built({"stations": AHEAD}, gussets_ahead=legs, gussets_behind=legs)
    ahead, behind = parts["firewall gusset ahead right"], parts["firewall gusset behind right"]
    assert ahead.shape == behind.shape
    x, y = corners(ahead)[:, 0], corners(ahead)[:, 1]
    assert (x.min(), x.max(), y.min(), y.max()) == pytest.approx((-18.0, 0.0, 12.0, 30.0))


def test_epoxy_runs_round_the_plate_and_along_both_legs() -> None:
    """2 x 80 mm at the sides of an open box; 2 legs of 18 mm for each of four gussets; all of it epoxy."""

    def length(part: Part) -> float:
        return sum(float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum()) for path in part.shape.paths)

    parts = built(**TIED)
    assert length(parts["glue, firewall"]) == pytest.approx(2 * 80)
    assert length(parts["glue, firewall gussets behind"]) == pytest.approx(4 * 2 * 18)
    assert length(parts["glue, firewall doublers"]) == pytest.approx(2 * 2 * (40 + 79))
    assert {part.material for name, part in parts.items() if name.startswith("glue")} == {MATERIALS["epoxy fillet"]}


@pytest.mark.parametrize(
    ("around", "change", "reason"),
    [
        ({}, {**MOTOR, "bolt_circle": "90 mm"}, "a bolt hole breaks out of the plate"),
        ({}, {**MOTOR, "shaft_hole": "24 mm"}, "are 12.5 mm apart; 14.5 mm is the least"),
        (
            {"formers": [{"name": "F1", "station": "30 mm"}]},
            TIED,
            "former F1 at station 30.0 mm; make doubler_behind 27",
        ),
        ({}, {"gussets_ahead": {"leg": "20 mm", "water_lines": ["0 mm"]}}, "start the station table at -20.0 mm"),
        ({}, {"gussets_behind": {"leg": "31 mm", "water_lines": ["0 mm"]}}, "there are 30.0 mm to the centre plane"),
        ({}, {"gussets_behind": {"water_lines": ["1 mm", "0 mm"]}}, "runs into firewall gusset behind 1 right"),
        ({}, {"gussets_behind": {"water_lines": ["41 mm"]}}, "-40.0 to 40.0 mm is free"),
        ({"width": "18 mm"}, {}, "has only 8.0 by 80.0 mm"),
    ],
)
def test_what_has_no_room_is_refused(around: dict[str, Any], change: dict[str, Any], reason: str) -> None:
    """By name, with a number that would do."""
    with pytest.raises(PartError, match=reason):
        built(around, **change)


def test_steep_thrust_is_refused_in_the_table() -> None:
    """Beyond 15 deg nothing closes the nose."""
    with pytest.raises(ValueError, match="within 15 deg"):
        built(down_thrust="16 deg")


def test_plate_is_found_once_for_each_layout() -> None:
    """Doublers, shelves and gussets ask for it often."""
    layout = Layout(plain())
    assert firewall_plate(layout) is firewall_plate(layout)
