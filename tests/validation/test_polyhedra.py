"""Polyhedra through the whole pipeline, drawing to solid to mesh to body, against published sums and test cases.

For a polyhedron volume integrals reduce exactly to sums over faces: B. Mirtich, "Fast and Accurate Computation of
Polyhedral Mass Properties", J. Graphics Tools 1(2), 1996 (title and method verified on the author's page; pages 31-50
from memory). So every body with flat faces must come out exact, not near.
"""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe import inertia
from airframe.axes import at
from airframe.drawing import Bevel, Block, Panel, Solid, rectangle, score
from airframe.inertia import Body
from airframe.meshes import Mesh, weighed
from airframe.shapes import measure
from airframe.skins import board, box
from airframe.solids import exact, solid

EXACT = 1e-10


def kallay(mesh: Mesh) -> Body:
    """Sums over triangles, each with the origin a tetrahedron.

    M. Kallay, "Computing the Moment of Inertia of a Solid Defined by a Triangle Mesh", J. Graphics Tools 11(2), 2006
    (verified: the journal's own code); divisors 6, 24, 120.
    """
    a, b, c = (mesh.vertices[mesh.faces[:, k]] for k in range(3))
    v = np.einsum("ij,ij->i", a, np.cross(b, c))
    s = a + b + c
    mass = v.sum() / 6
    centre = (v[:, None] * s).sum(axis=0) / 24 / mass
    second = sum(np.einsum("i,ij,ik->jk", v, p, p) for p in (a, b, c, s)) / 120
    about_origin = np.trace(second) * np.eye(3) - second
    return Body(float(mass), centre, about_origin - inertia.point_term(float(mass), centre))


def assert_same(body: Body, expected: Body, share: float = EXACT) -> None:
    """Same mass, centre and tensor."""
    size = float(np.trace(expected.inertia))
    assert body.mass == pytest.approx(expected.mass, rel=share)
    np.testing.assert_allclose(body.centre, expected.centre, atol=share * 1e3)
    np.testing.assert_allclose(body.inertia, expected.inertia, rtol=0, atol=share * size)


FLAT_FACED: dict[str, Solid] = {
    "block": Block((30.0, 20.0, 10.0)),
    "plate": Panel(rectangle(0, 0, 90, 40), 5.0, holes=(rectangle(20, 10, 40, 30), rectangle(50, 10, 80, 20))),
    "bevelled": Panel(rectangle(0, 0, 90, 40), 5.0, bevels=(Bevel(0, 0.4), Bevel(1, -0.3), Bevel(2, 0.2))),
    "bent": Panel(
        rectangle(0, 0, 120, 40),
        5.0,
        holes=(rectangle(35, 10, 50, 30),),
        scores=(score((40, 0), (40, 40), 0.8), score((90, 0), (80, 40), 0.4)),
    ),
}


def skin(shape: Solid) -> Mesh:
    """The mesh that weighs it."""
    if isinstance(shape, Block):
        return box(shape)
    assert isinstance(shape, Panel)
    return board(shape, 0.1)


@pytest.mark.parametrize("name", FLAT_FACED)
def test_1_18_and_1_19_two_sums_and_the_kernel_agree(name: str) -> None:
    """The library's integrals, Kallay's sums and the CAD kernel's integrals over exact faces: one body."""
    made = solid(FLAT_FACED[name])
    mesh = skin(FLAT_FACED[name])
    assert_same(weighed(mesh), kallay(mesh))
    assert_same(weighed(mesh), exact(made), 1e-9)
    assert_same(measure(FLAT_FACED[name]).body, exact(made), 1e-9)


def test_1_20_sub_expressions_agree() -> None:
    """D. Eberly, "Polyhedral Mass Properties (Revisited)" (transcriptions in public code, secondary): x integrals."""
    mesh = skin(FLAT_FACED["bent"])
    w0, w1, w2 = (mesh.vertices[mesh.faces[:, k]] for k in range(3))
    normal = np.cross(w1 - w0, w2 - w0)
    f1 = w0 + w1 + w2
    f2 = w0 * w0 + w1 * (w0 + w1) + w2 * f1
    f3 = w0**3 + w1 * (w0 * w0 + w1 * (w0 + w1)) + w2 * f2
    mass = (normal * f1).sum(axis=0)[0] / 6
    centre = (normal * f2).sum(axis=0) / 24 / mass
    squares = (normal * f3).sum(axis=0) / 60 - mass * centre**2
    body = weighed(mesh)
    assert body.mass == pytest.approx(mass, rel=EXACT)
    np.testing.assert_allclose(body.centre, centre, atol=1e-8)
    np.testing.assert_allclose(np.diag(body.inertia), squares.sum() - squares, rtol=1e-9)


def test_1_21_unit_cube() -> None:
    """m = 1 and I = 1/6 on every axis (README of a public prototype, secondary; recomputed)."""
    body = measure(Block((1.0, 1.0, 1.0))).body
    assert_same(body, Body(1.0, np.zeros(3), np.eye(3) / 6), 1e-12)


@pytest.mark.parametrize("edge", [1.0, 35.0])
def test_1_22_regular_tetrahedron(edge: float) -> None:
    """V = L^3 / (6 sqrt 2) (from memory), I = m L^2 / 20 on every axis (secondary); both recomputed."""
    corners = np.array([(1, 1, 1), (1, -1, -1), (-1, 1, -1), (-1, -1, 1)]) * edge / sqrt(8)
    body = weighed(Mesh(corners, np.array([(0, 1, 2), (0, 3, 1), (0, 2, 3), (1, 3, 2)])))
    mass = edge**3 / (6 * sqrt(2))
    assert_same(body, Body(mass, np.zeros(3), mass * edge**2 / 20 * np.eye(3)), 1e-12)


def test_1_23_cube_of_twenty() -> None:
    """V = 8000, I = 533 333.33 on each axis, no products (data of Mirtich's code, from memory; recomputed)."""
    body = measure(Panel(rectangle(-10, -10, 10, 10), 20.0)).body
    assert_same(body, Body(8000.0, np.array([0, 0, -10.0]), 533333.0 * np.eye(3) + np.eye(3) / 3), 1e-9)


def test_1_24_box_with_a_corner_at_the_origin() -> None:
    """1 x 2 x 3: I about its centre and about the origin, with the negative products (1.1 and 1.13; recomputed)."""
    where = at(0.5, 1.0, 1.5)
    body = measure(Block((1.0, 2.0, 3.0))).body.placed(where.rotation, where.origin)
    assert body.mass == pytest.approx(6.0, rel=1e-12)
    np.testing.assert_allclose(body.centre, (0.5, 1.0, 1.5), atol=1e-12)
    np.testing.assert_allclose(np.diag(body.inertia), (6.5, 5.0, 2.5), rtol=1e-12)
    expected = np.array([[26.0, -3.0, -4.5], [-3.0, 20.0, -9.0], [-4.5, -9.0, 10.0]])
    np.testing.assert_allclose(inertia.about(body, (0, 0, 0)), expected, rtol=1e-12)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(60.0, 400.0),
    st.floats(20.0, 200.0),
    st.floats(0.5, 6.0),
    st.lists(st.floats(0.02, 1.0), max_size=3),
    st.floats(-0.4, 0.4),
)
def test_any_bent_panel_is_a_volume_that_the_kernel_agrees_with(
    length: float, width: float, thickness: float, angles: list[float], bevel: float
) -> None:
    """Random strips: closed mesh, exact volume, centre and inertia, a tensor that a body can have."""
    step = length / (len(angles) + 1)
    scores = tuple(score((step * (i + 1), 0), (step * (i + 1), width), a) for i, a in enumerate(angles))
    panel = Panel(rectangle(0, 0, length, width), thickness, scores=scores, bevels=(Bevel(0, bevel), Bevel(1, bevel)))
    body, true = measure(panel).body, exact(solid(panel))
    assert_same(body, true, 1e-8)
    assert inertia.is_physical(body.inertia)
