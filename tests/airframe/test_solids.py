"""Solids: what the kernel makes of a drawing, and what it refuses."""

from __future__ import annotations

from math import nan, pi, radians, tan

import numpy as np
import pytest

from airframe import inertia
from airframe.axes import Place, about_x, about_y, about_z, at
from airframe.bends import centre_line
from airframe.drawing import Bevel, Block, Loop, Panel, Revolved, Rod, Solid, Wire, circle, rectangle, score
from airframe.solids import exact, placed, solid

EXACT = 1e-9

SHAPES: dict[str, Solid] = {
    "plate": Panel(rectangle(0, 0, 120, 60, 8), 5.0, holes=(circle(30, 30, 20), rectangle(60, 20, 90, 40, 3))),
    "bent": Panel(
        rectangle(0, 0, 120, 60),
        5.0,
        holes=(circle(40, 30, 14),),
        scores=(score((40, 0), (40, 60), 0.7), score((90, 0), (80, 60), 0.3)),
        bevels=(Bevel(0, 0.2), Bevel(1, -0.3)),
    ),
    "wire": Wire(((0, 0, 0), (60, 0, 0), (60, 80, 10), (60, 90, -60), (20, 90, -60)), 3.0, 3.0),
    "block": Block((30.0, 20.0, 10.0)),
    "rod": Rod(80.0, 6.0),
    "tube": Rod(80.0, 6.0, 4.0),
    "wheel": Revolved(((-8, 1.5), (8, 1.5), (8, 20), (0, 25), (-8, 20))),
}


@pytest.mark.parametrize("name", SHAPES)
def test_solid_is_valid_and_counts_positive(name: str) -> None:
    """The kernel's own checker finds nothing, and the volume is that of one solid facing outwards."""
    made = solid(SHAPES[name])
    assert made.isValid()
    assert made.ShapeType() == "Solid"
    assert exact(made).mass > 0.0
    assert inertia.is_physical(exact(made).inertia)


def test_plate_keeps_its_arcs() -> None:
    """A flat panel's solid is exact: area of outline less holes, arcs included, times thickness."""
    panel = SHAPES["plate"]
    assert isinstance(panel, Panel)
    assert exact(solid(panel)).mass == pytest.approx(panel.area() * panel.thickness_mm, rel=EXACT)
    # Two faces, eight sides of the outline, two halves of the circle, eight sides of the rounded opening.
    assert len(solid(panel).Faces()) == 2 + 8 + 2 + 8


def test_panel_lies_below_its_drawing_plane() -> None:
    """The outer face is z = 0 and the material fills -t <= z <= 0."""
    bounds = solid(Panel(rectangle(0, 0, 10, 20), 3.0)).BoundingBox()
    assert (bounds.zmin, bounds.zmax) == pytest.approx((-3.0, 0.0), abs=1e-6)


def test_arcs_bulge_to_the_right_of_their_chord() -> None:
    """A bulge of 1 on the lower edge of a square adds half a disk below it."""
    panel = Panel(Loop(((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)), (1.0, 0.0, 0.0, 0.0)), 2.0)
    made = solid(panel)
    assert exact(made).mass == pytest.approx(2.0 * (400.0 + pi * 100 / 2), rel=EXACT)
    assert made.BoundingBox().ymin == pytest.approx(-10.0, abs=1e-6)


def test_bent_panel_is_made_of_flat_faces_with_the_folded_volume() -> None:
    """A square score takes width * t^2 * tan(angle / 2) from the flat volume."""
    panel = Panel(rectangle(0, 0, 100, 50), 5.0, scores=(score((40, 0), (40, 50), radians(60)),))
    made = solid(panel)
    assert exact(made).mass == pytest.approx(100 * 50 * 5 - 50 * 25 * tan(radians(30)), rel=1e-8)
    assert {face.geomType() for face in made.Faces()} == {"PLANE"}
    assert len(made.Faces()) == 10


def test_wire_is_cylinders_and_tori() -> None:
    """One torus a bend, one cylinder a leg, two ends."""
    kinds = [face.geomType() for face in solid(SHAPES["wire"]).Faces()]
    assert {kind: kinds.count(kind) for kind in set(kinds)} == {"PLANE": 2, "CYLINDER": 4, "TORUS": 3}


def test_wire_bends_have_the_given_inside_radius() -> None:
    """A right-angled bend round a mandrel of 4 mm: the centre line turns at 4 mm plus half the wire."""
    made = solid(Wire(((0, 0, 0), (50, 0, 0), (50, 50, 0)), 2.0, 4.0))
    (bend,) = [face for face in made.Faces() if face.geomType() == "TORUS"]
    # Area of a quarter of a torus: pi / 2 * R * 2 pi r (Pappus).
    assert bend.Area() == pytest.approx(pi / 2 * 5.0 * 2 * pi * 1.0, rel=EXACT)


def test_corner_that_the_wire_runs_straight_through_is_no_bend() -> None:
    """A superfluous point on a leg changes nothing."""
    line = centre_line(Wire(((0, 0, 0), (20, 0, 0), (50, 0, 0), (50, 50, 0)), 2.0, 4.0))
    assert len(line.bends) == 1
    assert line.length() == pytest.approx(100 - 2 * 5 + 5 * pi / 2, rel=EXACT)


def test_leg_may_be_used_up_by_its_bends() -> None:
    """Two right-angled bends back to back leave no straight between them."""
    made = solid(Wire(((0, 0, 0), (30, 0, 0), (30, 10, 0), (60, 10, 0)), 2.0, 4.0))
    assert made.isValid()
    assert exact(made).mass == pytest.approx(pi * (25 + 5 * pi + 25), rel=EXACT)


PLACES = {
    "at": at(10, -20, 30),
    "turned": at(10, 20, -30).after(about_x(0.3).after(about_y(-0.7).after(about_z(2.0)))),
    "half a turn": about_z(pi),
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("where", PLACES)
@pytest.mark.parametrize("is_mirrored", [False, True])
def test_placed_solid_has_the_placed_body(name: str, where: str, is_mirrored: bool) -> None:
    """Move the solid or move its body: R I R^T, also for the mirror image."""
    place: Place = PLACES[where].mirrored() if is_mirrored else PLACES[where]
    made = solid(SHAPES[name])
    moved, expected = exact(placed(made, place)), exact(made).placed(place.rotation, place.origin)
    assert moved.mass == pytest.approx(expected.mass, rel=EXACT)
    np.testing.assert_allclose(moved.centre, expected.centre, atol=1e-7)
    np.testing.assert_allclose(moved.inertia, expected.inertia, atol=1e-8 * np.abs(expected.inertia).max())
    assert placed(made, place).isValid()


def test_placing_leaves_the_drawing_s_solid_alone() -> None:
    """A solid is made once and placed many times."""
    made = solid(SHAPES["block"])
    placed(made, at(100, 0, 0).mirrored())
    np.testing.assert_allclose(exact(made).centre, 0.0, atol=1e-12)


REFUSED: dict[str, Solid] = {
    "leg from (0.0, 0.0, 0.0) mm to (6.0, 0.0, 0.0) mm is 6.0 mm long, 1.5 mm too short": Wire(
        ((0, 0, 0), (6, 0, 0), (6, 60, 0)), 3.0, 6.0
    ),
    "doubles back": Wire(((0, 0, 0), (60, 0, 0), (20, 0, 0)), 3.0, 6.0),
    "lie on one another": Wire(((0, 0, 0), (0, 0, 0), (20, 0, 0)), 3.0, 6.0),
    "two points or more": Wire(((0, 0, 0),), 3.0, 6.0),
    "a diameter of more than 0": Wire(((0, 0, 0), (20, 0, 0)), 0.0, 6.0),
    "0 mm thick": Panel(rectangle(0, 0, 10, 10), 0.0),
    "nan mm thick": Panel(rectangle(0, 0, 10, 10), nan),
    "crosses or touches itself": Panel(Loop(((0.0, 0.0), (9.0, 0.0), (1.0, 5.0), (9.0, 6.0)), (0.0,) * 4), 1.0),
    "hole 1 is not inside": Panel(rectangle(0, 0, 10, 10), 1.0, holes=(circle(10, 10, 5),)),
    "hole 1 and hole 2 overlap": Panel(
        rectangle(0, 0, 30, 30), 1.0, holes=(circle(15, 15, 20), rectangle(14, 14, 16, 16))
    ),
    "30 x 0 x 10 mm has no volume": Block((30.0, 0.0, 10.0)),
    "length and wall must be more than 0": Rod(10.0, 3.0, 3.0),
    "no radius below 0": Revolved(((0, -1), (10, 5), (0, 5))),
    "must not cross itself": Revolved(((0, 0), (10, 5), (10, 0), (0, 5))),
}


@pytest.mark.parametrize("text", REFUSED)
def test_refuses_what_makes_no_solid(text: str) -> None:
    """A ValueError that says what is wrong, with its size where there is one."""
    with pytest.raises(ValueError) as caught:
        solid(REFUSED[text])
    assert text in str(caught.value)


def test_kernel_s_own_refusal_is_a_value_error() -> None:
    """Whatever the kernel throws reaches the caller as one kind of error."""
    with pytest.raises(ValueError, match="the CAD kernel cannot build it"):
        solid(Block((1e-9, 1.0, 1.0)))
