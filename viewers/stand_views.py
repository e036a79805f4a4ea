"""Three views of an aeroplane on the ground, dimensioned: from the side, from ahead, along the line it tips about."""

from __future__ import annotations

from math import degrees

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.checks.contact import TippingLine, pitch_at_touch, pitched
from airframe.checks.finding import Finding
from airframe.checks.standing import RIGHT, THIRD
from viewers.annotations import dimension_line, ground_line
from viewers.labels import Taken, label
from viewers.lettering import Pen
from viewers.palette import CONTACT, DIMENSION, DISC, INK_SOFT, PAPER
from viewers.posture import Posture
from viewers.scene import AFT, DOWN, FORWARD, UP, Dimension, Scene
from viewers.stand_marks import FAILS, PASSES, arc, balance, contacts, ground, tipping, to_point, track
from viewers.views import Frame

STEP = 40.0
"""From one dimension line to the next."""
CLEAR = 30.0
"""From the ground, or the model, to the first one."""
BEYOND = 70.0
"""How far the ground is drawn beyond the model's ends."""
LEAST_SIT_DEG = 0.3
"""An aeroplane that sits level within this has one ground line, not two."""
ARC = 150.0


def from_side(pen: Pen, frame: Frame, scene: Scene, posture: Posture, found: dict[str, Finding], taken: Taken) -> None:
    """Thrust line level, tail up: wheel line, propeller's room, wheel base; the ground as it sits, in dashes."""
    level = posture.standing.level
    ends = frame.at(scene.points())[:, 0]
    left, right = float(ends.min()) - BEYOND * pen.weight, float(ends.max()) + BEYOND * 0.4 * pen.weight
    main = (level.points[0] + level.points[1]) / 2.0
    y = float(frame.at(main)[1])
    ground_line(pen, np.array([left, y]), np.array([right, y]), taken)
    is_tail_wheel = posture.design.gear.arrangement == "tail wheel"
    if is_tail_wheel:
        _sits(pen, frame, posture, (left, right), taken)
        _nose_down(pen, frame, scene, posture, left, taken)
    _propeller_room(pen, frame, scene, posture, float(ends.min()), taken)
    _bases(pen, frame, posture, main, y, taken)
    _wheel_line(pen, frame, posture, main, found, taken)
    _loads(pen, frame, posture, main, taken)
    balance(pen, frame, posture, taken, [], has_plumb=False)


def from_ahead(pen: Pen, frame: Frame, posture: Posture, taken: Taken) -> None:
    """As it stands: track, height of the balance point, both overturn lines."""
    y = ground(pen, frame, posture, taken, 30.0 * pen.weight)
    track(pen, frame, posture, y, taken)
    for line in posture.standing.side_lines.values():
        tipping(pen, frame, posture, line, taken, has_text=False)
    contacts(pen, frame, posture, taken)
    balance(pen, frame, posture, taken, [f"{posture.cg_height_text} above the ground"])


def from_line(pen: Pen, frame: Frame, posture: Posture, taken: Taken) -> None:
    """Along the line it tips about first: that line is a point, and the overturn angle is true."""
    y = ground(pen, frame, posture, taken, 30.0 * pen.weight)
    ends, line = posture.worst
    _reach_and_height(pen, frame, posture, line, y, taken)
    tipping(pen, frame, posture, line, taken, has_text=True)
    at = frame.at(posture.foot(line))
    pen.circle(at, 5.0 * pen.weight, CONTACT)
    name = f"{posture.standing.feet[min(ends)].name} to {posture.standing.feet[max(ends)].name}"
    away = 1.0 if float(at[0]) > float(frame.at(posture.cg)[0]) else -1.0
    label(pen, at, ["it tips about the line", name], CONTACT, taken, prefer=(away, 0.6))
    balance(pen, frame, posture, taken, [])


def _reach_and_height(
    pen: Pen, frame: Frame, posture: Posture, line: TippingLine, ground_px: float, taken: Taken
) -> None:
    """How far inside the tipping line the balance point lies, and how high, as the angle's two sides."""
    foot, under, right = posture.foot(line), posture.under_cg, np.array(frame.view.right)
    is_left = float((under - foot) @ right) >= 0.0
    start, end = (foot, under) if is_left else (under, foot)
    text = units.length(abs(line.inside_mm), posture.system)
    down = to_point(-posture.up)
    reach = Dimension("reach", text, to_point(start), to_point(end), to_point(right), down, ("front",))
    dimension_line(pen, frame, reach, ground_px + 62.0 * pen.weight, taken)
    outward = right if is_left else -right
    up, sideways = to_point(posture.up), to_point(outward)
    height = Dimension(
        "height", posture.cg_height_text, to_point(under), to_point(posture.cg), up, sideways, ("front",)
    )
    farthest = max(float(frame.at(point) @ frame.direction(outward)) for point in posture.main_contacts)
    dimension_line(pen, frame, height, farthest + 60.0 * pen.weight, taken)


# --- from the side ----------------------------------------------------------------------------------------


def _sits(pen: Pen, frame: Frame, posture: Posture, ends: tuple[float, float], taken: Taken) -> None:
    """The ground as it sits on all its wheels, with the angle to the level one."""
    pitch = degrees(posture.standing.stance.pitch_rad)
    if abs(pitch) < LEAST_SIT_DEG:
        return
    first, last = (frame.at(posture.standing.stance.points[foot]) for foot in (RIGHT, THIRD))
    along = (last - first) / float(np.linalg.norm(last - first))
    start, end = (first + along * (x - first[0]) / along[0] for x in (float(first[0]) - 60.0 * pen.weight, ends[1]))
    pen.line([start, end], INK_SOFT, 1.2, dashes=(12.0, 6.0))
    taken.add_line(start, end)
    radius = 0.52 * float(last[0] - first[0]) / pen.weight
    middle = arc(pen, first, np.array([1.0, 0.0]), along, radius, DIMENSION, taken)
    text = [f"it sits {abs(pitch):.1f} deg nose {'up' if pitch > 0.0 else 'down'}"]
    label(pen, middle, text, DIMENSION, taken, prefer=(0.3, 1.0))


def _nose_down(pen: Pen, frame: Frame, scene: Scene, posture: Posture, left: float, taken: Taken) -> None:
    """The ground as it would lie under tyre and propeller when the propeller touches first of itself."""
    if scene.disc is None:
        return
    rim, wheel = scene.disc.rim(), posture.standing.feet[RIGHT]
    pitches = pitch_at_touch(rim, wheel, behind=False)
    touching = int(np.argmax(pitches))
    if not np.isfinite(pitches[touching]):
        return
    pitch = float(pitches[touching])
    tyre = wheel.lowest(pitched(pitch))
    start, end = frame.at(tyre), frame.at(rim[touching])
    along = (end - start) / float(np.linalg.norm(end - start))
    reach = (left - float(start[0])) / float(along[0])
    pen.line([start, start + along * reach], DISC, 1.2, dashes=(12.0, 6.0))
    taken.add_line(start, start + along * reach)
    text = ["propeller touches", f"{units.angle(abs(pitch))} nose {'up' if pitch > 0.0 else 'down'}"]
    label(pen, start + along * reach * 0.8, text, DISC, taken, prefer=(-0.6, -0.6))


def _propeller_room(pen: Pen, frame: Frame, scene: Scene, posture: Posture, left: float, taken: Taken) -> None:
    """From the disk's lowest point down to the level ground."""
    if scene.disc is None:
        return
    rim = scene.disc.rim()
    tip = rim[int(np.argmin(rim[:, 2]))]
    room = posture.standing.level.height_mm(tip)
    below = tip - np.array([0.0, 0.0, room])
    text = f"propeller clears {units.length(room, posture.system)}, level, unloaded"
    dimension = Dimension("room", text, to_point(below), to_point(tip), UP, FORWARD, ("side",))
    dimension_line(pen, frame, dimension, -left + CLEAR * pen.weight, taken)


def _bases(pen: Pen, frame: Frame, posture: Posture, main: Array, ground_px: float, taken: Taken) -> None:
    """Wheel base, and how far the balance point lies from the axle, below the ground."""
    third = posture.standing.feet[THIRD].lowest(posture.standing.level.up)
    away = ground_px + (CLEAR + 24.0) * pen.weight
    for number, (name, point) in enumerate((("", posture.cg), ("wheel base ", third))):
        ordered = sorted((main, point), key=lambda one: float(one[0]))
        text = name + units.length(abs(float(point[0] - main[0])), posture.system)
        dimension = Dimension(name, text, to_point(ordered[0]), to_point(ordered[1]), AFT, DOWN, ("side",))
        dimension_line(pen, frame, dimension, away + number * STEP * pen.weight, taken)


def _wheel_line(pen: Pen, frame: Frame, posture: Posture, main: Array, found: dict[str, Finding], taken: Taken) -> None:
    """From the main wheels' contact up to the balance point, with the angle from the upright."""
    finding = found.get("ground.wheel-line") or found.get("ground.tip-back")
    colour = DIMENSION if finding is None else (FAILS if finding.verdict in ("fail", "caution") else PASSES)
    foot, top = frame.at(main), frame.at(posture.cg)
    upright = foot + np.array([0.0, float(top[1] - foot[1]) * 1.12])
    pen.line([foot, upright], colour, 1.2, dashes=(10.0, 5.0))
    pen.line([foot, top], PAPER, 4.6)
    pen.line([foot, top], colour, 2.2)
    taken.add_line(foot, top)
    taken.add_line(foot, upright)
    middle = arc(pen, foot, upright - foot, top - foot, ARC, colour, taken)
    words = [f"{abs(posture.wheel_line_deg):.1f} deg"]
    if finding is not None and None not in finding.limit:
        low, high = finding.limit
        words.append(f"{low:.0f} to {high:.0f} deg")
    is_behind = posture.wheel_line_deg >= 0.0
    words.insert(0, "nose-over angle" if is_behind else "tip-back angle")
    label(pen, middle, words, colour, taken, prefer=(1.0 if is_behind else -1.0, 0.2))


def _loads(pen: Pen, frame: Frame, posture: Posture, main: Array, taken: Taken) -> None:
    """How much of the weight the main wheels and the third point carry, as it stands."""
    feet, shares = posture.standing.feet, posture.standing.shares
    third = feet[THIRD].lowest(posture.standing.level.up)
    for point, name, share in ((main, "main wheels", shares[0] + shares[1]), (third, feet[THIRD].name, shares[2])):
        at = frame.at(point)
        arm = 6.0 * pen.weight
        pen.circle(at, arm, None, CONTACT, 1.8)
        lines = [name, f"{100.0 * share:.0f} % of the weight"]
        label(pen, at, lines, CONTACT, taken, prefer=(0.8, 0.4))
