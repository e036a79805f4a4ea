"""Pictures of an aeroplane: rendered views, dimensioned and lettered like a working drawing."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Literal

import numpy as np

from airframe.axes import Array
from viewers import titles
from viewers.annotations import annotate, margins
from viewers.labels import Taken
from viewers.lettering import Pen
from viewers.palette import INK_SOFT, PAPER
from viewers.scene import Dimension, Scene, ViewName
from viewers.studio import PictureError, Studio
from viewers.views import VIEWS, Frame, Margins, View, extent_mm, framed

if TYPE_CHECKING:
    from PIL import Image

Picture = ViewName | Literal["sheet"]
PICTURES: tuple[Picture, ...] = ("three-quarter", "side", "front", "top", "sheet")

FINE = 2
"""Rendered and lettered this many times as large, then reduced: smooth edges."""
SIZE = (1600, 1200)
SHEET_SIZE = (2546, 1800)
"""The proportions of an A4 sheet."""
SMALLEST, LARGEST = 320, 6000
"""Pixels along either side."""
SHEET_WEIGHT = 1.3
"""On a sheet of several views, lines and letters are this much bolder than its size would make them."""


def picture(scene: Scene, which: Picture = "three-quarter", size: tuple[int, int] | None = None) -> bytes:
    """A PNG of one view, or of all four on one sheet; size is width and height in pixels.

    Raises PictureError for a senseless size, or where the graphics library is missing.
    """
    width, height = size or (SHEET_SIZE if which == "sheet" else SIZE)
    if not (SMALLEST <= width <= LARGEST and SMALLEST <= height <= LARGEST):
        message = f"a picture of {width} x {height} cannot be made; each side needs {SMALLEST} to {LARGEST} pixels"
        raise PictureError(message)
    with Studio(scene) as studio:
        if which == "sheet":
            return _png(_general_arrangement(studio, width, height))
        return _png(_single(studio, VIEWS[which], width, height))


def pictures(scene: Scene) -> dict[Picture, bytes]:
    """Every picture at its usual size, by name."""
    with Studio(scene) as studio:
        made: dict[Picture, bytes] = {name: _png(_single(studio, view, *SIZE)) for name, view in VIEWS.items()}
        made["sheet"] = _png(_general_arrangement(studio, *SHEET_SIZE))
    return made


class _Sheet:
    """A sheet of paper in the making."""

    def __init__(self, studio: Studio, width: int, height: int, weight: float) -> None:
        from PIL import Image

        self._studio, self._width, self._height = studio, width, height
        self.weight = weight
        self._image = Image.new("RGB", (width * FINE, height * FINE), PAPER)
        self.pen = Pen(self._image, FINE, weight)
        self._taken = Taken(width, height)
        edge = round(titles.BORDER * weight)
        self.field = (edge, edge, width - 2 * edge, height - 2 * edge - round(titles.FOOT * weight))
        """Where views may lie: left, top, width, height."""

    def place(self, frame: Frame, dimensions: list[Dimension], is_terse: bool = False) -> None:
        """Render one view and draw what belongs to it."""
        shot = self._studio.shot(frame, FINE, self.weight)
        self._image.paste(shot, (frame.left * FINE, frame.top * FINE), shot)
        taken = Taken(self._width, self._height)
        taken.keep_to((frame.left, frame.top, frame.left + frame.width, frame.top + frame.height))
        taken.add_mask(frame.left, frame.top, np.asarray(shot.getchannel("A"))[::FINE, ::FINE] > 0)
        annotate(self.pen, frame, self._studio.scene, dimensions, taken, is_terse)

    def finished(self, title: str, scale: float | None) -> Image.Image:
        """The sheet with its border and foot, reduced to its true size."""
        from PIL import Image

        titles.border(self.pen, self._width, self._height)
        titles.foot(self.pen, self._studio.scene, title, scale, self._width, self._height)
        return self._image.resize((self._width, self._height), Image.Resampling.LANCZOS)


def _single(studio: Studio, view: View, width: int, height: int) -> Image.Image:
    sheet = _Sheet(studio, width, height, min(width / SIZE[0], height / SIZE[1]))
    dimensions = [d for d in studio.scene.dimensions if view.name in d.views]
    frame = framed(view, studio.points, sheet.field, margins(view, dimensions, sheet.weight))
    sheet.place(frame, dimensions)
    return sheet.finished(view.title, frame.scale if view.facing_axes() else None)


def _general_arrangement(studio: Studio, width: int, height: int) -> Image.Image:
    """Top view over side view, three-quarter view over front view; the true views at one scale, in line."""
    weight = min(width / SHEET_SIZE[0], height / SHEET_SIZE[1]) * SHEET_WEIGHT
    sheet = _Sheet(studio, width, height, weight)
    shown = {name: _first_shown(studio.scene, name) for name in VIEWS}
    rooms = _shared_margins({name: margins(VIEWS[name], shown[name], weight) for name in VIEWS})
    boxes, scale = _grid(studio.points, rooms, sheet.field)
    for name, box in boxes.items():
        view = VIEWS[name]
        frame = framed(view, studio.points, box, rooms[name], scale if view.facing_axes() else None)
        sheet.place(frame, shown[name], is_terse=True)
        corner = (box[0] + 14.0 * weight, box[1] + 18.0 * weight)
        sheet.pen.text(corner, view.title, titles.SMALL, INK_SOFT, "lm")
    return sheet.finished("general arrangement", scale)


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


def _png(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "PNG", compress_level=6)
    return buffer.getvalue()
