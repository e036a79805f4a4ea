"""Reads one TOML text into what it says and where, or says in plain words where it is not TOML."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from airframe.config.keylines import key_lines
from airframe.config.problems import ConfigError, Problem, dotted
from airframe.config.written import Place, Written

DEEPEST = 12
"""Tables and lists within each other; the deepest a design needs is 6."""

_QUOTES = 'text needs quotes, as in name = "First Light", and so does a size with its unit, as in width = "84 mm"'
_IN_WORDS = {
    "Expected '=' after a key": 'here a key must be followed by = and its value, as in width = "84 mm"',
    "Invalid value": f"this is not a value; {_QUOTES}",
    "Expected newline or end of document": f"nothing more may follow on this line; {_QUOTES}",
    "Unclosed array": "the list is not closed: a ] or a comma is missing",
    "Unclosed inline table": "the table is not closed: a } or a comma is missing",
    "Unterminated string": "the quote is not closed",
    "Illegal character '\\n'": "the quote is not closed on its line",
    "Unescaped '\\' in a string": "a backslash within quotes must be doubled",
    "Cannot overwrite a value": "this key has been given before",
    "Duplicate inline table key": "this key has been given before",
    "Cannot declare": "this table has been opened before",
    "Cannot redefine": "this table has been opened before",
    "Cannot mutate": "this table was closed where it was given; no more can be added here",
    "Expected ']' at the end of a table declaration": "the name of the table is not closed with ]",
    "Expected ']]' at the end of an array declaration": "the name of the row is not closed with ]]",
    "Invalid initial character for a key part": "here a key is wanted: letters, digits, - and _, or any text in quotes",
    "Invalid statement": 'this is neither key = value nor a [table]; a comment starts with "#"',
    "Invalid date or datetime": "there is no such date or time",
}
"""What the standard parser's messages mean to a builder, by how they start."""


def parsed(text: str, name: str) -> Written:
    """The tables of a TOML text and the place of every key; `name` is what messages call the text.

    Raises ConfigError with the line and column where the text stops being TOML.
    """
    try:
        data = tomllib.loads(text)
    except RecursionError:
        raise ConfigError([Problem(name, None, "", None, "tables and lists are nested too deeply")]) from None
    except ValueError as error:
        raise ConfigError([_syntax_problem(str(error), text, name)]) from None
    deep = too_deep(data)
    if deep is not None:
        raise ConfigError([Problem(name, None, deep, None, "tables and lists are nested too deeply")])
    return Written(data, {path: Place(name, line) for path, line in key_lines(text).items()})


def too_deep(data: Any) -> str | None:
    """The start of the first path that is deeper than any design can be; None if there is none."""
    waiting: list[tuple[tuple[str | int, ...], Any]] = [((), data)]
    while waiting:
        path, value = waiting.pop()
        if len(path) > DEEPEST:
            return dotted(path[:3]) + " ..."
        if isinstance(value, dict):
            waiting += [((*path, key), inner) for key, inner in value.items()]
        elif isinstance(value, list):
            waiting += [((*path, index), inner) for index, inner in enumerate(value)]
    return None


def _syntax_problem(message: str, text: str, name: str) -> Problem:
    lines = text.split("\n")
    place = re.search(r"\(at line (\d+), column (\d+)\)", message)
    number, column = (int(place[1]), int(place[2])) if place else (len(lines), len(lines[-1]) + 1)
    if number > 1 and not lines[number - 1].strip() and column <= 1:
        number, column = number - 1, len(lines[number - 2]) + 1
    plain = re.sub(r" \(at .*\)$", "", message)
    words = next((words for start, words in _IN_WORDS.items() if plain.startswith(start)), plain)
    return Problem(name, number, "", None, f"column {column}: {words}\n{_excerpt(lines[number - 1], column)}")


def _excerpt(line: str, column: int, width: int = 100) -> str:
    """The part of the line around the column, and under it a mark that points at the column."""
    clean = "".join(character if character.isprintable() else " " for character in line.rstrip("\r"))
    start = max(0, column - 1 - width // 2)
    return f"    {clean[start : start + width]}\n    {' ' * (column - 1 - start)}^"
