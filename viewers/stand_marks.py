"""What is drawn on a view of an aeroplane on the ground: tipping lines, angles, broken-off wings."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, cos, pi, sin

import numpy as np

from airframe import units
from airframe.axes import Array, Point
from airframe.checks.contact import TippingLine, level_right
from viewers.annotations import ball, contact, dimension_line, ground_line
from viewers.labels import Taken, label
from viewers.lettering import Pen
from viewers.palette import BALANCE, CONTACT, INK_SOFT, PAPER
from viewers.posture import Posture
from viewers.scene import Dimension, Marker, Scene
from viewers.views import Frame

PASSES, FAILS = CONTACT, "#b3261e"
"""Angles that keep their limit, and those that do not."""
UNDER = 62.0
"""From the ground down to the track's dimension line."""
ARC_STEP_RAD = 0.03
SMALL_ARC_RAD = 0.25
"""An arc that is shorter than this has no room for arrowheads inside."""


def ground(pen: Pen, frame: Frame, posture: Posture, taken: Taken, inset: float = 0.0) -> float:
    """The level ground right across a frame that looks level; returns its place down the sheet."""
    y = float(frame.at(posture.main_contacts[0])[1])
    ends = (frame.left + inset, frame.left + frame.width - inset)
    ground_line(pen, np.array([ends[0], y]), np.array([ends[1], y]), taken)
    return y


def tipping(pen: Pen, frame: Frame, posture: Posture, line: TippingLine, taken: Taken, has_text: bool) -> None:
    """From the balance point to the nearest point of a tipping line, with the overturn angle at its foot."""
    colour = PASSES if posture.is_overturn_kept else FAILS
    top, foot = frame.at(posture.cg), frame.at(posture.foot(line))
    pen.line([foot, top], PAPER, 4.6)
    pen.line([foot, top], colour, 2.2)
    taken.add_line(foot, top)
    inward = np.array([1.0 if float((top - foot)[0]) >= 0.0 else -1.0, 0.0])
    if line.inside_mm < 0.0:
        inward = -inward
    middle = arc(pen, foot, inward, top - foot, 64.0, colour, taken)
    if has_text:
        label(pen, middle, list(posture.overturn_text), colour, taken, prefer=(-float(inward[0]), -0.4))


def arc(pen: Pen, vertex: Array, start: Array, end: Array, radius: float, colour: str, taken: Taken) -> Array:
    """An angle's arc between two directions on the sheet, the short way, with arrowheads; returns its middle point."""
    first = atan2(float(start[1]), float(start[0]))
    sweep = (atan2(float(end[1]), float(end[0])) - first + pi) % (2.0 * pi) - pi
    reach = radius * pen.weight
    count = max(int(abs(sweep) / ARC_STEP_RAD), 2)
    angles = np.linspace(first, first + sweep, count + 1)
    points = vertex + reach * np.column_stack([np.cos(angles), np.sin(angles)])
    pen.line(list(points), PAPER, 4.0)
    pen.line(list(points), colour, 1.6)
    turn = 1.0 if sweep > 0.0 else -1.0
    if abs(sweep) > SMALL_ARC_RAD:
        for angle, way in ((first, -turn), (first + sweep, turn)):
            tip = vertex + reach * np.array([cos(angle), sin(angle)])
            pen.arrow(tip, (-sin(angle) * way, cos(angle) * way), colour)
    for here, there in pairwise(points):
        taken.add_line(here, there)
    middle: Array = points[len(points) // 2]
    return middle


def balance(pen: Pen, frame: Frame, posture: Posture, taken: Taken, extra: list[str], has_plumb: bool = True) -> None:
    """The balance point with its plumb line to the ground, and what is to be said of it."""
    at, below = frame.at(posture.cg), frame.at(posture.under_cg)
    if has_plumb:
        pen.line([at, below], BALANCE, 1.2, dashes=(10.0, 5.0))
        taken.add_line(at, below)
    ball(pen, at)
    label(pen, at, ["balance point", *extra], BALANCE, taken, prefer=(0.3, -1.0), lead=True)


def track(pen: Pen, frame: Frame, posture: Posture, ground_px: float, taken: Taken) -> None:
    """The track under the ground, between the wheels' contact points."""
    right, left = posture.main_contacts
    text = f"track {units.length(posture.standing.track_mm, posture.system)}"
    down, along = to_point(-posture.up), to_point(level_right(posture.up))
    dimension = Dimension("track", text, to_point(left), to_point(right), along, down, ("front",))
    dimension_line(pen, frame, dimension, ground_px + UNDER * pen.weight, taken)


def breaks(pen: Pen, frame: Frame, scene: Scene) -> None:
    """A zigzag at the left and the right edge of a frame, where the aeroplane goes on beyond it."""
    w, half = pen.weight, frame.width / 2.0 / frame.scale
    inset = 4.0 * w
    edges = (frame.left + inset, -half), (frame.left + frame.width - inset, half)
    for x, edge_mm in edges:
        cut = _cut(frame, scene, frame.centre[0] + edge_mm * (1.0 - inset / frame.scale / half))
        if not len(cut):
            continue
        low, high = float(cut.min()) - 24.0 * w, float(cut.max()) + 24.0 * w
        middle = (low + high) / 2.0
        steps = [(0.0, low), (0.0, middle - 12.0 * w), (-8.0, middle - 4.0 * w), (8.0, middle + 4.0 * w)]
        steps += [(0.0, middle + 12.0 * w), (0.0, high)]
        line = [(x + dx * w, y) for dx, y in steps]
        pen.line(line, PAPER, 5.0)
        pen.line(line, INK_SOFT, 1.4)


def _cut(frame: Frame, scene: Scene, across_mm: float) -> Array:
    """Where, down the sheet, the edges of all bodies' faces cross an upright of the view."""
    ends = [body.vertices[body.faces[:, [[0, 1], [1, 2], [2, 0]]]].reshape(-1, 2, 3) for body in scene.bodies]
    edges = np.concatenate([np.zeros((0, 2, 3)), *ends])
    beyond = edges @ np.array(frame.view.right) - across_mm
    is_crossing = beyond[:, 0] * beyond[:, 1] < 0.0
    start, end, beyond = edges[is_crossing, 0], edges[is_crossing, 1], beyond[is_crossing]
    share = beyond[:, 0] / (beyond[:, 0] - beyond[:, 1])
    rows: Array = frame.at(start + share[:, None] * (end - start))[:, 1]
    return rows


def contacts(pen: Pen, frame: Frame, posture: Posture, taken: Taken) -> None:
    """A small cross-hair where each foot touches, as it stands."""
    for foot, point in zip(posture.standing.feet, posture.standing.stance.points, strict=True):
        contact(pen, frame, [Marker("contact", foot.name, to_point(point), posture.system)], taken, has_label=False)


def to_point(point: Array) -> Point:
    """Three numbers of an array as a point."""
    x, y, z = (float(value) for value in point)
    return x, y, z
