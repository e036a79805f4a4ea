"""Cowls and belly pans."""

from __future__ import annotations

from itertools import pairwise
from math import pi, radians, tan
from typing import Any

import numpy as np
import pytest

from airframe import solids
from airframe.drawing import Panel, Part, PartError
from airframe.folding import fold
from airframe.layout import Layout
from airframe.parts import shells
from airframe.parts.shell_sections import inset, section
from tests.designs import plain
from tests.overlaps import overlaps

END = {"width": "80 mm", "crown": "40 mm", "edge": "0 mm", "corner_radius": "16 mm"}
COWL = {
    "name": "cowl",
    "opens": "down",
    "front": {"station": "-60 mm", **END},
    "rear": {"station": "0 mm", **END},
}
NOSE = {"width": "60 mm", "crown": "30 mm", "edge": "-5 mm", "corner_radius": "12 mm"}


def built(**changes: Any) -> dict[str, Part]:
    """The parts of a cowl with changes, by name."""
    return {part.name: part for part in shells.parts(Layout(plain(fuselage={"shells": [{**COWL, **changes}]})))}


def panel(part: Part) -> Panel:
    """The part's drawing."""
    assert isinstance(part.shape, Panel)
    return part.shape


def corners(part: Part, face: str = "outer") -> np.ndarray:
    """Corners of a face in the aeroplane's frame."""
    return part.place.apply(np.vstack([r for facet in fold(panel(part)).rings(face) for r in facet]))  # type: ignore[arg-type]


@pytest.mark.parametrize("count", [1, 2, 3, 6])
def test_prismatic_cowl_is_as_wide_as_its_girth(count: int) -> None:
    """Walls and crown without their corners, and 2 n r tan(45/n deg) for each corner: n folds round the arc."""
    cowl = panel(built(scores_per_corner=count)["cowl"])
    girth = 2 * (40 - 16) + (80 - 32) + 2 * 2 * count * 16 * tan(radians(45) / count)
    assert cowl.area() == pytest.approx(60 * girth)
    assert [score.angle_rad for score in cowl.scores] == pytest.approx([pi / 2 / count] * (2 * count))


def test_many_scores_approach_the_arc() -> None:
    """The developed corner comes down to the quarter circle r pi / 2, the error falling as 1 / n^2."""
    errors = []
    for count in (3, 6, 12):
        points = section(
            Layout(plain(fuselage={"shells": [{**COWL, "scores_per_corner": count}]})).design.fuselage.shells[0],
            "front",
            5.0,
        )
        girth = float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
        errors.append(girth - (2 * (40 - 16) + (80 - 32) + 2 * 16 * pi / 2))
    for coarse, fine in pairwise(errors):
        assert coarse / fine == pytest.approx(4.0, rel=0.05)


def test_tapered_cowl_runs_between_its_two_sections() -> None:
    """Folded up, its outer corners are those of the front and of the rear section, its ends flat across."""
    part = built(front={"station": "-60 mm", **NOSE})["cowl"]
    outer, inner = corners(part), corners(part, "inner")
    assert (outer[:, 0].min(), outer[:, 0].max()) == pytest.approx((-60.0, 0.0), abs=1e-5)
    assert (inner[:, 0].min(), inner[:, 0].max()) == pytest.approx((-60.0, 0.0), abs=1e-5)
    front = outer[outer[:, 0] < -59.9]
    assert (front[:, 1].min(), front[:, 1].max(), front[:, 2].max()) == pytest.approx((-30.0, 30.0, 30.0))
    assert outer[:, 2].max() == pytest.approx(40.0)
    assert inner[:, 2].max() < 36.0


def test_belly_pan_opens_up() -> None:
    """Its crown is its lowest line, and its inner face lies above."""
    ends = {"width": "80 mm", "crown": "-60 mm", "edge": "-40 mm", "corner_radius": "10 mm"}
    pan = built(opens="up", front={"station": "20 mm", **ends}, rear={"station": "90 mm", **ends})["cowl"]
    assert corners(pan)[:, 2].min() == pytest.approx(-60.0)
    assert corners(pan, "inner")[:, 2].min() == pytest.approx(-55.0)
    assert pan.material.name == "foam board 5 mm"


def test_shell_is_symmetric() -> None:
    """Its centre lies on the centre plane."""
    part = built(front={"station": "-60 mm", **NOSE})["cowl"]
    centre = part.place.apply(solids.exact(solids.solid(panel(part))).centre)
    assert centre[1] == pytest.approx(0.0, abs=1e-6)


def test_end_former_fills_the_inside() -> None:
    """In a prismatic cowl it is the outer section shrunk by the sheet on three sides, and touches it all round."""
    parts = built(end_formers=["front", "rear"], former_rim="8 mm", scores_per_corner=1)
    former = panel(parts["cowl front former"])
    assert former.outline.area() == pytest.approx(70 * 35)
    assert former.holes[0].area() == pytest.approx((70 - 16) * (35 - 16))
    assert overlaps(parts.values(), 0.01) == {}


def test_end_former_leaves_an_even_rim() -> None:
    """Round every corner of the window the outline is a rim away, and no more at its sides."""
    parts = built(end_formers=["front"], front={"station": "-60 mm", **NOSE}, former_rim="4 mm")
    former = panel(parts["cowl front former"])
    ring = np.array(former.outline.points)
    edges = np.roll(ring, -1, axis=0) - ring
    square = np.column_stack([-edges[:, 1], edges[:, 0]]) / np.hypot(*edges.T)[:, None]
    for corner in former.holes[0].points:
        away = np.einsum("ij,ij->i", square, np.array(corner) - ring)
        assert sorted(away)[:2] == pytest.approx([4.0, 4.0], abs=1e-5)
    assert overlaps(parts.values(), 0.5) == {}


def test_inset_of_a_square() -> None:
    """A rim of 2 mm makes a square of 10 mm one of 6; a rim of 5 mm or more leaves nothing."""
    square = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
    assert np.ptp(inset(square, 2.0), axis=0) == pytest.approx([6.0, 6.0])
    assert len(inset(square, 5.1)) == 0


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (
            {"front": {"station": "-60 mm", **END, "corner_radius": "4 mm"}},
            "corner_radius 4 mm at the front must exceed",
        ),
        ({"rear": {"station": "0 mm", **END, "corner_radius": "38 mm"}}, "35.0 mm or less would do"),
        ({"end_formers": ["rear"], "former_rim": "30 mm"}, "cowl rear former: former_rim 30 mm leaves no window; 16.5"),
        ({"end_formers": ["front", "rear"], "front": {"station": "-8 mm", **END}}, "the shell is 8 mm long"),
    ],
)
def test_shell_that_cannot_be_bent_is_refused(change: dict[str, Any], reason: str) -> None:
    """By name, with a number that would do."""
    with pytest.raises(PartError, match=reason):
        built(**change)


def test_glue_runs_along_both_free_edges() -> None:
    """60 mm a side."""
    paths = built()["glue, cowl edges"].shape.paths
    assert [float(np.linalg.norm(np.subtract(*path))) for path in paths] == pytest.approx([60.0, 60.0])
