"""What the builder has changed: --set lines in the order they count, at most one for each key."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from airframe.config.problems import dotted
from airframe.config.settings import applied, read_setting
from airframe.config.written import Written
from airframe.schema.base import Table
from airframe.schema.design import Design
from airframe.schema.walk import NOTHING, fields
from viewers.bench.places import ABSENT, Keys, comes_to, leaf, said

SAME_SHARE = 1e-12
"""Two quantities that differ by less than this share of the larger are one: "1 in" is "25.4 mm"."""


@dataclass(frozen=True)
class Edit:
    """One key with its new value."""

    keys: Keys
    setting: str
    """As it is typed after --set."""

    @property
    def key(self) -> str:
        """Dotted, as a builder writes it."""
        return named(self.keys)

    @property
    def value(self) -> Any:
        """As TOML reads it."""
        return read_setting(self.setting)[1]


Edits = tuple[Edit, ...]


def named(keys: Keys) -> str:
    """The key as it is written after --set, names in quotes where they need them."""
    return dotted(keys)


def edit(setting: str) -> Edit:
    """The edit of a KEY=VALUE. Raises ConfigError."""
    return Edit(read_setting(setting)[0], setting.strip())


def settings(edits: Edits) -> tuple[str, ...]:
    """All of them as --set lines."""
    return tuple(one.setting for one in edits)


def laid_over(edits: Edits, changes: Iterable[Edit]) -> Edits:
    """Old edits with new ones over them: what a new one replaces, wholly or with the table it stands in, goes."""
    result = list(edits)
    for new in changes:
        at = next((i for i, old in enumerate(result) if old.keys == new.keys), None)
        if at is not None:
            result[at] = new
        result = [old for old in result if old is new or not _is_within(old.keys, new.keys)]
        if at is None:
            result.append(new)
    return tuple(result)


def without_idle(edits: Edits, design: Design, data: Mapping[str, Any]) -> Edits:
    """The edits that change something of the design as filed, whose tables `data` are."""
    return tuple(one for one in edits if not _is_idle(one, edits, design, data))


def _is_idle(one: Edit, edits: Edits, design: Design, data: Mapping[str, Any]) -> bool:
    if any(_is_within(one.keys, other.keys) for other in edits if other is not one):
        return False
    found = leaf(design, data, one.keys)
    if found is None or found.value is ABSENT:
        return False
    if isinstance(found.value, Table | dict | tuple):
        return bool(found.written == one.value)
    try:
        return is_same(comes_to(found.spot, one.value), found.value)
    except ValueError:
        return False


def is_same(first: Any, second: Any) -> bool:
    """Whether two values of the code are one, rounding of units aside."""
    if isinstance(first, float) and isinstance(second, float):
        return abs(first - second) <= SAME_SHARE * max(abs(first), abs(second))
    return type(first) is type(second) and bool(first == second)


def rebased(edits: Edits, saved: Edits, design: Design, data: Mapping[str, Any]) -> Edits:
    """The edits that give over the saved file what `edits` gave over the file as it was filed before.

    `design` and `data` are those of before. What was saved and is not in `edits` is set back to what it was.
    """
    meant = applied(Written(dict(data), {}), settings(edits))[0].data
    back = [found for one in saved if (found := _set_back(one.keys, design, data, meant)) is not None]
    # What stands in a table that an edit replaces as a whole is that edit's affair.
    back = [one for one in back if not any(_is_within(one.keys, other.keys, 1) for other in edits)]
    kept = [one for one in edits if not any(_is_within(one.keys, other.keys) for other in back)]
    return laid_over((), [*back, *kept])


def _is_within(keys: Keys, holder: Keys, depth: int = 0) -> bool:
    """Whether a key lies in a table or is it; or, at a depth of 1, whether it lies in it."""
    return len(keys) >= len(holder) + depth and keys[: len(holder)] == holder


def _set_back(keys: Keys, design: Design, data: Mapping[str, Any], meant: Mapping[str, Any]) -> Edit | None:
    """The edit that makes of a key what tables mean by it; of one in a table that the design has not, the table."""
    for end in range(1, len(keys) + 1):
        found, root = leaf(design, data, keys[:end]), keys[:end]
        if found is None:
            return None
        if end == len(keys) or found.value is None:
            written = said(meant, root)
            written = _default(found.holders[-1], root[-1]) if written is ABSENT else written
            return Edit(root, f"{named(root)}={toml(written)}")
    return None


def _default(holder: Any, key: str) -> Any:
    if not isinstance(holder, Table):
        return None
    default = (
        type(holder).model_fields[fields(type(holder))[key]].get_default(call_default_factory=True, validated_data={})
    )
    return default.model_dump(by_alias=True, exclude_unset=True) if isinstance(default, Table) else default


def toml(value: Any) -> str:
    """A value as TOML writes it on one line."""
    if value is None or value is ABSENT:
        return json.dumps(NOTHING)
    if isinstance(value, Mapping):
        inner = ", ".join(f"{dotted((key,))} = {toml(one)}" for key, one in value.items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    return json.dumps(value, ensure_ascii=False) if isinstance(value, bool | str) else repr(value)
