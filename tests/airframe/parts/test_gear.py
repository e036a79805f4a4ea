"""Main legs, wheels, bracing and the third point on the ground."""

from __future__ import annotations

from itertools import pairwise
from math import acos, cos, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.bends import centre_line
from airframe.drawing import Block, Panel, Part, PartError, Rod, Wire
from airframe.layout import Layout
from airframe.parts import gear
from airframe.parts.wheels import AXLE_END_MM, CLEARANCE_MM, COLLAR_LENGTH_MM
from airframe.shapes import measure
from tests.designs import plain
from tests.fittings import gear_data, geared
from tests.overlaps import overlaps

CLOSE_MM = 1e-5
"""Drawings are rounded to the nanometre; a sum of a few coordinates stays far below this."""
MESH_SHARE = 2e-4
"""What the weighing mesh may leave out of a round body's volume."""
SLIVER_MM3 = 1.0

BRACED = {"strut": {"station": "140 mm"}, "fairing": {"chord": "20 mm"}}


def by_name(layout: Layout) -> dict[str, Part]:
    return {part.name: part for part in gear.parts(layout)}


def wire_of(part: Part) -> Wire:
    assert isinstance(part.shape, Wire)
    return part.shape


def test_belly_lander_has_no_gear() -> None:
    """Without a gear there is no part of it, and nothing touches the ground on wheels."""
    layout = Layout(plain(gear={"arrangement": "none"}))
    assert gear.parts(layout) == []
    assert gear.contact_points(layout) == {}


def test_leg_length_is_its_corners_less_what_the_bends_save() -> None:
    """A bend by a of centre-line radius R replaces 2 R tan(a/2) of corner by R a of arc (closed form)."""
    leg = wire_of(by_name(geared())["main leg right"])
    corners = np.array(leg.points)
    legs = np.diff(corners, axis=0)
    length = float(np.linalg.norm(legs, axis=1).sum())
    radius = 6.0 + 3.0 / 2.0
    for a, b in pairwise(legs):
        turn = acos(float(a @ b) / float(np.linalg.norm(a) * np.linalg.norm(b)))
        length += radius * turn - 2.0 * radius * tan(turn / 2.0)
    assert centre_line(leg).length() == pytest.approx(length, rel=1e-9)
    assert measure(leg).body.mass == pytest.approx(pi / 4.0 * 3.0**2 * length, rel=MESH_SHARE)


@given(
    track=st.floats(120.0, 400.0),
    axle=st.floats(40.0, 200.0),
    height=st.floats(120.0, 260.0),
    radius=st.floats(2.0, 10.0),
)
@settings(max_examples=40, deadline=None)
def test_axle_is_straight_from_collar_to_collar(track: float, axle: float, height: float, radius: float) -> None:
    """The last bend ends where the inner collar begins, on the axle's line, wherever wheel and plate are."""
    changes = {"track": track, "axle_station": axle, "height": height, "bend_radius": radius}
    layout = geared(**{key: f"{value} mm" for key, value in changes.items()})
    leg = centre_line(wire_of(by_name(layout)["main leg right"]))
    shoulder = 18.0 / 2.0 + CLEARANCE_MM + COLLAR_LENGTH_MM
    start, end = leg.legs()[-1]
    assert start == pytest.approx([axle, track / 2.0 - shoulder, 30.0 - height], abs=CLOSE_MM)
    assert end == pytest.approx([axle, track / 2.0 + shoulder + AXLE_END_MM, 30.0 - height], abs=CLOSE_MM)


def test_wheels_stand_on_the_track() -> None:
    """Wheel middles are half the track from the centre plane, one radius above the ground, mirror images."""
    layout = geared(track="250 mm")
    parts = by_name(layout)
    right, left = parts["main wheel right"], parts["main wheel left"]
    assert right.place.origin == (120.0, 125.0, -150.0 + 30.0)
    assert left.place.origin == (120.0, -125.0, -150.0 + 30.0)
    assert right.shape == left.shape
    assert left.place == right.place.mirrored()
    record = measure(right.shape)
    lowest = right.place.apply(record.vertices)[:, 2].min()
    assert lowest == pytest.approx(-150.0, abs=60.0 / 2.0 * (1.0 - cos(0.35 / 2.0)))
    contacts = gear.contact_points(layout)
    assert contacts["main wheel right"] == (120.0, 125.0, -150.0)
    assert contacts["main wheel left"] == (120.0, -125.0, -150.0)


def test_wheel_runs_on_its_wire_and_weighs_what_is_stated() -> None:
    """Wheel and collars take the stated mass, and the collars hold the wheel with play at both sides."""
    parts = by_name(geared(wheel={**gear_data()["wheel"], "basis": "weighed", "collar_mass": "1.1 g"}))
    wheel = parts["main wheel right"]
    assert (wheel.mass_g, wheel.basis) == (9.0, "weighed")
    for name, side in (("inner", -1.0), ("outer", 1.0)):
        collar = parts[f"main wheel {name} collar right"]
        assert isinstance(collar.shape, Rod)
        assert (collar.mass_g, collar.basis, collar.shape.bore_mm) == (1.1, "estimated", 3.0)
        offset = 18.0 / 2.0 + CLEARANCE_MM + COLLAR_LENGTH_MM / 2.0
        assert collar.place.origin[1] == pytest.approx(100.0 + side * offset)


def test_whole_gear_but_a_one_sided_wire_is_symmetric() -> None:
    """Every left part is the mirror image of a right one of the same shape and mass."""
    parts = by_name(geared(**BRACED))
    rights = [name for name in parts if name.endswith(" right")]
    assert len(rights) == 7
    for name in rights:
        left = parts[name.removesuffix("right") + "left"]
        assert left.shape == parts[name].shape
        assert left.mass_g == parts[name].mass_g
        assert left.place == parts[name].place.mirrored()


def test_plate_lies_flush_between_the_sides() -> None:
    """The plate is as wide as the fuselage inside, its lower face level with the sides' bottom edges."""
    layout = geared()
    plate = by_name(layout)["gear plate"]
    assert isinstance(plate.shape, Panel)
    assert plate.shape.area() == pytest.approx((150.0 - 90.0) * (70.0 - 2.0 * layout.side_thickness_mm))
    corners = plate.place.apply([(x, y, z) for x in (0.0, 60.0) for y in (-30.0, 30.0) for z in (-3.0, 0.0)])
    assert corners[:, 2].min() == pytest.approx(layout.water_line_mm("bottom", 100.0))
    assert corners[:, 0].min() == pytest.approx(90.0)
    assert corners[:, 0].max() == pytest.approx(150.0)


def test_plate_tilts_with_the_bottom_line() -> None:
    """Under a rising tail the plate's lower face runs along the sides' bottom edges from end to end."""
    layout = geared(plate={"from_station": "400 mm", "to_station": "460 mm"}, axle_station="430 mm")
    plate = by_name(layout)["gear plate"]
    assert isinstance(plate.shape, Panel)
    length = float(np.hypot(60.0, 60.0 * 40.0 / 250.0))
    ends = plate.place.apply([(0.0, 0.0, -3.0), (length, 0.0, -3.0)])
    assert ends[0] == pytest.approx([400.0, 0.0, layout.water_line_mm("bottom", 400.0)], abs=CLOSE_MM)
    assert ends[1] == pytest.approx([460.0, 0.0, layout.water_line_mm("bottom", 460.0)], abs=CLOSE_MM)


def test_plate_grows_with_the_fuselage() -> None:
    """A fuselage 32 mm wider has a plate 32 mm wider, and legs that leave it 16 mm further out."""
    narrow, wide = (Layout(plain(gear=gear_data(), fuselage={"width": width})) for width in ("60 mm", "92 mm"))
    areas = [part.shape.area() for part in (by_name(x)["gear plate"] for x in (narrow, wide)) if part.shape]  # type: ignore[union-attr]
    assert areas[1] - areas[0] == pytest.approx(60.0 * 32.0)
    knees = [wire_of(by_name(x)["main leg right"]).points[1][1] for x in (narrow, wide)]
    assert knees == [30.0, 46.0]


def test_buttress_stands_on_the_plates_rear_end() -> None:
    """Its foot is on the plate's upper face, its rear face over the plate's rear edge."""
    plate = {**gear_data()["plate"], "buttress_material": "birch plywood 3 mm", "buttress_height": "25 mm"}
    buttress = by_name(geared(plate=plate))["gear buttress"]
    assert isinstance(buttress.shape, Panel)
    box = buttress.place.apply([(x, y, z) for x, y in buttress.shape.outline.points for z in (-3.0, 0.0)])
    assert box.min(axis=0) == pytest.approx([147.0, -30.0, -40.0 + 3.0])
    assert box.max(axis=0) == pytest.approx([150.0, 30.0, -40.0 + 3.0 + 25.0])


def test_strut_ends_touching_its_leg() -> None:
    """Over the bound length the two centre lines run parallel, half of both diameters apart."""
    parts = by_name(geared(**BRACED))
    leg, strut = (centre_line(wire_of(parts[name])) for name in ("main leg right", "main gear strut right"))
    start, end = leg.legs()[1]
    heading = (end - start) / np.linalg.norm(end - start)
    for point in strut.legs()[-1]:
        aside = (point - start) - float((point - start) @ heading) * heading
        assert np.linalg.norm(aside) == pytest.approx((3.0 + 2.0) / 2.0, abs=CLOSE_MM)


def test_fairing_follows_the_straight_of_its_leg() -> None:
    """The strip is as long as the straight part less 2 mm at each end, and its inner face touches the wire."""
    parts = by_name(geared(**BRACED))
    start, end = centre_line(wire_of(parts["main leg right"])).legs()[1]
    fairing = parts["leg fairing right"]
    assert isinstance(fairing.shape, Panel)
    length = float(np.linalg.norm(end - start)) - 4.0
    assert fairing.shape.area() == pytest.approx(20.0 * length)
    normal = fairing.place.turn((0.0, 0.0, 1.0))
    inner = fairing.place.apply((0.0, 0.0, -fairing.shape.thickness_mm))
    assert float((inner - start) @ normal) == pytest.approx(3.0 / 2.0, abs=CLOSE_MM)
    assert normal[1] > 0.0


def test_tail_wheel_stands_on_the_centre_plane() -> None:
    """Its axle passes through the wheel's middle on the centre plane; it touches at the stated height."""
    layout = geared()
    parts = by_name(layout)
    assert parts["tail wheel"].place.origin == (590.0, 0.0, -50.0 + 12.5)
    start, end = centre_line(wire_of(parts["tail wheel wire"])).legs()[-1]
    reach = 8.0 / 2.0 + CLEARANCE_MM + COLLAR_LENGTH_MM
    assert start == pytest.approx([590.0, -reach, -37.5], abs=CLOSE_MM)
    assert end == pytest.approx([590.0, reach + AXLE_END_MM, -37.5], abs=CLOSE_MM)
    assert gear.contact_points(layout)["tail wheel"] == (590.0, 0.0, -50.0)


@pytest.mark.parametrize("steerable", [True, False])
def test_tail_wheel_wire_starts_under_its_bracket(steerable: bool) -> None:
    """As a tiller arm across, or fixed along the bracket; half a diameter under the bracket's lower face."""
    table = {**gear_data()["tail_wheel"], "steerable": steerable}
    parts = by_name(geared(tail_wheel=table))
    bracket = parts["tail wheel bracket"]
    assert isinstance(bracket.shape, Block)
    normal = bracket.place.turn((0.0, 0.0, 1.0))
    for point in wire_of(parts["tail wheel wire"]).points[:2]:
        below = float((np.array(point) - np.array(bracket.place.origin)) @ normal)
        assert below == pytest.approx(-bracket.shape.size[2] / 2.0 - 1.5 / 2.0, abs=CLOSE_MM)


def test_bracket_lies_against_the_bottom_line() -> None:
    """The middle of the bracket's upper face is on the sides' bottom line, and slopes as that does."""
    layout = geared()
    bracket = by_name(layout)["tail wheel bracket"]
    assert isinstance(bracket.shape, Block)
    middle = bracket.place.apply((0.0, 0.0, bracket.shape.size[2] / 2.0))
    assert middle == pytest.approx([565.0, 0.0, layout.water_line_mm("bottom", 565.0)], abs=CLOSE_MM)


def test_skid_touches_at_its_lowest_point() -> None:
    """The lowest centre line is half a diameter over the ground, at the contact station; the end turns up."""
    layout = geared("skid")
    skid = wire_of(by_name(layout)["skid"])
    points = np.array(skid.points)
    assert points[:, 2].min() == pytest.approx(-60.0 + 1.5 / 2.0)
    line = centre_line(skid)
    flat = np.array(line.legs()[2])
    assert flat.mean(axis=0) == pytest.approx([580.0, 0.0, -60.0 + 0.75], abs=CLOSE_MM)
    rise = points[-1] - points[-2]
    assert rise[2] / np.linalg.norm(rise) == pytest.approx(sin(radians(30.0)), abs=1e-6)
    assert gear.contact_points(layout)["skid"] == (580.0, 0.0, -60.0)


def test_nose_wheel_takes_the_tail_wheels_place() -> None:
    """With a nose wheel the third contact is ahead, and nothing is left of a tail wheel."""
    layout = geared("nose wheel")
    assert list(gear.contact_points(layout)) == ["main wheel right", "main wheel left", "nose wheel"]
    assert gear.contact_points(layout)["nose wheel"] == (30.0, 0.0, -150.0)
    assert not any("tail" in name for name in by_name(layout))


@pytest.mark.parametrize("third", ["tail wheel", "skid", "nose wheel"])
@pytest.mark.parametrize("slope", ["level", "rising"])
def test_parts_of_the_gear_do_not_stand_into_one_another(third: str, slope: str) -> None:
    """Wheels on wires, wires under the plate, fairings along legs: they touch, and that is all."""
    plate = {**gear_data()["plate"], "buttress_material": "birch plywood 3 mm"}
    changes = {**BRACED, "plate": plate}
    if slope == "rising":
        plate.update(from_station="400 mm", to_station="460 mm")
        changes.update(axle_station="430 mm", strut={"station": "450 mm"})
    assert overlaps(gear.parts(geared(third, **changes)), SLIVER_MM3) == {}


def test_gear_of_a_tapered_fuselage_fits_between_its_sides() -> None:
    """Where the plate lies across the score of the sides it is a trapezoid within them, and nothing overlaps."""
    tapered = {"tail_width": "40 mm", "taper_station": "120 mm"}
    plate = {**gear_data()["plate"], "buttress_material": "birch plywood 3 mm"}
    layout = Layout(plain(gear=gear_data(**BRACED, plate=plate), fuselage=tapered))
    corners = by_name(layout)["gear plate"].shape
    assert isinstance(corners, Panel)
    for x, y in corners.outline.points:
        assert abs(y) <= layout.inner_half_width_mm(90.0 + x) + CLOSE_MM
    assert overlaps(gear.parts(layout), SLIVER_MM3) == {}


def test_gear_in_inches_is_the_same_gear() -> None:
    """A track of 10 in is one of 254 mm, down to equal shapes and places."""
    inches = gear.parts(geared(track="10 in", wire_diameter="1/8 in"))
    metric = gear.parts(geared(track="254 mm", wire_diameter="3.175 mm"))
    assert inches == metric


@pytest.mark.parametrize(
    ("changes", "part", "text"),
    [
        ({"height": "80 mm"}, "main leg right", "gear.height is 80 mm; 86.5 mm or more would do"),
        ({"track": "50 mm"}, "main leg right", "a track of 112.0 mm or more would do"),
        ({"leg_station": "160 mm"}, "main leg right", "91.5 to 148.5 mm"),
        ({"bend_radius": "28 mm", "track": "156 mm"}, "main leg right", "too short for the bends"),
        (
            {"plate": {"from_station": "320 mm", "to_station": "380 mm"}},
            "gear plate",
            "bottom line leaves it by 2.4 mm",
        ),
        ({"plate": {"from_station": "-20 mm", "to_station": "60 mm"}}, "gear plate", "reach from 0.0 to 600.0 mm"),
        (
            {"plate": {**gear_data()["plate"], "buttress_material": "birch plywood 3 mm", "buttress_height": "90 mm"}},
            "gear buttress",
            "77.0 mm of height",
        ),
        ({"strut": {"station": "121 mm"}}, "main gear strut right", "2.5 mm would do"),
        ({"tail_wheel": {**gear_data()["tail_wheel"], "height": "20 mm"}}, "tail wheel wire", "more height would do"),
        ({"tail_wheel": {**gear_data()["tail_wheel"], "pivot_station": "700 mm"}}, "tail wheel bracket", "700.0 mm"),
    ],
)
def test_impossible_gear_is_refused_by_part(changes: dict[str, object], part: str, text: str) -> None:
    """What cannot be bent or held is refused with the part's name and a number that would do."""
    with pytest.raises(PartError) as caught:
        gear.parts(geared(**changes))
    assert caught.value.part == part
    assert text in caught.value.problem


def test_refused_track_gives_one_that_works() -> None:
    """The track named in the refusal is wide enough."""
    assert gear.parts(geared(track="112 mm"))


def test_tail_wheel_may_not_rub_on_its_wire() -> None:
    """A wheel as large as the wire's reach leaves no way past its rim."""
    wheel = {"diameter": "60 mm", "width": "20 mm", "mass": "8 g"}
    table = {**gear_data()["tail_wheel"], "wheel": wheel, "height": "75 mm", "axle_station": "575 mm"}
    with pytest.raises(PartError, match="rubs on its wheel"):
        gear.parts(geared(tail_wheel=table))


@pytest.mark.slow
@given(
    third=st.sampled_from(["tail wheel", "skid", "nose wheel"]),
    track=st.floats(60.0, 400.0),
    axle=st.floats(20.0, 250.0),
    height=st.floats(60.0, 260.0),
    wire=st.floats(1.5, 4.0),
    radius=st.floats(0.5, 15.0),
    braced=st.booleans(),
)
@settings(max_examples=30, deadline=None)
def test_every_gear_builds_or_is_refused(
    third: str, track: float, axle: float, height: float, wire: float, radius: float, braced: bool
) -> None:
    """Whatever is stated, the parts' shapes build as closed bodies, or a part is named that cannot be made."""
    lengths = {"track": track, "axle_station": axle, "height": height, "wire_diameter": wire, "bend_radius": radius}
    changes = {key: f"{value} mm" for key, value in lengths.items()}
    try:
        parts = gear.parts(geared(third, **changes, **(BRACED if braced else {})))
    except PartError as error:
        assert error.part
        return
    for shape in {part.shape for part in parts}:
        assert measure(shape).body.mass > 0.0
