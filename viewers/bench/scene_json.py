"""The aeroplane as the page's model shows it: every part by its shape's name and its place, and the marks on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from airframe import units
from airframe.axes import Array, Place, Point
from airframe.checks.changes import item_key
from airframe.checks.standing import Standing
from airframe.drawing import COORDINATE_DECIMALS, Bead, Film, Panel, Part
from airframe.mass import Entry
from airframe.model import Aeroplane
from airframe.parts.common import WING
from airframe.units import System
from viewers.bench.quick import Extent, track_mm
from viewers.bench.served import Served, points
from viewers.palette import LOOKS
from viewers.scene import AFT, DOWN, RIGHT, UP, Dimension, Disc, Marker
from viewers.staging import balance_dimension, behind_leading_edge
from viewers.turnable import SKIN

STAND_OFF_MM = 40.0
"""From the model to a dimension's line."""
MATRIX_DECIMALS = 6
POINT_DECIMALS = 3
"""A micrometre: what is finer only lengthens the answer."""

Feet = dict[str, list[float]]
"""Where it touches the ground, by the name of what touches."""


@dataclass(frozen=True, eq=False)
class Reach:
    """How far everything reaches: a box (6,) for each part that has a surface or is a line."""

    parts: tuple[Part, ...]
    boxes: Array

    @property
    def low(self) -> Array:
        """Lowest station, butt line and water line."""
        low: Array = self.boxes[:, :3].min(axis=0)
        return low

    @property
    def high(self) -> Array:
        """Highest of each."""
        high: Array = self.boxes[:, 3:].max(axis=0)
        return high

    def ends(self, aeroplane: Aeroplane, axis: int, group: str | None = None) -> tuple[Point, Point]:
        """The foremost and rearmost points along an axis of the bodies, or of those of a group."""
        rows = [
            i
            for i, part in enumerate(self.parts)
            if not isinstance(part.shape, Bead) and (group is None or part.group == group)
        ]
        first = self.parts[min(rows, key=lambda i: float(self.boxes[i, axis]))]
        last = self.parts[max(rows, key=lambda i: float(self.boxes[i, 3 + axis]))]
        corners = points(aeroplane, first), points(aeroplane, last)
        return _point(corners[0][corners[0][:, axis].argmin()]), _point(corners[1][corners[1][:, axis].argmax()])


def reach(aeroplane: Aeroplane, served: Served) -> Reach:
    """How far every part reaches; coats lie on parts and add nothing."""
    parts = tuple(part for part in aeroplane.parts if not isinstance(part.shape, Film))
    boxes = np.array([served.box(aeroplane, part, served.digest(part)) for part in parts])
    return Reach(parts, boxes)


def extent(reaches: Reach) -> Extent:
    """Length over everything and span of the wing, as its parts reach."""
    rows = [not isinstance(part.shape, Bead) for part in reaches.parts]
    wing = [is_body and part.group == WING for is_body, part in zip(rows, reaches.parts, strict=True)]
    bodies = reaches.boxes[rows]
    span = reaches.boxes[wing] if any(wing) else bodies
    return Extent(
        float(bodies[:, 3].max() - bodies[:, 0].min()),
        float(span[:, 4].max() - span[:, 1].min()),
    )


def scene(
    aeroplane: Aeroplane,
    served: Served,
    reaches: Reach,
    stands: Standing | None,
    system: System,
) -> dict[str, Any]:
    """Everything the model shows, but for what may be dragged. Points and places are in the aeroplane's frame, mm."""
    disc = _disc(aeroplane, system)
    rim = disc.rim() if disc is not None else np.zeros((0, 3))
    low, high = (np.vstack([rim, end[None, :]]) for end in (reaches.low, reaches.high))
    balance = Marker("balance", "balance point", aeroplane.cg_mm, system)
    feet = _feet(aeroplane, stands)
    return {
        "parts": _parts(aeroplane, served, system),
        "balance": {"point": _rounded(aeroplane.cg_mm), "text": balance.text(0, 1, 2)},
        "contacts": [{"name": name, "point": point} for name, point in feet.items()],
        "tipping": _tipping(list(feet.values())) if stands is not None else [],
        "ground": sorted({(x, 0.0, z) for x, _, z in feet.values()}),
        "dimensions": _dimensions(aeroplane, reaches, feet, system),
        "disc": None if disc is None else [_rounded(point) for point in rim],
        "low": _rounded(low.min(axis=0)),
        "high": _rounded(high.max(axis=0)),
    }


def ghost(aeroplane: Aeroplane, served: Served) -> dict[str, Any]:
    """The bodies of another aeroplane, to be shown behind this one."""
    bodies = (part for part in aeroplane.parts if not isinstance(part.shape, Bead | Film))
    return {"parts": [{"shape": served.digest(part), "place": _matrix(part.place)} for part in bodies]}


def _parts(aeroplane: Aeroplane, served: Served, system: System) -> list[dict[str, Any]]:
    sheets = {(served.digest(part), part.place): part.name for part in aeroplane.parts if isinstance(part.shape, Panel)}
    return [_part(entry, served, sheets, system) for entry in aeroplane.statement.entries]


def _part(entry: Entry, served: Served, sheets: dict[tuple[str, Place], str], system: System) -> dict[str, Any]:
    part = entry.part
    shape, look = part.shape, part.material.look
    on = None
    if isinstance(shape, Film):
        under = Part(part.name, part.group, shape.panel, part.place, part.material)
        on = sheets.get((served.digest(under), part.place))
    return {
        "name": part.name,
        "group": part.group,
        "material": part.material.name,
        "mass": units.mass(entry.mass_g, system),
        "basis": entry.basis,
        "colour": LOOKS[look].colour,
        "opacity": LOOKS[look].opacity,
        "skin": look in SKIN,
        "kind": "coat" if isinstance(shape, Film) else "line" if isinstance(shape, Bead) else "body",
        "shape": served.digest(part),
        "place": _matrix(part.place),
        "on": on,
        "template": isinstance(shape, Panel) and part.material.kind == "sheet",
    }


def _matrix(place: Place) -> list[float]:
    """The motion as a 4 x 4 matrix, row by row."""
    rows = zip(place.rotation, place.origin, strict=True)
    top = [round(value, MATRIX_DECIMALS) for row, shift in rows for value in (*row, shift)]
    return [*top, 0.0, 0.0, 0.0, 1.0]


# --- marks ----------------------------------------------------------------------------------------------


def _feet(aeroplane: Aeroplane, stands: Standing | None) -> Feet:
    """Where it touches the ground as it stands; with the fuselage level where it does not stand by itself."""
    if stands is None:
        return {name: _rounded(point) for name, point in aeroplane.contacts.items()}
    pairs = zip(stands.feet, stands.stance.points, strict=True)
    return {foot.name: _rounded(point) for foot, point in pairs}


def _tipping(feet: Sequence[list[float]]) -> list[list[list[float]]]:
    return [[a, b] for a, b in zip(feet, [*feet[1:], feet[0]], strict=True)]


def _disc(aeroplane: Aeroplane, system: System) -> Disc | None:
    disk = aeroplane.propeller
    if disk is None:
        return None
    return Disc(disk.centre, disk.axis, disk.diameter_mm, f"propeller {units.length(disk.diameter_mm, system)}")


def _dimensions(aeroplane: Aeroplane, reaches: Reach, feet: Feet, system: System) -> list[dict[str, Any]]:
    balance = balance_dimension(aeroplane)
    words = behind_leading_edge(aeroplane.cg_behind_leading_edge_mm, system)
    found = [Dimension("balance", words, balance.start, balance.end, AFT, UP, ())]
    mains, track = _mains(feet), track_mm(aeroplane)
    if mains is not None and track is not None:
        # Its number is the design's: the contacts that are drawn are rounded.
        found.append(_dimension("track", mains, track, RIGHT, DOWN, system))
    if any(part.group == WING for part in reaches.parts):
        ends = reaches.ends(aeroplane, 1, WING)
        found.append(_dimension("span", ends, ends[1][1] - ends[0][1], RIGHT, (-1.0, 0.0, 0.0), system))
    ends = reaches.ends(aeroplane, 0)
    found.append(_dimension("length", ends, ends[1][0] - ends[0][0], AFT, (0.0, -1.0, 0.0), system))
    return [_drawn(one, reaches) for one in found]


def _mains(feet: Feet) -> tuple[Point, Point] | None:
    """The outermost contacts off the middle, left and right, in the attitude that the contacts are drawn in."""
    off_centre = sorted((_point(np.array(point)) for point in feet.values() if point[1] != 0.0), key=lambda p: p[1])
    return (off_centre[0], off_centre[-1]) if len(off_centre) > 1 else None


def _dimension(
    name: str, ends: tuple[Point, Point], size_mm: float, along: Point, outward: Point, system: System
) -> Dimension:
    text = units.length(round(abs(size_mm), COORDINATE_DECIMALS), system)
    return Dimension(name, f"{name} {text}", *ends, along, outward, ())


def _drawn(dimension: Dimension, reaches: Reach) -> dict[str, Any]:
    """Its two extension lines, its own line and its arrowheads, standing off the model."""
    outward, along = np.array(dimension.outward), np.array(dimension.along)
    feet = [np.array(point) for point in (dimension.start, dimension.end)]
    away = max(float(reaches.low @ outward), float(reaches.high @ outward)) + STAND_OFF_MM
    if dimension.name in ("balance", "track"):
        away = max(float(foot @ outward) for foot in feet) + STAND_OFF_MM
    middle = (feet[0] + feet[1]) / 2.0
    # Both ends of the line lie square across the measured direction.
    ends = [middle + along * float((foot - middle) @ along) for foot in feet]
    ends = [end + outward * (away - float(end @ outward)) for end in ends]
    segments = [[feet[0], ends[0]], [feet[1], ends[1]], ends]
    return {
        "name": dimension.name,
        "text": dimension.text,
        "segments": [[_rounded(a), _rounded(b)] for a, b in segments],
        "at": _rounded((ends[0] + ends[1]) / 2.0),
        "along": list(dimension.along),
    }


# --- what may be dragged -----------------------------------------------------------------------------------


def carried(aeroplane: Aeroplane) -> dict[str, str]:
    """The parts that are items with a station of their own, and its key."""
    present = {part.name for part in aeroplane.parts}
    items = aeroplane.design.equipment.items()
    return {
        name: item_key(name, "station")
        for name, item in items
        if name in present and item.fitted and hasattr(item, "station_mm")
    }


def _point(values: Array) -> Point:
    x, y, z = (float(value) for value in values)
    return x, y, z


def _rounded(values: Sequence[float] | Array) -> list[float]:
    return [round(float(value), POINT_DECIMALS) + 0.0 for value in values]
