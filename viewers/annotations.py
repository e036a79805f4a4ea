"""What a draughtsman adds to a view: dimensions, the ground, the balance point, labels that keep clear of the model."""

from __future__ import annotations

from math import hypot

import numpy as np

from airframe.axes import Array
from viewers.labels import TEXT, Taken, label
from viewers.lettering import Pen
from viewers.palette import AXES, BALANCE, CONTACT, DIMENSION, DISC, INK_SOFT, PAPER
from viewers.scene import Dimension, Marker, Scene
from viewers.views import Frame, Margins, View

STEP = 40.0
"""From one dimension line to the next."""
CLEAR = 26.0
"""From the model to the first dimension line, and from the last one to the edge of its field."""
AXIS_MM = 70.0
"""Length of the axes drawn through the balance point."""

RIM_SPOTS = 12
"""Points of the propeller's rim that its label may hang on."""

AXIS_VECTORS = {"aft": (1.0, 0.0, 0.0), "right": (0.0, 1.0, 0.0), "up": (0.0, 0.0, 1.0)}


def margins(view: View, dimensions: list[Dimension], weight: float) -> Margins:
    """The room that the dimensions of a view need on each side."""
    counts = {"left": 0, "right": 0, "top": 0, "bottom": 0}
    if view.facing_axes():
        for dimension in dimensions:
            counts[_side(view, dimension)] += 1
    room = {side: (2.0 * CLEAR + count * STEP) * weight for side, count in counts.items()}
    return Margins(room["left"], room["top"], room["right"], room["bottom"])


def _side(view: View, dimension: Dimension) -> str:
    right, up = view.project(dimension.outward)
    if abs(right) > abs(up):
        return "right" if right > 0 else "left"
    return "top" if up > 0 else "bottom"


def annotate(
    pen: Pen, frame: Frame, scene: Scene, dimensions: list[Dimension], taken: Taken, is_terse: bool = False
) -> None:
    """Draw everything that belongs to one view; `taken` already holds the model's silhouette.

    A terse view, one of several on a sheet, labels only what no other view shows better.
    """
    _ground(pen, frame, scene, taken)
    if frame.view.facing_axes():
        _dimension_lines(pen, frame, scene, dimensions, taken)
    else:
        for dimension in dimensions:
            _dimension_in_space(pen, frame, dimension, taken)
    name = frame.view.name
    _balance(pen, frame, scene.balance_point, taken, has_label=not is_terse or name in ("front", "top"))
    for markers in _coinciding(frame, [marker for marker in scene.markers if marker.kind == "contact"]):
        contact(pen, frame, markers, taken, has_label=not is_terse or name in ("side", "front"))
    if scene.disc is not None and name in ("front", "three-quarter"):
        rim = frame.at(scene.disc.rim(RIM_SPOTS))[:-1]
        label(pen, rim, [scene.disc.text], DISC, taken, prefer=(0.7, 0.7))


# --- dimensions ---------------------------------------------------------------------------------------


def _dimension_lines(pen: Pen, frame: Frame, scene: Scene, dimensions: list[Dimension], taken: Taken) -> None:
    corners = frame.at(scene.points())
    used: dict[str, int] = {}
    for dimension in dimensions:
        side = _side(frame.view, dimension)
        level = used.get(side, 0)
        used[side] = level + 1
        outward = frame.direction(dimension.outward)
        away = float((corners @ outward).max()) + (CLEAR + level * STEP + 8.0) * pen.weight
        dimension_line(pen, frame, dimension, away, taken)


def dimension_line(pen: Pen, frame: Frame, dimension: Dimension, away: float, taken: Taken) -> None:
    """Extension lines, the line with its arrowheads, the text along it; `away` is the line's place along outward."""
    outward, along = frame.direction(dimension.outward), frame.direction(dimension.along)
    feet = [frame.at(point) for point in (dimension.start, dimension.end)]
    ends = [foot + outward * (away - float(foot @ outward)) for foot in feet]
    for foot, end in zip(feet, ends, strict=True):
        start = foot + outward * 4.0 * pen.weight
        pen.line([start, end + outward * 5.0 * pen.weight], DIMENSION, 0.7)
        taken.add_line(start, end)
    taken.add_line(ends[0], ends[1])
    span = float((ends[1] - ends[0]) @ along)
    width, height = pen.text_size(dimension.text, TEXT)
    if span > width + 30.0 * pen.weight:
        pen.line(ends, DIMENSION, 1.1)
        pen.arrow(ends[0], -along, DIMENSION)
        pen.arrow(ends[1], along, DIMENSION)
        middle = (ends[0] + ends[1]) / 2.0
    else:
        run = along * (26.0 * pen.weight)
        pen.line([ends[0] - run, ends[1] + run + along * width], DIMENSION, 1.1)
        pen.arrow(ends[0], along, DIMENSION)
        pen.arrow(ends[1], -along, DIMENSION)
        middle = ends[1] + run + along * width / 2.0
    is_upright = abs(along[1]) > abs(along[0])
    raised = np.array([-1.0, 0.0] if is_upright else [0.0, -1.0]) * (height / 2.0 + 2.0 * pen.weight)
    taken.add(pen.lettered(middle + raised, dimension.text, TEXT, DIMENSION, upright=is_upright))


def _dimension_in_space(pen: Pen, frame: Frame, dimension: Dimension, taken: Taken) -> None:
    """In a view that is not true to any axis, the line runs from point to point and its text stands beside it."""
    ends = [frame.at(point) for point in (dimension.start, dimension.end)]
    along = frame.direction(dimension.along)
    pen.line(ends, DIMENSION, 1.3)
    pen.arrow(ends[0], -along, DIMENSION)
    pen.arrow(ends[1], along, DIMENSION)
    taken.add_line(ends[0], ends[1])
    label(pen, (ends[0] + ends[1]) / 2.0, [dimension.text], DIMENSION, taken, prefer=(0.0, 1.0))


# --- ground and marks ------------------------------------------------------------------------------------


def _ground(pen: Pen, frame: Frame, scene: Scene, taken: Taken) -> None:
    """The ground under the wheels, hatched, where it shows as a line: from the side and from ahead."""
    name = frame.view.name
    if not scene.ground or name not in ("side", "front"):
        return
    points = frame.at(scene.ground)
    start, end = points[0], points[-1]
    if name == "front" or len(points) == 1:
        lowest = points[points[:, 1].argmax()]
        half = 0.28 * frame.width if name == "front" else 0.2 * frame.width
        start, end = lowest - np.array([half, 0.0]), lowest + np.array([half, 0.0])
    direction = (end - start) / max(hypot(*(end - start)), 1e-9)
    reach = 46.0 * pen.weight if name == "side" else 0.0
    ground_line(pen, start - direction * reach, end + direction * reach, taken)


def ground_line(pen: Pen, start: Array, end: Array, taken: Taken) -> None:
    """The ground from one point of the sheet to another on its right, hatched below."""
    direction = (end - start) / max(hypot(*(end - start)), 1e-9)
    pen.line([start, end], INK_SOFT, 1.4)
    taken.add_line(start, end)
    spacing = 12.0 * pen.weight
    below = np.array([-direction[1], direction[0]])
    for k in range(int(hypot(*(end - start)) / spacing)):
        foot = start + direction * spacing * (k + 0.7)
        pen.line([foot, foot + (below - direction) * 6.0 * pen.weight], INK_SOFT, 0.7)


def _coinciding(frame: Frame, markers: list[Marker]) -> list[list[Marker]]:
    """Markers grouped by where they show: a left and a right wheel are one from the side."""
    groups: dict[tuple[int, int], list[Marker]] = {}
    for marker in markers:
        x, y = frame.at(marker.point)
        groups.setdefault((round(x), round(y)), []).append(marker)
    return list(groups.values())


def _common_name(markers: list[Marker]) -> str:
    if len(markers) == 1:
        return markers[0].name
    kinds = {marker.name.removesuffix(" left").removesuffix(" right") for marker in markers}
    return f"{kinds.pop()}s" if len(kinds) == 1 else ", ".join(marker.name for marker in markers)


def contact(pen: Pen, frame: Frame, markers: list[Marker], taken: Taken, has_label: bool) -> None:
    """A small cross-hair on a wheel's contact point with its coordinates."""
    marker = markers[0]
    at = frame.at(marker.point)
    arm = 8.0 * pen.weight
    pen.circle(at, arm * 0.55, PAPER, CONTACT, 1.6)
    for direction in np.eye(2):
        pen.line([at - direction * arm, at + direction * arm], CONTACT, 1.4)
    if not has_label:
        return
    axes = tuple(i for i in frame.view.facing_axes() if i != 2)
    lines = [_common_name(markers), marker.text(*axes)] if axes else [_common_name(markers)]
    label(pen, at, lines, CONTACT, taken, prefer=(0.0, 1.0))


def _balance(pen: Pen, frame: Frame, marker: Marker, taken: Taken, has_label: bool) -> None:
    """The balance point: a ball with its three axes, each named by the way it points."""
    at = frame.at(marker.point)
    reach = max(AXIS_MM * frame.scale, 44.0 * pen.weight)
    for name, vector in AXIS_VECTORS.items():
        run = frame.view.project(vector) * (1.0, -1.0)
        if hypot(*run) < 1e-6:
            continue
        tip, stub = at + run * reach, at - run * reach * 0.3
        pen.line([stub, tip], PAPER, 4.6)
        pen.line([stub, tip], AXES[name], 2.2)
        pen.arrow(tip + run * 5.0 * pen.weight, run, AXES[name])
        outward = run / hypot(*run)
        width, height = pen.text_size(name, TEXT * 0.85, bold=True)
        clear = abs(outward[0]) * width / 2.0 + abs(outward[1]) * height / 2.0 + 10.0 * pen.weight
        taken.add(pen.lettered(tip + outward * clear, name, TEXT * 0.85, AXES[name], bold=True, halo=2.5))
    ball(pen, at)
    if not has_label:
        return
    axes = frame.view.facing_axes() or (0, 1, 2)
    label(pen, at, [marker.name, marker.text(*axes)], BALANCE, taken, prefer=(0.6, -0.8), lead=True)


def ball(pen: Pen, at: Array) -> None:
    """The ball that stands for the balance point, without its axes."""
    radius = 9.0 * pen.weight
    pen.circle(at, radius * 1.25, PAPER)
    pen.circle(at, radius, BALANCE)
    pen.circle(at - (radius * 0.3, radius * 0.35), radius * 0.28, "#ffd9e8")
