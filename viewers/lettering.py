"""Lines and letters laid over a picture: a pen that draws smoothly in pixels of the finished sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from importlib.util import find_spec
from math import atan2, cos, hypot, sin
from pathlib import Path
from typing import TYPE_CHECKING, Any

from airframe.axes import Array
from viewers.palette import INK, PAPER

if TYPE_CHECKING:
    from PIL import Image

Px = Sequence[float] | Array
"""A point or direction on the sheet: right and down, pixels."""
Box = tuple[float, float, float, float]
"""left, top, right, bottom."""

ARROW_LENGTH = 11.0
ARROW_HALF_ANGLE_RAD = 0.22


@lru_cache(maxsize=64)
def _font(size: int, bold: bool) -> Any:
    """A sans-serif of the wanted size: the one that comes with the picture library, or Pillow's own."""
    from PIL import ImageFont

    spec = find_spec("matplotlib")
    folders = list(spec.submodule_search_locations or []) if spec else []
    for folder in folders:
        path = Path(folder) / "mpl-data" / "fonts" / "ttf" / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf")
        if path.is_file():
            return ImageFont.truetype(str(path), size)
    return ImageFont.load_default(size)


class Pen:
    """Draws on an image that is `fine` times as large as the finished sheet; all measures are in sheet pixels."""

    def __init__(self, image: Image.Image, fine: int, weight: float = 1.0) -> None:
        from PIL import ImageDraw

        self._draw = ImageDraw.Draw(image, "RGBA")
        self._fine = fine
        self.weight = weight
        """Scales every line width, arrow and letter, so that small and large sheets look alike."""

    def _xy(self, points: Iterable[Px]) -> list[tuple[float, float]]:
        return [(float(p[0]) * self._fine, float(p[1]) * self._fine) for p in points]

    def line(self, points: Sequence[Px], colour: str = INK, width: float = 1.2, dashes: Sequence[float] = ()) -> None:
        """A polyline; `dashes` alternates drawn and blank lengths."""
        pieces = _dashed(points, [d * self.weight for d in dashes]) if dashes else [points]
        stroke = max(round(width * self.weight * self._fine), 1)
        for piece in pieces:
            self._draw.line(self._xy(piece), fill=colour, width=stroke, joint="curve")

    def shape(self, points: Sequence[Px], fill: str | None, outline: str | None = None, width: float = 1.2) -> None:
        """A filled polygon."""
        stroke = max(round(width * self.weight * self._fine), 1)
        self._draw.polygon(self._xy(points), fill=fill, outline=outline, width=stroke)

    def circle(
        self, centre: Px, radius: float, fill: str | None, outline: str | None = None, width: float = 1.2
    ) -> None:
        """A circle whose radius is in sheet pixels, not weighted."""
        x, y = centre[0] * self._fine, centre[1] * self._fine
        r = radius * self._fine
        stroke = max(round(width * self.weight * self._fine), 1)
        self._draw.ellipse((x - r, y - r, x + r, y + r), fill=fill, outline=outline, width=stroke)

    def arrow(self, tip: Px, towards: Px, colour: str = INK) -> None:
        """A slim filled arrowhead whose tip lies on `tip` and points along `towards`."""
        angle = atan2(towards[1], towards[0])
        length = ARROW_LENGTH * self.weight
        wings = [
            (tip[0] - length * cos(angle + side), tip[1] - length * sin(angle + side))
            for side in (ARROW_HALF_ANGLE_RAD, -ARROW_HALF_ANGLE_RAD)
        ]
        self.shape([tip, *wings], fill=colour)

    def text_size(self, text: str, size: float, bold: bool = False) -> tuple[float, float]:
        """Width and height of one line of text, on the sheet."""
        font = self._sized(size, bold)
        ascent, descent = font.getmetrics()
        return font.getlength(text) / self._fine, (ascent + descent) / self._fine

    def text(self, at: Px, text: str, size: float, colour: str = INK, anchor: str = "lm", bold: bool = False) -> Box:
        """One line of text; returns the box it covers. Anchor: l, m, r and a (top), m, s (base), d (bottom)."""
        font = self._sized(size, bold)
        (point,) = self._xy([at])
        self._draw.text(point, text, font=font, fill=colour, anchor=anchor)
        box = self._draw.textbbox(point, text, font=font, anchor=anchor)
        left, top, right, bottom = (edge / self._fine for edge in box)
        return left, top, right, bottom

    def lettered(
        self,
        middle: Px,
        text: str,
        size: float,
        colour: str = INK,
        bold: bool = False,
        halo: float = 3.0,
        upright: bool = False,
    ) -> Box:
        """One line of text about its middle on a halo of paper; `upright` reads from below to above."""
        from PIL import Image, ImageDraw

        font = self._sized(size, bold)
        edge = max(round(halo * self.weight * self._fine), 1)
        ascent, descent = font.getmetrics()
        full = (round(font.getlength(text)) + 2 * edge, ascent + descent + 2 * edge)
        for stroke, ink in ((edge, PAPER), (0, colour)):
            stencil = Image.new("L", full)
            ImageDraw.Draw(stencil).text((edge, edge), text, font=font, fill=255, anchor="la", stroke_width=stroke)
            turned = stencil.transpose(Image.Transpose.ROTATE_90) if upright else stencil
            left, top = (round(middle[i] * self._fine - turned.size[i] / 2.0) for i in (0, 1))
            self._draw.bitmap((left, top), turned, fill=ink)
        across, down = (edge_px / self._fine / 2.0 for edge_px in turned.size)
        return middle[0] - across, middle[1] - down, middle[0] + across, middle[1] + down

    def block(self, box: Box, fill: str, outline: str | None = None, width: float = 1.2, radius: float = 0.0) -> None:
        """A rectangle with rounded corners."""
        corners = [edge * self._fine for edge in box]
        stroke = max(round(width * self.weight * self._fine), 1)
        self._draw.rounded_rectangle(corners, radius * self._fine, fill=fill, outline=outline, width=stroke)

    def _sized(self, size: float, bold: bool) -> Any:
        return _font(max(round(size * self.weight * self._fine), 6), bold)


def _dashed(points: Sequence[Px], dashes: Sequence[float]) -> list[list[tuple[float, float]]]:
    """The drawn pieces of a dashed polyline; the pattern runs on through its corners."""
    pieces: list[list[tuple[float, float]]] = []
    index, left, current = 0, dashes[0], [(float(points[0][0]), float(points[0][1]))]
    for end in points[1:]:
        x, y = current[-1]
        length = hypot(end[0] - x, end[1] - y)
        while length > left:
            x, y = x + (end[0] - x) * left / length, y + (end[1] - y) * left / length
            if index % 2 == 0:
                pieces.append([*current, (x, y)])
            length, index = length - left, index + 1
            left, current = dashes[index % len(dashes)], [(x, y)]
        left -= length
        current = [*current, (float(end[0]), float(end[1]))] if index % 2 == 0 else [(float(end[0]), float(end[1]))]
    if index % 2 == 0 and len(current) > 1:
        pieces.append(current)
    return pieces
