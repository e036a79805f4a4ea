"""Bought items, push-rods, leads and screws in their places."""

from __future__ import annotations

from math import cos, pi, radians, sin, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from airframe.drawing import Bead, Block, Panel, Part, PartError, Revolved, Rod, Wire
from airframe.layout import Layout
from airframe.parts import equipment
from airframe.shapes import measure
from tests.designs import plain
from tests.fittings import MOTOR, PROPELLER, carrying
from tests.overlaps import overlaps

MESH_SHARE = 2e-4
"""What the weighing mesh may leave out of a round body's volume."""

BATTERY: dict[str, Any] = {
    "kind": "battery",
    "station": "60 mm",
    "water_line": "-20 mm",
    "options": {
        "3-cell": {"mass": "118 g", "size": ["76 mm", "35 mm", "22 mm"], "basis": "weighed"},
        "2-cell": {"mass": "82 g", "size": ["74 mm", "35 mm", "16 mm"]},
    },
}
BOX = {"mass": "9 g", "size": ["40 mm", "22 mm", "13 mm"], "station": "100 mm"}


def only(layout: Layout) -> Part:
    (part,) = equipment.parts(layout)
    return part


def test_box_sits_where_it_is_stated() -> None:
    """A box is centred on its station, butt line and water line and weighs what is stated."""
    part = only(carrying(receiver={**BOX, "butt_line": "5 mm", "water_line": "-7 mm", "basis": "weighed"}))
    assert part.name == "receiver"
    assert part.place.origin == (100.0, 5.0, -7.0)
    assert part.shape == Block((40.0, 22.0, 13.0))
    assert (part.mass_g, part.basis, part.group) == (9.0, "weighed", "payload")


@pytest.mark.parametrize(
    ("axis", "direction"), [("station", (1, 0, 0)), ("butt line", (0, 1, 0)), ("water line", (0, 0, 1))]
)
def test_cylinder_lies_along_its_axis(axis: str, direction: tuple[int, int, int]) -> None:
    """The rod's own axis turns into the stated one, by a proper rotation."""
    item = {"kind": "cylinder", "mass": "9 g", "diameter": "10 mm", "length": "40 mm", "axis": axis, "station": "99 mm"}
    part = only(carrying(tube=item))
    assert isinstance(part.shape, Rod)
    assert part.place.turn((1.0, 0.0, 0.0)) == pytest.approx(direction)
    assert not part.place.is_mirrored
    assert part.place.origin == (99.0, 0.0, 0.0)


def test_item_that_is_not_fitted_is_left_out() -> None:
    """fitted = false takes the item out of the aeroplane."""
    assert equipment.parts(carrying(receiver={**BOX, "fitted": False}, motor={**MOTOR, "fitted": False})) == []


def test_first_battery_option_stands_on_the_tray() -> None:
    """Without a choice the first option is fitted; its underside is on the water line."""
    part = only(carrying(battery=BATTERY))
    assert (part.name, part.mass_g, part.basis) == ("battery", 118.0, "weighed")
    assert part.place.origin == (60.0, 0.0, -20.0 + 22.0 / 2.0)


def test_another_battery_keeps_the_name_and_stands_on_the_same_tray() -> None:
    """Mass, size and height of the middle follow the option in use."""
    part = only(carrying(battery={**BATTERY, "use": "2-cell"}))
    assert (part.name, part.mass_g, part.basis) == ("battery", 82.0, "estimated")
    assert part.shape == Block((74.0, 35.0, 16.0))
    assert part.place.origin == (60.0, 0.0, -20.0 + 16.0 / 2.0)


def test_mass_stated_beside_the_options_overrides_them() -> None:
    """An override of the mass brings its own basis and keeps the option's size."""
    part = only(carrying(battery={**BATTERY, "mass": "90 g"}))
    assert (part.mass_g, part.basis) == (90.0, "estimated")
    assert part.shape == Block((76.0, 35.0, 22.0))


def test_single_battery_needs_no_options() -> None:
    """Mass and size given directly are the battery."""
    single = {key: value for key, value in BATTERY.items() if key != "options"}
    part = only(carrying(battery={**single, "mass": "90 g", "size": ["70 mm", "30 mm", "20 mm"], "basis": "weighed"}))
    assert (part.mass_g, part.basis, part.shape) == (90.0, "weighed", Block((70.0, 30.0, 20.0)))


def test_motor_stands_on_the_firewalls_front_face() -> None:
    """Case and shaft are one turned body (closed form: two cylinders) from station 0 forward."""
    part = only(carrying(motor={**MOTOR, "shaft_diameter": "4 mm", "shaft_length": "15 mm"}))
    assert isinstance(part.shape, Revolved)
    assert min(x for x, _ in part.shape.profile) == -34.0 - 15.0
    assert max(x for x, _ in part.shape.profile) == 0.0
    volume = pi / 4.0 * (28.0**2 * 34.0 + 4.0**2 * 15.0)
    assert measure(part.shape).body.mass == pytest.approx(volume, rel=MESH_SHARE)
    assert part.mass_g == 46.0


def thrust(down: str = "0 deg", right: str = "0 deg", **changes: Any) -> Layout:
    equipment_table = {"motor": MOTOR, "propeller": {**PROPELLER, **changes}}
    angles = {"down_thrust": down, "right_thrust": right}
    return Layout(plain(equipment=equipment_table, fuselage={"firewall": angles}))


def test_thrust_angles_turn_motor_and_propeller() -> None:
    """3 degrees down and 2 right: the disk's axis points forward, down and to the right wing by so much."""
    disk = equipment.propeller_disk(thrust("3 deg", "2 deg"))
    assert disk is not None
    down, right = radians(3.0), radians(2.0)
    assert disk.axis == pytest.approx((-cos(down) * cos(right), cos(down) * sin(right), -sin(down)))
    assert disk.centre == pytest.approx(44.0 * np.array(disk.axis))


def test_propellers_hub_ends_at_the_shafts_tip() -> None:
    """34 mm of case, 14 mm of shaft, 8 mm of hub: the middle lies 44 mm ahead of the firewall."""
    disk = equipment.propeller_disk(thrust())
    assert disk == ((-44.0, 0.0, 0.0), (-1.0, 0.0, 0.0), 228.0)
    propeller = next(part for part in equipment.parts(thrust()) if part.name == "propeller")
    assert isinstance(propeller.shape, Panel)
    faces = propeller.place.apply([(0.0, 0.0, 0.0), (0.0, 0.0, -propeller.shape.thickness_mm)])
    assert faces[:, 0] == pytest.approx([-45.5, -42.5])


def test_no_propeller_sweeps_no_disk() -> None:
    """A glider, or a propeller left out, has no disk."""
    assert equipment.propeller_disk(carrying()) is None
    assert equipment.propeller_disk(carrying(propeller={**PROPELLER, "fitted": False})) is None


@given(blades=st.integers(2, 6), diameter=st.floats(60.0, 400.0), hub=st.floats(6.0, 30.0))
@settings(max_examples=30, deadline=None)
def test_blades_reach_the_disk_and_look_alike(blades: int, diameter: float, hub: float) -> None:
    """Every outline touches the swept circle, stays within it, and turns into itself from blade to blade."""
    changes = {"blades": blades, "diameter": f"{diameter} mm", "hub_diameter": f"{hub} mm"}
    propeller = next(part for part in equipment.parts(thrust(**changes)) if part.name == "propeller")
    assert isinstance(propeller.shape, Panel)
    corners = np.array(propeller.shape.outline.points)
    reach = np.linalg.norm(corners, axis=1)
    assert reach.max() == pytest.approx(diameter / 2.0, abs=1e-5)
    assert reach.min() == pytest.approx(hub / 2.0, abs=1e-5)
    body = measure(propeller.shape).body
    assert body.centre[:2] == pytest.approx([0.0, 0.0], abs=1e-4 * diameter)
    if blades > 2:
        assert body.inertia[0, 0] == pytest.approx(body.inertia[1, 1], rel=1e-3)


def test_propeller_is_free_of_the_motors_case() -> None:
    """The hub's bore is the shaft's diameter: nothing stands into anything."""
    assert overlaps(equipment.parts(thrust("3 deg", "2 deg")), 1.0) == {}


def test_hub_must_go_over_the_shaft() -> None:
    """A shaft thicker than the hub is refused by the propeller's name."""
    layout = carrying(motor={**MOTOR, "shaft_diameter": "8 mm"}, propeller={**PROPELLER, "hub_diameter": "8 mm"})
    with pytest.raises(PartError, match="propeller: a hub of 8 mm does not go over a shaft of 8 mm"):
        equipment.parts(layout)


def test_push_rod_is_straight_between_its_points() -> None:
    """Length by Pappus and closed form: two right-angled ends of 8 mm, each bend saving 2 R - R pi / 2."""
    item = {"kind": "push-rod", "from_point": ["300 mm", "20 mm", "0 mm"], "to_point": ["560 mm", "20 mm", "0 mm"]}
    part = only(carrying(rod=item))
    assert isinstance(part.shape, Wire)
    assert part.shape.points == ((300, 28, 0), (300, 20, 0), (560, 20, 0), (560, 12, 0))
    radius = 1.2 + 1.2 / 2.0
    length = 260.0 + 2.0 * 8.0 - 2.0 * (2.0 * radius * tan(pi / 4.0) - radius * pi / 2.0)
    assert measure(part.shape).body.mass == pytest.approx(pi / 4.0 * 1.2**2 * length, rel=MESH_SHARE)
    assert (part.material.name, part.mass_g, part.group) == ("music wire", None, "controls")


def test_push_rod_too_short_for_its_ends_is_refused() -> None:
    """Ends that leave no room for their bends are refused by name."""
    item = {"kind": "push-rod", "from_point": ["300 mm", "0 mm", "0 mm"], "to_point": ["303 mm", "0 mm", "0 mm"]}
    with pytest.raises(PartError, match=r"rod: .* too short for the bends"):
        equipment.parts(carrying(rod=item))


@pytest.mark.parametrize("count", [0, 1, 3])
def test_guides_are_tubes_round_the_push_rod(count: int) -> None:
    """Evenly spaced on its line, axis along it, clear of the wire; each an estimate that is in the statement."""
    start, end = np.array([300.0, 20.0, 4.0]), np.array([560.0, 28.0, -2.0])
    points = {key: [f"{x} mm" for x in point] for key, point in (("from_point", start), ("to_point", end))}
    rod, *guides = equipment.parts(carrying(rod={"kind": "push-rod", **points, "guides": count}))
    assert [guide.name for guide in guides] == [f"rod guide {number}" for number in range(1, count + 1)]
    for number, guide in enumerate(guides, 1):
        assert isinstance(guide.shape, Revolved)
        assert guide.place.apply((0.0, 0.0, 0.0)) == pytest.approx(start + (end - start) * number / (count + 1))
        assert guide.place.turn((1.0, 0.0, 0.0)) == pytest.approx((end - start) / np.linalg.norm(end - start))
        assert min(radius for _, radius in guide.shape.profile) > 1.2 / 2.0
        assert (guide.group, guide.mass_g, guide.basis) == (rod.group, equipment.GUIDE_G, "estimated")


def test_more_guides_than_there_is_room_for_are_refused() -> None:
    """Nine tubes of 12 mm do not go on a rod of 100 mm."""
    points = {"from_point": ["300 mm", "0 mm", "0 mm"], "to_point": ["400 mm", "0 mm", "0 mm"]}
    with pytest.raises(PartError, match="rod: is too short for 9 guides"):
        equipment.parts(carrying(rod={"kind": "push-rod", **points, "guides": 9}))


def test_lead_weighs_its_path_and_its_slack() -> None:
    """A servo lead of 14 g/m: 50 mm of path and 150 mm of slack weigh 2.8 g."""
    path = [["100 mm", "0 mm", "0 mm"], ["130 mm", "0 mm", "0 mm"], ["130 mm", "20 mm", "0 mm"]]
    part = only(carrying(lead={"kind": "lead", "path": path, "slack": "150 mm"}))
    assert isinstance(part.shape, Bead)
    assert part.mass_g == pytest.approx((50.0 + 150.0) * 14.0e-3)
    assert part.basis == "estimated"


def test_lead_without_length_is_refused() -> None:
    """A path whose corners all coincide is refused by name."""
    path = [["100 mm", "0 mm", "0 mm"]] * 2
    with pytest.raises(PartError, match="lead: its path has no length"):
        equipment.parts(carrying(lead={"kind": "lead", "path": path}))


DIRECTIONS = {
    "aft": (1, 0, 0),
    "forward": (-1, 0, 0),
    "right": (0, 1, 0),
    "left": (0, -1, 0),
    "up": (0, 0, 1),
    "down": (0, 0, -1),
}


@pytest.mark.parametrize("pointing", DIRECTIONS)
def test_screws_share_a_shape_and_point_as_told(pointing: str) -> None:
    """Head and shank by closed form; the underside of each head is at its point, numbered in order."""
    points = [["3 mm", "8 mm", "8 mm"], ["3 mm", "-8 mm", "8 mm"]]
    first, second = equipment.parts(carrying(motor_screws={"kind": "screws", "points": points, "pointing": pointing}))
    assert (first.name, second.name) == ("motor screws 1", "motor screws 2")
    assert first.shape == second.shape
    assert second.place.origin == (3.0, -8.0, 8.0)
    assert first.place.turn((1.0, 0.0, 0.0)) == pytest.approx(DIRECTIONS[pointing])
    assert not first.place.is_mirrored
    volume = pi / 4.0 * (3.0**2 * 12.0 + 5.5**2 * 2.0)
    assert measure(first.shape).body.mass == pytest.approx(volume, rel=MESH_SHARE)


def test_single_screw_has_no_number() -> None:
    """One screw keeps the name as it is."""
    part = only(carrying(wing_screw={"kind": "screws", "points": [["3 mm", "8 mm", "8 mm"]]}))
    assert part.name == "wing screw"


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"station": "640 mm"}, "station 640.0 mm, the fuselage reaches from 0.0 to 600.0 mm"),
        ({"butt_line": "-31 mm"}, "the sides are 30.0 mm from the centre plane"),
    ],
)
def test_item_outside_the_fuselage_is_refused(change: dict[str, str], text: str) -> None:
    """An item inside with its middle elsewhere is refused by name; said to be outside, it is drawn."""
    with pytest.raises(PartError) as caught:
        equipment.parts(carrying(camera={**BOX, **change}))
    assert caught.value.part == "camera"
    assert text in caught.value.problem
    assert only(carrying(camera={**BOX, **change, "place": "outside"}))


@pytest.mark.parametrize(
    ("item", "text"),
    [
        ({**MOTOR, "shaft_diameter": "30 mm"}, "shaft_diameter must be less"),
        ({**PROPELLER, "diameter": "20 mm"}, "at least twice hub_diameter"),
        ({"kind": "screws", "points": [["0 mm"] * 3], "head_diameter": "2 mm"}, "head_diameter must exceed diameter"),
    ],
)
def test_senseless_sizes_are_refused_at_the_door(item: dict[str, Any], text: str) -> None:
    """What contradicts itself within one table is refused when the config is read."""
    with pytest.raises(ValidationError, match=text):
        carrying(item=item)
