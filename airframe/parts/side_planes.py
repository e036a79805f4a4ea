"""The fuselage's sides as planes to draw on, straight ahead of the taper and slanted behind it."""

from __future__ import annotations

from math import cos, sin

import numpy as np

from airframe.axes import Place, frame
from airframe.layout import Layout
from airframe.parts.common import upright_left_face


def taper_station_mm(layout: Layout) -> float:
    """Station of the score where the sides turn inwards; infinite without taper."""
    station = layout.design.fuselage.taper_station_mm
    return float(np.inf) if not layout.taper_rad or station is None else station


def along_mm(layout: Layout, x_mm: float, depth_mm: float = 0.0) -> float:
    """Where a station lies in a side's drawing, which runs along the slanted part and not its shadow.

    Ahead of the taper it is the station itself. `depth_mm` is measured inwards from the outer face:
    on the slanted part a point deeper in the sheet lies further forward.
    """
    taper = taper_station_mm(layout)
    if x_mm <= taper:
        return x_mm
    return taper + (x_mm - taper + depth_mm * sin(layout.taper_rad)) / cos(layout.taper_rad)


def right_plane(layout: Layout, x_mm: float, depth_mm: float = 0.0) -> Place:
    """Carries a side view drawing (own x as `along_mm`, own y up) to the right side at a station.

    The drawing plane lies `depth_mm` inside the outer face; its material fills the space inside it.
    A side view shows the left side, so the place is a mirrored one, and its mirror image the left side's.
    """
    half_width = layout.design.fuselage.width_mm / 2.0
    taper = taper_station_mm(layout)
    if x_mm < taper:
        return upright_left_face(depth_mm - half_width).mirrored()
    along = np.array([cos(layout.taper_rad), sin(layout.taper_rad), 0.0])
    inwards = np.array([-sin(layout.taper_rad), cos(layout.taper_rad), 0.0])
    origin = np.array([taper, -half_width, 0.0]) - taper * along + depth_mm * inwards
    return frame(along, (0.0, 0.0, 1.0), origin).mirrored()
