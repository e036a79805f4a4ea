"""Whatever a builder types gives an aeroplane that can be weighed, or is refused by the name of a key or a part."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from airframe.config import ConfigError, from_dict
from airframe.drawing import PartError
from airframe.inertia import is_physical
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.schema.walk import fields
from airframe.store import MemoryStore
from tests.space.designs import designs, slips

FEW = settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
"""The same examples at every run; the slow tests take others every time."""
MANY = settings(max_examples=600, deadline=None, suppress_health_check=list(HealthCheck))
ALWAYS_DRAWN = (
    "wing", "centre rib", "rib", "tape", "stabiliser", "elevator", "fin", "rudder", "fuselage side", "side ",
    "firewall", "gear", "main leg", "main wheel", "main gear strut", "leg fairing", "tail wheel", "nose wheel", "skid",
    "rubber band", "front wing dowel", "rear wing dowel", "front dowel", "rear dowel",
)  # fmt: skip
"""What names of parts begin with that no config gives."""
KEPT = MemoryStore()
"""Shapes that several examples share."""


def built_or_refused(data: dict[str, Any]) -> Aeroplane | None:
    """The aeroplane, weighed and found sound; None if it was refused as it should be."""
    try:
        design = from_dict(data)
    except ConfigError as error:
        assert error.problems
        assert all(_is_key(problem.key, data) for problem in error.problems), str(error)
        return None
    try:
        aeroplane = Aeroplane(design, KEPT)
        _is_sound(aeroplane)
    except PartError as error:
        assert str(error) == f"{error.part}: {error.problem}"
        assert any(error.part.startswith(name) for name in (*ALWAYS_DRAWN, *_named(data))), str(error)
        assert not re.search(r"mesh|kernel|edges stay open", error.problem), str(error)
        return None
    return aeroplane


def _is_key(key: str, data: dict[str, Any]) -> bool:
    """Whether a message points to a table of a config, or to a key that is written in this one."""
    first = re.split(r"[.\[]", key)[0]
    return first in fields(Design) or first in data


def _named(value: Any) -> Iterator[str]:
    """Every name that the config gives to something, as messages and parts begin with it."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _named(inner)
            if key in ("name", "what", "on") and isinstance(inner, str) and inner:
                yield from (inner, f"former {inner}", f"opening {inner}", f"weighed '{inner}", f"finish '{inner}'")
        yield from (key for key in value.get("equipment", {}) if key)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from _named(inner)


def _is_sound(aeroplane: Aeroplane) -> None:
    """Positive mass, tensors that real bodies can have, names given once, closed meshes to show."""
    import trimesh

    statement = aeroplane.statement
    assert statement.whole.mass > 0.0
    assert is_physical(statement.whole.inertia)
    assert len({entry.part.name for entry in statement.entries}) == len(statement.entries)
    for entry in statement.entries:
        assert entry.mass_g >= 0.0, entry.part.name
        assert is_physical(entry.body.inertia), entry.part.name
        record = aeroplane.record(entry.part)
        assert (len(record.faces) > 0) == (entry.volume_mm3 is not None), entry.part.name
        if len(record.faces):
            assert trimesh.Trimesh(record.vertices, record.faces).is_volume, entry.part.name


def test_any_design_is_built_or_refused() -> None:
    """A design composed as a builder would type it is weighed whole, or refused by the name of a part.

    A quarter of them, at least, are weighed: otherwise this would say little.
    """
    outcomes: list[bool] = []

    @FEW
    @given(designs())
    def compose(data: dict[str, Any]) -> None:
        outcomes.append(built_or_refused(data) is not None)

    compose()
    assert sum(outcomes) >= 0.25 * len(outcomes)


@FEW
@given(slips())
def test_any_slip_of_the_pen_is_built_or_refused(data: dict[str, Any]) -> None:
    """A wrong value, a misspelt key or a missing one never ends in another exception."""
    built_or_refused(data)


@pytest.mark.slow
@MANY
@given(designs())
def test_many_designs_are_built_or_refused(data: dict[str, Any]) -> None:
    """As above, for longer."""
    built_or_refused(data)


@pytest.mark.slow
@MANY
@given(slips())
def test_many_slips_are_built_or_refused(data: dict[str, Any]) -> None:
    """As above, for longer."""
    built_or_refused(data)
