"""One key of a sweep and the values it takes: `KEY=FROM:TO:N` or `KEY=a,b,c`, as a person types them."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from airframe import units
from airframe.config import ConfigError, Problem
from airframe.config.settings import read_setting
from airframe.sweep.quantities import Unit

MOST_VALUES = 100_000
"""Of one key."""
DIGITS = (15, 17)
"""Of a value between two ends: so many are kept of any decimal number, and so many keep any number apart."""
_RANGE = re.compile(r"(?P<low>.+?)\s*:\s*(?P<high>.+?)\s*:\s*(?P<count>[^:]*)", re.DOTALL)
_ITEM = re.compile(r"\s*((?:\"(?:\\.|[^\"\\])*\"|'[^']*'|\[[^\]]*\]|\{[^}]*\}|[^,\"'\[{])+)\s*(?:,|$)")
_BARE = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?")

Typed = str | float | bool
"""A value as it may be given: "240 mm", a bare number, true or false, a word."""
_Item = tuple[str, object]
"""A value as TOML writes it and as TOML reads it."""


class RangeError(ValueError):
    """What is wrong with the values of one key."""


@dataclass(frozen=True)
class Axis:
    """A key and every value it takes, in order."""

    key: str
    """As after --set: `equipment."spare camera".mass`."""
    path: tuple[str, ...]
    """The same in steps, unquoted; rows of lists as digits."""
    texts: tuple[str, ...]
    """The values as TOML reads them: "\\"240 mm\\"", "3", "true"."""
    values: tuple[float | str, ...]
    """In the unit inside; words as they are."""
    unit: Unit

    @property
    def is_numeric(self) -> bool:
        """Whether every value is a number, in one unit."""
        return all(not isinstance(value, str) for value in self.values)

    def setting(self, index: int) -> str:
        """The --set line of one of its values."""
        return f"{self.key}={self.texts[index]}"

    def telling(self) -> tuple[int, ...]:
        """Which values must be tried to know that all may stand at the key: the outermost numbers, every word."""
        if not self.is_numeric:
            return tuple(dict(zip(self.values, range(len(self.values)), strict=True)).values())
        order = sorted(range(len(self.values)), key=lambda index: self.values[index])
        return tuple(dict.fromkeys((order[0], order[-1])))


Read = tuple[list[Axis], list[Problem]]
"""The axes that could be read, and what was wrong with the others."""


def all_typed(texts: Iterable[str]) -> Read:
    """Every KEY=FROM:TO:N or KEY=a,b,c."""
    return _all(partial(typed, text) for text in texts)


def all_given(keys: Mapping[str, Typed | Sequence[Typed]]) -> Read:
    """Every key with its values from Python."""
    return _all(partial(given, key, values) for key, values in keys.items())


def _all(readers: Iterable[Callable[[], Axis]]) -> Read:
    axes: list[Axis] = []
    problems: list[Problem] = []
    for read in readers:
        try:
            axes.append(read())
        except ConfigError as error:
            problems += error.problems
    return axes, problems


def typed(text: str) -> Axis:
    """The axis of one KEY=FROM:TO:N or KEY=a,b,c. Raises ConfigError."""
    key, found, values = text.partition("=")
    # A quoted step of the key may hold the sign too; the config's reader knows where it ends.
    while found and key.count('"') % 2:
        more, found, values = values.partition("=")
        key = f"{key}={more}"
    if not found or not key.strip():
        raise _refusal(text, "must be KEY=FROM:TO:N or KEY=a,b,c, e.g. gear.track='200 mm:300 mm:11'")
    try:
        return _axis(key.strip(), _listed(_unwrapped(values.strip())))
    except RangeError as error:
        raise _refusal(text, str(error)) from None


def _unwrapped(text: str) -> str:
    """A range without the quotes round it, which a shell takes off and quotes round the whole word keep."""
    inner = text[1:-1]
    is_wrapped = len(text) > 1 and text[0] == text[-1] and text[0] in "\"'" and text[0] not in inner
    low, colon, _ = inner.partition(":")
    return inner if is_wrapped and colon and _number(low) is not None else text


def given(key: str, values: Typed | Sequence[Typed]) -> Axis:
    """The axis of a key with values from Python: texts with units, numbers, or "FROM:TO:N". Raises ConfigError."""
    if isinstance(values, (bool, int, float)):
        values = [values]
    try:
        return _axis(key, _listed(values) if isinstance(values, str) else [_plain(value) for value in values])
    except RangeError as error:
        raise _refusal(key, str(error)) from None


def _refusal(text: str, message: str) -> ConfigError:
    return ConfigError([Problem(text, None, "", None, message)])


def _axis(key: str, items: Sequence[_Item]) -> Axis:
    if not items:
        raise RangeError("needs at least one value")
    if len(items) > MOST_VALUES:
        raise RangeError(f"{len(items)} values are too many; at most {MOST_VALUES} for one key")
    path, _ = read_setting(f"{key}={items[0][0]}")
    unit, inside = _inside([value for _, value in items])
    return Axis(key, path, tuple(text for text, _ in items), tuple(inside), unit)


def _inside(values: Sequence[object]) -> tuple[Unit, list[float | str]]:
    """Numbers in the unit inside, where all are quantities of one kind or all bare; else words."""
    numbers = [float(value) for value in values if isinstance(value, (int, float)) and not isinstance(value, bool)]
    if len(numbers) == len(values):
        return Unit(""), list(numbers)
    kind = units.written_in(values[0]) if isinstance(values[0], str) else None
    if kind is not None:
        with suppress(units.UnitError):
            return Unit(kind[0].internal), [units.parse(value, kind[0]) for value in values]
    return Unit(""), [value if isinstance(value, str) else json.dumps(value, ensure_ascii=False) for value in values]


def _listed(text: str) -> list[_Item]:
    """The values of FROM:TO:N, or of a, b, c."""
    match = _RANGE.fullmatch(text)
    if match is not None and (_number(match["low"]) is not None or _number(match["high"]) is not None):
        return _between(match["low"], match["high"], match["count"])
    if text.count(":") == 1 and all(_number(end) is not None for end in text.split(":")):
        raise RangeError(f"how many values? write {text}:11 for eleven of them, both ends included")
    items: list[_Item] = []
    at = 0
    while at < len(text):
        item = _ITEM.match(text, at)
        if item is None or not item[1].strip():
            raise RangeError("must be values with commas between them, e.g. 240 mm, 260 mm")
        items.append(_as_toml(item[1].strip()))
        at = item.end()
    if text.endswith(","):
        raise RangeError("ends with a comma: a value is missing")
    return items


def _between(low: str, high: str, count: str) -> list[_Item]:
    """Equal steps from one end to the other, in the unit of the first."""
    if not re.fullmatch(r"[0-9]+", count) or int(count) < 2:
        raise RangeError(f"the number of values must be a whole number, 2 or more, not '{count}'")
    if int(count) > MOST_VALUES:
        raise RangeError(f"{count} values are too many; at most {MOST_VALUES} for one key")
    first, last = _number(low), _number(high)
    if first is None or last is None or first[1] != last[1]:
        raise RangeError(_not_alike(low, high, first, last))
    steps = int(count) - 1
    written = units.written_in(low)
    if written is None:
        exact = [first[0] + (last[0] - first[0]) * Fraction(k, steps) for k in range(steps + 1)]
        if all(one.denominator == 1 for one in exact):
            return [(str(one.numerator), one.numerator) for one in exact]
        return [(repr(float(one)), float(one)) for one in exact]
    start, end = (_in_unit(one[0], *written) for one in (first, last))
    a, b = float(start.split()[0]), float(end.split()[0])
    inner = [f"{a + (b - a) * (k / steps):.{DIGITS[0]}g} {written[1]}" for k in range(1, steps)]
    return [(f'"{text}"', text) for text in (start, *inner, end)]


def _in_unit(exact: Fraction, kind: units.Dimension, unit: str) -> str:
    """An end of the range in the unit of the first, with as many digits as give it back when it is read."""
    value = float(exact / Fraction(str(kind.factors[unit])))
    short, full = (f"{value:.{digits}g} {unit}" for digits in DIGITS)
    return short if units.parse(short, kind) == float(exact) else full


def _not_alike(low: str, high: str, first: object, last: object) -> str:
    if first is None or last is None:
        wrong = low if first is None else high
        return f"'{wrong}' is not a number with its unit; write FROM:TO:N, e.g. 200 mm:300 mm:11"
    return f"'{low}' and '{high}' must be quantities of one kind, both with a unit, e.g. 200 mm:300 mm:11"


def _number(text: str) -> tuple[Fraction, str] | None:
    """A quantity in internal units with the name of its kind, or a bare number; None for anything else."""
    text = text.strip().strip("\"'")
    if _BARE.fullmatch(text):
        return Fraction(text), ""
    kind = units.written_in(text)
    return None if kind is None else (Fraction(units.parse(text, kind[0])), kind[0].name)


def _as_toml(text: str) -> _Item:
    """A value as typed in a shell: what is not TOML is text whose quotes the shell took off."""
    with suppress(ValueError):
        read = tomllib.loads(f"value = {text}")
        if len(read) == 1:
            return text, read["value"]
    return json.dumps(text, ensure_ascii=False), text


def _plain(value: Typed) -> _Item:
    """A value from Python, numbers of an array library too."""
    plain = value.item() if hasattr(value, "item") else value
    if isinstance(plain, bool):
        return str(plain).lower(), plain
    return (repr(plain), plain) if isinstance(plain, (int, float)) else (json.dumps(str(plain)), str(plain))
