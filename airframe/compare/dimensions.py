"""What was written differently: the keys of two configs whose effective values are not the same."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from airframe.schema.base import Table
from airframe.schema.walk import ROOT, Spot, cleared, fields
from airframe.units import DIMENSIONS, Dimension, UnitError, parse

PASSED_OVER = ("name", "weighed", "swung")
"""Keys of the whole design that a redesign changes as a matter of course: its name, and the logs of one specimen."""
IDENTITIES = (("name",), ("what",), ("on", "material"), ("on", "material", "face"))
"""Keys by which the rows of a list are known, the first that tells all of them apart; else rows go by number."""
SAME_SHARE = 1e-12
"""Two quantities that differ by less than this share of the larger are one: "1 in" is "25.4 mm"."""

ChangeKind = Literal["changed", "added", "removed"]


@dataclass(frozen=True)
class Text:
    """A value as the builder wrote it, or as the default is written."""

    words: str
    is_stated: bool
    """False where nothing is written and the default counts."""


@dataclass(frozen=True)
class Change:
    """One key whose effective value differs."""

    key: str
    """Dotted as in a setting; a row that has a name is named: `fuselage.formers[F3].station`."""
    old: Text | None
    """None where the old design has no such key, row or table."""
    new: Text | None
    dimension: Dimension | None = None
    """What kind of quantity both are; None for words, for bare numbers, and where the two do not compare."""
    difference: tuple[float, ...] = ()
    """New minus old, in the dimension's internal unit (or bare): one number, or one for each of a row of numbers."""

    @property
    def kind(self) -> ChangeKind:
        """Whether the key is new, gone, or has another value."""
        if self.old is None:
            return "added"
        return "removed" if self.new is None else "changed"


@dataclass(frozen=True)
class _Held:
    """What one of the two configs holds at a place; None for nothing."""

    value: Any
    is_stated: bool = True

    @property
    def text(self) -> Text | None:
        if self.value is None:
            return None
        if isinstance(self.value, Mapping):
            # A row's key already tells its name.
            inner = {key: value for key, value in self.value.items() if key != "name"}
            return Text(written(inner)[1:-1], self.is_stated)
        return Text(written(self.value), self.is_stated)


def changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[Change, ...]:
    """What differs between the tables of two valid designs, as written and before defaults, in the schema's order.

    A value that only one of them states is compared with the other's default. What has no default counts as
    absent, and a table or row that only one has is one change.
    """
    found = _compared(ROOT, _Held(cleared(old)), _Held(cleared(new)), "")
    return tuple(change for change in found if change.key.partition(".")[0].partition("[")[0] not in PASSED_OVER)


def _compared(spot: Spot, old: _Held, new: _Held, key: str) -> Iterator[Change]:
    if old.value == new.value and type(old.value) is type(new.value):
        return
    if isinstance(old.value, Mapping) and isinstance(new.value, Mapping):
        yield from _tables(spot, old, new, key)
    elif _is_rows(old.value) and _is_rows(new.value):
        yield from _rows(spot, old, new, key)
    else:
        change = _leaf(spot, old, new, key)
        if change is not None:
            yield change


def _tables(spot: Spot, old: _Held, new: _Held, key: str) -> Iterator[Change]:
    spots = spot.of(new.value), spot.of(old.value)
    after, before = _filled(spots[0], new), _filled(spots[1], old)
    names = list(dict.fromkeys([*_ordered(spots[0], after), *_ordered(spots[1], before)]))
    for name in names:
        under = spots[0].inside(name) or spots[1].inside(name)
        if under is not None:
            nothing = _Held(None)
            path = f"{key}.{name}" if key else name
            yield from _compared(under, before.get(name, nothing), after.get(name, nothing), path)


def _filled(spot: Spot, held: _Held) -> dict[str, _Held]:
    """Everything in a table, with the defaults of its schema where nothing is written."""
    result = {key: _Held(value, held.is_stated) for key, value in held.value.items()}
    if spot.table is None:
        return result
    for key, name in fields(spot.table).items():
        default = spot.table.model_fields[name].get_default(call_default_factory=True, validated_data={})
        if isinstance(default, Table):
            default = default.model_dump(by_alias=True, exclude_unset=True)
        if key not in result and not spot.table.model_fields[name].is_required():
            result[key] = _Held(default, is_stated=False)
    return result


def _ordered(spot: Spot, held: dict[str, _Held]) -> list[str]:
    known = list(fields(spot.table)) if spot.table is not None else []
    return [key for key in known if key in held] + [key for key in held if key not in known]


def _is_rows(value: Any) -> bool:
    """Whether a value is a list of tables; an empty list may be one."""
    return isinstance(value, list | tuple) and all(isinstance(row, Mapping) for row in value)


def _rows(spot: Spot, old: _Held, new: _Held, key: str) -> Iterator[Change]:
    before, after = _identified(old.value, new.value)
    for name in dict.fromkeys([*after, *before]):
        under = spot.inside(0)
        if under is not None:
            gone, come = _Held(before.get(name), old.is_stated), _Held(after.get(name), new.is_stated)
            yield from _compared(under, gone, come, key + name)


def _identified(old: Any, new: Any) -> tuple[dict[str, Any], dict[str, Any]]:
    """The rows of both lists by what they are known by, as it is appended to the list's key."""
    for identity in IDENTITIES:
        named = [_named(rows, identity) for rows in (old, new)]
        if named[0] is not None and named[1] is not None:
            return named[0], named[1]
    return {f".{i}": row for i, row in enumerate(old)}, {f".{i}": row for i, row in enumerate(new)}


def _named(rows: Any, identity: tuple[str, ...]) -> dict[str, Any] | None:
    if not all(key in row for row in rows for key in identity[:1]):
        return None
    named = {f"[{', '.join(str(row[key]) for key in identity if key in row)}]": row for row in rows}
    return named if len(named) == len(rows) else None


def _leaf(spot: Spot, old: _Held, new: _Held, key: str) -> Change | None:
    before, after = (_quantities(spot, held.value) for held in (old, new))
    if before is None or after is None or len(before) != len(after) or not _same_kinds(before, after):
        return Change(key, old.text, new.text)
    pairs = [(a, b) for (_, a), (_, b) in zip(before, after, strict=True)]
    if all(abs(b - a) <= SAME_SHARE * max(abs(a), abs(b)) for a, b in pairs):
        return None
    dimension = before[0][0]
    return Change(key, old.text, new.text, dimension, tuple(b - a for a, b in pairs))


def _same_kinds(before: list[_Quantity], after: list[_Quantity]) -> bool:
    return len({dimension.name if dimension else "" for dimension, _ in (*before, *after)}) == 1


_Quantity = tuple[Dimension | None, float]


def _quantities(spot: Spot, value: Any) -> list[_Quantity] | None:
    """The numbers of a value in internal units, those of nested lists in turn; None if it is not made of numbers."""
    if isinstance(value, list | tuple):
        inner = [_quantities(spot.inside(i) or spot, one) for i, one in enumerate(value)]
        return None if None in inner else [one for many in inner for one in many or []]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return [(None, float(value))]
    if not isinstance(value, str) or spot.kind is not float:
        return None
    for dimension in DIMENSIONS:
        try:
            return [(dimension, parse(value, dimension))]
        except UnitError:
            continue
    return None


def written(value: Any) -> str:
    """A value in one line, near to how it stands in the file, without the quotes round words."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key} = {written(inner)}" for key, inner in value.items() if inner is not None) + "}"
    if isinstance(value, list | tuple):
        separator = "; " if any(isinstance(one, list | tuple) for one in value) else ", "
        return separator.join(written(one) for one in value) if value else "none"
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:g}" if isinstance(value, float) else str(value)
