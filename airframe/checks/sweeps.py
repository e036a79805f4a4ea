"""Control surfaces swung about their hinge lines, and what comes near them on the way."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil, cos, inf, sin

import numpy as np

from airframe.axes import Place, place
from airframe.checks.pairs import NOISE_MM3, Meeting, Pairs
from airframe.drawing import Part
from airframe.parts.tail_lines import HingeLine


@dataclass(frozen=True)
class Nearest:
    """The tightest moment of a sweep."""

    gap_mm: float
    """Smallest gap; 0 where it hits; infinite where nothing comes within the search distance."""
    overlap_mm3: float
    """Largest shared volume; 0 where nothing is hit."""
    part: str
    """What moves."""
    other: str
    """What it comes near."""
    angle_rad: float
    """At which angle, as the hinge line counts."""
    other_angle_rad: float = 0.0
    """Angle of the other surface, where both move."""

    @property
    def meeting(self) -> Meeting:
        """The two numbers alone."""
        return Meeting(self.overlap_mm3, self.gap_mm)


NOTHING = Nearest(inf, 0.0, "", "", 0.0)


def swung(where: Place, hinge: HingeLine, angle_rad: float) -> Place:
    """A place turned about a hinge line by the right-hand rule.

    Rodrigues' formula, R = cos a 1 + sin a [n]x + (1 - cos a) n n^T (any dynamics text; from memory).
    """
    n = np.array(hinge.axis)
    cross = np.array([[0.0, -n[2], n[1]], [n[2], 0.0, -n[0]], [-n[1], n[0], 0.0]])
    turn = cos(angle_rad) * np.eye(3) + sin(angle_rad) * cross + (1.0 - cos(angle_rad)) * np.outer(n, n)
    point = np.array(hinge.point)
    return place(turn, point - turn @ point).after(where)


def steps(low_rad: float, high_rad: float, step_rad: float) -> list[float]:
    """Angles from lowest to highest, both ends and 0 among them, no further apart than a step."""
    angles = {0.0, low_rad, high_rad}
    for end in (low_rad, high_rad):
        count = max(ceil(abs(end) / step_rad - 1e-9), 1)
        angles |= {end * k / count for k in range(1, count)}
    return sorted(angles)


def at_angle(parts: Iterable[Part], hinge: HingeLine, angle_rad: float) -> list[Part]:
    """Parts swung with their surface."""
    return [replace(part, place=swung(part.place, hinge, angle_rad)) for part in parts]


def sweep(
    pairs: Pairs,
    moving: Sequence[Part],
    hinge: HingeLine,
    angles: Sequence[float],
    others: Sequence[Part],
    search_mm: float,
    other_angle_rad: float = 0.0,
) -> Nearest:
    """The tightest moment of parts swung through these angles past others."""
    found = [NOTHING]
    for angle in angles:
        for a, b, meeting in pairs.meetings(at_angle(moving, hinge, angle), others, search_mm, NOISE_MM3):
            found.append(Nearest(meeting.gap_mm, meeting.overlap_mm3, a.name, b.name, angle, other_angle_rad))
    return tightest(found)


def tightest(found: Iterable[Nearest]) -> Nearest:
    """The one with the most overlap, or the smallest gap; of equals, the one at the smallest angle."""
    return min(found, key=lambda one: (-one.overlap_mm3, one.gap_mm, abs(one.angle_rad)))
