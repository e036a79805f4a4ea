"""Pictures of a redesign beside its prototype: both from ahead at one scale, and the old one as the new one's ghost."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from airframe.axes import Array
from airframe.model import Aeroplane
from viewers import titles
from viewers.annotations import ball
from viewers.labels import Taken, label
from viewers.palette import BALANCE, INK, INK_SOFT
from viewers.posture import Posture, posture
from viewers.scene import Scene
from viewers.sheets import FINE, Sheet, png
from viewers.staging import stage
from viewers.stand_marks import balance, breaks, contacts, ground, tipping, track
from viewers.studio import Studio
from viewers.views import FRONT, THREE_QUARTER, Frame, Margins, View, extent_mm, framed, largest_scale

if TYPE_CHECKING:
    from PIL import Image

FRONTS_SIZE = (2546, 1240)
GHOST_SIZE = (1600, 1200)
WEIGHT = 1.3
"""Of lines and letters on the wide sheet."""
BESIDE_WHEELS_MM = 150.0
"""How much is shown outboard of the wheels; the wings are broken off there."""
LEAST_HALF_MM = 240.0
GHOST = "#d9541e"
"""The one tint of what has been."""
GHOST_ON_PAPER, GHOST_ON_MODEL, GHOST_EDGE = 0.28, 0.07, 0.7
"""How opaque the ghost's faces are on paper and over the new aeroplane, and its edges anywhere."""
PALE = 0.42
"""A pixel of this lightness is a face, not an edge."""
CAPTION = "as they stand, at one scale; overturn angles as seen along the line about which it tips"
TITLE_PX = 490.0
"""Room for the title in its block, on a sheet of usual weight."""


@dataclass(frozen=True, eq=False)
class Side:
    """One of the two aeroplanes, ready to be drawn."""

    studio: Studio
    posture: Posture | None
    """None for one that stands on no gear."""

    @property
    def scene(self) -> Scene:
        """What is to be seen of it."""
        return self.studio.scene

    @property
    def view(self) -> View:
        """From ahead, on the ground if it can stand on it."""
        return self.posture.front if self.posture is not None else FRONT


def fronts(old: Aeroplane, new: Aeroplane, size: tuple[int, int] | None = None) -> bytes:
    """A PNG: old and new from ahead as they stand, at one scale, with track, balance point and overturn lines.

    Wings are broken off where they would take the room. Raises PictureError.
    """
    with Studio(stage(old)) as before, Studio(stage(new)) as after:
        return fronts_sheet(Side(before, posture(old)), Side(after, posture(new)), size)


def fronts_sheet(old: Side, new: Side, size: tuple[int, int] | None = None) -> bytes:
    """The same of scenes that are in their studios."""
    width, height = size or FRONTS_SIZE
    weight = min(width / FRONTS_SIZE[0], height / FRONTS_SIZE[1]) * WEIGHT
    sheet = Sheet(width, height, weight)
    sides = (old, new)
    left, top, across, down = sheet.field
    half = across // 2
    boxes = ((left, top, half, down), (left + half, top, across - half, down))
    reach = _half_shown_mm(sides)
    room = Margins(6.0 * weight, 96.0 * weight, 6.0 * weight, 150.0 * weight)
    clouds = [_shown(one.scene, reach) for one in sides]
    scale = min(
        largest_scale(one.view, cloud, box[2:], room) for one, cloud, box in zip(sides, clouds, boxes, strict=True)
    )
    for one, cloud, box in zip(sides, clouds, boxes, strict=True):
        _front(sheet, one, _on_the_ground(framed(one.view, cloud, box, room, scale), one, room))
    sheet.pen.line([(left + half, top), (left + half, top + down)], INK_SOFT, 0.8)
    corner = (left + across - 20.0 * weight, top + 30.0 * weight)
    sheet.pen.text(corner, CAPTION, titles.SMALL, INK_SOFT, "rm")
    return png(sheet.finished(_both(sheet, *(one.scene for one in sides)), "", scale))


def ghost(old: Aeroplane, new: Aeroplane, size: tuple[int, int] | None = None) -> bytes:
    """A PNG: the new aeroplane in three-quarter view with the old one, in one pale tint, laid over it.

    Both have their firewalls in one place. Raises PictureError.
    """
    with Studio(stage(old)) as before, Studio(stage(new)) as after:
        return ghost_sheet(before, after, size)


def ghost_sheet(old: Studio, new: Studio, size: tuple[int, int] | None = None) -> bytes:
    """The same of scenes that are in their studios."""
    width, height = size or GHOST_SIZE
    weight = min(width / GHOST_SIZE[0], height / GHOST_SIZE[1])
    sheet = Sheet(width, height, weight)
    scenes = old.scene, new.scene
    points = np.vstack([scene.points() for scene in scenes])
    room = Margins(*(52.0 * weight for _ in range(4)))
    frame = framed(THREE_QUARTER, points, sheet.field, room)
    before, after = old.shot(frame, FINE, weight), new.shot(frame, FINE, weight)
    taken = sheet.place(new, frame)
    sheet.paste(pale(before, after), frame)
    taken.add_mask(frame.left, frame.top, np.asarray(before.getchannel("A"))[::FINE, ::FINE] > 0)
    _ghost_marks(sheet, frame, scenes, taken)
    return png(sheet.finished(_both(sheet, *scenes), "", None))


def pale(shot: Image.Image, over: Image.Image) -> Image.Image:
    """A rendered shot in the ghost's one tint, to be laid over another: the darker a pixel was, the more of it is left.

    Over the other's own pixels faces are paler still, so that what did not change keeps its colours.
    """
    from PIL import Image

    red, green, blue, alpha = (np.asarray(channel, dtype=np.float64) / 255.0 for channel in shot.split())
    lightness = 0.299 * red + 0.587 * green + 0.114 * blue  # ITU-R BT.601
    covered = np.asarray(over.getchannel("A"), dtype=np.float64) / 255.0
    face = GHOST_ON_PAPER + (GHOST_ON_MODEL - GHOST_ON_PAPER) * covered
    opacity = alpha * np.clip(GHOST_EDGE + (face - GHOST_EDGE) * lightness / PALE, face, GHOST_EDGE)
    layer = Image.new("RGBA", shot.size, GHOST)
    layer.putalpha(Image.fromarray(np.round(255.0 * opacity).astype(np.uint8)))
    return layer


# --- from ahead ----------------------------------------------------------------------------------------------


def _half_shown_mm(sides: tuple[Side, Side]) -> float:
    """How far from the centre plane both are shown."""
    outermost = [abs(float(point[1])) for one in sides if one.posture for point in one.posture.main_contacts]
    return max(LEAST_HALF_MM, max(outermost, default=0.0) + BESIDE_WHEELS_MM)


def _shown(scene: Scene, reach_mm: float) -> Array:
    """The points within reach of the centre plane, and where a wing that goes on is broken off."""
    points = scene.points()
    inside = points[np.abs(points[:, 1]) <= reach_mm]
    if float(np.abs(points[:, 1]).max()) <= reach_mm:
        return inside
    ends = np.array([(inside[0, 0], end, inside[0, 2]) for end in (-reach_mm, reach_mm)])
    return np.vstack([inside, ends])


def _on_the_ground(frame: Frame, one: Side, room: Margins) -> Frame:
    """The frame shifted up or down until its ground lies at the foot of its box, so that both stand on one line."""
    level = _ground_up_mm(one)
    at = frame.height / 2.0 - room.bottom
    return replace(frame, centre=(frame.centre[0], level + at / frame.scale))


def _ground_up_mm(one: Side) -> float:
    """The ground's place up the paper; of an aeroplane without gear, its lowest point's."""
    if one.posture is not None:
        return float(one.view.project(one.posture.main_contacts[0])[1])
    low, _ = extent_mm(one.view, one.scene.points())
    return float(low[1])


def _front(sheet: Sheet, one: Side, frame: Frame) -> None:
    pen, w = sheet.pen, sheet.weight
    taken = sheet.place(one.studio, frame)
    breaks(pen, frame, one.scene)
    pen.text((frame.left + 20.0 * w, frame.top + 30.0 * w), one.scene.title, 26.0, INK, "lm", bold=True)
    taken.add((frame.left, frame.top, frame.left + frame.width, frame.top + 52.0 * w))
    if one.posture is None:
        at = frame.at(one.scene.balance_point.point)
        label(pen, at, ["balance point"], BALANCE, taken, prefer=(0.3, -1.0), lead=True)
        ball(pen, at)
        return
    stands = one.posture
    y = ground(pen, frame, stands, taken, 30.0 * w)
    track(pen, frame, stands, y, taken)
    worst, _ = stands.worst
    for ends, line in stands.standing.side_lines.items():
        tipping(pen, frame, stands, line, taken, has_text=ends == worst)
    contacts(pen, frame, stands, taken)
    balance(pen, frame, stands, taken, [f"{stands.cg_height_text} above the ground"])


# --- both at once ----------------------------------------------------------------------------------------------


def _ghost_marks(sheet: Sheet, frame: Frame, scenes: tuple[Scene, Scene], taken: Taken) -> None:
    """Both balance points: the new one as a ball with its name, the old one as a ring in the ghost's tint."""
    old, new = (scene.balance_point for scene in scenes)
    pen, at = sheet.pen, frame.at(old.point)
    pen.circle(at, 9.0 * sheet.weight, None, GHOST, 2.4)
    label(pen, at, [f"balance point of {scenes[0].title}", old.text(0, 2)], GHOST, taken, prefer=(-0.6, 0.8), lead=True)
    ball(pen, frame.at(new.point))
    lines = [f"balance point of {scenes[1].title}", new.text(0, 2)]
    label(pen, frame.at(new.point), lines, BALANCE, taken, prefer=(0.6, -0.8), lead=True)
    left, top = frame.left + 24.0 * sheet.weight, frame.top + 30.0 * sheet.weight
    pen.block(
        (left, top - 10.0 * sheet.weight, left + 28.0 * sheet.weight, top + 10.0 * sheet.weight), GHOST + "60", GHOST
    )
    pen.text((left + 38.0 * sheet.weight, top), f"{scenes[0].title}, before", titles.SMALL, INK, "lm")


def _both(sheet: Sheet, old: Scene, new: Scene) -> Scene:
    """The new scene with old and new figures in its title block, and the looks of both in its legend."""
    title = _change(old.title, new.title)
    has_room = sheet.pen.text_size(title, 27.0, bold=True)[0] <= TITLE_PX * sheet.weight
    return replace(
        new,
        title=title if has_room else new.title,
        mass=_change(old.mass, new.mass),
        balance=_figures(old.balance, new.balance),
        balance_on_chord=_figures(old.balance_on_chord, new.balance_on_chord),
        bodies=(*new.bodies, *old.bodies),
    )


def _change(old: str, new: str) -> str:
    return new if old == new else f"{old} → {new}"


def _figures(old: str, new: str) -> str:
    """Two texts that begin with a figure, as "72.3 → 70.9 mm behind ..."; the new one alone if their words differ."""
    (before, words), (_, other) = (text.split(" ", 1) for text in (old, new))
    return f"{before} → {new}" if words == other and old != new else new
