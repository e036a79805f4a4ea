"""The schema explains itself, and the published JSON Schema accepts what the reader accepts."""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from airframe.config import from_dict
from airframe.schema import published
from airframe.schema.base import Table
from airframe.schema.walk import ROOT, Spot, fields
from airframe.starter import starter_text

CONFIGS = sorted((Path(__file__).parents[2] / "configs").glob("*.toml"))
SCHEMA = published.json_schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
STARTER = tomllib.loads(starter_text())


def every_table(table: type[Table] = Table) -> Iterator[type[Table]]:
    """All tables of the schema."""
    for child in table.__subclasses__():
        yield child
        yield from every_table(child)


@pytest.mark.parametrize("table", list(every_table()), ids=lambda table: table.__name__)
def test_every_key_has_a_description(table: type[Table]) -> None:
    """Each table and each key says what it means, in a sentence that ends."""
    assert table.__doc__
    for key, name in fields(table).items():
        spot = Spot(table).inside(key)
        assert spot is not None and spot.description, f"{table.__name__}.{name} has no description"
        assert spot.description[0] not in " ." and spot.description.strip() == spot.description


@pytest.mark.parametrize("table", list(every_table()), ids=lambda table: table.__name__)
def test_every_key_has_an_example_that_is_read(table: type[Table]) -> None:
    """What an error message offers as an example is itself accepted (for values, which are not tables)."""
    for key in fields(table):
        spot = Spot(table).inside(key)
        assert spot is not None
        example = spot.example()
        if spot.table is None and "{" not in example and example:
            tomllib.loads(f"key = {example}")
        else:
            assert spot.table or spot.variants or "{" in example or not example


def test_the_schema_is_a_schema() -> None:
    """It is valid JSON Schema of the stated dialect, with no code names or addresses in it."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == published.DIALECT
    assert SCHEMA["$id"].startswith("urn:")
    assert "track" in SCHEMA["$defs"]["Gear"]["properties"]
    assert "_mm" not in str(SCHEMA)


@pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.name)
def test_every_demo_is_accepted(path: Path) -> None:
    """Every file in configs/, whole design or redesign, passes."""
    VALIDATOR.validate(tomllib.loads(path.read_text(encoding="utf-8")))


def test_the_starter_is_accepted() -> None:
    """What `airframe new` writes passes."""
    VALIDATOR.validate(STARTER)


def changed(**changes: Any) -> dict[str, Any]:
    """The starter with values put at dotted keys, dots written as two underscores."""
    data = copy.deepcopy(STARTER)
    for dotted, value in changes.items():
        *way, last = dotted.split("__")
        table = data
        for key in way:
            table = table.setdefault(key, {})
        table[last] = value
    return data


@pytest.mark.parametrize(
    "data",
    [
        {"based_on": "mk1.toml"},
        {"based_on": "mk1.toml", "fuselage": {"width": "92 mm"}, "equipment": {"battery": {"station": "3 in"}}},
        {"gear": {"tail_wheel": "none", "skid": {"height": "40 mm"}}},
        {"equipment": {"camera": {"fitted": False}}},
        changed(wing__spar="none", wing__joint_tape="none", wing__station="-1 1/2 in"),
        changed(fuselage__width="6e-2 metres", wing__camber="6 percent"),
    ],
)
def test_accepted(data: dict[str, Any]) -> None:
    """A redesign that states only what changes passes; so do "none", fractions, exponents and words."""
    VALIDATOR.validate(data)


@pytest.mark.parametrize(
    "data",
    [
        changed(fuselage__widht="92 mm"),
        changed(fuselage__width=92),
        changed(fuselage__width="92"),
        changed(fuselage__width="-92 mm"),
        changed(fuselage__width="92 oz"),
        changed(fuselage__width=None),
        changed(units="metrick"),
        changed(name=""),
        changed(wing__scores=2.5),
        changed(wing__panels=[]),
        changed(wing__panels=[{"dihedral": "3 deg"}]),
        changed(equipment__motor={"kind": "moter"}),
        changed(equipment__motor__pitch="4 in"),
        changed(equipment__receiver__size=["1 mm", "2 mm"]),
        changed(fuselage__stations=3),
        changed(gear=3),
        changed(extra=1),
    ],
)
def test_refused_by_both(data: dict[str, Any]) -> None:
    """What the JSON Schema refuses in a whole design, the reader refuses too."""
    assert not VALIDATOR.is_valid(data)
    with pytest.raises(ValueError, match="config"):
        from_dict(data)


def test_material_names_are_offered() -> None:
    """An editor offers the built-in materials of the right kind."""
    offered = SCHEMA["$defs"]["Spar"]["properties"]["material"]["examples"]
    assert "spruce" in offered
    assert "foam board 5 mm" not in offered


def test_every_place_of_a_whole_design_is_known() -> None:
    """The walk beside the schema finds a place for every value of the starter."""

    def check(value: Any, spot: Spot | None) -> None:
        assert spot is not None
        here = spot.of(value)
        steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        for step, inner in steps:
            check(inner, here.inside(step))

    check(STARTER, ROOT)
