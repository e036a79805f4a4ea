"""Pictures of an aeroplane: rendered views, dimensioned and lettered like a working drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from airframe.axes import Array
from viewers import titles
from viewers.annotations import annotate, margins
from viewers.palette import INK_SOFT
from viewers.scene import Dimension, Scene, ViewName
from viewers.sheets import Sheet, png
from viewers.studio import Studio
from viewers.views import VIEWS, Margins, View, extent_mm, framed

if TYPE_CHECKING:
    from PIL import Image

Picture = ViewName | Literal["sheet"]
PICTURES: tuple[Picture, ...] = ("three-quarter", "side", "front", "top", "sheet")

SIZE = (1600, 1200)
SHEET_SIZE = (2546, 1800)
"""The proportions of an A4 sheet."""
SHEET_WEIGHT = 1.3
"""On a sheet of several views, lines and letters are this much bolder than its size would make them."""


def picture(scene: Scene, which: Picture = "three-quarter", size: tuple[int, int] | None = None) -> bytes:
    """A PNG of one view, or of all four on one sheet; size is width and height in pixels.

    Raises PictureError for a senseless size, or where the graphics library is missing.
    """
    width, height = size or (SHEET_SIZE if which == "sheet" else SIZE)
    with Studio(scene) as studio:
        if which == "sheet":
            return png(_general_arrangement(studio, width, height))
        return png(_single(studio, VIEWS[which], width, height))


def pictures(studio: Studio) -> dict[str, bytes]:
    """Every picture of the scene in a studio at its usual size, by name."""
    made: dict[str, bytes] = {name: png(_single(studio, view, *SIZE)) for name, view in VIEWS.items()}
    made["sheet"] = png(_general_arrangement(studio, *SHEET_SIZE))
    return made


def _single(studio: Studio, view: View, width: int, height: int) -> Image.Image:
    sheet = Sheet(width, height, min(width / SIZE[0], height / SIZE[1]))
    dimensions = [d for d in studio.scene.dimensions if view.name in d.views]
    frame = framed(view, studio.points, sheet.field, margins(view, dimensions, sheet.weight))
    annotate(sheet.pen, frame, studio.scene, dimensions, sheet.place(studio, frame))
    return sheet.finished(studio.scene, view.title, frame.scale if view.facing_axes() else None)


def _general_arrangement(studio: Studio, width: int, height: int) -> Image.Image:
    """Top view over side view, three-quarter view over front view; the true views at one scale, in line."""
    weight = min(width / SHEET_SIZE[0], height / SHEET_SIZE[1]) * SHEET_WEIGHT
    sheet = Sheet(width, height, weight)
    shown = {name: _first_shown(studio.scene, name) for name in VIEWS}
    rooms = _shared_margins({name: margins(VIEWS[name], shown[name], weight) for name in VIEWS})
    boxes, scale = _grid(studio.points, rooms, sheet.field)
    for name, box in boxes.items():
        view = VIEWS[name]
        frame = framed(view, studio.points, box, rooms[name], scale if view.facing_axes() else None)
        annotate(sheet.pen, frame, studio.scene, shown[name], sheet.place(studio, frame), is_terse=True)
        corner = (box[0] + 14.0 * weight, box[1] + 18.0 * weight)
        sheet.pen.text(corner, view.title, titles.SMALL, INK_SOFT, "lm")
    return sheet.finished(studio.scene, "general arrangement", scale)


def _first_shown(scene: Scene, name: ViewName) -> list[Dimension]:
    """The dimensions that this view is the best one for: on a sheet each is given once."""
    seen: set[str] = set()
    result = []
    for dimension in scene.dimensions:
        if dimension.name not in seen and dimension.views[0] == name:
            result.append(dimension)
        seen.add(dimension.name)
    return result


def _shared_margins(own: dict[ViewName, Margins]) -> dict[ViewName, Margins]:
    """Views in one column share their left and right margins, views in one row their upper and lower ones."""
    left, right = max(own["top"].left, own["side"].left), max(own["top"].right, own["side"].right)
    top, bottom = max(own["front"].top, own["side"].top), max(own["front"].bottom, own["side"].bottom)
    return {
        "top": Margins(left, own["top"].top, right, own["top"].bottom),
        "side": Margins(left, top, right, bottom),
        "front": Margins(own["front"].left, top, own["front"].right, bottom),
        "three-quarter": own["three-quarter"],
    }


def _grid(
    points: Array, rooms: dict[ViewName, Margins], field: tuple[int, int, int, int]
) -> tuple[dict[ViewName, tuple[int, int, int, int]], float]:
    """The boxes (left, top, width, height) of the four views, and the largest common scale."""
    left, top, width, height = field
    size = {name: np.subtract(*reversed(extent_mm(VIEWS[name], points))) for name in VIEWS}
    across, down = rooms["side"], rooms["front"]
    spare_width = width - across.left - across.right - rooms["front"].left - rooms["front"].right
    spare_height = height - rooms["top"].top - rooms["top"].bottom - down.top - down.bottom
    scale = min(
        spare_width / (size["side"][0] + size["front"][0]),
        spare_height / (size["top"][1] + size["front"][1]),
    )
    first = across.left + across.right + size["side"][0] * scale
    second = rooms["front"].left + rooms["front"].right + size["front"][0] * scale
    column = round(first + (width - first - second) / 2.0)
    lower = down.top + down.bottom + size["front"][1] * scale
    upper = rooms["top"].top + rooms["top"].bottom + size["top"][1] * scale
    row = round(upper + (height - upper - lower) / 2.0)
    boxes: dict[ViewName, tuple[int, int, int, int]] = {
        "top": (left, top, column, row),
        "side": (left, top + row, column, height - row),
        "front": (left + column, top + row, width - column, height - row),
        "three-quarter": (left + column, top, width - column, row),
    }
    return boxes, float(scale)
