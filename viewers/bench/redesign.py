"""A redesign: a file of its own that states only what the edits change, based on the file that they were laid over."""

from __future__ import annotations

import re
from pathlib import Path

from airframe.schema.design import Design
from viewers.bench.edits import Edit, Edits, toml
from viewers.bench.refusals import Refused
from viewers.bench.source import Source

LONGEST_NAME = 80
"""Letters of an aeroplane's name: more do not fit into the drawing's title block."""
_MARK = re.compile(r"(?P<stem>.*\bMk ?)(?P<number>\d{1,3})", re.IGNORECASE)
"""How builders number what they build."""


def proposed(source: Source) -> dict[str, str]:
    """The next name whose file is still free in the folder, and that file, for the page to offer."""
    taken = {path.name.lower() for path in source.path.parent.glob("*.toml")}
    name = next_name(source.filed.design.name)
    for _ in taken:
        if file_name(name) not in taken:
            break
        name = next_name(name)
    return {"name": name, "file": file_name(name)}


def next_name(name: str) -> str:
    """What follows an aeroplane of that name: Teasel Mk 1 is followed by Teasel Mk 2."""
    found = _MARK.fullmatch(name)
    return f"{found['stem']}{int(found['number']) + 1}" if found else f"{name} Mk 2"


def file_name(name: str) -> str:
    """The file of an aeroplane: that of Teasel Mk 2 is teasel-mk2.toml."""
    joined = re.sub(r"\b(mk) (?=\d)", r"\1", name.lower())
    return f"{re.sub(r'[^a-z0-9]+', '-', joined).strip('-')[:LONGEST_NAME] or 'redesign'}.toml"


def named(name: str) -> str:
    """The name without stray spaces. Raises Refused for one that will not do."""
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        message = f"a redesign needs a name of its own, of up to {LONGEST_NAME} letters"
        raise Refused(message)
    return name


def head(source: Source, name: str) -> str:
    """How the file begins: what it is, its name, and what it is based on."""
    words = f"# What changes from {_on_one_line(source.filed.design.name)}; all else is as in {source.path.name}.\n\n"
    return words + f"name = {toml(name)}\nbased_on = {toml(source.path.name)}\n"


def in_tables(edits: Edits) -> Edits:
    """The edits with those of one table together, its own keys before the tables in it."""
    first: dict[tuple[str, ...], int] = {}
    for number, one in enumerate(edits):
        for end in range(1, len(one.keys) + 1):
            first.setdefault(one.keys[:end], number)

    def place(one: Edit) -> list[tuple[bool, int]]:
        ends = range(1, len(one.keys) + 1)
        return [(end < len(one.keys), first[one.keys[:end]]) for end in ends]

    return tuple(sorted(edits, key=place))


def expected(design: Design, name: str) -> Design:
    """The design that the redesign must come to: what was weighed and swung speaks of the old aeroplane."""
    return design.model_copy(update={"name": name, "weighed": (), "swung": ()})


def must_be_another(source: Source, path: Path) -> None:
    """Raises Refused where the redesign would take the place of what it is based on."""
    if path == source.path or (path.exists() and path.samefile(source.path)):
        message = f"a redesign of {source.path.name} needs a file of its own: choose another name"
        raise Refused(message)


def _on_one_line(name: str) -> str:
    return " ".join(name.split())
