"""Walks a config beside its schema: what may stand at each place, before or after it is validated."""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import Tag, WithJsonSchema

from airframe.materials import MATERIALS, Kind
from airframe.schema.base import MaterialOf, Table
from airframe.schema.design import Design
from airframe.schema.docstrings import described

PLAIN_KIND = "box"
"""What an item of equipment is if it does not say."""
NOTHING = "none"
"""What a builder writes to leave out something that may be left out, though a default or a base design has it."""


@dataclass(frozen=True)
class Spot:
    """One place of the schema: the type that stands there, and the marks on it."""

    kind: Any
    """The type without its marks and without `| None`."""
    marks: tuple[Any, ...] = ()
    may_be_none: bool = False
    field: str = ""
    """Name of the field in the code, with its unit; empty for rows and the like."""
    holder: type[Table] | None = None
    """The table that has the field."""

    @property
    def description(self) -> str:
        """What the field means, in a sentence; empty for rows and the like."""
        if self.holder is None:
            return ""
        return self.holder.model_fields[self.field].description or described(self.holder).get(self.field, "")

    # Worked out once for each spot: a config is walked at every change of a value.

    @cached_property
    def table(self) -> type[Table] | None:
        """The table that stands here, if it is one and there is no choice."""
        return self.kind if isinstance(self.kind, type) and issubclass(self.kind, Table) else None

    @cached_property
    def variants(self) -> dict[str, type[Table]]:
        """The tables that may stand here by their `kind`, if there is a choice."""
        return _variants(self.kind) if _is_union(self.kind) else {}

    @property
    def words(self) -> tuple[str, ...]:
        """The fixed words that may stand here, if only such may."""
        return get_args(self.kind) if get_origin(self.kind) is Literal else ()

    @cached_property
    def material(self) -> Kind | None:
        """The kind of material that must be named here, if any."""
        return next((mark.kind for mark in self.marks if isinstance(mark, MaterialOf)), None)

    def of(self, value: object) -> Spot:
        """This spot with its choice made as the value makes it; unchanged if there is no choice."""
        kind = value.get("kind", PLAIN_KIND) if isinstance(value, Mapping) else None
        return _spot(self.variants[kind]) if isinstance(kind, str) and kind in self.variants else self

    def inside(self, step: str | int) -> Spot | None:
        """What may stand under a key or in a row of this place; None if there is no such key or row."""
        if self.table is not None:
            return _spots(self.table).get(step) if isinstance(step, str) else None
        rows, is_any = self._rows
        if is_any:
            return rows[0] if get_origin(self.kind) is dict or isinstance(step, int) else None
        return rows[step] if isinstance(step, int) and step < len(rows) else None

    @cached_property
    def _rows(self) -> tuple[tuple[Spot, ...], bool]:
        """The spots within a dict or tuple, and whether the one of them is that of every key or row."""
        arguments = get_args(self.kind)
        if get_origin(self.kind) is dict:
            return (_spot(arguments[1]),), True
        if get_origin(self.kind) is tuple:
            is_any = arguments[-1] is Ellipsis
            return tuple(_spot(one) for one in (arguments[:1] if is_any else arguments)), is_any
        return (), False

    def example(self) -> str:
        """A value that could stand here, as TOML writes it; empty for a table."""
        if self.material is not None:
            return f'"{next(name for name, one in MATERIALS.items() if one.kind == self.material)}"'
        if self.words:
            return f'"{self.words[0]}"'
        for mark in self.marks:
            if isinstance(mark, WithJsonSchema) and mark.json_schema:
                return f'"{mark.json_schema["examples"][0]}"'
        if get_origin(self.kind) is tuple:
            rows = [row for row in get_args(self.kind) if row is not Ellipsis]
            return f"[{', '.join(_spot(row).example() or '{ ... }' for row in rows)}]"
        return {str: '"..."', int: "1", float: "1.0", bool: "true"}.get(self.kind, "")


ROOT = Spot(Design)
"""The whole config."""


@cache
def fields(table: type[Table]) -> dict[str, str]:
    """The name of every field of a table by the key that a builder writes."""
    return {field.alias or name: name for name, field in table.model_fields.items()}


def cleared(value: Any, spot: Spot = ROOT) -> Any:
    """The value with None wherever "none" leaves out something that may be left out."""
    if spot.may_be_none and value == NOTHING:
        return None
    here = spot.of(value)
    if isinstance(value, Mapping):
        return {key: cleared(inner, here.inside(key) or _ANYTHING) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [cleared(inner, here.inside(index) or _ANYTHING) for index, inner in enumerate(value)]
    return value


def materials_named(
    value: Any, spot: Spot = ROOT, path: tuple[str | int, ...] = ()
) -> Iterator[tuple[tuple[str | int, ...], str, Kind]]:
    """Every material that a config names or leaves to a default: the path, the name, the kind it must be.

    The config need not be valid: what the schema does not know is passed over.
    """
    if spot.material is not None and isinstance(value, str):
        yield path, value, spot.material
    here = spot.of(value)
    if isinstance(value, Mapping):
        inner = _defaults(here.table) | dict(value) if here.table else dict(value)
        steps: list[tuple[str | int, Any]] = list(inner.items())
    else:
        steps = list(enumerate(value)) if isinstance(value, (list, tuple)) else []
    for step, held in steps:
        under = here.inside(step)
        if under is not None:
            yield from materials_named(held, under, (*path, step))


@cache
def _defaults(table: type[Table]) -> dict[str, Any]:
    """Text and tables that stand where nothing is written."""
    defaults = {key: table.model_fields[name].default for key, name in fields(table).items()}
    return {key: one if isinstance(one, str) else {} for key, one in defaults.items() if isinstance(one, str | Table)}


# A config is walked at every change of a value: what the schema says of a table is worked out once.


@cache
def _spots(table: type[Table]) -> dict[str, Spot]:
    """What may stand under each key of a table."""
    return {key: _of_field(name, table) for key, name in fields(table).items()}


@cache
def _variants(union: Any) -> dict[str, type[Table]]:
    tagged = [(choice, mark) for choice in get_args(union) for mark in _spot(choice).marks if isinstance(mark, Tag)]
    return {mark.tag: get_args(choice)[0] for choice, mark in tagged}


def _of_field(name: str, table: type[Table]) -> Spot:
    field = table.model_fields[name]
    annotation: Any = field.annotation
    spot = _spot(annotation)
    return Spot(spot.kind, (*field.metadata, *spot.marks), spot.may_be_none, name, table)


@cache
def _spot(annotation: Any) -> Spot:
    if get_origin(annotation) is Annotated:
        inner, *marks = get_args(annotation)
        spot = _spot(inner)
        return Spot(spot.kind, (*marks, *spot.marks), spot.may_be_none)
    choices = get_args(annotation) if _is_union(annotation) else ()
    if type(None) in choices and len(choices) == 2:
        spot = _spot(next(choice for choice in choices if choice is not type(None)))
        return Spot(spot.kind, spot.marks, True)
    return Spot(annotation)


def _is_union(annotation: Any) -> bool:
    return get_origin(annotation) in (Union, types.UnionType)


_ANYTHING = Spot(object)
