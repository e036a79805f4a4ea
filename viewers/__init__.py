"""What a person sees: the command line, tables, pictures, pages, files."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from airframe.model import Aeroplane


def picture(aeroplane: Aeroplane, file: Path | str, view: Any = "three-quarter") -> Path:
    """Draw the aeroplane with its dimensions: a picture (.png), or a model to turn in a browser (.html).

    `view` is of a .png: "three-quarter", "side", "front", "top", or "sheet" with all four. Raises PictureError where
    nothing can be drawn, WriteError where the file cannot be written, ValueError for another ending.
    """
    from airframe.writing import write_whole
    from viewers import stills, turnable, weight_tables
    from viewers.staging import stage

    path = Path(file)
    if path.suffix.lower() not in (".png", ".html"):
        message = f"cannot draw to '{path.name}'; the name must end in .png or .html"
        raise ValueError(message)
    if path.suffix.lower() == ".html":
        data = turnable.page(stage(aeroplane), weight_tables.group_masses(aeroplane)).encode()
    else:
        data = stills.picture(stage(aeroplane), view)
    write_whole(path, data)
    return path
