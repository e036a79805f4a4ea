"""The places of a design by their keys: what may stand there, what the file says, what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from annotated_types import Ge, Gt, Le, Lt
from pydantic import BeforeValidator, WithJsonSchema
from pydantic.fields import FieldInfo

from airframe.schema.base import Table
from airframe.schema.design import Design
from airframe.schema.walk import NOTHING, ROOT, Spot, fields
from airframe.units import DIMENSIONS, Dimension

Keys = tuple[str, ...]
"""The way to a value as a builder writes it; rows of lists by their number from 0."""


class _Absent:
    """What stands where nothing is written."""

    def __repr__(self) -> str:
        return "ABSENT"


ABSENT: Final = _Absent()
_BY_EXAMPLE = {dimension.example: dimension for dimension in DIMENSIONS}


@dataclass(frozen=True, eq=False)
class Leaf:
    """One value of a design."""

    keys: Keys
    spot: Spot
    value: Any
    """As the code has it: mm, g, radians; None where it is left out."""
    written: Any
    """As the file says it; ABSENT where it says nothing and the default counts."""
    holders: tuple[Any, ...] = ()
    """The tables and rows that it stands in, the design first."""

    @property
    def is_stated(self) -> bool:
        """Whether the file says it."""
        return self.written is not ABSENT

    @property
    def dimension(self) -> Dimension | None:
        """What kind of quantity it is; None for words, switches and bare numbers."""
        return dimension(self.spot)


def dimension(spot: Spot) -> Dimension | None:
    """What kind of quantity may stand here."""
    schemas = (mark.json_schema for mark in _marks(spot) if isinstance(mark, WithJsonSchema))
    examples = (example for schema in schemas if schema for example in schema.get("examples", ()))
    return next((_BY_EXAMPLE[one] for one in examples if spot.kind is float and one in _BY_EXAMPLE), None)


def bounds(spot: Spot) -> tuple[float | None, float | None]:
    """The least and the most that the schema allows, in the code's units; a bound itself may be shut out."""
    low: float | None = None
    high: float | None = None
    for mark in _marks(spot):
        match mark:
            case Gt(gt=least) | Ge(ge=least):
                low = float(least) if low is None else max(low, float(least))  # type: ignore[arg-type]
            case Lt(lt=most) | Le(le=most):
                high = float(most) if high is None else min(high, float(most))  # type: ignore[arg-type]
            case _:
                pass
    return low, high


def comes_to(spot: Spot, written: Any) -> Any:
    """What a written value comes to in the code. Raises ValueError for one that does not read."""
    if spot.may_be_none and written == NOTHING:
        return None
    for mark in _marks(spot):
        if isinstance(mark, BeforeValidator):
            return mark.func(written)  # type: ignore[call-arg]
    return float(written) if spot.kind is float and isinstance(written, int) else written


def leaves(design: Design, data: Mapping[str, Any]) -> Iterator[Leaf]:
    """Every value of a design, defaults too, in the schema's order."""
    yield from _leaves(ROOT, design, data, (), ())


def leaf(design: Design, data: Mapping[str, Any], keys: Keys) -> Leaf | None:
    """The value at a place; None where the design has no such place."""
    spot: Spot | None = ROOT
    value: Any = design
    written: Any = data
    holders: tuple[Any, ...] = ()
    for key in keys:
        holders = (*holders, value)
        spot, value, written = _step(spot, value, written, key)
        if spot is None:
            return None
    return Leaf(keys, spot, value, written, holders) if spot is not None else None


def said(data: Mapping[str, Any], keys: Keys) -> Any:
    """What tables say at a place; ABSENT where they say nothing."""
    found: Any = data
    for key in keys:
        found = _said(found, key)
    return found


def _leaves(spot: Spot, value: Any, written: Any, keys: Keys, holders: tuple[Any, ...]) -> Iterator[Leaf]:
    if isinstance(value, Table):
        inner = list(fields(type(value)))
    elif isinstance(value, dict):
        inner = list(value)
    elif isinstance(value, tuple):
        inner = [str(index) for index in range(len(value))]
    else:
        yield Leaf(keys, spot, value, written, holders)
        return
    for key in inner:
        under, held, said = _step(spot, value, written, key)
        if under is not None:
            yield from _leaves(under, held, said, (*keys, key), (*holders, value))


def _step(spot: Spot | None, value: Any, written: Any, key: str) -> tuple[Spot | None, Any, Any]:
    """What stands under a key or in a row; no spot where there is none."""
    if isinstance(value, Table):
        name = fields(type(value)).get(key)
        held = ABSENT if name is None else getattr(value, name)
        return (None if name is None else Spot(type(value)).inside(key)), held, _said(written, key)
    if isinstance(value, dict) and key in value and spot is not None:
        return spot.inside(key), value[key], _said(written, key)
    if isinstance(value, tuple) and key.isdecimal() and int(key) < len(value) and spot is not None:
        return spot.inside(int(key)), value[int(key)], _said(written, key)
    return None, ABSENT, ABSENT


def _said(written: Any, key: str) -> Any:
    if isinstance(written, Mapping):
        return written.get(key, ABSENT)
    if isinstance(written, list | tuple) and key.isdecimal() and int(key) < len(written):
        return written[int(key)]
    return ABSENT


def _marks(spot: Spot) -> Iterator[Any]:
    for mark in spot.marks:
        if isinstance(mark, FieldInfo):
            yield from mark.metadata
        else:
            yield mark
