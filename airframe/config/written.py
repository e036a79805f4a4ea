"""What is written and where: the tables of a file, laid over those of the file it is based on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from airframe.config.keylines import Path
from airframe.schema.walk import PLAIN_KIND

Data = dict[str, Any]
"""A table as TOML reads it."""
NOT_INHERITED = ("weighed", "swung")
"""What was measured speaks of the aeroplane in its own file."""


class Place(NamedTuple):
    """Where something is written."""

    file: str
    line: int | None


@dataclass(frozen=True)
class Written:
    """Tables, and the place where each of their keys, rows and sub-tables is written."""

    data: Data
    places: dict[Path, Place]
    anew: frozenset[Path] = frozenset()
    """Items that a redesign gives another kind, so that nothing of what they were is kept."""

    def place(self, path: Path) -> Place | None:
        """Where the path is written, or the closest thing that holds it; None if nothing does."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.places:
                return self.places[path[:end]]
        return None

    def value(self, path: Path) -> Any:
        """What is written at the path. Raises LookupError where nothing is."""
        found: Any = self.data
        for step in path:
            if not isinstance(found, dict | list):
                raise LookupError(path)
            found = found[step]  # type: ignore[index]
        return found


def laid_over(base: Written, top: Written) -> Written:
    """A redesign: tables merge key by key, everything else in `top` replaces what `base` says.

    An item of equipment that changes its kind replaces the whole item. What was weighed and swung is not
    inherited. Neither argument is changed.
    """
    inherited = {key: value for key, value in base.data.items() if key not in NOT_INHERITED}
    replaced: set[Path] = {(key,) for key in NOT_INHERITED}
    data = _merged(inherited, top.data, (), replaced)
    kept = {path: place for path, place in base.places.items() if not _within(path, replaced)}
    before = base.data.get("equipment", {})
    items = frozenset(path for path in replaced if _is_item(path) and path[1] in before)
    return Written(data, kept | top.places, base.anew | items)


def without(written: Written, path: Path) -> dict[Path, Place]:
    """The places of everything but the path and what lies under it."""
    return {other: place for other, place in written.places.items() if not _within(other, {path})}


def _merged(base: Data, top: Data, path: Path, replaced: set[Path]) -> Data:
    result = dict(base)
    for key, value in top.items():
        old, here = result.get(key), (*path, key)
        if isinstance(old, dict) and isinstance(value, dict) and not _is_another(old, value, here):
            result[key] = _merged(old, value, here, replaced)
        else:
            result[key] = value
            replaced.add(here)
    return result


def _is_another(old: Data, new: Data, path: Path) -> bool:
    return _is_item(path) and "kind" in new and new["kind"] != old.get("kind", PLAIN_KIND)


def _is_item(path: Path) -> bool:
    return len(path) == 2 and path[0] == "equipment"


def _within(path: Path, roots: set[Path]) -> bool:
    return any(path[:end] in roots for end in range(1, len(path) + 1))
