"""Which names of files the page may say: plain ones, in the folder they are meant for."""

from __future__ import annotations

import re
from pathlib import Path

LONGEST_NAME = 100
_PLAIN = re.compile(r"[^\W_](?:[\w .()+-]*[\w)+-])?")
"""Begins with a letter or a number, ends with neither point nor space: no hidden file, no option, no folder above."""
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?", re.IGNORECASE)
"""Names that mean a device on Windows, whatever their ending."""


class WrongNameError(ValueError):
    """A name that the page may not say; the message tells what would do."""


def plain(name: str, ending: str = "") -> str:
    """The name, if it is that of a file and of nothing else. Raises WrongNameError."""
    if len(name) > LONGEST_NAME or not _PLAIN.fullmatch(name) or _DEVICES.fullmatch(name):
        message = "write a plain file name: letters, numbers, spaces, - and . only, and no folder"
        raise WrongNameError(message)
    if not name.lower().endswith(ending):
        message = f"the name must end in {ending}"
        raise WrongNameError(message)
    return name


def inside(folder: Path, name: str) -> Path:
    """The path of a name in the folder, which no link leads out of. Raises WrongNameError."""
    path = folder / name
    if path.is_symlink() or path.resolve().parent != folder.resolve():
        message = f"{name} is a link to somewhere else"
        raise WrongNameError(message)
    return path
