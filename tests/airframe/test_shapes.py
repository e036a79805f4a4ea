"""Shapes measured: weighing mesh against the kernel's integrals, display mesh, beads and films."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from airframe import inertia
from airframe.drawing import Bead, Film, Panel, Revolved, Rod, Solid, Wire, bead, circle, loop, rectangle, score
from airframe.meshes import Mesh, MeshError, weighed
from airframe.shapes import measure
from airframe.skins import board
from airframe.solids import exact, solid

MASS = 2e-4
INERTIA = 5e-4
"""How far the mesh may be from the kernel's exact integral, as a share."""

ZED = ((0, 0, 0), (6, 0, 0), (6, 8, 0), (20, 8, 1))
LEG = ((0, 0, 0), (60, 0, 0), (60, 80, 10), (60, 90, -60), (20, 90, -60), (20, 90, -90))
SOLIDS: dict[str, Solid] = {
    "plate": Panel(rectangle(0, 0, 300, 80, 5), 5.0, holes=tuple(circle(20 + 25 * i, 40, 20) for i in range(10))),
    "disk": Panel(circle(0, 0, 60), 3.0),
    "rib": Panel(loop([(3 * i, 20 + 10 * np.sin(i / 20)) for i in range(61)] + [(180, 0), (0, 0)]), 5.0),
    "bent": Panel(rectangle(0, 0, 120, 60), 5.0, scores=(score((40, 0), (50, 60), 0.7),), holes=(circle(45, 30, 20),)),
    "wire of 1.2": Wire(ZED, 1.2, 1.0),
    "wire of 3": Wire(LEG, 3.0, 3.0),
    "wire of 4": Wire(((0, 0, 0), (90, 0, 0), (90, 80, 0)), 4.0, 6.0),
    "wire all bends": Wire(((0, 0, 0), (5, 0, 0), (5, 10, 0), (15, 10, 0), (15, 10, 5)), 2.0, 4.0),
    "straight wire": Wire(((0, 0, 0), (90, 20, 10)), 2.0, 4.0),
    "rod": Rod(100.0, 4.0),
    "tube": Rod(100.0, 4.0, 2.0),
    "wheel": Revolved(((-10, 1.5), (10, 1.5), (10, 8), (9, 20), (5, 28), (0, 30), (-5, 28), (-9, 20), (-10, 8))),
    "spinner": Revolved(((0, 0), (8, 12), (25, 20), (25, 0))),
}


@pytest.mark.parametrize("name", SOLIDS)
def test_mesh_weighs_what_the_kernel_integrates(name: str) -> None:
    """Mass within 2e-4, inertia within 5e-4 of the exact integral, centre to a hundredth of a millimetre."""
    body, true = measure(SOLIDS[name]).body, exact(solid(SOLIDS[name]))
    assert body.mass == pytest.approx(true.mass, rel=MASS)
    np.testing.assert_allclose(body.inertia, true.inertia, rtol=0, atol=INERTIA * np.trace(true.inertia) / 3.0)
    np.testing.assert_allclose(body.centre, true.centre, atol=0.01)


@pytest.mark.parametrize("name", SOLIDS)
def test_display_mesh_is_closed_and_coarse(name: str) -> None:
    """What is shown is a closed volume too, within three per cent, of a few thousand triangles."""
    record = measure(SOLIDS[name])
    assert record.vertices.dtype == np.float32
    assert record.faces.dtype == np.int32
    shown = weighed(Mesh(record.vertices.astype(float), record.faces.astype(np.int64)))
    assert shown.mass == pytest.approx(record.body.mass, rel=0.03)
    assert len(record.faces) < 4000


def test_bead_weighs_by_length() -> None:
    """Two paths of 30 and 40 mm: a length of 70 mm with their common centre."""
    record = measure(bead([(0, 0, 0), (30, 0, 0)], [(0, 0, 0), (0, 40, 0)]))
    assert record.body.mass == pytest.approx(70.0, rel=1e-12)
    np.testing.assert_allclose(record.body.centre, (30 * 15 / 70, 40 * 20 / 70, 0), atol=1e-12)
    assert len(record.vertices) == len(record.faces) == 0


def test_empty_bead_has_no_amount() -> None:
    """No path, or a path without points, weighs nothing."""
    for empty in (bead(), bead([]), Bead((((1.0, 2.0, 3.0),),))):
        assert measure(empty).body.mass == 0.0


def test_film_covers_the_face_it_names() -> None:
    """Paint on the outer face at z = 0, on the inner one at -t, on both with their centre between."""
    panel = Panel(rectangle(0, 0, 60, 40), 5.0, holes=(rectangle(10, 10, 20, 20),))
    area = 60 * 40 - 100.0
    for face, height, share in (("outer", 0.0, 1.0), ("inner", -5.0, 1.0), ("both", -2.5, 2.0)):
        body = measure(Film(panel, face)).body  # type: ignore[arg-type]
        assert body.mass == pytest.approx(share * area, rel=1e-12)
        np.testing.assert_allclose(
            body.centre, ((2400 * 30 - 1500) / area, (2400 * 20 - 1500) / area, height), atol=1e-9
        )


def test_film_on_a_bent_panel_follows_it() -> None:
    """Two halves at a right angle: the centre of the outer paper lies halfway between their middles."""
    panel = Panel(rectangle(0, 0, 80, 50), 5.0, scores=(score((40, 0), (40, 50), np.pi / 2),))
    body = measure(Film(panel, "outer")).body
    assert body.mass == pytest.approx(80 * 50, rel=1e-9)
    np.testing.assert_allclose(body.centre, ((20 + 40) / 2, 25, (0 - 20) / 2), atol=1e-6)
    assert inertia.is_physical(body.inertia)


def test_film_is_the_limit_of_a_thin_panel() -> None:
    """Inertia per mass agrees as the thickness goes to nothing."""
    panel = Panel(rectangle(0, 0, 60, 40), 1e-3, holes=(rectangle(10, 10, 20, 20),))
    film, plate = measure(Film(panel, "both")).body, measure(panel).body
    np.testing.assert_allclose(film.inertia / film.mass, plate.inertia / plate.mass, atol=1e-6)


def test_open_and_inverted_meshes_are_refused() -> None:
    """Each fault has its word: open, facing both ways, inverted."""
    closed = board(Panel(rectangle(0, 0, 10, 10), 2.0), 0.1)
    assert weighed(closed).mass == pytest.approx(200.0, rel=1e-12)
    faces = closed.faces
    mixed = np.vstack([faces[:1, ::-1], faces[1:]])
    for broken, word in ((faces[1:], "open"), (mixed, "face inwards among others"), (faces[:, ::-1], "inverted")):
        with pytest.raises(MeshError, match=word):
            weighed(Mesh(closed.vertices, broken))


def test_importing_shapes_loads_no_heavy_library() -> None:
    """Only building a shape costs a mesh library."""
    code = (
        "import sys, airframe.store; "
        "print([m for m in ('cadquery', 'OCP', 'trimesh', 'shapely', 'scipy', 'pyvista') if m in sys.modules])"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert result.stdout.strip() == "[]"
