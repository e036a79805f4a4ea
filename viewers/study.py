"""The main job in one go: weigh, draw, and write a folder that holds everything there is to see."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from airframe.writing import WriteError, write_whole
from viewers import report, stills, tables, turnable
from viewers.scene import stage

if TYPE_CHECKING:
    from airframe.model import Aeroplane

REPORT = "report.html"


def study(aeroplane: Aeroplane, folder: Path, tell: Callable[[str], None] = lambda _: None) -> tuple[Path, ...]:
    """Write report, turnable model, pictures and weights into the folder, which is made if need be.

    The report comes first among the returned paths. Nothing is written before everything is made.
    Raises PartError, PictureError or WriteError.
    """
    weights = json.dumps(tables.as_json(aeroplane), indent=1)
    tell("setting the scene")
    scene = stage(aeroplane)
    model = turnable.page(scene, tables.group_masses(aeroplane))
    tell("drawing")
    pictures: dict[str, bytes] = dict(stills.pictures(scene).items())
    tell("writing")
    page = report.report(aeroplane, pictures, model)
    contents = {REPORT: page.encode(), "model.html": model.encode(), "weights.json": weights.encode()}
    contents |= {f"{name}.png": data for name, data in pictures.items()}
    _make(folder)
    for name, data in contents.items():
        write_whole(folder / name, data)
    return tuple(folder / name for name in contents)


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        message = f"cannot make the folder {folder}: {(error.strerror or str(error)).lower()}"
        raise WriteError(message) from error
