"""The scene draws what the other viewers draw, and an item that only moves costs no new shape."""

from __future__ import annotations

import struct
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from airframe.checks.standing import standing
from airframe.cutting.patterns import patterns
from tests.viewers.bench.desks import MK1, MK2, PLOVER, changed, desk, number
from viewers.bench.desk import Desk
from viewers.bench.refusals import NotFound
from viewers.edges import inked
from viewers.staging import stage

ROUNDING_MM = 2e-3
"""Places are told to a micrometre, meshes in single precision."""


def _unpacked(data: bytes) -> list[tuple[Any, Any, Any]]:
    """Corners, triangles and edges of each shape, read as the browser reads them."""
    found, at = [], 0
    while at < len(data):
        corners, faces, edges = struct.unpack_from("<3I", data, at)
        at += 12
        arrays = []
        for count, kind, width in ((3 * corners, "<f4", 3), (3 * faces, "<u4", 3), (6 * edges, "<f4", 6)):
            arrays.append(np.frombuffer(data, kind, count, at).reshape(-1, width))
            at += 4 * count
        found.append((arrays[0], arrays[1], arrays[2].reshape(-1, 2, 3)))
    return found


def _shape(one: Desk, digest: str) -> tuple[Any, Any, Any]:
    (found,) = _unpacked(one.shapes([digest]))
    return found


def _placed(points: Any, part: dict[str, Any]) -> Any:
    matrix = np.array(part["place"]).reshape(4, 4)
    return points.reshape(-1, 3) @ matrix[:3, :3].T + matrix[:3, 3]


@pytest.mark.parametrize("name", [MK2, PLOVER])
def test_parts_lie_where_the_stage_has_them(tmp_path: Path, name: str) -> None:
    """Every body, coat and line, its shape moved to its place, is the one that the pictures show."""
    one = desk(tmp_path, name)
    scene, staged = one.state("metric")["scene"], stage(one.aeroplane)
    parts = {part["name"]: part for part in scene["parts"]}
    items = {item.name: item for item in (*staged.bodies, *staged.coats, *staged.lines)}
    assert parts.keys() == items.keys() and len(parts) == len(scene["parts"])
    for body in (*staged.bodies, *staged.coats):
        part = parts[body.name]
        corners, faces, edges = _shape(one, part["shape"])
        np.testing.assert_allclose(_placed(corners, part), body.vertices, atol=ROUNDING_MM)
        assert len(faces) == len(body.faces)
        if part["kind"] == "body":
            assert len(edges) == len(inked(corners.astype(float), faces.astype(np.int64)))
        assert part["colour"] == body.tint.colour and part["group"] == body.group
    for line in staged.lines:
        _, _, edges = _shape(one, parts[line.name]["shape"])
        np.testing.assert_allclose(
            _placed(edges[:, 0], parts[line.name]), np.concatenate([p[:-1] for p in line.paths]), atol=ROUNDING_MM
        )
    for coat in staged.coats:
        assert parts[coat.name]["on"] == coat.on
    reached = [body.vertices for body in staged.bodies] + [path for line in staged.lines for path in line.paths]
    reached += [] if staged.disc is None else [staged.disc.rim()]
    np.testing.assert_allclose(scene["low"], np.vstack(reached).min(axis=0), atol=ROUNDING_MM)
    np.testing.assert_allclose(scene["high"], np.vstack(reached).max(axis=0), atol=ROUNDING_MM)


def test_marks_are_those_of_the_stage(tmp_path: Path) -> None:
    """Dimensions say what the drawing says; balance point and disc are where it has them."""
    one = desk(tmp_path)
    scene, staged = one.state("metric")["scene"], stage(one.aeroplane)
    said = {dimension["text"] for dimension in scene["dimensions"]}
    assert said == {dimension.text for dimension in staged.dimensions}
    assert scene["balance"]["point"] == pytest.approx(staged.balance_point.point, abs=ROUNDING_MM)
    assert scene["balance"]["text"] == staged.balance_point.text(0, 1, 2)
    assert staged.disc is not None
    np.testing.assert_allclose(scene["disc"], staged.disc.rim(), atol=ROUNDING_MM)
    for dimension in scene["dimensions"]:
        (a, b), along = dimension["segments"][2], np.array(dimension["along"])
        shown = float(dimension["text"].removeprefix(dimension["name"]).split()[0])
        assert abs(float((np.array(b) - a) @ along)) == pytest.approx(shown, abs=0.6)  # told to 1 mm


def test_tipping_lines_join_the_feet(tmp_path: Path) -> None:
    """Three contacts, three lines from foot to foot all the way round, all on the ground it stands on."""
    one = desk(tmp_path)
    scene, stands = one.state()["scene"], standing(one.aeroplane)
    assert stands is not None
    feet = [contact["point"] for contact in scene["contacts"]]
    assert [contact["name"] for contact in scene["contacts"]] == [foot.name for foot in stands.feet]
    assert scene["tipping"] == [[feet[0], feet[1]], [feet[1], feet[2]], [feet[2], feet[0]]]
    for point in feet:
        assert stands.stance.height_mm(point) == pytest.approx(0.0, abs=ROUNDING_MM)


def test_no_gear_no_tipping(tmp_path: Path) -> None:
    """A hand-launched one has neither contacts nor lines nor ground, and says nothing of tipping."""
    one = desk(tmp_path)
    state = changed(one, 'gear.arrangement="none"')
    scene = state["scene"]
    assert (scene["contacts"], scene["tipping"], scene["ground"]) == ([], [], [])
    assert "overturn" not in {number["code"] for number in state["numbers"]}


def test_a_move_makes_no_new_shape(tmp_path: Path) -> None:
    """When the battery moves only its own place and the balance point change; every shape is known already."""
    one = desk(tmp_path)
    before = {part["name"]: part for part in one.state()["scene"]["parts"]}
    after = {part["name"]: part for part in changed(one, 'equipment.battery.station="60 mm"')["scene"]["parts"]}
    differing = {name for name in before | after if before.get(name) != after.get(name)}
    assert differing == {"battery"}
    assert after["battery"]["shape"] == before["battery"]["shape"]
    assert after["battery"]["place"][3] - before["battery"]["place"][3] == 12.0


def test_left_and_right_share_their_shapes(tmp_path: Path) -> None:
    """A mirrored part is its other half's shape in a place that turns it inside out."""
    parts = {part["name"]: part for part in desk(tmp_path).state()["scene"]["parts"]}
    left, right = parts["wing skin 1 left"], parts["wing skin 1 right"]
    assert left["shape"] == right["shape"]
    handed = [np.linalg.det(np.array(part["place"]).reshape(4, 4)[:3, :3]) for part in (left, right)]
    assert sorted(handed) == pytest.approx([-1.0, 1.0], abs=1e-5)


def test_unknown_shapes_are_refused(tmp_path: Path) -> None:
    """A name that was never given is refused, and gives no bytes of anything else."""
    with pytest.raises(NotFound):
        desk(tmp_path).shapes(["0123456789abcdef01234567"])


def test_what_may_be_dragged(tmp_path: Path) -> None:
    """Items with a station of their own may be dragged; a battery no further than its tray lets it."""
    drags = {drag["part"]: drag for drag in desk(tmp_path).state()["scene"]["drags"]}
    assert drags.keys() == {"battery", "speed controller", "receiver", "elevator servo", "rudder servo", "camera"}
    battery = drags["battery"]
    assert (battery["key"], battery["value"], battery["unit"]) == ("equipment.battery.station", 48.0, "mm")
    assert [name for name, drag in drags.items() if drag["is_battery"]] == ["battery"]
    assert (battery["low"], battery["high"]) == (8.0 + 76.0 / 2, 110.0 - 76.0 / 2)
    assert drags["elevator servo"]["key"] == 'equipment."elevator servo".station'


@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
def test_the_track_is_measured_between_the_contacts_that_are_drawn(tmp_path: Path, name: str) -> None:
    """The extension lines of the track begin at the main wheels' contacts, in the attitude in which it stands."""
    scene = desk(tmp_path, name).state()["scene"]
    track = next(one for one in scene["dimensions"] if one["name"] == "track")
    mains = sorted(contact["point"] for contact in scene["contacts"] if contact["point"][1] != 0.0)
    assert sorted(segment[0] for segment in track["segments"][:2]) == mains


@pytest.mark.parametrize("given", ["8 3/8 in", "8.345 in", "212.725 mm"])
def test_a_size_reads_the_same_in_the_drawing_and_in_the_table(tmp_path: Path, given: str) -> None:
    """A track halfway between two hundredths of an inch is not rounded up here and down there."""
    one = desk(tmp_path, MK2)
    changed(one, f'gear.track="{given}"')
    state = one.state("imperial")
    drawn = next(dimension["text"] for dimension in state["scene"]["dimensions"] if dimension["name"] == "track")
    assert drawn == f"track {number(state, 'track')['text']}"


def test_the_prototype_is_a_ghost(tmp_path: Path) -> None:
    """The prototype's bodies can be drawn behind, from shapes that are served like any other; numbers stand beside."""
    one = desk(tmp_path, MK2, MK1)
    state = one.state()
    assert state["prototype"]["title"] == "Teasel Mk 1"
    ghosts = state["prototype"]["ghost"]["parts"]
    packed = _unpacked(one.shapes([part["shape"] for part in ghosts]))
    cloud = np.vstack([_placed(corners, part) for part, (corners, _, _) in zip(ghosts, packed, strict=True)])
    old = desk(tmp_path, MK1).state()["scene"]
    assert float(np.ptp(cloud[:, 1])) == pytest.approx(old["high"][1] - old["low"][1], abs=ROUNDING_MM)
    track = next(number for number in state["numbers"] if number["code"] == "track")
    assert (track["text"], track["prototype"], track["change"]) == ("250 mm", "130 mm", "+120 mm")
    assert desk(tmp_path, MK2).state()["prototype"] is None


def test_template_of_a_part(tmp_path: Path) -> None:
    """A sheet part has its outline at true size with its length; wire and bought items have none."""
    one = desk(tmp_path)
    parts = {part["name"]: part for part in one.state()["scene"]["parts"]}
    with_template = {name for name, part in parts.items() if part["template"]}
    assert with_template == {pattern.name for pattern in patterns(one.aeroplane.parts)}
    assert "fin" in with_template and "battery" not in with_template
    text = one.template_svg("fin")
    assert text.startswith("<?xml") and 'id="CUT"' in text and ">150 mm</text>" in text
    assert "in</text>" in one.template_svg("fin", "imperial")
    for name in ("battery", "no such part"):
        with pytest.raises(NotFound):
            one.template_svg(name)
