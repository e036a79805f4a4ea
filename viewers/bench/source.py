"""One reading of a config: its bytes, the aeroplane as filed, and the variants that edits make of it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from airframe.config import ConfigError, Loaded, dependencies, from_dict, read
from airframe.config.settings import applied
from airframe.config.written import Written
from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.store import ShapeStore
from viewers.bench.edits import Edits, settings
from viewers.bench.refusals import Refused

BOM = b"\xef\xbb\xbf"
"""What some editors put before the first letter of a UTF-8 text."""
MOST_READINGS = 5
"""How often a file that is being written meanwhile is read again."""


@dataclass(frozen=True, eq=False)
class Variant:
    """A design that edits make of the one as filed."""

    edits: Edits
    data: Mapping[str, Any]
    """The tables as written, edits applied."""
    aeroplane: Aeroplane

    @property
    def design(self) -> Design:
        """What the tables come to."""
        return self.aeroplane.design


@dataclass(frozen=True, eq=False)
class Source:
    """A config as it was read."""

    contents: Mapping[Path, bytes]
    """Of the file, then of those it is based on."""
    loaded: Loaded
    store: ShapeStore

    @property
    def path(self) -> Path:
        """The file that the edits are laid over."""
        return next(iter(self.contents))

    @property
    def text(self) -> str:
        """What the file said, line endings as they are, without a byte order mark."""
        return self.contents[self.path].removeprefix(BOM).decode()

    @cached_property
    def based_on(self) -> str | None:
        """The name of the file it is based on, if any."""
        name = tomllib.loads(self.text).get("based_on")
        return name if isinstance(name, str) else None

    @cached_property
    def filed(self) -> Variant:
        """The design as it is in the file."""
        return Variant((), self.loaded.data, Aeroplane.loaded(self.loaded, self.store))

    def variant(self, edits: Edits) -> Variant:
        """What edits make of it, weighed. Raises Refused where that is no design or cannot be built.

        It weighs what the file would with these edits in it, and learns from the same weighing logs.
        """
        if not edits:
            return self.filed
        written, problems = applied(Written(self.loaded.data, {}), settings(edits))
        try:
            if problems:
                raise ConfigError(problems)
            variant = Variant(edits, written.data, self.aeroplane(from_dict(written.data)))
        except ConfigError as error:
            raise Refused.config(error) from error
        return built(variant)

    def aeroplane(self, design: Design) -> Aeroplane:
        """Taught by the one as filed if its log speaks of both, or if there is no log; else by what that one is."""
        filed = self.filed.aeroplane
        is_of_its_log = filed.design.weighed == design.weighed
        if (is_of_its_log and design.weighed) or not filed.has_learned:
            return filed.changed(design)
        return filed.taught_by.changed(design) if filed.taught_by is not None else Aeroplane(design, self.store)


def opened(path: Path, store: ShapeStore) -> Source:
    """A config with all the files that it is made of, all from one moment. Raises ConfigError."""
    for _ in range(MOST_READINGS):
        contents = _contents(path)
        loaded = read(path)
        if contents == _contents(path):
            break
    return Source(contents, loaded, store)


def built(variant: Variant) -> Variant:
    """The same, once it is known that it can be weighed. Raises Refused."""
    try:
        _ = variant.aeroplane.statement
    except PartError as error:
        raise Refused.part(error) from error
    return variant


def is_on_disk(source: Source) -> str:
    """Whether the files are still what was read: "same", "changed", or "gone"."""
    try:
        same = all(path.read_bytes() == content for path, content in source.contents.items())
    except FileNotFoundError:
        return "gone"
    except OSError:
        return "changed"
    return "same" if same else "changed"


def _contents(path: Path) -> dict[Path, bytes]:
    return {file: file.read_bytes() for file in dependencies(path)}
