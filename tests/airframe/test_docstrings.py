"""The text under a field says what it means, wherever the class stands, and costs nothing until it is asked for."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

from pydantic import Field

from airframe.schema.base import Length, Table
from airframe.schema.docstrings import described
from airframe.schema.walk import Spot


class Plain:
    """A class of one field and a field that says nothing."""

    width_mm: float
    """Across; of the
    outer faces."""
    bare: float


class Wider(Plain):
    """Adds a field, and says something else of another."""

    width_mm: float
    """As cut."""
    length_mm: float
    """Fore and aft."""

    class Inner:
        """Has fields of its own."""

        depth_mm: float
        """Up and down."""


class Lid(Table):
    """A table with a text of either kind."""

    length_mm: Length
    """Fore and aft."""
    width_mm: Length = Field(description="Across.")
    """Not shown: the field says it itself."""


def test_a_text_is_found_with_its_lines_joined_as_written() -> None:
    """Indentation goes, lines stay; a field without a text is not named."""
    assert described(Plain) == {"width_mm": "Across; of the\nouter faces."}


def test_a_class_has_the_texts_of_its_bases_and_its_own_before_them() -> None:
    """What a class says anew replaces what its base said; a class within it speaks for itself."""
    assert described(Wider) == {"width_mm": "As cut.", "length_mm": "Fore and aft."}
    assert described(Wider.Inner) == {"depth_mm": "Up and down."}


def test_a_class_within_a_function_has_its_texts() -> None:
    """A plug-in may make its table where it likes."""

    class Local(Plain):
        """Within."""

        size_mm: float
        """Of all."""

    assert described(Local)["size_mm"] == "Of all."


def test_a_class_without_source_has_none() -> None:
    """One that was typed in is described by nothing, and that is no error."""
    made: dict[str, Any] = {"__name__": "nowhere"}
    exec("class Typed:\n    a: int\n    'text'\n", made)
    assert described(made["Typed"]) == {}


def test_a_table_shows_its_texts_in_messages_and_in_its_schema() -> None:
    """A description given in the field itself is preferred in both."""
    shown = {key: inside.description for key in ("length", "width") if (inside := Spot(Lid).inside(key)) is not None}
    assert shown == {"length": "Fore and aft.", "width": "Across."}
    properties = Lid.model_json_schema()["properties"]
    assert {key: one["description"] for key, one in properties.items()} == shown


def test_reading_a_good_config_reads_no_source() -> None:
    """Nobody asked what a field means, so no text of a table was looked for."""
    code = (
        "from airframe.config import from_text; from airframe.schema import docstrings;"
        "from airframe.starter import starter_text; from_text(starter_text());"
        "print(docstrings.described.cache_info().currsize)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "0"
