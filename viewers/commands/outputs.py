"""Whether a command can write what it is asked to: nothing is to fail after long work that could be known before it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path


def wrong_with(option: str, path: Path | None, endings: Sequence[str]) -> list[str]:
    """All that is wrong with the name given to an option, a line each; nothing where it is left out."""
    if path is None:
        return []
    found = []
    if path.suffix.lower() not in endings:
        found.append(f"{option} {path}: the name must end in {' or '.join(endings)}")
    why = _not_writable(path)
    if why:
        found.append(f"cannot write {path}: {why}")
    return found


def _not_writable(path: Path) -> str:
    """Why there can be no file of this name; empty where there can."""
    if path.is_dir():
        return "it is a folder"
    if not path.parent.is_dir():
        return f"there is no folder {path.parent}"
    return "" if os.access(path.parent, os.W_OK) else f"nothing may be written in the folder {path.parent}"
