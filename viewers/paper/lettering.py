"""Where lettering goes on a crowded drawing: inside its part, clear of lines and of other lettering."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin
from typing import TYPE_CHECKING

from airframe.cutting.papers import OVERLAP_MM
from airframe.drawing import Point2
from viewers.paper.drawing import Text

if TYPE_CHECKING:
    import shapely

LETTER_WIDTH = 0.80
"""Mean width of a letter over the height of a capital, in a plain sans serif (measured on one, rounded up)."""
LINE_PITCH = 1.6
"""From line to line, over the height of a capital."""
CLEAR_MM = 0.7
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
"""Where along a line its lettering may stand, in the order it is tried."""


def width_mm(text: str, height_mm: float) -> float:
    """About how long a line of lettering is."""
    return LETTER_WIDTH * height_mm * len(text)


@dataclass
class Lettering:
    """Lettering inside one area, each piece clear of what is there before it."""

    area: shapely.Polygon
    seams: Sequence[Sequence[Point2]] = ()
    """Where pages end: lettering keeps off these lines where there is room elsewhere."""
    texts: list[Text] = field(default_factory=list)
    _taken: list[shapely.Geometry] = field(default_factory=list)

    def avoid(self, lines: Iterable[Sequence[Point2]]) -> None:
        """Keep clear of these lines."""
        import shapely

        self._taken += [shapely.LineString(points).buffer(CLEAR_MM / 2.0) for points in lines]

    def block(self, wordings: Sequence[Sequence[str]], heights_mm: Sequence[float]) -> bool:
        """The first of several wordings, at the greatest height, that fits anywhere, level or upright."""
        import shapely

        free = shapely.difference(self.area, shapely.union_all(self._taken)) if self._taken else self.area
        on_one_page = [shapely.difference(free, self._cuts)] if self.seams else []
        return any(self._block_in(space, wordings, heights_mm) for space in (*on_one_page, free))

    @cached_property
    def _cuts(self) -> shapely.Geometry:
        import shapely

        return shapely.MultiLineString(self.seams).buffer(OVERLAP_MM / 2.0)

    def _block_in(self, free: shapely.Geometry, wordings: Sequence[Sequence[str]], heights_mm: Sequence[float]) -> bool:
        import shapely

        rooms = sorted(getattr(free, "geoms", [free]), key=lambda room: -room.area)[:6]
        centres = [shapely.maximum_inscribed_circle(room, tolerance=1.0) for room in rooms if room.area > 4.0]
        spots = [(room, circle.coords[0]) for room, circle in zip(rooms, centres, strict=False)]
        for wording in wordings:
            for height in heights_mm:
                for room, centre in spots:
                    for angle in (0.0, pi / 2.0):
                        if room.buffer(-CLEAR_MM / 2.0).contains(_box(wording, height, centre, angle)):
                            self._write(wording, height, centre, angle)
                            return True
        return False

    def along(self, path: Sequence[Point2], text: str, heights_mm: Sequence[float]) -> bool:
        """Lettering beside the longest straight stretch of a line, on either side of it, where it fits."""
        run = max(pairwise(path), key=lambda ends: hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]))
        angle = atan2(run[1][1] - run[0][1], run[1][0] - run[0][0])
        upright = angle - pi if angle > pi / 2.0 + 1e-6 else angle + pi if angle <= -pi / 2.0 + 1e-6 else angle
        fallback: tuple[float, Point2] | None = None
        for height in heights_mm:
            for share in SHARES:
                for side in (1.0, -1.0):
                    centre = _beside(run, share, side * (height / 2.0 + CLEAR_MM + 0.2), upright)
                    box = _box([text], height, centre, upright)
                    if self._is_free(box):
                        if not self._is_parted(box):
                            self._write([text], height, centre, upright)
                            return True
                        fallback = fallback or (height, centre)
        if fallback is not None:
            self._write([text], *fallback, upright)
        return fallback is not None

    def _is_parted(self, box: shapely.Polygon) -> bool:
        return bool(self.seams) and bool(box.intersects(self._cuts))

    def _is_free(self, box: shapely.Polygon) -> bool:
        return bool(self.area.contains(box)) and not any(box.intersects(taken) for taken in self._taken)

    def _write(self, wording: Sequence[str], height: float, centre: Point2, angle: float) -> None:
        for k, text in enumerate(wording):
            drop = ((len(wording) - 1) / 2.0 - k) * LINE_PITCH * height
            at = (centre[0] - drop * sin(angle), centre[1] + drop * cos(angle))
            self.texts.append(Text(at, text, height, angle))
        self._taken.append(_box(wording, height, centre, angle).buffer(CLEAR_MM / 2.0))


def _beside(run: tuple[Point2, Point2], share: float, off_mm: float, angle: float) -> Point2:
    (x0, y0), (x1, y1) = run
    return x0 + (x1 - x0) * share - off_mm * sin(angle), y0 + (y1 - y0) * share + off_mm * cos(angle)


def _box(wording: Sequence[str], height: float, centre: Point2, angle: float) -> shapely.Polygon:
    import shapely

    half_x = max(width_mm(text, height) for text in wording) / 2.0
    half_y = (height + (len(wording) - 1) * LINE_PITCH * height) / 2.0
    c, s = cos(angle), sin(angle)
    corners = [(-half_x, -half_y), (half_x, -half_y), (half_x, half_y), (-half_x, half_y)]
    return shapely.Polygon([(centre[0] + x * c - y * s, centre[1] + x * s + y * c) for x, y in corners])
