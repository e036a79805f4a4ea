"""A redesign file: based on the config, it states what was solved for and nothing else."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from airframe.config import Loaded, read
from airframe.config.settings import applied, read_setting
from airframe.config.written import Written
from airframe.writing import WriteError


def check_free(path: Path) -> None:
    """Raise WriteError where a file is there already, or its folder is not: before any work is done."""
    if os.path.lexists(path):
        message = f"cannot write {path}: it is already there; choose another name, or remove it first"
        raise WriteError(message)
    if not path.parent.is_dir():
        message = f"cannot write {path}: there is no folder {path.parent}"
        raise WriteError(message)


def text(base: Loaded, path: Path, settings: Sequence[str], words: str) -> str:
    """The file's text, `settings` being those that the config was read with and the answer after them.

    Rows of lists cannot be changed one by one in a redesign: a list of which a row changes is stated whole.
    """
    import tomlkit

    config = base.files[0]
    document = tomlkit.document()
    for line in words.splitlines():
        document.add(tomlkit.comment(line))
    document["based_on"] = Path(os.path.relpath(config.resolve(), path.resolve().parent)).as_posix()
    data = applied(Written(base.data, {}), settings)[0].data
    tables: dict[str, Any] = {}
    for setting in settings:
        _state(tables, data, read_setting(setting)[0])
    for name, value in tables.items():
        document[name] = tomlkit.item(value)
    return tomlkit.dumps(document)


def loaded(path: Path, written: str) -> Loaded:
    """What the file will say when it is read. Raises ConfigError."""
    return read(path, instead=written)


def _state(tables: dict[str, Any], data: Any, keys: tuple[str, ...]) -> None:
    """Copy what is under a key into the tables, with the whole list where a row of one is on the way."""
    holder, held = tables, data
    for step in keys[:-1]:
        if isinstance(held[step], list):
            holder[step] = held[step]
            return
        holder, held = holder.setdefault(step, {}), held[step]
    holder[keys[-1]] = held[keys[-1]]
