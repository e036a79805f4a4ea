"""Reads a design from the builder's files: the only part of the core that opens them."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from airframe import ruler
from airframe.config.problems import ConfigError, Problem
from airframe.config.settings import applied
from airframe.config.tomltext import parsed, too_deep
from airframe.config.wording import material_problems, problems_in
from airframe.config.written import Data, Place, Written, laid_over
from airframe.schema.design import Design
from airframe.schema.published import json_schema
from airframe.schema.walk import cleared

__all__ = [
    "ConfigError",
    "Loaded",
    "Problem",
    "dependencies",
    "from_dict",
    "from_text",
    "json_schema",
    "load",
    "read",
]

LOG = "weighed"
"""The key of the weighing log."""
LARGEST_FILE_BYTES = 1_000_000
"""A config is a few kilobytes; anything near this is another file by mistake."""


@dataclass(frozen=True)
class Loaded:
    """A design and what it was read from."""

    design: Design
    files: tuple[Path, ...]
    """The file that was asked for, then the one it is based on, and so on."""
    data: Data
    """The tables as written, merged, with the settings applied: before validation, units and defaults."""
    as_filed: Design | None = None
    """Where settings change an aeroplane that was weighed: the design without them, of which its log speaks."""
    base: Loaded | None = None
    """What the file is based on, if that, or what that is based on, was weighed: it teaches this one."""


def load(path: Path | str, settings: Sequence[str] = ()) -> Design:
    """The design in a TOML file, with `KEY=VALUE` settings laid over it.

    Raises ConfigError, which lists every problem, for anything that keeps it from being a valid design.
    """
    return read(path, settings).design


def read(path: Path | str, settings: Sequence[str] = (), instead: str | None = None) -> Loaded:
    """As `load`, with the files that were read and the tables as they were written.

    `instead` is read in place of what the file holds, or is yet to hold; what it is based on comes from its folder.
    """
    return _loaded(_chain(Path(path), instead), settings)


def _loaded(chain: Sequence[tuple[Path, Written]], settings: Sequence[str]) -> Loaded:
    written = chain[-1][1]
    for _, redesign in reversed(chain[:-1]):
        written = laid_over(written, redesign)
    files = tuple(file for file, _ in chain)
    names = [str(file) for file in files]
    design, data = _validated(written, settings, names)
    return Loaded(design, files, data, _as_filed(design, written, names) if settings else None, _teacher(chain[1:]))


def _teacher(chain: Sequence[tuple[Path, Written]]) -> Loaded | None:
    """The base design, if a log of it or below it can teach something."""
    if not any(written.data.get(LOG) for _, written in chain):
        return None
    try:
        return _loaded(chain, ())
    except ConfigError:  # not complete by itself, so it was never built
        return None


def _as_filed(design: Design, written: Written, names: list[str]) -> Design | None:
    """The design without settings, if it was weighed and the settings leave its log alone."""
    if not design.weighed:
        return None
    try:
        filed = _validated(written, (), names)[0]
    except ConfigError:  # only the settings make a design of it
        return None
    return filed if filed.weighed == design.weighed else None


def dependencies(path: Path | str) -> tuple[Path, ...]:
    """The file and those it is based on, in that order; a change in any of them may change the design."""
    return tuple(file for file, _ in _chain(Path(path)))


def from_text(text: str, settings: Sequence[str] = (), name: str = "config") -> Design:
    """The design in a TOML text that is based on no other; `name` is what messages call the text."""
    written = parsed(text, name)
    if "based_on" in written.data:
        place = written.place(("based_on",)) or Place(name, None)
        message = "only a file can be based on another, which is looked for beside it"
        raise ConfigError([Problem(*place, "based_on", written.data["based_on"], message)])
    return _validated(written, settings, [name])[0]


def from_dict(data: Mapping[str, Any], settings: Sequence[str] = (), name: str = "config") -> Design:
    """The design in tables such as TOML gives; `name` is what messages call them."""
    if too_deep(data) is not None:
        raise ConfigError([Problem(name, None, "", None, "tables and lists are nested too deeply")])
    return _validated(Written(dict(data), {}), settings, [name])[0]


def _validated(written: Written, settings: Sequence[str], names: list[str]) -> tuple[Design, Data]:
    written, problems = applied(written, settings)
    as_meant = Written(cleared(written.data), written.places, written.anew)
    problems += material_problems(as_meant, names[0])
    try:
        with ruler.reading("imperial" if as_meant.data.get("units") == "imperial" else "metric"):
            design = Design.model_validate(as_meant.data)
    except ValidationError as error:
        problems += problems_in(error, as_meant, names[0])
    if problems:
        problems = [problem for index, problem in enumerate(problems) if problem not in problems[:index]]
        rank = {name: index for index, name in enumerate(names)}
        raise ConfigError(sorted(problems, key=lambda p: (rank.get(p.file, len(rank)), p.line or 0)))
    return design, written.data


# --- files ---------------------------------------------------------------------------------------------


def _chain(first: Path, instead: str | None = None) -> list[tuple[Path, Written]]:
    """The file, or a text in its place, the one it is based on, and so on, each without its own `based_on`."""
    chain: list[tuple[Path, Written]] = []
    seen: list[Path] = []
    file, asked_by = first, Problem(str(first), None, "", None, "")
    while True:
        text = _text(file, asked_by) if instead is None or seen else instead
        if file.resolve() in seen:
            names = " -> ".join(str(one) for one in [*(one for one, _ in chain), file])
            raise _refusal(asked_by, f"the files go round in a circle: {names}")
        seen.append(file.resolve())
        written = parsed(text, str(file))
        base = written.data.pop("based_on", None)
        chain.append((file, written))
        if base is None:
            return chain
        place = written.place(("based_on",)) or Place(str(file), None)
        asked_by = Problem(*place, "based_on", base, "")
        if not isinstance(base, str) or not base:
            raise _refusal(asked_by, "must be the name of a file beside this one, in quotes")
        file = file.parent / base


def _text(file: Path, asked_by: Problem) -> str:
    """The text of a file; ConfigError, at the place that asked for the file, if there is none to be had."""
    try:
        if not file.exists():
            raise _refusal(asked_by, _absent(file))
        if not file.is_file():
            raise _refusal(asked_by, "this is a folder" if file.is_dir() else "this is not a file of text")
        with file.open("rb") as stream:
            content = stream.read(LARGEST_FILE_BYTES + 1)
        if len(content) > LARGEST_FILE_BYTES:
            raise _refusal(asked_by, f"this is larger than {LARGEST_FILE_BYTES // 1_000_000} MB: not a config")
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise _refusal(asked_by, f"this is not UTF-8 text (line {line}); save it as UTF-8") from None
    except OSError as error:
        raise _refusal(asked_by, f"cannot be read: {(error.strerror or str(error)).lower()}") from None
    except RuntimeError:
        raise _refusal(asked_by, "cannot be read: its links go round in a circle") from None


def _absent(file: Path) -> str:
    if not file.parent.is_dir():
        return f"there is no folder {file.parent}"
    # By stem: an ending that all configs share would make any short name look near.
    stems = {one.stem: one for one in file.parent.glob("*.toml") if one.is_file()}
    near = difflib.get_close_matches(file.stem, stems, n=1)
    return "there is no such file" + (f"; did you mean '{stems[near[0]]}'?" if near else "")


def _refusal(asked_by: Problem, message: str) -> ConfigError:
    return ConfigError([Problem(asked_by.file, asked_by.line, asked_by.key, asked_by.given, message)])
