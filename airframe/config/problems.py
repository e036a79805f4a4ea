"""What is wrong with a config, as data: where, which key, what was given, what would do."""

from __future__ import annotations

import datetime
import difflib
import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from airframe.config.keylines import Path

LONGEST_SHOWN = 60
"""Characters of a value that a message repeats."""


@dataclass(frozen=True)
class Problem:
    """One thing wrong, in one or two lines of text."""

    file: str
    """The file's path as it was given; for a value from the command line, the setting: "--set gear.track=250"."""
    line: int | None
    """From 1; None where no line is to blame."""
    key: str
    """As it would be written in the file: "wing.panels.0.span"; empty where no key is to blame."""
    given: Any
    """The value in question; None where there is none."""
    message: str
    """What is wrong with it and what would do."""

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        if not self.key or self.file.startswith(f"--set {self.key}="):
            return f"{place}: {self.message}"
        given = "" if self.given is None else f" = {shown(self.given)}"
        return f"{place}: {self.key}{given}: {self.message}"


class ConfigError(ValueError):
    """A config that cannot be used; its text lists all the problems, one after another."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


def dotted(path: Path) -> str:
    """The path as a person writes it after --set: `equipment."spare camera".mass`."""
    return ".".join(
        str(step) if isinstance(step, int) or re.fullmatch(r"[A-Za-z0-9_-]+", step) else json.dumps(step)
        for step in path
    )


def shown(value: Any) -> str:
    """The value as TOML writes it, shortened."""
    text = _toml(value)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 4] + " ..."


def _toml(value: Any) -> str:
    if value is None:
        return '"none"'
    if isinstance(value, dict):
        inside = ", ".join(
            f"{dotted((str(key),))} = {_toml(item)}" for key, item in list(value.items())[:LONGEST_SHOWN]
        )
        return f"{{{inside}}}"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(_toml(item) for item in value[:LONGEST_SHOWN])}]"
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    if isinstance(value, (bool, str)):
        return json.dumps(value, ensure_ascii=False)
    return str(value) if not isinstance(value, int) or abs(value) < 10**LONGEST_SHOWN else "a very large number"


def meant(given: str, names: Iterable[str]) -> str:
    """The words "; did you mean 'track'?", or nothing if no name is near."""
    by_lower = {name.lower(): name for name in names}
    near = difflib.get_close_matches(given.lower(), by_lower, n=1, cutoff=0.5)
    return f"; did you mean '{by_lower[near[0]]}'?" if near else ""


def listed(names: Iterable[str], joint: str = "or") -> str:
    """The names in quotes, as a list in words: '"a", "b" or "c"'."""
    quoted = [json.dumps(name, ensure_ascii=False) for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} {joint} {quoted[-1]}"
