"""Desks on copies of the demos; all of a process's desks share their shapes."""

from __future__ import annotations

import shutil
from pathlib import Path

from airframe.config import read
from airframe.model import Aeroplane
from airframe.store import DiskStore, MemoryStore
from viewers.bench.desk import Desk
from viewers.bench.shown import State

CONFIGS = Path(__file__).parents[3] / "configs"
STORE = MemoryStore(DiskStore())
MK1, MK2, PLOVER = "teasel-mk1.toml", "teasel-mk2.toml", "plover.toml"


def desk(folder: Path, name: str = MK2, against: str | None = None) -> Desk:
    """A desk on a fresh copy of a demo in an empty folder."""
    for file in CONFIGS.glob("*.toml"):
        shutil.copy(file, folder / file.name)
    return Desk.opened(folder / name, None if against is None else folder / against, STORE)


def changed(one: Desk, *settings: str, stroke: str | None = None, words: str = "a change") -> State:
    """The answer to a change of what is on the desk."""
    return one.change(one.revision, settings, stroke, words)


def weighed(path: Path, *settings: str) -> Aeroplane:
    """What the command line would weigh."""
    return Aeroplane.loaded(read(path, settings), STORE)


def number(state: State, code: str) -> dict[str, object]:
    """One of the numbers beside the model."""
    return next(one for one in state["numbers"] if one["code"] == code)


def field(state: State, key: str) -> dict[str, object]:
    """One field of a full state."""
    fields = (one for group in state["groups"] for one in group["fields"])
    return next(one for one in fields if one["key"] == key)
