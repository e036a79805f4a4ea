"""Paint, filler and covering tape on chosen faces of the parts that are cut from sheet."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from fnmatch import fnmatchcase

from airframe.drawing import Film, Panel, Part, PartError
from airframe.layout import Layout
from airframe.parts.common import FINISH
from airframe.schema.design import Finish


def parts(layout: Layout, structure: Iterable[Part]) -> list[Part]:
    """A film for every sheet part that an entry of the design's finish list names, by its own name or its group's.

    PartError for an entry that names nothing, or only parts that are not cut from sheet.
    """
    candidates = list(structure)
    taken: set[str] = set()
    coats = []
    for entry in layout.design.finish:
        material = layout.design.material(entry.material).in_coats(entry.coats)
        for part, panel in _panels(entry, candidates):
            name = _free_name(f"{entry.material}, {part.name}", entry, taken)
            coats.append(Part(name, FINISH, Film(panel, entry.face), part.place, material))
    return coats


def _panels(entry: Finish, candidates: list[Part]) -> list[tuple[Part, Panel]]:
    pattern = entry.on.lower()
    named = [
        part
        for part in candidates
        if fnmatchcase(part.name.lower(), pattern) or fnmatchcase(part.group.lower(), pattern)
    ]
    panels = [(part, part.shape) for part in named if isinstance(part.shape, Panel)]
    if panels:
        return panels
    sheets = sorted({part.name for part in candidates if isinstance(part.shape, Panel)})
    near = get_close_matches(entry.on, [*sheets, *{part.group for part in candidates}], n=3, cutoff=0.4)
    hint = f"; did you mean {' or '.join(repr(name) for name in near)}?" if near else ""
    problem = "names only parts that are not cut from sheet" if named else "names no part or group"
    raise PartError(f"finish '{entry.on}'", problem + hint)


def _free_name(name: str, entry: Finish, taken: set[str]) -> str:
    """The name, told apart from a film on the part's other face or a second one on the same face."""
    if entry.face != "outer":
        name += ", inner face" if entry.face == "inner" else ", both faces"
    free, count = name, 1
    while free in taken:
        count += 1
        free = f"{name} ({count})"
    taken.add(free)
    return free
