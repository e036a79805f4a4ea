"""The places of a design by their keys: what may stand there, what the file says, what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from pydantic import BeforeValidator

from airframe.schema.design import Design
from airframe.schema.values import dimension, marks, steps, under
from airframe.schema.walk import NOTHING, ROOT, Spot
from airframe.units import Dimension

Keys = tuple[str, ...]
"""The way to a value as a builder writes it; rows of lists by their number from 0."""


class _Absent:
    """What stands where nothing is written."""

    def __repr__(self) -> str:
        return "ABSENT"


ABSENT: Final = _Absent()


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


def comes_to(spot: Spot, written: Any) -> Any:
    """What a written value comes to in the code. Raises ValueError for one that does not read."""
    if spot.may_be_none and written == NOTHING:
        return None
    for mark in marks(spot):
        if isinstance(mark, BeforeValidator):
            return mark.func(written)  # type: ignore[call-arg]
    return float(written) if spot.kind is float and isinstance(written, int) else written


def leaves(design: Design, data: Mapping[str, Any]) -> Iterator[Leaf]:
    """Every value of a design, defaults too, in the schema's order."""
    yield from _leaves(ROOT, design, data, (), ())


def leaf(design: Design, data: Mapping[str, Any], keys: Keys) -> Leaf | None:
    """The value at a place; None where the design has no such place."""
    spot = ROOT
    value: Any = design
    holders: tuple[Any, ...] = ()
    for key in keys:
        inner = under(spot, value, key)
        if inner is None:
            return None
        holders = (*holders, value)
        spot, value = inner
    return Leaf(keys, spot, value, said(data, keys), holders)


def said(data: Mapping[str, Any], keys: Keys) -> Any:
    """What tables say at a place; ABSENT where they say nothing."""
    found: Any = data
    for key in keys:
        found = _said(found, key)
    return found


def _leaves(spot: Spot, value: Any, written: Any, keys: Keys, holders: tuple[Any, ...]) -> Iterator[Leaf]:
    inside = steps(value)
    if inside is None:
        yield Leaf(keys, spot, value, written, holders)
        return
    for key in inside:
        inner = under(spot, value, key)
        if inner is not None:
            yield from _leaves(*inner, _said(written, key), (*keys, key), (*holders, value))


def _said(written: Any, key: str) -> Any:
    if isinstance(written, Mapping):
        return written.get(key, ABSENT)
    if isinstance(written, list | tuple) and key.isdecimal() and int(key) < len(written):
        return written[int(key)]
    return ABSENT
