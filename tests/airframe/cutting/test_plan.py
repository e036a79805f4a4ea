"""The plan as a whole: volumes from drawings, everything bought once, every joint in some step."""

from __future__ import annotations

import pytest

from airframe import solids
from airframe.cutting.amounts import amount, drawn_mass_g, panel_volume_mm3
from airframe.cutting.plan import plan
from airframe.drawing import Bead, Panel
from airframe.parts.common import GLUE
from tests.designs import plain


def test_volume_is_area_times_thickness_less_the_cuts(demo) -> None:
    """For every sheet part the kernel's exact volume is developed area x thickness, less bevels and grooves.

    Left and right share a shape. What is left is the mitres where cuts meet: 2e-4 at most
    (1.4e-4 on a nose deck 5 mm thick).
    """
    shapes = {part.shape: part.name for part in demo.parts if isinstance(part.shape, Panel)}
    for shape, name in shapes.items():
        made = solids.exact(solids.solid(shape)).mass
        assert panel_volume_mm3(shape) == pytest.approx(made, rel=2e-4), name
        if not shape.scores and not shape.bevels:
            assert shape.area() * shape.thickness_mm == pytest.approx(made, rel=1e-9), name


def test_drawn_masses_are_those_of_the_weight_statement(teasel) -> None:
    """Without building a solid every part's mass comes out as weighed: round things 2e-3 (mesh), the rest 2e-4."""
    for entry in teasel.statement.entries:
        tolerance = 2e-4 if isinstance(entry.part.shape, (Panel, Bead)) else 2e-3
        assert drawn_mass_g(entry.part) == pytest.approx(entry.drawn_g, rel=tolerance), entry.part.name


def test_the_shopping_list_holds_the_whole_aeroplane(demo, demo_plan) -> None:
    """The masses on the list add up to the parts' masses: nothing forgotten, nothing twice."""
    bought = sum(item.mass_g for item in demo_plan.shopping)
    assert bought == pytest.approx(sum(drawn_mass_g(part) for part in demo.parts), rel=1e-9)


def test_ready_made_items_are_counted(teasel_plan) -> None:
    """Four bolts and two main wheels are one line each."""
    counts = {item.what: item.quantity for item in teasel_plan.shopping if item.heading == "ready-made"}
    assert (counts["motor bolts"], counts["main wheel"], counts["battery"]) == ("4", "2", "1")


def test_every_joint_is_in_one_step(demo, demo_plan) -> None:
    """The steps name every glued joint once, with its glue and the length of its beads."""
    named = [joint for step in demo_plan.steps for joint in step.joints]
    glued = [part for part in demo.parts if part.group == GLUE]
    assert sorted(joint.name for joint in named) == sorted(part.name.removeprefix("glue, ") for part in glued)
    assert sum(joint.length_mm for joint in named) == pytest.approx(sum(amount(part.shape) for part in glued))
    assert "The rest" not in [step.title for step in demo_plan.steps]


def test_the_order_of_assembly(teasel_plan) -> None:
    """Sides before the box, the box before its decks, the wing's parts before the tail is set by it."""
    titles = [step.title for step in teasel_plan.steps]
    assert titles == sorted(titles, key=["Sides", "Fuselage box", "Wing dowels", "Landing gear",
                                         "Decks, floor and cowl", "Wing", "Tail"].index)  # fmt: skip


def test_the_same_seed_gives_the_same_plan() -> None:
    """Plans are values: two made from the same design, seed and seconds are equal."""
    from airframe.layout import Layout
    from airframe.parts import whole

    design = plain()
    parts = whole.build(Layout(design))
    assert plan(design, parts, 0.2, 3) == plan(design, parts, 0.2, 3)


def test_numbers_count_from_one(teasel_plan) -> None:
    """Every pattern has a number of its own."""
    numbers = teasel_plan.numbers()
    assert sorted(numbers.values()) == list(range(1, len(numbers) + 1))
