"""Writes edits into the text of a config: the touched keys change, everything else stays as its author left it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from airframe.config import ConfigError, Loaded, read
from airframe.schema.design import Design
from airframe.writing import write_whole
from viewers.bench import redesign
from viewers.bench.edits import Edits, named, toml
from viewers.bench.places import Keys
from viewers.bench.refusals import Conflict, Refused
from viewers.bench.source import BOM, Source, Variant

_FILE_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._-]{0,98}[A-Za-z0-9])?\.toml")
_CANNOT = (
    "these edits cannot be written into this file without disturbing what its author wrote; make them by hand, "
    "or save them under another name"
)


def saved(source: Source, variant: Variant, name: str | None, is_replacing: bool) -> Source:
    """Write what edits made of a source into its file, or into one of that name beside it; what is read there now.

    Raises Conflict where that would overwrite what nobody has looked at, unless it is to be replaced; Refused for an
    odd name, and where the file would not give this design; WriteError.
    """
    path = target(source, name)
    _must_have_its_bases(source)
    text = edited(source.text, variant.edits, variant.data)
    loaded = reread(path, text, variant.design)
    if not is_replacing:
        ask_before_overwriting(source, path)
    data = encoded(source, text)
    write_whole(path, data)
    bases = {file: content for file, content in source.contents.items() if file != source.path}
    return Source({path: data, **bases}, loaded, source.store)


def saved_as_redesign(source: Source, variant: Variant, file: str, name: str, is_replacing: bool) -> Source:
    """Write only what the edits change, as an aeroplane of that name, into a file based on the source; what is read.

    Raises as `saved` does; Refused, too, for the source's own file, and for a name that will not do.
    """
    path, name = target(source, file), redesign.named(name)
    redesign.must_be_another(source, path)
    _must_have_its_bases(source, is_own_too=True)
    text = edited(redesign.head(source, name), redesign.in_tables(variant.edits), variant.data)
    loaded = reread(path, text, redesign.expected(variant.design, name))
    if not is_replacing:
        ask_before_overwriting(source, path)
    data = text.encode()
    write_whole(path, data)
    return Source({path: data, **source.contents}, loaded, source.store)


def _must_have_its_bases(source: Source, is_own_too: bool = False) -> None:
    """Raises Refused where a file that the design is based on, or its own, is no longer what was read."""
    for base, content in list(source.contents.items())[0 if is_own_too else 1 :]:
        if not base.is_file() or base.read_bytes() != content:
            message = f"{base.name}, which this design is based on, was changed by another program: reload first"
            raise Refused(message)


def target(source: Source, name: str | None) -> Path:
    """The file to write: the one that was read, or one of that name beside it. Raises Refused for an odd name."""
    if name is None or name == source.path.name:
        return source.path
    if not _FILE_NAME.fullmatch(name):
        message = f"'{name[:60]}' will not do: a plain name that ends in .toml, e.g. 'kestrel-wide.toml'"
        raise Refused(message)
    path = source.path.parent / name
    if path.is_symlink():
        message = f"{name} is a link to another place; choose another name"
        raise Refused(message)
    if any(path.exists() and path.samefile(base) for base in list(source.contents)[1:] if base.exists()):
        message = f"this design is based on {name}; choose another name"
        raise Refused(message)
    return path


def ask_before_overwriting(source: Source, path: Path) -> None:
    """Raises Conflict where the file holds what nobody has looked at here."""
    try:
        held = path.read_bytes()
    except FileNotFoundError:
        if path == source.path:
            message = f"{path.name} is no longer there: it was removed or renamed by another program"
            raise Conflict(message, "changed on disk") from None
        return
    if path != source.path:
        message = f"there is already a file {path.name}"
        raise Conflict(message, "exists")
    if held != source.contents[path]:
        message = f"{path.name} was changed by another program since it was read here"
        raise Conflict(message, "changed on disk")


def reread(path: Path, text: str, design: Design) -> Loaded:
    """What the text says as a config in that place. Raises Refused unless it is this design."""
    try:
        loaded = read(path, instead=text)
    except ConfigError as error:
        raise Refused.config(error) from error
    if loaded.design != design:
        raise Refused(_CANNOT)
    return loaded


def encoded(source: Source, text: str) -> bytes:
    """The text as the file holds it, with the byte order mark that it had."""
    mark = BOM if source.contents[source.path].startswith(BOM) else b""
    return mark + text.encode()


def edited(text: str, edits: Edits, data: Mapping[str, Any]) -> str:
    """The text with every edit in it. Raises Refused where that cannot be done.

    A key that the file inherits is written into it, in its table, which is made if need be; of a list whose rows it
    inherits, the whole list. `data` are the merged tables with the edits applied.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    if not edits:
        return text
    is_dos = "\r\n" in text and re.search(r"(?<!\r)\n", text) is None
    end = "" if text.endswith("\n") else "\r\n" if is_dos else "\n"
    try:
        document = tomlkit.parse(text + end)
        if tomlkit.dumps(document) != text + end:
            raise Refused(_CANNOT)
        made = _Made()
        for one in edits:
            _put(document, one.keys, one.value, data, made)
        made.finish()
        result = made.set_apart(tomlkit.dumps(document))
    except (TOMLKitError, LookupError, TypeError, ValueError, AttributeError) as error:
        raise Refused(_CANNOT) from error
    if is_dos:
        result = re.sub(r"(?<!\r)\n", "\r\n", result)
    return result.removesuffix(end) if end else result


@dataclass
class _Made:
    """The tables that were made, and what comes after them."""

    headings: list[str] = field(default_factory=list)
    loose_ends: list[tuple[Any, list[Any]]] = field(default_factory=list)

    def finish(self) -> None:
        """Put blank lines and comments that stood before the next heading there again."""
        for table, items in self.loose_ends:
            for item in items:
                table.add(item)

    def set_apart(self, text: str) -> str:
        """The text with a blank line before each new heading."""
        for heading in self.headings:
            text = re.sub(rf"(?<!\n)(\r?\n)(?=\[{re.escape(heading)}\]\r?\n)", r"\1\1", text)
        return text


def _put(document: Any, keys: Keys, value: Any, data: Mapping[str, Any], made: _Made) -> None:
    holder, held = document, data
    for index, key in enumerate(keys[:-1]):
        held = held[int(key)] if isinstance(held, list) else held[key]
        if isinstance(holder, list):
            holder = holder[int(key)]
        elif key in holder:
            holder = holder[key]
        elif isinstance(held, list):
            holder[key] = _item(held)
            return
        else:
            holder = _new_table(holder, keys[: index + 1], keys[index + 1 :], held, made)
    last = keys[-1]
    holder[int(last) if isinstance(holder, list) else last] = _item(value)


def _item(value: Any) -> Any:
    """A value as it is written: rows of a list of tables stand one on a line."""
    import tomlkit

    if isinstance(value, list) and any(isinstance(row, dict) for row in value):
        rows = "".join(f"    {toml(row)},\n" for row in value)
        return tomlkit.value(f"[\n{rows}]")
    return tomlkit.value(toml(value))


def _new_table(holder: Any, keys: Keys, below: Keys, held: Mapping[str, Any], made: _Made) -> Any:
    """An empty table under the last of the keys; with a heading of its own, unless what holds it is on one line."""
    import tomlkit
    from tomlkit.items import InlineTable

    if isinstance(holder, InlineTable):
        holder[keys[-1]] = tomlkit.inline_table()
        return holder[keys[-1]]
    is_only_above = len(below) > 1 and isinstance(held[below[0]], dict)
    loose = [] if is_only_above else _loose_end(holder)
    holder[keys[-1]] = tomlkit.table(is_super_table=is_only_above)
    if not is_only_above:
        made.headings.append(named(keys))
        made.loose_ends.append((holder[keys[-1]], loose))
    return holder[keys[-1]]


def _loose_end(holder: Any) -> list[Any]:
    """Blank lines and comments after the last key of a table, taken out of it: they belong to what comes next."""
    from tomlkit import TOMLDocument
    from tomlkit.items import AoT, InlineTable, Table

    if isinstance(holder, TOMLDocument):
        return []  # nothing comes next: a new table is the last one of the file
    container = holder.value
    while container.body:
        last = container.body[-1][1]
        last = last[-1] if isinstance(last, AoT) else last
        if not isinstance(last, Table) or isinstance(last, InlineTable):
            break
        container = last.value
    taken: list[Any] = []
    while container.body and container.body[-1][0] is None:
        taken.insert(0, container.body.pop()[1])
    return taken
