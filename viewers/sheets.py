"""A sheet of paper in the making: views are pasted on it, lettered, and framed with a border and a foot."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np

from viewers import titles
from viewers.labels import Taken
from viewers.lettering import Pen
from viewers.palette import PAPER
from viewers.scene import Scene
from viewers.studio import PictureError, Studio
from viewers.views import Frame

if TYPE_CHECKING:
    from PIL import Image

FINE = 2
"""Rendered and lettered this many times as large, then reduced: smooth edges."""
SMALLEST, LARGEST = 320, 6000
"""Pixels along either side."""


class Sheet:
    """A sheet of so many pixels; lines and letters are `weight` times their usual size."""

    def __init__(self, width: int, height: int, weight: float) -> None:
        from PIL import Image

        if not (SMALLEST <= width <= LARGEST and SMALLEST <= height <= LARGEST):
            message = f"a picture of {width} x {height} cannot be made; each side needs {SMALLEST} to {LARGEST} pixels"
            raise PictureError(message)
        self._width, self._height = width, height
        self.weight = weight
        self._image = Image.new("RGB", (width * FINE, height * FINE), PAPER)
        self.pen = Pen(self._image, FINE, weight)
        edge = round(titles.BORDER * weight)
        self.field = (edge, edge, width - 2 * edge, height - 2 * edge - round(titles.FOOT * weight))
        """Where views may lie: left, top, width, height."""

    def place(self, studio: Studio, frame: Frame) -> Taken:
        """Render one view and paste it; the map of what it leaves free, for everything that is lettered on it."""
        shot = studio.shot(frame, FINE, self.weight)
        self.paste(shot, frame)
        taken = Taken(self._width, self._height)
        taken.keep_to((frame.left, frame.top, frame.left + frame.width, frame.top + frame.height))
        taken.add_mask(frame.left, frame.top, np.asarray(shot.getchannel("A"))[::FINE, ::FINE] > 0)
        return taken

    def paste(self, shot: Image.Image, frame: Frame) -> None:
        """Lay a rendered shot of a frame over what is there already."""
        self._image.paste(shot, (frame.left * FINE, frame.top * FINE), shot)

    def finished(self, scene: Scene, title: str, scale: float | None) -> Image.Image:
        """The sheet with its border and foot, reduced to its true size."""
        from PIL import Image

        titles.border(self.pen, self._width, self._height)
        titles.foot(self.pen, scene, title, scale, self._width, self._height)
        return self._image.resize((self._width, self._height), Image.Resampling.LANCZOS)


def png(image: Image.Image) -> bytes:
    """The picture as a PNG file's content."""
    buffer = io.BytesIO()
    image.save(buffer, "PNG", compress_level=6)
    return buffer.getvalue()
