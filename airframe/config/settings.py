"""Settings from the command line, KEY=VALUE, laid over what the files say."""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Sequence
from typing import Any

from airframe.config.keylines import Path
from airframe.config.problems import ConfigError, Problem, dotted, shown
from airframe.config.tomltext import DEEPEST, too_deep
from airframe.config.written import Data, Place, Written, without

_PART = r"\"(?:\\.|[^\"\\])*\"|'[^']*'|[^\s.=\"'](?:[^.=\"']*[^\s.=\"'])?"
_SETTING = re.compile(rf"\s*((?:{_PART})(?:\s*\.\s*(?:{_PART}))*)\s*=(.*)", re.DOTALL)
_BRACKETED = re.compile(r"([A-Za-z0-9_-]+)\[\s*([0-9]+)\s*\]")
LONGEST_SETTING_SHOWN = 60
"""Characters of a setting that a message repeats."""


class _SettingError(ValueError):
    """What is wrong with one setting."""


def applied(written: Written, settings: Sequence[str]) -> tuple[Written, list[Problem]]:
    """The tables with every KEY=VALUE applied in turn, and what was wrong with those that could not be.

    A key is dotted, as in `equipment.battery.station` or `wing.panels.0.span`; a part may be quoted. The
    value is read as TOML if it is TOML, else as text, because the shell takes the quotes off. A setting
    replaces what is at its key; tables on the way that do not exist are made, rows of lists are not.
    """
    data, places, problems = copy.deepcopy(written.data) if settings else written.data, dict(written.places), []
    for setting in settings:
        place = Place(f"--set {_short(setting)}", None)
        try:
            keys, value = _split(setting)
            path = _put(data, keys, value)
        except _SettingError as error:
            problems.append(Problem(place.file, None, "", None, str(error)))
        else:
            places = without(Written(data, places), path) | {path: place}
    return Written(data, places, written.anew), problems


def read_setting(setting: str) -> tuple[tuple[str, ...], Any]:
    """The keys that a KEY=VALUE names, unquoted, and its value. Raises ConfigError for what is no setting."""
    try:
        keys, value = _split(setting)
    except _SettingError as error:
        raise ConfigError([Problem(f"--set {_short(setting)}", None, "", None, str(error))]) from None
    return tuple(keys), value


def _split(setting: str) -> tuple[list[str], Any]:
    match = _SETTING.fullmatch(setting)
    if match is None:
        raise _SettingError('must be KEY=VALUE, e.g. gear.track="240 mm"')
    parts = re.findall(_PART, match[1])
    bracketed = next((part for part in parts if _BRACKETED.fullmatch(part)), None)
    if bracketed is not None:
        instead = _BRACKETED.sub(r"\1.\2", bracketed)
        raise _SettingError(f"rows of a list are counted from 0 after a point: write {instead}, not {bracketed}")
    keys = [_unquoted(part) for part in parts]
    if keys[0] == "based_on":
        raise _SettingError("based_on can only be written in the file")
    value = _value(match[2].strip())
    if len(keys) > DEEPEST or too_deep({"value": value}):
        raise _SettingError("tables and lists are nested too deeply")
    return keys, value


def _value(text: str) -> Any:
    try:
        read = tomllib.loads(f"value = {text}")
    except (ValueError, RecursionError):
        return text
    return read["value"] if len(read) == 1 else text


def _unquoted(part: str) -> str:
    if part[0] == "'":
        return part[1:-1]
    return str(_value(part)) if part[0] == '"' else part


def _put(data: Data, keys: list[str], value: Any) -> Path:
    """Set the value under the keys, in place; the path of what is new: the value, or the first table made for it."""
    holder: Any = data
    path: Path = ()
    made: Path | None = None
    for key in keys[:-1]:
        step = _step(holder, key, path)
        path = (*path, step)
        if isinstance(holder, dict) and step not in holder:
            holder[step] = {}
            made = made or path
        holder = holder[step]
    step = _step(holder, keys[-1], path)
    holder[step] = value
    return made or (*path, step)


def _step(holder: Any, key: str, path: Path) -> str | int:
    if isinstance(holder, dict):
        return key
    if not isinstance(holder, list):
        raise _SettingError(f"{dotted(path)} is {shown(holder)}, not a table")
    if re.fullmatch(r"[0-9]{1,6}", key) and int(key) < len(holder):
        return int(key)
    rows = f"has rows 0 to {len(holder) - 1}" if holder else "has no rows"
    raise _SettingError(f"{dotted(path)} is a list and {rows}; there is no {key}")


def _short(setting: str) -> str:
    printable = "".join(c if c.isprintable() else " " for c in setting)
    return printable if len(printable) <= LONGEST_SETTING_SHOWN else printable[: LONGEST_SETTING_SHOWN - 4] + " ..."
