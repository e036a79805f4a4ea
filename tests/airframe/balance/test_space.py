"""Where a battery finds room: trays, and stations blocked by boxes whose closed form is plain."""

from __future__ import annotations

from math import radians
from typing import Any

import numpy as np
import pytest

from airframe.axes import Place, about_y, about_z, at
from airframe.balance.space import TOUCH_MM, Surroundings, free, stretches, tray
from airframe.balance.spots import along, outermost
from airframe.checks.pairs import Pairs
from airframe.drawing import Block, Part
from airframe.layout import Layout
from tests.bodies import FOAM
from tests.designs import plain
from tests.mending import data_with, flown

PRECISE_MM = 1e-3
"""Display meshes hold single precision."""
SIZE = (60.0, 30.0, 20.0)
NONE: frozenset[str] = frozenset()


def block(name: str, size: tuple[float, float, float], place: Place) -> Part:
    """A box-shaped part."""
    return Part(name, "payload", Block(size), place, FOAM)


def around(*parts: Part) -> Surroundings:
    """These parts, and nothing else, in the plain aeroplane."""
    return Surroundings(Pairs(flown(data_with())), parts)


def blocked(part: Part) -> tuple[tuple[float, float], ...]:
    """Stations at which a battery of 60 x 30 x 20 mm on the centre plane at water line 0 meets the part."""
    met = around(part).obstacles(SIZE, (0.0, 0.0, 0.0), (-200.0, 400.0), NONE)
    return met[0].blocked if met else ()


def test_a_box_ahead_blocks_its_length_and_the_gap() -> None:
    """Half of 60 mm, half of 10 mm and the gap of 1 mm on either side of its middle: 36 mm."""
    (found,) = blocked(block("box", (10.0, 10.0, 10.0), at(100.0)))
    assert found == pytest.approx((64.0, 136.0), abs=PRECISE_MM)


def test_a_turned_box_blocks_what_of_it_is_in_the_way() -> None:
    """A plate turned by 30 degrees takes (thickness + reach tan 30) / cos 30 of the 30 mm wide prism, by trigonometry.

    The plate, 10 mm thick and long, crosses a prism of half width w at x = +-(t / (2 cos a) + w tan a).
    """
    a = radians(30.0)
    (found,) = blocked(block("plate", (10.0, 300.0, 300.0), at(100.0).after(about_z(a))))
    half = 5.0 / np.cos(a) + (15.0 - TOUCH_MM) * np.tan(a) + 31.0
    assert found == pytest.approx((100.0 - half, 100.0 + half), abs=PRECISE_MM)


def test_a_part_with_a_hole_blocks_in_two_pieces() -> None:
    """A body that enters the prism twice leaves room between, if the battery is short enough."""
    import manifold3d

    cubes = [manifold3d.Manifold.cube((10.0, 40.0, 40.0)).translate((x, -20.0, -20.0)) for x in (0.0, 100.0)]
    bridge = manifold3d.Manifold.cube((110.0, 40.0, 10.0)).translate((0.0, -20.0, 20.0))
    body = cubes[0] + cubes[1] + bridge
    low, high = np.array([-50.0, -15.0, -10.0]), np.array([200.0, 15.0, 10.0])
    assert np.array(stretches(body, low, high)) == pytest.approx(np.array([(0.0, 10.0), (100.0, 110.0)]))


@pytest.mark.parametrize("place", [at(100.0, 0.0, -15.0), at(100.0, 20.0, 0.0), at(100.0, 0.0, 15.0), at(500.0)])
def test_what_it_stands_on_or_lies_against_blocks_nothing(place: Place) -> None:
    """A box of 10 mm that touches the battery's 30 x 20 mm section from below, beside or above, or is out of reach."""
    assert blocked(block("box", (10.0, 10.0, 10.0), place)) == ()


def test_a_slope_blocks_from_where_it_rises_into_the_way() -> None:
    """A thick board whose upper face falls aft by 45 degrees from water line 0 at station 0 clears z = -10 at 10 mm."""
    size = (600.0, 100.0, 600.0)
    place = about_y(radians(45.0)).after(at(0.0, 0.0, -300.0))
    (found,) = blocked(block("ramp", size, place))
    assert found[1] == pytest.approx(10.0 - TOUCH_MM + 31.0, abs=PRECISE_MM)


def test_absent_parts_block_nothing() -> None:
    """A part that stays at home is passed over, without asking anew."""
    room = around(block("camera", (10.0, 10.0, 10.0), at(100.0)))
    reach = (-200.0, 400.0)
    assert free(reach, room.obstacles(SIZE, (0.0, 0.0, 0.0), reach, frozenset({"camera"}))) == (reach,)
    assert len(free(reach, room.obstacles(SIZE, (0.0, 0.0, 0.0), reach, NONE))) == 2


# --- trays ------------------------------------------------------------------------------------------------

SHELF = {"name": "tray", "from_station": "20 mm", "to_station": "110 mm", "water_line": "-20 mm"}
FORMERS = [{"name": "F1", "station": "115 mm"}, {"name": "F2", "station": "200 mm"}]


def boxed(**fuselage: Any) -> Layout:
    """The plain design with these keys of its fuselage."""
    return Layout(plain(**{f"fuselage__{key}": value for key, value in fuselage.items()}))


def test_the_tray_as_stated() -> None:
    """What the design says counts; the middle of 60 mm has that much less to go."""
    found = tray(boxed(shelves=[SHELF]), 50.0, -20.0, 8.0, 110.0)
    assert (found.from_mm, found.to_mm) == (8.0, 110.0)
    assert found.reach_mm(60.0) == (38.0, 80.0)


def test_the_shelf_it_stands_on() -> None:
    """Without limits stated, the shelf under it gives them; one limit may be stated and the other not."""
    layout = boxed(shelves=[SHELF])
    assert (tray(layout, 50.0, -20.0).from_mm, tray(layout, 50.0, -19.0).to_mm) == (20.0, 110.0)
    mixed = tray(layout, 50.0, -20.0, to_mm=90.0)
    assert (mixed.from_mm, mixed.to_mm, mixed.given_by) == (20.0, 90.0, "tray_to and the tray")


def test_the_bay_it_lies_in() -> None:
    """On no shelf, it may go from one cross piece to the next: firewall (3 mm) to F1, or F1 (5 mm) to F2."""
    layout = boxed(formers=FORMERS, shelves=[SHELF])
    first, second = tray(layout, 50.0, 0.0), tray(layout, 150.0, 0.0)
    assert (first.from_mm, first.to_mm) == pytest.approx((3.0, 115.0))
    assert (second.from_mm, second.to_mm) == pytest.approx((120.0, 200.0))
    assert "former F1" in second.given_by and "former F2" in second.given_by
    assert tray(layout, 400.0, 0.0).to_mm == layout.tail_mm


def test_a_tray_as_long_as_the_battery_has_one_station() -> None:
    """In inches the two ends differ in the last bit; that is no lack of room."""
    low, high = tray(boxed(), 50.0, -20.0, 0.4 * 25.4, 3.1 * 25.4).reach_mm(2.7 * 25.4)
    assert low == high == pytest.approx(1.75 * 25.4)


# --- spots ------------------------------------------------------------------------------------------------


def test_ballast_lies_as_far_out_as_there_is_room() -> None:
    """Foremost: its front one gap and one step of the search at most behind the firewall; rearmost: near the tail."""
    aeroplane = flown(data_with())
    room = Surroundings(Pairs(aeroplane), aeroplane.parts)
    battery = np.array([10.0, -15.0, -20.0, 70.0, 15.0, 0.0])
    size = (8.0, 20.0, 10.0)
    fore, aft = (outermost(room, NONE, battery, size, ahead) for ahead in (True, False))
    assert fore is not None and aft is not None
    assert 3.0 + 1.0 <= fore[0] - 4.0 <= 3.0 + 1.0 + 2.0
    assert fore[1] == 0.0
    assert aft[0] > 0.9 * aeroplane.layout.tail_mm


def test_an_item_moves_where_it_meets_nothing() -> None:
    """Between two walls, and not onto the battery: closed form on boxes of 10 mm with a gap of 1 mm."""
    item, walls = block("item", (10.0, 10.0, 10.0), at(100.0)), [at(50.0), at(200.0)]
    parts = [block(f"wall {i}", (10.0, 40.0, 40.0), place) for i, place in enumerate(walls)]
    battery = np.array([140.0, -5.0, -5.0, 150.0, 5.0, 5.0])
    found = along(around(item, *parts), NONE, battery, "item", (0.0, 240.0), is_inside=False)
    expected = [(5.0, 39.0), (61.0, 134.0), (156.0, 189.0), (211.0, 240.0)]
    assert np.array(found) == pytest.approx(np.array(expected), abs=PRECISE_MM)
