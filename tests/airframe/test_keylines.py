"""The line of every key, in any way of writing TOML."""

from __future__ import annotations

import json
import random
import tomllib
from collections.abc import Iterator
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.config.keylines import Path, key_lines

TEXT = '''\
# a comment with [brackets] and "quotes
name = "x"   # = "y"
"odd key".'other.key'.plain = 1

[wing]
panels = [
    # the "centre" ]
    {span = "1 mm", chord = "a } b"}, {span = "2 mm"},
    {span = "3 mm"},
    # a comment
    # {span = "4 mm"}
]
note = """
[not.a.table]
key = "no"\\""""""
literal = \'\'\'
it's = here
\'\'\'
when = 1979-05-27 07:32:00 # a blank in a value
[ wing . spar ]
width="6 mm"
[[fuselage.formers]]
name = "one"
[fuselage.formers.hole]
size = 1
[[fuselage.formers]]

name = "two"
[[fuselage.formers.notes]]
a.b = 1
[fuselage]
width = "60 mm"
'''


def test_a_text_with_every_way_to_write() -> None:
    """Lines counted by hand in a text that holds every form."""
    tomllib.loads(TEXT)
    lines = key_lines(TEXT)
    expected: dict[Path, int] = {
        ("name",): 2,
        ("odd key",): 3,
        ("odd key", "other.key"): 3,
        ("odd key", "other.key", "plain"): 3,
        ("wing",): 5,
        ("wing", "panels"): 6,
        ("wing", "panels", 0): 8,
        ("wing", "panels", 0, "span"): 8,
        ("wing", "panels", 0, "chord"): 8,
        ("wing", "panels", 1): 8,
        ("wing", "panels", 1, "span"): 8,
        ("wing", "panels", 2): 9,
        ("wing", "panels", 2, "span"): 9,
        ("wing", "note"): 13,
        ("wing", "literal"): 16,
        ("wing", "when"): 19,
        ("wing", "spar"): 20,
        ("wing", "spar", "width"): 21,
        ("fuselage", "formers"): 22,
        ("fuselage", "formers", 0): 22,
        ("fuselage", "formers", 0, "name"): 23,
        ("fuselage", "formers", 0, "hole"): 24,
        ("fuselage", "formers", 0, "hole", "size"): 25,
        ("fuselage", "formers", 1): 26,
        ("fuselage", "formers", 1, "name"): 28,
        ("fuselage", "formers", 1, "notes"): 29,
        ("fuselage", "formers", 1, "notes", 0): 29,
        ("fuselage", "formers", 1, "notes", 0, "a"): 30,
        ("fuselage", "formers", 1, "notes", 0, "a", "b"): 30,
        ("fuselage",): 31,
        ("fuselage", "width"): 32,
    }
    assert lines == expected


def test_windows_line_ends() -> None:
    """CR LF ends one line, not two, and hides in no value."""
    assert key_lines("a = 1\r\nb = '''\r\n\r\n'''\r\nc = 2\r\n") == {("a",): 1, ("b",): 2, ("c",): 5}


# --- any text: a writer that knows where it puts things is the oracle ----------------------------------

KEY = st.one_of(st.text("abcxyz_-019", min_size=1, max_size=4), st.text("ab .=#\"\\[]{}'é", min_size=0, max_size=4))
SCALAR = st.one_of(st.integers(-99, 99), st.booleans(), st.floats(-9, 9), st.text("ab ,=#\"\\[]{}'\n", max_size=6))
VALUE = st.recursive(
    SCALAR, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEY, inner, max_size=3), max_leaves=6
)
TABLE = st.recursive(
    st.dictionaries(KEY, VALUE, max_size=3),
    lambda inner: st.dictionaries(KEY, inner | st.lists(inner, min_size=1, max_size=3) | VALUE, max_size=4),
    max_leaves=8,
)


class _Writer:
    """Writes a table as TOML, in a style drawn at random, noting the line of everything."""

    def __init__(self, choose: Any) -> None:
        self.text = ""
        self.lines: dict[Path, int] = {}
        self.choose = choose

    def put(self, text: str) -> None:
        self.text += text

    def note(self, path: Path) -> None:
        self.lines[path] = self.text.count("\n") + 1

    def blank(self, may_break: bool = False) -> None:
        self.put(self.choose(["", " ", "\t"] + (["\n", " # a ] , } = comment\n"] if may_break else [])))

    def key(self, key: str) -> None:
        is_bare = key != "" and all(c in "abcxyz_-019" for c in key)
        forms = [json.dumps(key, ensure_ascii=False)]
        forms += [key] if is_bare else []
        forms += [f"'{key}'"] if "'" not in key else []
        self.put(self.choose(forms))

    def value(self, path: Path, value: Any, one_line: bool = False) -> None:
        self.note(path)
        if isinstance(value, dict):
            self.put("{")
            for index, (key, item) in enumerate(value.items()):
                self.put("," if index else "")
                self.blank()
                self.pair((*path, key), key, item, one_line=True)
            self.put("}")
        elif isinstance(value, list):
            self.put("[")
            for index, item in enumerate(value):
                self.blank(may_break=True)
                self.value((*path, index), item)
                self.blank(may_break=True)
                self.put("," if index < len(value) - 1 else self.choose(["", ","]))
            self.blank(may_break=True)
            self.put("]")
        elif isinstance(value, str):
            self.put(self.choose(list(_strings(value))))
        else:
            self.put(json.dumps(value))

    def pair(self, path: Path, key: str, value: Any, one_line: bool = False) -> None:
        self.note(path)
        self.key(key)
        if isinstance(value, dict) and len(value) == 1 and self.choose([True, False]):
            inner, value = next(iter(value.items()))
            self.put(self.choose([".", " . "]))
            self.pair((*path, inner), inner, value, one_line)
            return
        self.blank()
        self.put("=")
        self.blank()
        self.value(path, value, one_line)

    def header(self, path: Path, brackets: int) -> None:
        self.put(self.choose(["", "\n", "# [no.table]\n", "\t"]))
        self.note(path)
        self.put("[" * brackets)
        for index, key in enumerate(k for k in path if isinstance(k, str)):
            self.put("." if index else "")
            self.blank()
            self.key(key)
            self.blank()
        self.put("]" * brackets + self.choose(["\n", " # end\n", "\n\n"]))

    def table(self, path: Path, table: dict[str, Any]) -> None:
        later = {k: v for k, v in table.items() if self._may_have_headers(v) and self.choose([True, True, False])}
        for key, value in table.items():
            if key not in later:
                self.put(self.choose(["", "\n", "  "]))
                self.pair((*path, key), key, value)
                self.put(self.choose(["\n", "  # it's a note\n"]))
        for key, value in later.items():
            for index, row in enumerate(value if isinstance(value, list) else [value]):
                inner = (*path, key, index) if isinstance(value, list) else (*path, key)
                self.header(inner, 2 if isinstance(value, list) else 1)
                self.lines.setdefault((*path, key), self.lines[inner])
                self.table(inner, row)

    @staticmethod
    def _may_have_headers(value: Any) -> bool:
        rows = value if isinstance(value, list) else [value]
        return bool(rows) and all(isinstance(row, dict) for row in rows)


def _strings(value: str) -> Iterator[str]:
    escaped = value.replace("\\", "\\\\")
    yield json.dumps(value)
    yield '"""\n' + escaped.replace('"', '\\"') + '"""'
    if '"""' not in value and not value.endswith('"""'):
        yield '"""\n' + escaped + '"""'
    if "'" not in value:
        yield f"'''\n{value}'''"
        if "\n" not in value:
            yield f"'{value}'"


@settings(max_examples=300, deadline=None)
@given(TABLE, st.integers(0, 999))
def test_any_text(table: dict[str, Any], seed: int) -> None:
    """Whatever a writer puts down in whatever style, the scanner finds each thing on the line it was put."""
    writer = _Writer(random.Random(seed).choice)
    writer.table((), table)
    assert tomllib.loads(writer.text) == table
    assert key_lines(writer.text) == writer.lines
