"""Any wing or tail that validates is drawn and closes, or is refused by the name of a part."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from airframe import inertia, shapes
from airframe.drawing import Part, PartError
from airframe.facets import FoldError
from airframe.layout import Layout
from airframe.parts import tail, wing
from airframe.schema.design import Design
from tests.designs import plain
from tests.overlaps import overlaps

SLIVER_MM3 = 30.0
SLOW = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)


def mm(low: float, high: float) -> st.SearchStrategy[str]:
    return st.floats(low, high).map(lambda value: f"{value:.2f} mm")


def deg(low: float, high: float) -> st.SearchStrategy[str]:
    return st.floats(low, high).map(lambda value: f"{value:.2f} deg")


def share(low: float, high: float) -> st.SearchStrategy[str]:
    return st.floats(low, high).map(lambda value: f"{value:.2f} %")


def table(required: dict[str, Any], optional: dict[str, Any]) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(required, optional=optional)


SHEETS = st.sampled_from(["foam board 5 mm", "foam board 3 mm", "extruded foam 6 mm", "balsa sheet 3 mm"])
DOWEL = table({"station": mm(60, 380), "water_line": mm(-20, 35)}, {})
WING_PANEL = table({"span": mm(40, 500)}, {"tip_chord": mm(60, 260), "sweep": deg(-15, 20), "dihedral": deg(-10, 25)})
WINGS = table(
    {
        "section": st.sampled_from(["curved plate", "flat plate", "folded"]),
        "panels": st.lists(WING_PANEL, min_size=1, max_size=3),
        "root_chord": mm(80, 260),
    },
    {
        "material": SHEETS,
        "camber": share(1, 14),
        "camber_position": share(15, 70),
        "scores": st.integers(1, 14),
        "nose_height": mm(8, 40),
        "incidence": deg(-4, 8),
        "rib_positions": st.lists(mm(5, 500), max_size=4),
        "centre_ribs": st.booleans(),
        "rib_material": SHEETS,
        "spar": table({}, {"width": mm(2, 12), "height": mm(1, 10), "position": share(10, 70)}),
        "joint_tape_width": mm(10, 80),
        "mounting": table({"front": DOWEL, "rear": DOWEL}, {"bands": st.integers(0, 7)}),
    },
)
HINGE = table(
    {}, {"gap": mm(0, 4), "bevel": deg(0, 60), "strips": st.integers(1, 4), "strip_length": mm(5, 18)}
)  # fmt: skip
TAILS = table(
    {
        "stabiliser": table(
            {"span": mm(150, 500), "root_chord": mm(70, 130), "station": mm(470, 530)},
            {"tip_chord": mm(20, 160), "water_line": mm(-30, 90)},
        ),
        "elevator": table(
            {"root_chord": mm(30, 80)},
            {
                "tip_chord": mm(10, 80), "split": st.booleans(), "split_gap": mm(4, 60),
                "joiner_wire": mm(0.8, 4), "hinge": HINGE,
            },
        ),
        "fin": table(
            {"height": mm(60, 200), "root_chord": mm(60, 120), "station": mm(490, 530)}, {"tip_chord": mm(20, 160)}
        ),
        "rudder": table(
            {"root_chord": mm(25, 80)}, {"tip_chord": mm(14, 80), "root_clearance": mm(0, 40), "hinge": HINGE}
        ),
    },
    {
        "material": SHEETS,
        "horns": table(
            {},
            {
                "height": mm(5, 40), "base": mm(4, 25), "elevator_butt_line": mm(-60, 60), "rudder_height": mm(2, 40),
                "material": st.sampled_from(["birch plywood 1.5 mm", "birch plywood 3 mm"]),
            },
        ),
    },
)  # fmt: skip


def check(design: Design, drawn: list[Part]) -> None:
    """Names are given once; every shape closes and has a real body's inertia; the solids keep out of one another."""
    assert len({part.name for part in drawn}) == len(drawn)
    for shape in {part.shape for part in drawn}:
        body = shapes.measure(shape, design.mesh_angle_rad).body
        assert body.mass > 0.0
        assert inertia.is_physical(body.inertia)
    assert overlaps(drawn, SLIVER_MM3) == {}


@pytest.mark.slow
@SLOW
@given(WINGS)
def test_any_wing_closes_or_is_refused(wing_table: dict[str, Any]) -> None:
    """A wing that validates gives closed solids that keep out of one another, or a refusal that names the part.

    The folding refuses, later and in its own words, a skin bent tighter than its sheet allows.
    """
    try:
        design = plain(wing=wing_table)
    except ValidationError:
        return
    try:
        check(design, wing.parts(Layout(design)))
    except PartError as error:
        assert error.part.split()[0] in ("wing", "centre", "tape,")
    except FoldError:
        pass


@pytest.mark.slow
@SLOW
@given(TAILS)
def test_any_tail_closes_or_is_refused(tail_table: dict[str, Any]) -> None:
    """A tail that validates gives closed solids that keep out of one another, or a refusal that names the part."""
    try:
        design = plain(tail=tail_table)
    except ValidationError:
        return
    try:
        check(design, tail.parts(Layout(design)))
    except PartError as error:
        assert error.part.split()[0] in ("stabiliser", "elevator", "fin", "rudder")
