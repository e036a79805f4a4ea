"""Finds the line on which each key of a TOML text is written, which the standard parser does not tell."""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right

Path = tuple[str | int, ...]
"""The way to a value: ("wing", "panels", 0, "span")."""

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY_PART = re.compile(r"\"(?:\\.|[^\"\\\n])*\"|'[^'\n]*'|[A-Za-z0-9_-]+")
_STRING = re.compile(
    r'"""(?:\\.|[^\\])*?"""(?!")'
    r"|'''.*?'''(?!')"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_BARE_VALUE = re.compile(r"[^,\]}#\n]*")


def key_lines(text: str) -> dict[Path, int]:
    """The line (from 1) of every table, row, key and list element in a text that is valid TOML.

    A table or list of tables that is only implied has the line where it is first implied. The empty path
    is not in the result. The text must have been accepted by tomllib; of any other, the result means nothing.
    """
    return _Scanner(text.replace("\r\n", "\n")).scan()


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.newlines = [m.start() for m in re.finditer("\n", text)]
        self.lines: dict[Path, int] = {}
        self.rows: dict[Path, int] = {}

    def scan(self) -> dict[Path, int]:
        table: Path = ()
        while self._skip(_BLANK) < len(self.text):
            if self.text.startswith("[[", self.at):
                table = self._header(2)
            elif self.text.startswith("[", self.at):
                table = self._header(1)
            else:
                self._pair(table)
        return self.lines

    def _skip(self, pattern: re.Pattern[str]) -> int:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise ValueError(f"not TOML at character {self.at}")
        self.at = match.end()
        return self.at

    def _line(self) -> int:
        return bisect_right(self.newlines, self.at - 1) + 1

    def _header(self, brackets: int) -> Path:
        line = self._line()
        self.at += brackets
        keys = self._keys()
        self.at += brackets
        table: Path = ()
        for key in keys[:-1]:
            table = self._into(table, key, line)
        table = (*table, keys[-1])
        if brackets == 2:
            self.lines.setdefault(table, line)
            self.rows[table] = self.rows.get(table, -1) + 1
            table = (*table, self.rows[table])
        self.lines[table] = line
        return table

    def _into(self, table: Path, key: str, line: int) -> Path:
        """The table under a key on the way to another one: of a list of tables, its latest row."""
        inner: Path = (*table, key)
        self.lines.setdefault(inner, line)
        return (*inner, self.rows[inner]) if inner in self.rows else inner

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            start = self.at
            self._skip(_KEY_PART)
            keys.append(_unquoted(self.text[start : self.at]))
            self._skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return keys
            self.at += 1

    def _pair(self, table: Path) -> None:
        line = self._line()
        keys = self._keys()
        for key in keys[:-1]:
            table = (*table, key)
            self.lines.setdefault(table, line)
        self.at += 1
        self._skip(_SPACE)
        self._value((*table, keys[-1]), line)

    def _value(self, path: Path, line: int) -> None:
        self.lines[path] = line
        first = self.text[self.at : self.at + 1]
        if first == "[":
            self._list(path)
        elif first == "{":
            self._inline_table(path)
        else:
            self._skip(_STRING if first in ("'", '"') else _BARE_VALUE)

    def _list(self, path: Path) -> None:
        row = 0
        self.at += 1
        while self._more("]"):
            self._value((*path, row), self._line())
            row += 1

    def _inline_table(self, path: Path) -> None:
        self.at += 1
        while self._more("}"):
            self._pair(path)

    def _more(self, close: str) -> bool:
        """Whether another element follows before the closing bracket, which is passed over."""
        self._skip(_BLANK)
        if self.text.startswith(",", self.at):
            self.at += 1
            self._skip(_BLANK)
        if self.text.startswith(close, self.at):
            self.at += 1
            return False
        return True


def _unquoted(key: str) -> str:
    return str(tomllib.loads(f"key = {key}")["key"]) if key[0] in "\"'" else key
