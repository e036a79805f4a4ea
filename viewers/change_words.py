"""What became of a part, in a builder's words."""

from __future__ import annotations

from math import acos, degrees

import numpy as np

from airframe import units
from airframe.axes import Point
from airframe.compare.drawings import size
from airframe.compare.parts import Pair
from airframe.drawing import Bead, Block, Film, Panel, Rod, Wire
from airframe.mass import Entry
from airframe.units import System

SHOWN_MM = 0.1
"""A shift along one axis that is less than this is not told."""
SHOWN_NEW_MM = 1.0
"""The same for a part of a new shape, whose middle moves with its outline."""
SHOWN_RAD = 0.001
SHOWN_G = 0.05
ON_CENTRE_MM = 1.0
"""A part whose middle is this near to the centre plane moves right or left, any other one outward or inward."""


def what_changed(pair: Pair, system: System) -> tuple[str, ...]:
    """What happened to a part: "new shape", "moved 10 mm aft", "heavier by 2.3 g", "now of spruce"; empty for nothing.

    Changes too small to measure on the bench are "hardly changed".
    """
    if pair.old is None or pair.new is None:
        return (pair.fate,)
    words = [f"was {pair.old_name}"] if pair.old_name is not None else []
    if not pair.is_same_shape:
        words += _shape(pair.old, pair.new, system)
    words += _turn(pair.old, pair.new) if pair.is_turned else []
    moved = _moved(pair, system)
    words += [f"moved {moved}"] if moved else []
    if not pair.is_same_material:
        words.append(_material(pair.old, pair.new))
    if pair.is_same_shape and abs(pair.mass_g) >= SHOWN_G:
        words.append(_mass(pair, system))
    if not words and pair.fate == "changed":
        words.append("hardly changed")
    return tuple(words)


def _shape(old: Entry, new: Entry, system: System) -> list[str]:
    """What is new about a drawing, by what tells two of its kind apart best."""
    before, after = old.part.shape, new.part.shape
    if isinstance(before, Block) and isinstance(after, Block):
        return ["now " + " x ".join(bench_length(side, system) for side in after.size)]
    if type(before) is not type(after):
        return ["new shape"]
    was, now = size(old), size(new)
    if isinstance(after, Panel) and was["thickness"] != now["thickness"]:
        return [f"now {units.size(now['thickness'], system)} thick"]
    if isinstance(after, Wire | Rod) and was["diameter"] != now["diameter"]:
        return [f"now {units.size(now['diameter'], system)} {'wire' if isinstance(after, Wire) else 'round'}"]
    if isinstance(after, Wire | Bead | Rod):
        return [_longer(now["length"] - was["length"], system)]
    if isinstance(after, Film):
        grown = now["area"] - was["area"]
        return ["covers more" if grown > 0.0 else "covers less"] if abs(grown) > SHOWN_MM else ["new outline"]
    return ["new shape"]


def _longer(by_mm: float, system: System) -> str:
    if abs(by_mm) < SHOWN_MM:
        return "new shape"
    return f"{bench_length(abs(by_mm), system)} {'longer' if by_mm > 0.0 else 'shorter'}"


def _turn(old: Entry, new: Entry) -> list[str]:
    """By how much, about whatever axis: the trace of a rotation matrix is 1 + 2 cos of its angle."""
    between = np.array(new.part.place.rotation) @ np.array(old.part.place.rotation).T
    angle = acos(float(np.clip((np.trace(between) - 1.0) / 2.0, -1.0, 1.0)))
    if np.linalg.det(between) < 0.0:
        return ["now the mirror image"]
    return [f"turned {degrees(angle):.1f} deg"] if angle >= SHOWN_RAD else []


def _moved(pair: Pair, system: System) -> str:
    assert pair.old is not None
    least = SHOWN_MM if pair.is_same_shape else SHOWN_NEW_MM
    return shift(pair.moved_mm, system, float(pair.old.body.centre[1]), least)


def shift(moved_mm: Point, system: System, butt_line_mm: float = 0.0, least_mm: float = SHOWN_MM) -> str:
    """A shift in words: "10 mm aft, 4 mm up"; for a part off the centre plane "outward" or "inward"."""
    x, y, z = moved_mm
    across = ("right", "left")
    if abs(butt_line_mm) > ON_CENTRE_MM:
        across, y = ("outward", "inward"), y if butt_line_mm > 0.0 else -y
    axes = ((x, ("aft", "forward")), (y, across), (z, ("up", "down")))
    told = [(value, words[0] if value > 0.0 else words[1]) for value, words in axes if abs(value) >= least_mm]
    texts = [(bench_length(abs(value), system), word) for value, word in told]
    return ", ".join(f"{text} {word}" for text, word in texts if float(text.split()[0]) != 0.0)


def _mass(pair: Pair, system: System) -> str:
    """Heavier or lighter; said otherwise where the drawings weigh the same and only the kitchen scale differs."""
    amount = units.mass(abs(pair.mass_g), system)
    if abs(pair.mass_g - pair.scale_g) < SHOWN_G:
        return f"{amount} {'more' if pair.mass_g > 0.0 else 'less'} by weighing alone"
    return f"{'heavier' if pair.mass_g > 0.0 else 'lighter'} by {amount}"


def _material(old: Entry, new: Entry) -> str:
    name = new.part.material.name
    return f"{name} weighs otherwise" if name == old.part.material.name else f"now of {name}"


def bench_length(value_mm: float, system: System) -> str:
    """A length as it is read off a ruler: "16 mm", "0.6 mm", "0.63 in"."""
    number, unit = units.length(value_mm, system).split(" ")
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {unit}"
