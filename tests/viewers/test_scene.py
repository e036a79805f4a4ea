"""What is to be seen, by content."""

from __future__ import annotations

import numpy as np
import pytest

from airframe.axes import Array
from airframe.drawing import Bead, Film, Wire
from airframe.model import Aeroplane
from tests.designs import plain
from viewers.scene import Body, Scene
from viewers.staging import behind_leading_edge, stage


def signed_volume(vertices: Array, faces: Array) -> float:
    """Volume of a closed mesh by the divergence theorem: a sixth of the sum of a . (b x c)."""
    a, b, c = (vertices[faces[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def normals(body: Body) -> Array:
    """A vector square to each face, out of the side from which it runs counter-clockwise, twice as long as its area."""
    a, b, c = (body.vertices[body.faces[:, k]] for k in range(3))
    crossed: Array = np.cross(b - a, c - a)
    return crossed


def test_every_entry_is_staged_once(aeroplane: Aeroplane, scene: Scene) -> None:
    """Bodies, lines and films together are the weight statement's entries, each once."""
    staged = [item.name for item in (*scene.bodies, *scene.lines, *scene.coats)]
    assert sorted(staged) == sorted(part.name for part in aeroplane.parts)
    by_name = {part.name: part.shape for part in aeroplane.parts}
    assert all(isinstance(by_name[line.name], Bead) for line in scene.lines)
    assert [item.name for item in scene.coats] == [p.name for p in aeroplane.parts if isinstance(p.shape, Film)]


def test_every_face_looks_outward(aeroplane: Aeroplane, scene: Scene) -> None:
    """Mirrored or not, a body's mesh encloses its own volume with a positive sign.

    Chords of a circle at the display mesh's coarse angle lose up to a tenth of a round wire's area, and a
    drilled plate gains the same share of its small holes.
    """
    entries = {entry.part.name: entry for entry in aeroplane.statement.entries}
    for body in scene.bodies:
        entry = entries[body.name]
        slack = 0.15 if isinstance(entry.part.shape, Wire) or body.group in ("landing gear", "propulsion") else 1e-3
        assert signed_volume(body.vertices, body.faces) == pytest.approx(entry.volume_mm3, rel=slack), body.name


def test_left_is_the_mirror_image_of_right(scene: Scene) -> None:
    """The left wing skin's corners are the right one's with y negated."""
    bodies = {body.name: body for body in scene.bodies}
    right = next(name for name in bodies if name.endswith(" right") and name.startswith("wing skin"))
    left = right.removesuffix("right") + "left"
    np.testing.assert_allclose(bodies[left].vertices * (1, -1, 1), bodies[right].vertices, atol=1e-6)


def test_track_is_the_designs(scene: Scene) -> None:
    """The track's dimension spans the 200 mm that the design states, and says so."""
    track = next(d for d in scene.dimensions if d.name == "track")
    assert track.end[1] - track.start[1] == pytest.approx(200.0, abs=1e-9)
    assert track.text == "track 200 mm"


def test_span_and_length_reach_the_outermost_points(scene: Scene) -> None:
    """No body passes a span or length dimension."""
    wing = np.vstack([body.vertices for body in scene.bodies if body.group == "wing"])
    every = np.vstack([body.vertices for body in scene.bodies])
    for name, axis, points in (("span", 1, wing), ("length", 0, every)):
        dimension = next(d for d in scene.dimensions if d.name == name)
        assert dimension.start[axis] == points[:, axis].min()
        assert dimension.end[axis] == points[:, axis].max()
    assert next(d for d in scene.dimensions if d.name == "span").text == "span 900 mm"  # twice 450 mm, no dihedral


def test_balance_dimension_measures_from_the_leading_edge(aeroplane: Aeroplane, scene: Scene) -> None:
    """Its ends are the leading edge at station 120 mm and the balance point, the more forward one first."""
    balance = next(d for d in scene.dimensions if d.name == "balance")
    stations = sorted([120.0, aeroplane.cg_mm[0]])
    assert [balance.start[0], balance.end[0]] == pytest.approx(stations, abs=1e-9)


def test_disc_is_a_true_circle(scene: Scene) -> None:
    """Every rim point is half a diameter from the centre and square to the axis."""
    assert scene.disc is not None
    spokes = scene.disc.rim(24) - np.array(scene.disc.centre)
    np.testing.assert_allclose(np.linalg.norm(spokes, axis=1), 228.0 / 2.0, rtol=1e-12)
    np.testing.assert_allclose(spokes @ np.array(scene.disc.axis), 0.0, atol=1e-9)


def test_marks_are_the_balance_point_and_each_wheel(aeroplane: Aeroplane, scene: Scene) -> None:
    """One balance point, and every contact point by its own name."""
    assert scene.balance_point.point == aeroplane.cg_mm
    contacts = {marker.name: marker.point for marker in scene.markers if marker.kind == "contact"}
    assert contacts == aeroplane.contacts


def test_without_gear_or_motor_nothing_is_invented() -> None:
    """No track, no ground and no disc for an aeroplane that has none."""
    bare = stage(Aeroplane(plain()))
    assert bare.ground == () and bare.disc is None
    assert "track" not in {d.name for d in bare.dimensions}


def test_legend_names_only_what_is_drawn(scene: Scene) -> None:
    """Foam comes first, paint is there for the fin's coat; nothing on this aeroplane is clear sheet."""
    assert scene.legend[0] == "foam"
    assert "paint" in scene.legend and "clear" not in scene.legend


def test_coats_cover_what_they_weigh_by(aeroplane: Aeroplane, scene: Scene) -> None:
    """Half the cross products of each coat's triangles add up to the area that the weight statement takes."""
    areas = {entry.part.name: entry.amount for entry in aeroplane.statement.entries}
    for coat in scene.coats:
        area = np.linalg.norm(normals(coat), axis=1).sum() / 2.0
        assert area == pytest.approx(areas[coat.name], rel=1e-9), coat.name


def test_a_coat_lies_on_its_part_and_faces_outward(scene: Scene) -> None:
    """The fin's outer face is its left one: the paint lies in that plane, its triangles look to the left."""
    coat = next(coat for coat in scene.coats if coat.on == "fin")
    fin = next(body for body in scene.bodies if body.name == "fin")
    np.testing.assert_allclose(coat.vertices[:, 1], fin.vertices[:, 1].min(), atol=1e-5)
    assert (normals(coat)[:, 1] < 0.0).all()


def test_tape_on_the_left_is_the_mirror_image_of_the_right(scene: Scene) -> None:
    """Corners and outward normals of the two coats differ in the sign of y; a strip covers no whole part."""
    coats = {coat.name: coat for coat in scene.coats}
    name = next(name for name in coats if name.startswith("tape") and name.endswith(" right"))
    right, left = coats[name], coats[name.removesuffix("right") + "left"]
    np.testing.assert_allclose(left.vertices * (1, -1, 1), right.vertices, atol=1e-6)
    np.testing.assert_allclose(normals(left) * (1, -1, 1), normals(right), atol=1e-6)
    assert right.on is None


@pytest.mark.parametrize(
    ("distance", "words"),
    [(64.0, "64.0 mm behind the leading edge"), (-10.0, "10.0 mm ahead of the leading edge")],
)
def test_side_of_the_leading_edge_is_said_in_words(distance: float, words: str) -> None:
    """A balance point ahead of the wing reads so, not as a negative distance behind it."""
    assert behind_leading_edge(distance, "metric") == words
