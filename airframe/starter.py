"""The commented config that a builder starts from."""

from __future__ import annotations

import json
import re
import string
from importlib import resources
from pathlib import Path

from airframe.writing import write_new


def starter_text(name: str = "First Light") -> str:
    """The starter config, for an aeroplane of this name."""
    text = resources.files("airframe").joinpath("starter.toml").read_text(encoding="utf-8")
    quoted = json.dumps(name, ensure_ascii=False).replace("\x7f", "\\u007f")
    return re.sub(r'^name = "[^"\n]*"', lambda _: f"name = {quoted}", text, count=1, flags=re.MULTILINE)


def write_starter(path: Path | str) -> None:
    """Write the starter to a new file, and name the aeroplane after the file: "first-light.toml" is First Light.

    Raises WriteError if the file is already there, or its folder is not.
    """
    words = string.capwords(re.sub(r"[-_]+", " ", Path(path).stem)) or "First Light"
    name = words.encode("utf-8", "replace").decode()
    write_new(path, starter_text(name).encode())
