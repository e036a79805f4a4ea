"""Weighing by mesh: the error falls with the square of the angle, and no choice of frame changes the body."""

from __future__ import annotations

import numpy as np
import pytest

from airframe.axes import Place, about_x, about_y, about_z, at
from airframe.bends import centre_line
from airframe.drawing import Panel, Revolved, Rod, Solid, Wire, circle, rectangle, score
from airframe.inertia import combined
from airframe.meshes import FINE_RAD, Mesh, weighed
from airframe.shapes import measure
from airframe.solids import exact, placed, solid

ANGLES = (0.2, 0.1, 0.05)
FINEST = 2e-4

CURVED: dict[str, Solid] = {
    "rod": Rod(100.0, 4.0),
    "tube": Rod(100.0, 4.0, 2.0),
    "wheel": Revolved(((-10, 1.5), (10, 1.5), (10, 8), (5, 28), (-5, 28), (-10, 8))),
    "cone": Revolved(((0, 0), (30, 0), (30, 12))),
    "wire": Wire(((0, 0, 0), (60, 0, 0), (60, 80, 10), (60, 90, -60), (20, 90, -60)), 3.0, 3.0),
    "disk": Panel(circle(0, 0, 60), 3.0),
    "drilled plate": Panel(rectangle(0, 0, 80, 60), 3.0, holes=(circle(25, 30, 30), circle(60, 30, 20))),
}
BENT = Panel(
    rectangle(0, 0, 120, 60),
    5.0,
    holes=(circle(40, 30, 14),),
    scores=(score((40, 0), (40, 60), 0.7), score((90, 0), (80, 60), 0.3)),
)


@pytest.mark.parametrize("name", CURVED)
def test_error_falls_fourfold_when_the_angle_is_halved(name: str) -> None:
    """Second order towards the kernel's own integral, from below 2e-4 at the angle in use."""
    true = exact(solid(CURVED[name]))
    errors = np.array([abs(measure(CURVED[name], angle).body.mass / true.mass - 1.0) for angle in ANGLES])
    ratios = errors[:-1] / errors[1:]
    assert np.all((ratios > 3.0) & (ratios < 5.0)), (errors, ratios)
    assert ANGLES[-1] == FINE_RAD
    assert errors[-1] < FINEST


@pytest.mark.parametrize("name", CURVED)
def test_inertia_converges_with_the_mass(name: str) -> None:
    """The whole tensor comes nearer with every step, to within 5e-4."""
    true = exact(solid(CURVED[name]))
    errors = [np.abs(measure(CURVED[name], a).body.inertia - true.inertia).max() for a in ANGLES]
    assert errors[0] > 2 * errors[1] > 4 * errors[2]
    assert errors[-1] < 5e-4 * np.trace(true.inertia) / 3


def test_flat_faced_bodies_do_not_depend_on_the_angle() -> None:
    """A bent panel is a polyhedron: coarse or fine, the same body."""
    coarse, fine = measure(BENT, 0.35).body, measure(BENT, 0.02).body
    assert coarse.mass == pytest.approx(fine.mass, rel=1e-12)
    np.testing.assert_allclose(coarse.inertia, fine.inertia, rtol=0, atol=1e-11 * fine.inertia.max())


PLACES: dict[str, Place] = {
    "far away": at(800.0, -500.0, 120.0),
    "turned": at(10.0, 20.0, 30.0).after(about_z(0.4).after(about_y(-1.1).after(about_x(2.0)))),
}


@pytest.mark.parametrize("where", PLACES)
@pytest.mark.parametrize("is_mirrored", [False, True])
@pytest.mark.parametrize("shape", [BENT, CURVED["wire"], CURVED["wheel"]], ids=["bent", "wire", "wheel"])
def test_turning_the_mesh_is_turning_the_tensor(shape: Solid, where: str, is_mirrored: bool) -> None:
    """Move every corner of the mesh and weigh again, or move the body: the same to 1e-9."""
    place = PLACES[where].mirrored() if is_mirrored else PLACES[where]
    record = measure(shape)
    mesh = Mesh(record.vertices.astype(float), record.faces.astype(np.int64))
    faces = mesh.faces[:, ::-1] if is_mirrored else mesh.faces
    moved, expected = weighed(Mesh(place.apply(mesh.vertices), faces)), weighed(mesh)
    expected = expected.placed(place.rotation, place.origin)
    assert moved.mass == pytest.approx(expected.mass, rel=1e-9)
    np.testing.assert_allclose(moved.centre, expected.centre, atol=1e-7)
    np.testing.assert_allclose(moved.inertia, expected.inertia, rtol=0, atol=1e-8 * np.trace(expected.inertia))


def test_turning_the_solid_is_turning_the_tensor() -> None:
    """The kernel moves the solid and integrates it then: still the placed body."""
    place = PLACES["turned"].mirrored()
    body = exact(placed(solid(BENT), place))
    expected = measure(BENT).body.placed(place.rotation, place.origin)
    assert body.mass == pytest.approx(expected.mass, rel=1e-9)
    np.testing.assert_allclose(body.centre, expected.centre, atol=1e-7)
    np.testing.assert_allclose(body.inertia, expected.inertia, rtol=0, atol=1e-8 * np.trace(expected.inertia))


def test_mirrored_pair_has_its_centre_on_the_centre_plane() -> None:
    """Left and right together: y = 0 exactly, and no product with y."""
    body = measure(BENT).body
    right = PLACES["turned"]
    left = right.mirrored()
    pair = combined([body.placed(p.rotation, p.origin) for p in (right, left)])
    assert abs(pair.centre[1]) < 1e-9
    np.testing.assert_allclose(pair.inertia[1, [0, 2]], 0.0, atol=1e-6)


def test_mesh_corners_lie_on_the_wire() -> None:
    """Every corner of the wire's own mesh is on the kernel's surface: no triangle stands outside."""
    import cadquery as cq

    wire = CURVED["wire"]
    assert isinstance(wire, Wire)
    assert centre_line(wire).bends
    made, record = solid(wire), measure(wire)
    shell = made.Shells()[0]
    corners = record.vertices[:: max(len(record.vertices) // 60, 1)]
    for x, y, z in corners.tolist():
        assert shell.distance(cq.Vertex.makeVertex(x, y, z)) < 2e-5
