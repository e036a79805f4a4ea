"""What may stand at each place of a design: its kind of quantity, its bounds, what is under it."""

from __future__ import annotations

from math import pi

import pytest

from airframe import units
from airframe.schema.base import LARGEST_MM
from airframe.schema.values import bounds, dimension, steps, under
from airframe.schema.walk import ROOT, Spot
from tests.airframe.sweep.plans import demo

MK1 = demo("teasel-mk1").design


def _place(key: str) -> tuple[Spot, object]:
    found: tuple[Spot, object] | None = (ROOT, MK1)
    for step in key.split("."):
        assert found is not None
        found = under(*found, step)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("key", "kind", "value"),
    [
        ("wing.panels.1.dihedral", units.ANGLE, 16.0 * pi / 180.0),
        ("gear.track", units.LENGTH, MK1.gear.track_mm),
        ("equipment.camera.mass", units.MASS, MK1.equipment["camera"].mass_g),
        ("wing.scores", None, MK1.wing.scores),
        ("gear.arrangement", None, "tail wheel"),
    ],
)
def test_a_key_leads_to_its_value_and_its_kind(key: str, kind: units.Dimension | None, value: object) -> None:
    """Through tables, rows of lists and items by name; words and counts are no quantities."""
    spot, held = _place(key)
    assert held == value
    assert dimension(spot) == kind


@pytest.mark.parametrize("key", ["gear.trak", "wing.panels.7", "wing.panels.x", "gear.track.more", "equipment.nobody"])
def test_nothing_stands_where_the_design_has_no_place(key: str) -> None:
    """A wrong key, a row too many, a step below a value, an item that is not there."""
    *way, last = key.split(".")
    assert under(*_place(".".join(way)), last) is None


@pytest.mark.parametrize(
    ("key", "expected"),
    [
        ("gear.track", (0.0, LARGEST_MM)),
        ("equipment.camera.station", (-LARGEST_MM, LARGEST_MM)),
        ("wing.spar.position", (0.0, 1.0)),
        ("wing.panels.1.dihedral", (None, None)),
    ],
)
def test_bounds_are_those_of_the_schema(key: str, expected: tuple[float | None, float | None]) -> None:
    """A size is above zero, a place on either side of it, a share between none and all; an angle has no bounds."""
    assert bounds(_place(key)[0]) == expected


def test_every_step_leads_somewhere() -> None:
    """What is said to be under a table or a list is there; a value has nothing under it."""
    spot, panels = _place("wing.panels")
    assert steps(panels) == ["0", "1"]
    assert all(under(spot, panels, step) is not None for step in ("0", "1"))
    assert all(under(ROOT, MK1, step) is not None for step in steps(MK1) or ())
    assert steps(MK1.gear.track_mm) is None
