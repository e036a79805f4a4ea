"""The chart of forces at trim: arrows on the aeroplane's side, and what each does about the balance point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, degrees, sin
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from airframe import units
from airframe.axes import Array
from airframe.flight.axes import M_PER_MM
from airframe.flight.whole import NEUTRAL_POINT_SHARE, Flight
from airframe.units import System
from viewers import plots
from viewers.flight_charts.outline import from_left
from viewers.flight_charts.trim_forces import Push, pushes
from viewers.palette import AXES, BALANCE, CONTACT, DIMENSION, INK, INK_SOFT, PAPER
from viewers.scene import Scene

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WEIGHT_SHARE = 0.27
"""Length of the weight's arrow, of the aeroplane's length; all arrows are to its scale."""
ROOM_SHARE = 0.05
ENDS_SHARE = 0.02
ARROW = "-|>,head_width=0.32,head_length=0.7"
LEADER = {"arrowstyle": "-", "color": BALANCE, "linewidth": 0.8}
LEAST_SHARE = 0.002
"""A force smaller than this share of the weight is named but not drawn."""
LEAST_DEG = 0.05
LARGE = 100.0
"""Moments beyond this are written without decimals."""
N_MM = 1000.0
"""In a newton metre."""
COLOURS = {"wing lift": AXES["up"], "tail lift": "#5a3d9a", "weight": INK, "thrust": CONTACT, "drag": DIMENSION}
BESIDE = {
    "wing lift": (7.0, -6.0),
    "tail lift": (-7.0, 20.0),
    "weight": (7.0, 6.0),
    "thrust": (0.0, 13.0),
    "drag": (0.0, -14.0),
}
"""Where the words stand from an arrow's tip, points."""


@dataclass(frozen=True, eq=False)
class Tilt:
    """Carries stations and water lines to the page: the fuselage tilted as it flies, about the balance point."""

    pitch_rad: float
    centre_mm: Array

    def points(self, points_mm: ArrayLike) -> Array:
        """(n, 2) on the page, nose to the left."""
        return self.vectors(np.asarray(points_mm) - self.centre_mm)

    def vectors(self, vectors: ArrayLike) -> Array:
        """(n, 2) directions on the page."""
        c, s = cos(self.pitch_rad), sin(self.pitch_rad)
        turned: Array = np.asarray(vectors) @ np.array([[c, -s], [s, c]])
        return turned


def forces(flight: Flight, scene: Scene, system: System) -> Figure:
    """Level flight at slow cruise. Raises NoTrimError."""
    trim = flight.cruise
    parts = pushes(flight, trim)
    tilt = Tilt(trim.incidence_rad + trim.climb_rad, flight.air.about_m[[0, 2]] / M_PER_MM)
    words = (
        f"Level flight at slow cruise, {units.speed(trim.speed_m_s, system)}: nose {_way(trim.incidence_rad)}, "
        f"elevator {_way(-trim.elevator_rad)}.\nEstimates; all arrows to one scale."
    )
    fig, (ax, below) = plots.figure("What holds it in the air", words, (plots.WIDE_IN, 5.1), (2, 1), heights=(4.0, 1.0))
    cloud = tilt.points(scene.points()[:, [0, 2]])
    low, high = cloud.min(axis=0), cloud.max(axis=0)
    _aeroplane(ax, scene, tilt)
    weight = next(_size(push) for push in parts if push.name == "weight")
    scale = WEIGHT_SHARE * float(high[0] - low[0]) / weight
    drawn = [push for push in parts if push.name in COLOURS and _size(push) > LEAST_SHARE * weight]
    ends = float(low[0]), float(high[0])
    tips = [_arrow(ax, push, _start(push, tilt, ends), scale * tilt.vectors(push.force_n), system) for push in drawn]
    _points(ax, flight, tilt, system)
    reach, room = np.vstack([low, high, *tips]), ROOM_SHARE * float(high[0] - low[0])
    ax.set(xlim=(reach[:, 0].min() - room, reach[:, 0].max() + room), aspect="equal")
    ax.set_ylim(reach[:, 1].min() - room, reach[:, 1].max() + room)
    ax.set_axis_off()
    _moments(below, parts, system)
    return fig


def _way(angle_rad: float) -> str:
    angle = abs(degrees(angle_rad))
    return "level" if angle < LEAST_DEG else f"{angle:.1f} deg {'up' if angle_rad > 0.0 else 'down'}"


def _size(push: Push) -> float:
    return float(np.linalg.norm(push.force_n))


def _aeroplane(ax: Axes, scene: Scene, tilt: Tilt) -> None:
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    for outline in from_left(scene):
        path = Path.make_compound_path(*(Path(tilt.points(ring), closed=True) for ring in outline.rings))
        ax.add_patch(PathPatch(path, facecolor=outline.tint, edgecolor=INK_SOFT, linewidth=0.5, zorder=1))
    if scene.disc is not None:
        rim = tilt.points(scene.disc.rim()[:, [0, 2]])
        ax.plot(rim[:, 0], rim[:, 1], color=INK_SOFT, linewidth=0.8, dashes=(4.0, 2.0), zorder=1)


def _start(push: Push, tilt: Tilt, ends: tuple[float, float]) -> Array:
    """Where an arrow begins: thrust and drag are moved along their own lines to stand clear of nose and tail."""
    start, along = tilt.points(push.at_mm), tilt.vectors(push.force_n)
    if push.name not in ("thrust", "drag"):
        return start
    clear = ENDS_SHARE * (ends[1] - ends[0])
    end = ends[0] - clear if along[0] < 0.0 else ends[1] + clear
    moved: Array = start + along * (end - start[0]) / along[0]
    return moved


def _arrow(ax: Axes, push: Push, start: Array, along: Array, system: System) -> Array:
    """Draw a force and its name; its tip on the page."""
    tip: Array = start + along
    colour = COLOURS[push.name]
    style = {"arrowstyle": ARROW, "color": colour, "linewidth": 2.4, "shrinkA": 0.0, "shrinkB": 0.0}
    at = float(tip[0]), float(tip[1])
    ax.annotate("", at, (float(start[0]), float(start[1])), arrowprops=style, zorder=4)
    name = push.name.replace(" lift", " pushes down") if along[1] < 0.0 else push.name
    words = f"{name} {units.force(_size(push), system)}"
    beside = BESIDE[push.name]
    side = "center" if beside[0] == 0.0 else "left" if beside[0] > 0.0 else "right"
    plots.note(ax, at, words, beside, color=colour, weight="bold", ha=side)
    return tip


def _points(ax: Axes, flight: Flight, tilt: Tilt, system: System) -> None:
    """Balance point and neutral point, and the way between them."""
    centre = tilt.centre_mm
    neutral = np.array([flight.neutral_point_mm, centre[1]])
    here, there = tilt.points(centre), tilt.points(neutral)
    ax.plot(*here, marker="o", markersize=10, color=BALANCE, markeredgecolor=PAPER, zorder=6)
    ax.plot(
        *there, marker="D", markersize=7, markerfacecolor=PAPER, markeredgecolor=BALANCE, markeredgewidth=2.0, zorder=6
    )
    margin, spread = 100.0 * flight.static_margin(), 100.0 * NEUTRAL_POINT_SHARE
    side = "behind" if margin >= 0.0 else "AHEAD of"
    way = units.length(abs(flight.neutral_point_mm - float(centre[0])), system)
    words = f"neutral point, {way} {side} the balance point:\n"
    words += f"static margin {margin:.0f} % (band {margin - spread:.0f} to {margin + spread:.0f} %)"
    at = float(there[0]), float(there[1])
    plots.note(ax, at, words, (22.0, -52.0), color=BALANCE, arrowprops=LEADER)
    at = float(here[0]), float(here[1])
    plots.note(
        ax,
        at,
        "balance point",
        (-40.0, -40.0),
        color=BALANCE,
        arrowprops=LEADER,
    )


def _moments(ax: Axes, parts: Sequence[Push], system: System) -> None:
    """Bars: what raises the nose to the right, what lowers it to the left; they add up to nothing."""
    shown = [push for push in parts if push.name not in ("weight", "drag")]
    unit, factor = (
        ("ozf in", units.N_PER_OZF * units.MM_PER_INCH / N_MM) if system == "imperial" else ("N mm", 1.0 / N_MM)
    )
    values = [push.moment_n_m / factor for push in shown]
    reach = 1.1 * max(abs(value) for value in values)
    decimals = 0 if reach > LARGE else 1
    places = np.arange(len(shown))[::-1]
    ax.barh(places, values, height=0.62, color=[COLOURS.get(push.name, INK_SOFT) for push in shown], zorder=2)
    ax.axvline(0.0, color=INK, linewidth=1.0, zorder=3)
    names = [
        f"{push.name.removesuffix(' lift')}  {round(value, decimals) + 0.0:+.{decimals}f}"
        for push, value in zip(shown, values, strict=True)
    ]
    ax.set_yticks(places, [name.replace("-", "\N{MINUS SIGN}") for name in names])
    ax.set_xlim(-reach, reach)
    plots.label(ax, f"nose down                 moment about the balance point, {unit}                 nose up", "")
