"""Patterns: what is drawn on the sheet for each part that is cut from it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase
from math import tan

import numpy as np

from airframe.axes import Array
from airframe.cutting.amounts import score_runs
from airframe.cutting.loops import Motion, bounds, grown, pushed
from airframe.cutting.marks import Face, Kind, Mark, glued_lines, looks, marks
from airframe.drawing import Loop, Panel, Part, Point2, loop
from airframe.materials import Material
from airframe.schema.stock import Trim

PAPER_MM = 0.5
"""What a score leaves uncut: the paper and a little foam, or a skin of foam where there is no paper (our choice)."""
THIN_MM = 2.0
"""Sheet up to this thickness is scored half through."""
LEAST_BEVEL_MM = 0.25
"""A bevel that takes off less at its far end is not worth cutting."""
ALIKE_MM = 0.01
"""Patterns whose outlines differ by less are cut from one."""


@dataclass(frozen=True)
class ScoreLine:
    """A line cut part way through, about which the panel bends."""

    start: Point2
    end: Point2
    angle_rad: float
    """How far the panel bends there, towards the scored face."""
    depth_mm: float
    is_far: bool
    """Whether it is cut in the face away from the reader."""


@dataclass(frozen=True)
class BevelLine:
    """Where a slanting edge ends, on the face on which the panel is smaller."""

    start: Point2
    end: Point2
    angle_rad: float
    """Off square."""
    is_far: bool


@dataclass(frozen=True)
class PencilLine:
    """Something to draw on the part."""

    path: tuple[Point2, ...]
    name: str
    kind: Kind
    is_far: bool


@dataclass(frozen=True)
class Pattern:
    """One part as it lies on the sheet, its working face up, its length from left to right, lower left corner at 0."""

    part: Part
    face: Face
    """The face towards the reader: the inner one wherever that is the one to score, bevel or draw on."""
    outline: Loop
    """Where the knife goes through: the panel at its largest."""
    holes: tuple[Loop, ...]
    scores: tuple[ScoreLine, ...]
    bevels: tuple[BevelLine, ...]
    pencil: tuple[PencilLine, ...]
    looks: str
    """Which way the face towards the reader looks in the finished aeroplane."""
    alike: int = 1
    """How many parts are cut to this outline, itself among them."""

    @property
    def name(self) -> str:
        """The part's name, as in the weight statement."""
        return self.part.name

    @property
    def material(self) -> Material:
        """What it is cut from."""
        return self.part.material

    @property
    def size(self) -> Point2:
        """Length and width (mm)."""
        x0, y0, x1, y1 = bounds(self.outline.flattened())
        return x1 - x0, y1 - y0

    def moved(self, motion: Motion) -> Pattern:
        """The pattern elsewhere on the sheet."""
        return replace(
            self,
            outline=motion.loop(self.outline),
            holes=tuple(motion.loop(hole) for hole in self.holes),
            scores=tuple(replace(s, start=motion.point(s.start), end=motion.point(s.end)) for s in self.scores),
            bevels=tuple(replace(b, start=motion.point(b.start), end=motion.point(b.end)) for b in self.bevels),
            pencil=tuple(replace(line, path=motion.points(line.path)) for line in self.pencil),
        )


def patterns(parts: Sequence[Part], trims: Iterable[Trim] = ()) -> list[Pattern]:
    """A pattern for every part that is cut from sheet, in the parts' order."""
    lines, allowances = glued_lines(parts), list(trims)
    made = []
    for part in parts:
        if isinstance(part.shape, Panel) and part.material.kind == "sheet":
            made.append(_pattern(part, part.shape, marks(part, part.shape, lines), _allowance_mm(part, allowances)))
    return _counted(made)


def _allowance_mm(part: Part, trims: list[Trim]) -> float:
    return max((t.allowance_mm for t in trims if fnmatchcase(part.name.lower(), t.on.lower())), default=0.0)


def _pattern(part: Part, panel: Panel, found: list[Mark], allowance_mm: float) -> Pattern:
    face = _working_face(panel, found)
    far: Face = "outer" if face == "inner" else "inner"
    reach = np.zeros(len(panel.outline.points))
    for bevel in panel.bevels:
        reach[bevel.edge] = -panel.thickness_mm * tan(bevel.angle_rad)
    outline = grown(panel.outline, np.maximum(reach, 0.0))
    pencil = [PencilLine(m.path, m.name, m.kind, m.face == far) for m in found if m.kind != "centre" or m.face == face]
    if allowance_mm > 0.0:
        finished = tuple((float(x), float(y)) for x, y in outline.flattened())
        pencil.append(PencilLine((*finished, finished[0]), "trim to this line", "trim", False))
        outline = _with_allowance(outline, allowance_mm)
    depth = score_depth_mm(panel.thickness_mm)
    scores = tuple(
        ScoreLine(start, end, one.angle_rad, depth, face == "outer")
        for one, runs in zip(panel.scores, score_runs(panel), strict=True)
        for start, end in runs
    )
    bevels, way = tuple(_bevels(panel, face, reach)), looks(part, panel, face)
    drawn = Pattern(part, face, outline, panel.holes, scores, bevels, tuple(pencil), way)
    return _laid_down(drawn, part.place.is_mirrored != (face == "inner"))


def score_depth_mm(thickness_mm: float) -> float:
    """How deep a score is cut."""
    return thickness_mm - PAPER_MM if thickness_mm > THIN_MM else thickness_mm / 2.0


def _working_face(panel: Panel, found: list[Mark]) -> Face:
    """The face where the work is: scores and bevels are cut from the inner one; otherwise the one with more pencil."""
    if panel.scores or panel.bevels:
        return "inner"
    length = {"outer": 0.0, "inner": 0.0}
    for mark in found:
        steps = np.diff(np.array(mark.path), axis=0)
        length[mark.face] += float(np.linalg.norm(steps, axis=1).sum())
    return "inner" if length["inner"] > length["outer"] else "outer"


def _bevels(panel: Panel, face: Face, reach: Array) -> list[BevelLine]:
    """The slanting edges' other ends: inside the cut on the inner face, or on the outer face where that is smaller."""
    inner, edges = pushed(panel.outline, np.minimum(reach, 0.0))
    lines = []
    for bevel in panel.bevels:
        if abs(reach[bevel.edge]) < LEAST_BEVEL_MM:
            continue
        row = int(np.flatnonzero(edges == bevel.edge)[0])
        ends = [inner[row], inner[(row + 1) % len(inner)]]
        start, end = ((float(x), float(y)) for x, y in ends)
        is_on_inner = bevel.angle_rad > 0.0
        lines.append(BevelLine(start, end, abs(bevel.angle_rad), is_on_inner != (face == "inner")))
    return lines


def _with_allowance(outline: Loop, allowance_mm: float) -> Loop:
    import shapely

    wider = shapely.Polygon(outline.flattened()).buffer(allowance_mm, join_style="mitre")
    return loop(list(wider.exterior.coords)[:-1])


def _laid_down(drawn: Pattern, is_mirrored: bool) -> Pattern:
    """Seen from its working face, its longer side from left to right, its lower left corner at the origin."""
    seen = drawn.moved(Motion(is_mirrored))
    length, width = seen.size
    if width > length + ALIKE_MM:
        seen = seen.moved(Motion(quarters=1))
    x0, y0, _, _ = bounds(seen.outline.flattened())
    return seen.moved(Motion(shift=(-x0, -y0)))


# --- how many are alike -------------------------------------------------------------------------------------


def _counted(made: list[Pattern]) -> list[Pattern]:
    """The patterns with the number of parts that are cut alike, as drawn or turned half round."""
    kinds: list[list[int]] = []
    for number, pattern in enumerate(made):
        for kind in kinds:
            if _is_alike(made[kind[0]], pattern):
                kind.append(number)
                break
        else:
            kinds.append([number])
    count = {number: len(kind) for kind in kinds for number in kind}
    return [replace(pattern, alike=count[number]) for number, pattern in enumerate(made)]


def _is_alike(one: Pattern, other: Pattern) -> bool:
    """Whether the same knife work makes both; a plain piece may be turned over for it."""
    if one.material != other.material or len(one.holes) != len(other.holes):
        return False
    if (len(one.scores), len(one.bevels)) != (len(other.scores), len(other.bevels)):
        return False
    if max(abs(a - b) for a, b in zip(one.size, other.size, strict=True)) > ALIKE_MM:
        return False
    is_plain = not (one.scores or one.bevels)
    ways = [Motion(), Motion(quarters=2)]
    if is_plain:
        ways += [Motion(True), Motion(True, 2)]
    return any(_coincide(one, other, way) for way in ways)


def _coincide(one: Pattern, other: Pattern, way: Motion) -> bool:
    import shapely

    turned = other.moved(way)
    x0, y0, _, _ = bounds(turned.outline.flattened())
    turned = turned.moved(Motion(shift=(-x0, -y0)))
    cuts = []
    for pattern in (one, turned):
        rings = [shapely.LinearRing(ring.flattened()) for ring in (pattern.outline, *pattern.holes)]
        lines = [*((s.start, s.end) for s in pattern.scores), *((b.start, b.end) for b in pattern.bevels)]
        cuts.append(shapely.GeometryCollection([*rings, *map(shapely.LineString, lines)]))
    return bool(shapely.hausdorff_distance(cuts[0], cuts[1]) <= ALIKE_MM)
