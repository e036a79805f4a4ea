"""How parts stand to one another: shared volume and smallest gap, pair by pair.

Bounding boxes sort out what cannot meet. What is left is screened on the coarse meshes, exact for flat-faced
parts; where a curved one seems to be hit, the CAD kernel settles it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import inf
from typing import Any

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array, Place, place
from airframe.checks.finding import Verdict
from airframe.drawing import Bead, Film, Panel, Part, PartError, Revolved, Rod, Shape, Wire
from airframe.model import Aeroplane

NOISE_MM3 = 0.5
"""Less shared volume than this is rounding of coordinates: parts that touch on a large face have that much."""
TOUCH_MM = 0.05
"""Parts nearer than this touch."""
ROUNDING_MM = 1e-3
"""A gap this little under its limit passes: it was drawn to the limit."""
MERGE_MM = 1e-4
"""Corners of a display mesh nearer than this are one: it holds single precision, 6e-5 mm at 1 m."""
KEY_DECIMALS, TURN_DECIMALS = 6, 9
"""Relative places are compared to the nanometre, and turns to a nanometre at a metre's distance: the rounding of a
move is far below, and a large face that touches does not share any volume to speak of for it."""

SHAPES_KEPT = 2000
"""Distinct shapes that a cache of pairs remembers: those of some forty variants."""
ANSWERS_KEPT = 100_000
"""Answers about pairs and boxes that it remembers."""


@dataclass(frozen=True)
class Meeting:
    """How two parts stand to one another."""

    overlap_mm3: float
    """Volume that both take; 0 where they only touch."""
    gap_mm: float
    """Smallest distance between them: 0 where they touch or overlap, infinite beyond the search distance."""


@dataclass
class PairCache:
    """What is known of pairs, kept from one aeroplane to the next by whoever compares several.

    A pair's key is its two shapes and the place of one relative to the other: a part that moved spoils only its
    own pairs, and left parts that meet as their right-hand images do are not measured again.
    """

    meetings: dict[Hashable, Meeting] = field(default_factory=dict)
    bodies: dict[int, Any] = field(default_factory=dict)
    """Closed meshes of shapes in their own frames."""
    numbers: dict[Shape, int] = field(default_factory=dict)
    """A short name for each distinct shape: hashing a long outline for every pair costs more than some pairs."""
    stretches: dict[Hashable, tuple[tuple[float, float], ...]] = field(default_factory=dict)
    """Stations over which a placed shape takes any of a box, by shape, place and box."""
    counted: int = 0
    """Names given out so far; none is given twice, even after room was made."""

    def number(self, shape: Shape) -> int:
        """The shape's short name in this cache."""
        known = self.numbers.get(shape)
        if known is None:
            if len(self.numbers) >= SHAPES_KEPT or len(self.meetings) + len(self.stretches) > ANSWERS_KEPT:
                self._make_room()
            self.counted += 1
            known = self.numbers[shape] = self.counted
        return known

    def _make_room(self) -> None:
        """Begin anew, so that a thousand variants take no more memory than some."""
        self.meetings.clear()
        self.stretches.clear()
        self.bodies.clear()
        self.numbers.clear()


def is_solid(part: Part) -> bool:
    """Whether the part takes room: beads and films do not."""
    return not isinstance(part.shape, Bead | Film)


def is_curved(shape: Shape) -> bool:
    """Whether the coarse mesh only approximates the shape. Scored and bevelled panels are made of flat facets."""
    if isinstance(shape, Panel):
        flat = bool(shape.scores or shape.bevels)
        return not flat and not all(loop.is_straight for loop in (shape.outline, *shape.holes))
    return isinstance(shape, Wire | Rod | Revolved)


class Pairs:
    """Answers about pairs of one aeroplane's parts, moved or not."""

    def __init__(self, aeroplane: Aeroplane, cache: PairCache | None = None) -> None:
        self.aeroplane = aeroplane
        self.cache = cache if cache is not None else PairCache()
        self._placed: dict[tuple[int, Place], Any] = {}
        self._boxes: dict[tuple[int, Place], Array] = {}

    def meeting(self, a: Part, b: Part, search_mm: float = 0.0, settle_mm3: float = NOISE_MM3) -> Meeting:
        """How two parts stand to one another.

        A gap wider than `search_mm` counts as infinite. Where curved parts seem to share more than `settle_mm3`,
        the kernel says how much it is; the gap of curved parts is that of their meshes, too wide by a chord's
        sagitta at most (0.1 mm on a 60 mm wheel).
        """
        numbers = (self.cache.number(a.shape), self.cache.number(b.shape))
        there = relative(a.place, b.place)
        key = (*numbers, there, search_mm, settle_mm3)
        known = self.cache.meetings.get(key)
        if known is None:
            known = self.cache.meetings[key] = self._measured(a, b, there, search_mm, settle_mm3)
        return known

    def near(self, parts: Sequence[Part], others: Sequence[Part], search_mm: float = 0.0) -> list[tuple[Part, Part]]:
        """Every pair of one part and one other whose bounding boxes come within `search_mm`; each pair once."""
        if not parts or not others:
            return []
        first, second = self.boxes(parts), self.boxes(others)
        apart = np.maximum(first[:, None, :3] - second[None, :, 3:], second[None, :, :3] - first[:, None, 3:])
        found: dict[tuple[str, str], tuple[Part, Part]] = {}
        for i, j in np.argwhere((apart <= search_mm).all(axis=2)):
            a, b = parts[i], others[j]
            if a.name != b.name:
                found.setdefault((min(a.name, b.name), max(a.name, b.name)), (a, b))
        return list(found.values())

    def meetings(
        self, parts: Sequence[Part], others: Sequence[Part], search_mm: float = 0.0, settle_mm3: float = NOISE_MM3
    ) -> list[tuple[Part, Part, Meeting]]:
        """The pairs of `near` that overlap, touch or come within the search distance, with how they do."""
        measured = [(a, b, self.meeting(a, b, search_mm, settle_mm3)) for a, b in self.near(parts, others, search_mm)]
        return [one for one in measured if one[2].gap_mm <= search_mm]

    def boxes(self, parts: Iterable[Part]) -> Array:
        """Lowest and highest station, butt line and water line (n, 6) of each part's mesh in its place."""
        return np.array([self._box(part) for part in parts]).reshape(-1, 6)

    def _box(self, part: Part) -> Array:
        key = (self.cache.number(part.shape), part.place)
        if key not in self._boxes:
            corners = part.place.apply(self.aeroplane.record(part).vertices)
            self._boxes[key] = np.concatenate([corners.min(axis=0), corners.max(axis=0)])
        return self._boxes[key]

    def body(self, part: Part) -> Any:
        """The part's closed mesh in its place. Raises PartError if it does not close."""
        key = (self.cache.number(part.shape), part.place)
        if key not in self._placed:
            self._placed[key] = self._own_body(part).transform(_matrix(part.place))
        return self._placed[key]

    def exact_gap_mm(self, a: Part, b: Part) -> float:
        """The distance between two parts by the kernel."""
        return float(self.aeroplane.solid(a).distance(self.aeroplane.solid(b)))

    def _own_body(self, part: Part) -> Any:
        number = self.cache.number(part.shape)
        if number not in self.cache.bodies:
            record = self.aeroplane.record(part)
            self.cache.bodies[number] = closed_body(part.name, record.vertices, record.faces)
        return self.cache.bodies[number]

    def _measured(self, a: Part, b: Part, there: Place, search_mm: float, settle_mm3: float) -> Meeting:
        """Seen from the first part: what is kept must not hang on where in an aeroplane the two were first met."""
        first, second = self._own_body(a), self._own_body(b).transform(_matrix(there))
        overlap = float((first ^ second).volume())
        if overlap > settle_mm3 and (is_curved(a.shape) or is_curved(b.shape)):
            solids = [self.aeroplane.solid(replace(part, place=where)) for part, where in ((a, Place()), (b, there))]
            overlap = float(solids[0].intersect(solids[1]).Volume())
        if overlap > NOISE_MM3:
            return Meeting(overlap, 0.0)
        # The library answers with the search distance itself for anything beyond it.
        reach = max(search_mm, TOUCH_MM)
        gap = float(first.min_gap(second, 1.01 * reach))
        return Meeting(0.0, gap if gap <= reach else inf)


def judged(meeting: Meeting, limit_mm: float) -> Verdict:
    """For things that must not meet: fail where they hit or touch, caution where the gap is under the limit."""
    if meeting.overlap_mm3 > NOISE_MM3 or meeting.gap_mm <= TOUCH_MM:
        return "fail"
    return "pass" if meeting.gap_mm >= limit_mm - ROUNDING_MM else "caution"


def relative(a: Place, b: Place) -> Place:
    """Where the second place lies, seen from the first, rounded so that a common move does not show."""
    back = np.array(a.rotation).T
    rotation = np.round(back @ np.array(b.rotation), TURN_DECIMALS)
    return place(rotation, np.round(back @ (np.array(b.origin) - np.array(a.origin)), KEY_DECIMALS))


def _matrix(there: Place) -> Array:
    """A place as the mesh library takes it, (3, 4)."""
    return np.column_stack([np.array(there.rotation), np.array(there.origin)])


def closed_body(name: str, vertices: NDArray[np.float32], faces: NDArray[np.int32]) -> Any:
    """A display mesh as a body that can be cut and measured. Raises PartError, by the part's name, if it is open."""
    import manifold3d

    mesh = manifold3d.Mesh64(vertices.astype(np.float64), faces.astype(np.uint64), tolerance=MERGE_MM)
    mesh.merge()
    body = manifold3d.Manifold(mesh)
    if body.status() != manifold3d.Error.NoError:
        raise PartError(name, f"its mesh does not close, so it cannot be checked against others ({body.status().name})")
    return body
