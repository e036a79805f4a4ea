"""Walks a design that was read beside its schema: what stands under each key, and which values may stand there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from annotated_types import Ge, Gt, Le, Lt
from pydantic import WithJsonSchema
from pydantic.fields import FieldInfo

from airframe.schema.base import Table
from airframe.schema.walk import Spot, fields
from airframe.units import DIMENSIONS, Dimension

_BY_EXAMPLE = {dimension.example: dimension for dimension in DIMENSIONS}


def marks(spot: Spot) -> Iterator[Any]:
    """Every mark on a place, those of its field too."""
    for mark in spot.marks:
        if isinstance(mark, FieldInfo):
            yield from mark.metadata
        else:
            yield mark


def dimension(spot: Spot) -> Dimension | None:
    """What kind of quantity may stand here; None for words, switches and bare numbers."""
    schemas = (mark.json_schema for mark in marks(spot) if isinstance(mark, WithJsonSchema))
    examples = (example for schema in schemas if schema for example in schema.get("examples", ()))
    return next((_BY_EXAMPLE[one] for one in examples if spot.kind is float and one in _BY_EXAMPLE), None)


def bounds(spot: Spot) -> tuple[float | None, float | None]:
    """The least and the most that the schema allows, in the code's units; a bound itself may be shut out."""
    low: float | None = None
    high: float | None = None
    for mark in marks(spot):
        match mark:
            case Gt(gt=least) | Ge(ge=least):
                low = float(least) if low is None else max(low, float(least))  # type: ignore[arg-type]
            case Lt(lt=most) | Le(le=most):
                high = float(most) if high is None else min(high, float(most))  # type: ignore[arg-type]
            case _:
                pass
    return low, high


def steps(value: Any) -> list[str] | None:
    """The keys of a table and the rows of a list, from 0; None for what has nothing under it."""
    if isinstance(value, Table):
        return list(fields(type(value)))
    if isinstance(value, dict):
        return list(value)
    return [str(row) for row in range(len(value))] if isinstance(value, tuple) else None


def under(spot: Spot, value: Any, step: str) -> tuple[Spot, Any] | None:
    """What may stand and what stands under a key or in a row; None where the design has no such place."""
    held: Any
    if isinstance(value, Table):
        name = fields(type(value)).get(step)
        if name is None:
            return None
        inner, held = Spot(type(value)).inside(step), getattr(value, name)
    elif isinstance(value, dict) and step in value:
        inner, held = spot.inside(step), value[step]
    elif isinstance(value, tuple) and step.isdecimal() and int(step) < len(value):
        inner, held = spot.inside(int(step)), value[int(step)]
    else:
        return None
    return None if inner is None else (inner, held)
