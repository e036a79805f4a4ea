"""The propeller's room: clearances and gaps by hand, by brute force, and on whole designs."""

from __future__ import annotations

from math import atan, cos, hypot, inf, radians, sin, sqrt, tan
from typing import Any

import numpy as np
import pytest

from airframe import config
from airframe.axes import about_x, about_y, at
from airframe.checks import propeller
from airframe.checks.contact import Foot, Stance, held, pitched
from airframe.checks.finding import Finding
from airframe.checks.propeller_gaps import axial_gap, radial_reach
from airframe.checks.propeller_ground import clearance_mm, rim
from airframe.checks.sag import sagged, sagged_level, springs
from airframe.checks.standing import LEFT, RIGHT, THIRD, standing
from airframe.model import Aeroplane
from airframe.parts.equipment import PropellerDisk
from airframe.store import MemoryStore
from tests.mending import assert_mended, flown
from tests.rolling import NOSE_WHEEL_GEAR, TAIL_WHEEL_GEAR, belly, nose_wheel, rolling_data, tail_wheel

STORE = MemoryStore()
"""Shapes built once for all of these tests."""
RADIUS, HALF = 100.0, 4.0
"""Of the disk in the tests of gaps."""
EXACT = 1e-9

COWL = {
    "name": "cowl",
    "opens": "down",
    "front": {"station": "-34 mm", "width": "60 mm", "crown": "30 mm", "edge": "0 mm", "corner_radius": "14 mm"},
    "rear": {"station": "0 mm", "width": "70 mm", "crown": "40 mm", "edge": "0 mm", "corner_radius": "14 mm"},
}


def box(size: tuple[float, float, float], place: Any) -> tuple[np.ndarray, np.ndarray]:
    """A box's vertices where it is put, and its twelve triangles."""
    corners = np.array([[x, y, z] for x in (-0.5, 0.5) for y in (-0.5, 0.5) for z in (-0.5, 0.5)]) * size
    quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    faces = [face for a, b, c, d in quads for face in ((a, b, c), (a, c, d))]
    return place.apply(corners), np.array(faces, np.int32)


def gaps(size: tuple[float, float, float], place: Any) -> tuple[float, float]:
    vertices, faces = box(size, place)
    return axial_gap(vertices, faces, RADIUS, HALF), radial_reach(vertices, faces, HALF)


# --- gaps -----------------------------------------------------------------------------------------------


def test_box_behind_and_ahead() -> None:
    """A box whose face lies 20 from the disk's middle is 16 from its face: positive behind, negative ahead."""
    assert gaps((10, 60, 60), at(25, 0, 0)) == (pytest.approx(16.0), inf)
    assert gaps((10, 60, 60), at(-25, 0, 0)) == (pytest.approx(-16.0), inf)


def test_plate_larger_than_the_disk() -> None:
    """A plate that covers the whole disk, no corner or edge within its radius, is measured all the same."""
    assert gaps((10, 900, 900), at(25, 0, 0))[0] == pytest.approx(16.0)


def test_tilted_plate_larger_than_the_disk() -> None:
    """Tilted by t about its middle, a plate comes nearer by R tan t at the rim: exact on a triangle mesh."""
    tilt = radians(5.0)
    vertices, faces = box((0.0, 900.0, 900.0), at(50, 0, 0).after(about_y(tilt)))
    assert axial_gap(vertices, faces, RADIUS, HALF) == pytest.approx(50.0 - RADIUS * tan(tilt) - HALF, abs=EXACT)


def test_box_beside_the_disk() -> None:
    """A box 130 from the axis, beside the disk: reach 130, and nothing of it within the radius."""
    assert gaps((40, 30, 30), at(0, 145, 0)) == (inf, pytest.approx(130.0))
    edge = gaps((40, 30, 30), at(0, 0, 145).after(about_x(radians(45.0))))
    assert edge[1] == pytest.approx(145.0 - 15.0 * sqrt(2.0))


def test_box_that_the_rim_grazes() -> None:
    """Only what lies within the radius counts along the axis: a box from 99 outwards is cut by the cylinder."""
    assert gaps((10, 30, 30), at(25, 114, 0))[0] == pytest.approx(16.0)
    assert gaps((10, 30, 30), at(25, 115.5, 0))[0] == inf


def test_what_the_disk_cuts_has_no_gap() -> None:
    """Structure that reaches into the disk has no room left; a bar along the axis is pierced by it."""
    assert gaps((60, 30, 30), at(0, 80, 0)) == (0.0, pytest.approx(65.0))
    assert gaps((4, 30, 30), at(0, 0, 0)) == (0.0, 0.0)
    vertices, faces = box((2.0, 900.0, 900.0), at(0, 0, 0))
    assert radial_reach(vertices, faces, HALF) == 0.0


def test_against_brute_force() -> None:
    """On random triangles no sampled point is nearer than the gap found, and one comes close to it."""
    random = np.random.default_rng(3)
    share = np.linspace(0.0, 1.0, 161)
    u, v = (grid.ravel() for grid in np.meshgrid(share, share))
    u, v = u[u + v <= 1.0], v[u + v <= 1.0]
    seen = 0
    for _ in range(60):
        corners = random.uniform(-1.0, 1.0, (3, 3)) * (30.0, 220.0, 220.0) + (random.uniform(-40.0, 40.0), 0.0, 0.0)
        points = corners[0] + u[:, None] * (corners[1] - corners[0]) + v[:, None] * (corners[2] - corners[0])
        faces = np.array([[0, 1, 2]], np.int32)
        radii = np.hypot(points[:, 1], points[:, 2])
        within, beside = points[radii <= RADIUS, 0], radii[np.abs(points[:, 0]) <= HALF]
        reach, gap = radial_reach(corners, faces, HALF), axial_gap(corners, faces, RADIUS, HALF)
        if len(beside):
            assert reach <= beside.min() + EXACT
            assert reach >= beside.min() - 4.0
        if len(within) and reach >= RADIUS:
            nearest = max(np.abs(within).min() - HALF, 0.0)
            assert abs(gap) <= nearest + EXACT
            assert abs(gap) >= nearest - 3.0
            seen += 1
    assert seen > 10


# --- ground clearance -----------------------------------------------------------------------------------


def level_stance(height: float) -> Stance:
    wheel = Foot("wheel", ((100.0, 80.0, 25.0 - height),), 25.0)
    return held((wheel, wheel), 0.0)


def test_clearance_of_an_upright_disk() -> None:
    """Thrust line level, H above the ground: H - R."""
    disk = PropellerDisk((-40.0, 0.0, 0.0), (-1.0, 0.0, 0.0), 200.0)
    assert clearance_mm(level_stance(140.0), disk) == pytest.approx(40.0)


def test_clearance_of_a_tilted_disk() -> None:
    """Down thrust of t lifts the disk's lowest point to R cos t below its middle; so does the aeroplane's pitch."""
    t = radians(20.0)
    disk = PropellerDisk((-40.0, 0.0, 0.0), (-cos(t), 0.0, -sin(t)), 200.0)
    assert clearance_mm(level_stance(140.0), disk) == pytest.approx(140.0 - 100.0 * cos(t))
    plain = PropellerDisk((-40.0, 0.0, 0.0), (-1.0, 0.0, 0.0), 200.0)
    stance = Stance(pitched(t), -140.0, np.zeros((3, 3)))
    assert clearance_mm(stance, plain) == pytest.approx(140.0 + 40.0 * sin(t) - 100.0 * cos(t))


def test_rim() -> None:
    """Points of the rim lie a radius from the middle, square to the axis; the lowest is where the clearance says."""
    t = radians(7.0)
    disk = PropellerDisk((-40.0, 2.0, 1.0), (-cos(t), 0.0, -sin(t)), 200.0)
    offsets = rim(disk) - np.array(disk.centre)
    assert np.linalg.norm(offsets, axis=1) == pytest.approx(100.0)
    assert offsets @ np.array(disk.axis) == pytest.approx(0.0, abs=1e-9)
    assert rim(disk)[:, 2].min() + 140.0 == pytest.approx(clearance_mm(level_stance(140.0), disk), abs=2e-3)


# --- whole designs --------------------------------------------------------------------------------------


def asked(design: Any) -> dict[str, Finding]:
    return {finding.code: finding for finding in propeller.findings(Aeroplane(design, STORE))}


def test_without_propeller_or_gear() -> None:
    """What does not apply is said so, once a family; without gear the structure is still measured."""
    (only,) = propeller.findings(Aeroplane(belly(), STORE))
    assert (only.code, only.verdict) == ("propeller", "info")
    launched = asked(config.from_dict(rolling_data({"arrangement": "none"})))
    assert launched["propeller.ground"].verdict == "info" and "no landing gear" in launched["propeller.ground"].message
    assert launched["propeller.axial"].value == pytest.approx(36.0, abs=0.01)


def test_axial_room_of_a_plain_nose() -> None:
    """30 mm motor, 14 mm shaft, hub 8 mm long: its rear face is 36 mm ahead of the sides' front ends."""
    assert asked(tail_wheel())["propeller.axial"].value == pytest.approx(36.0, abs=0.01)


def test_clearance_of_a_design() -> None:
    """Unloaded and level, the disk of 200 mm clears the ground by 140 - 100; loaded by a little less, never more."""
    found = asked(tail_wheel())
    for code in ("propeller.ground", "propeller.deflected"):
        value = found[code].value
        assert value is not None and 38.0 < value < 40.0
    assert "40.0 mm unloaded, before the legs give" in found["propeller.ground"].message


def test_wheels_rise_under_load() -> None:
    """Main wheels rise as much as each other, in proportion to the load, and spread; the stance keeps its balance."""
    aeroplane = Aeroplane(tail_wheel(), STORE)
    stands = standing(aeroplane)
    assert stands is not None
    give = springs(aeroplane, stands.feet)
    assert give is not None
    shifts = []
    for load in (1.0, 1.5):
        sunk = sagged_level(stands, give, load)
        right, left, third = (sunk.feet[k].centre - stands.feet[k].centre for k in (RIGHT, LEFT, THIRD))
        assert right[2] == pytest.approx(left[2], rel=1e-9) and right[2] > 0.0
        assert right[1] == pytest.approx(-left[1], rel=1e-9) and right[1] > 0.0
        assert not third.any()
        shifts.append(right)
    assert shifts[1] == pytest.approx(1.5 * shifts[0], rel=1e-9)
    assert sum(sagged(stands, give, 1.0).shares) == pytest.approx(1.0)


def test_thicker_wire_and_a_brace_give_less() -> None:
    """Wire of 4 mm gives less than a quarter of what 2.5 mm gives ((2.5 / 4)^4 = 0.15); a brace stiffens it too."""
    values = []
    for gear in (
        {"wire_diameter": "2.5 mm"},
        {"wire_diameter": "4 mm"},
        {"wire_diameter": "2.5 mm", "strut": {"station": "95 mm"}},
    ):
        aeroplane = Aeroplane(tail_wheel(gear=gear), STORE)
        stands = standing(aeroplane)
        assert stands is not None
        give = springs(aeroplane, stands.feet)
        assert give is not None
        values.append(float(give.matrices[RIGHT][2, 2]))
    assert values[1] < 0.25 * values[0]
    assert values[2] < values[0]


def test_unknown_stiffness() -> None:
    """Legs of a material that is not in the table: rigid for the clearance, and said so."""
    found = asked(tail_wheel(gear={"wire_material": "nylon"}))
    assert found["propeller.deflected"].verdict == "info"
    assert found["propeller.ground"].value == pytest.approx(40.0, abs=0.01)


@pytest.mark.parametrize("third", ["skid", "fixed tail wheel"])
def test_other_third_points(third: str) -> None:
    """A skid and a fixed tail wheel are sprung too, and the main wheels give as before."""
    gear: dict[str, Any] = {**TAIL_WHEEL_GEAR, "tail_wheel": {**TAIL_WHEEL_GEAR["tail_wheel"], "steerable": False}}
    if third == "skid":
        del gear["tail_wheel"]
        gear["skid"] = {"front_station": "540 mm", "contact_station": "585 mm", "height": "50 mm"}
    found = asked(config.from_dict(rolling_data(gear)))
    value = found["propeller.deflected"].value
    assert value is not None and 38.0 < value < 40.0


def test_flat_tyre() -> None:
    """Both main wheels 15 % smaller: 3.75 mm less room, level, on rigid legs."""
    found = asked(tail_wheel(gear={"wire_material": "nylon"}))["propeller.flat-tyre"]
    assert found.value == pytest.approx(40.0 - 0.15 * 25.0, abs=0.01)


def test_nose_down() -> None:
    """Some point of the rim touches, no later than its level lowest one; on a nose wheel, the nose wheel first."""
    found = asked(tail_wheel())["propeller.nose-down"]
    # The lowest point with the fuselage level: 140 ahead of the axle, 15 above it.
    ahead, below = 100.0 + 40.0, 115.0 - 100.0
    expected = atan(below / ahead) + np.arcsin(25.0 / hypot(ahead, below))
    assert found.value is not None
    assert radians(found.value) <= expected + 1e-6
    assert radians(found.value) == pytest.approx(expected, abs=radians(2.0))
    assert found.parts == ("propeller",)
    on_three = asked(nose_wheel())["propeller.nose-down"]
    assert on_three.verdict == "pass" and on_three.value == pytest.approx(0.0, abs=0.1)
    assert "-0.0" not in on_three.message
    long_leg = asked(nose_wheel(gear={"nose_wheel": {"height": "150 mm"}}))["propeller.nose-down"]
    assert long_leg.value is not None and long_leg.value < 0.0 and "deg above level" in long_leg.message


def test_propeller_needs_visible_room_before_the_cowl() -> None:
    """A cowl up to the propeller fails and is named; set back, it passes. Common practice, no source."""
    near = asked(tail_wheel(fuselage={"shells": [COWL]}))["propeller.axial"]
    assert near.verdict == "fail" and near.parts == ("cowl",)
    assert near.value == pytest.approx(2.0, abs=0.01)
    back = {**COWL, "front": {**COWL["front"], "station": "-24 mm"}}  # type: ignore[dict-item]
    assert asked(tail_wheel(fuselage={"shells": [back]}))["propeller.axial"].verdict == "pass"


VARIANTS: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "cowl too near": (TAIL_WHEEL_GEAR, {"fuselage": {"shells": [COWL]}}),
    "gear too low": (TAIL_WHEEL_GEAR, {"gear": {"height": "114 mm"}}),
    "large propeller, inches": (
        TAIL_WHEEL_GEAR,
        {"units": "imperial", "gear": {"height": "5 in"}, "equipment": {"propeller": {"diameter": "10 in"}}},
    ),
    "nose wheel, low": (
        NOSE_WHEEL_GEAR,
        {
            "gear": {"height": "125 mm", "nose_wheel": {"height": "125 mm"}},
            "equipment": {"propeller": {"diameter": "230 mm"}},
        },
    ),
    "soft legs": (TAIL_WHEEL_GEAR, {"gear": {"height": "119 mm", "wire_diameter": "1.4 mm"}}),
}


@pytest.mark.parametrize("variant", VARIANTS)
def test_every_remedy_mends_its_finding(variant: str) -> None:
    """Each remedy that is a setting, applied, turns its finding to pass."""
    gear, changes = VARIANTS[variant]
    data = rolling_data(gear, **changes)
    advised = [one for one in propeller.findings(flown(data)) if any(remedy.settings for remedy in one.remedies)]
    assert advised
    for finding in advised:
        assert_mended(data, propeller.findings, finding)
