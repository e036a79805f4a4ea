"""What is to be seen of an aeroplane, before anyone decides how: bodies, lines, marks and dimensions.

Everything is in the aeroplane's frame (x aft, y to the right wing, z up), millimetres, ready to be
drawn by any means; every text is ready to be read, in the units of the design.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from airframe import units
from airframe.axes import Array, Point
from airframe.drawing import Bead, Film
from airframe.mass import Entry
from airframe.materials import Look
from airframe.parts.common import WING
from airframe.units import System
from viewers.palette import LOOKS, Tint

if TYPE_CHECKING:
    from airframe.model import Aeroplane

ViewName = Literal["three-quarter", "side", "front", "top"]

FORWARD: Point = (-1.0, 0.0, 0.0)
LEFT: Point = (0.0, -1.0, 0.0)
AFT: Point = (1.0, 0.0, 0.0)
RIGHT: Point = (0.0, 1.0, 0.0)
UP: Point = (0.0, 0.0, 1.0)
DOWN: Point = (0.0, 0.0, -1.0)


@dataclass(frozen=True)
class Item:
    """What every drawn part carries: its names and its weight in words."""

    name: str
    group: str
    look: Look
    material: str
    mass: str
    basis: str

    @property
    def tint(self) -> Tint:
        """Its colour and opacity."""
        return LOOKS[self.look]


@dataclass(frozen=True)
class Body(Item):
    """A part with a surface, outward faces counter-clockwise."""

    vertices: Array
    faces: NDArray[np.int64]


@dataclass(frozen=True)
class Line(Item):
    """A part that is only a line: a bead of glue, a rubber band, a lead."""

    paths: tuple[Array, ...]


@dataclass(frozen=True)
class Marker:
    """A point worth a name: the balance point or a wheel's contact with the ground."""

    kind: Literal["balance", "contact"]
    name: str
    point: Point
    system: System

    def text(self, *axes: int) -> str:
        """Its coordinates along the chosen axes (0, 1, 2), in the trade's words."""
        words = ("station", "butt line", "water line")
        return ", ".join(f"{words[i]} {units.length(self.point[i], self.system)}" for i in axes)


@dataclass(frozen=True)
class Dimension:
    """A draughtsman's dimension: the distance between two points along one axis."""

    name: str
    text: str
    start: Point
    end: Point
    along: Point
    """Unit vector that the distance is measured along."""
    outward: Point
    """Where the dimension line stands off to, square to `along`."""
    views: tuple[ViewName, ...]
    """The views that show it, the best one first."""


@dataclass(frozen=True)
class Disc:
    """The disc a propeller sweeps."""

    centre: Point
    axis: Point
    diameter_mm: float
    text: str

    def rim(self, count: int = 96) -> Array:
        """Points (count + 1, 3) all the way round."""
        axis = np.array(self.axis) / np.linalg.norm(self.axis)
        across = np.cross(axis, UP)
        across = across / np.linalg.norm(across)
        angles = np.linspace(0.0, 2.0 * np.pi, count + 1)[:, None]
        ring = np.cos(angles) * across + np.sin(angles) * np.cross(axis, across)
        points: Array = np.array(self.centre) + ring * self.diameter_mm / 2.0
        return points


@dataclass(frozen=True)
class Scene:
    """A whole aeroplane as it is to be seen."""

    title: str
    mass: str
    balance: str
    """Where the balance point lies against the leading edge."""
    balance_on_chord: str
    system: System
    bodies: tuple[Body, ...]
    lines: tuple[Line, ...]
    unseen: tuple[Item, ...]
    """Films of paint, filler or tape: they weigh, but have no thickness to show."""
    markers: tuple[Marker, ...]
    dimensions: tuple[Dimension, ...]
    disc: Disc | None
    ground: tuple[Point, ...]
    """The wheels' contact points from front to rear on the centre plane; empty without a gear."""

    @property
    def balance_point(self) -> Marker:
        """The balance point's marker."""
        return next(marker for marker in self.markers if marker.kind == "balance")

    @property
    def legend(self) -> tuple[Look, ...]:
        """The looks that occur, in the palette's order."""
        present = {item.look for item in (*self.bodies, *self.lines)}
        return tuple(look for look in LOOKS if look in present)

    def points(self) -> Array:
        """Every point that must fit into a picture, (n, 3)."""
        clouds = [body.vertices for body in self.bodies]
        clouds += [path for line in self.lines for path in line.paths]
        clouds += [np.array([marker.point for marker in self.markers])]
        if self.disc is not None:
            clouds.append(self.disc.rim())
        return np.vstack(clouds)


def stage(aeroplane: Aeroplane) -> Scene:
    """The scene of an aeroplane; makes every display mesh that is not there yet."""
    system = aeroplane.design.units
    statement = aeroplane.statement
    bodies = tuple(_bodies(aeroplane))
    return Scene(
        title=aeroplane.design.name,
        mass=units.mass(statement.whole.mass, system),
        balance=behind_leading_edge(aeroplane.cg_behind_leading_edge_mm, system),
        balance_on_chord=f"{100.0 * aeroplane.cg_share_of_mean_chord:.1f} % of the mean chord",
        system=system,
        bodies=bodies,
        lines=tuple(_line(entry, system) for entry in statement.entries if isinstance(entry.part.shape, Bead)),
        unseen=tuple(_unseen(entry, system) for entry in statement.entries if isinstance(entry.part.shape, Film)),
        markers=tuple(_markers(aeroplane)),
        dimensions=tuple(_dimensions(aeroplane, bodies)),
        disc=_disc(aeroplane),
        ground=_ground(aeroplane),
    )


def behind_leading_edge(distance_mm: float, system: System) -> str:
    """The balance point's place in words: behind the wing's leading edge, or ahead of it."""
    where = "behind" if distance_mm >= 0.0 else "ahead of"
    return f"{units.length(abs(distance_mm), system)} {where} the leading edge"


def _item(entry: Entry, system: System) -> dict[str, str]:
    part = entry.part
    return {
        "name": part.name,
        "group": part.group,
        "look": part.material.look,
        "material": part.material.name,
        "mass": units.mass(entry.mass_g, system),
        "basis": entry.basis,
    }


def _bodies(aeroplane: Aeroplane) -> list[Body]:
    bodies = []
    for entry in aeroplane.statement.entries:
        if entry.volume_mm3 is None:
            continue
        record = aeroplane.record(entry.part)
        place = entry.part.place
        faces = np.asarray(record.faces, dtype=np.int64)
        # A mirrored part turns its faces inside out: their corners are taken the other way round.
        faces = faces[:, ::-1] if place.is_mirrored else faces
        item = _item(entry, aeroplane.design.units)
        bodies.append(Body(**item, vertices=place.apply(record.vertices), faces=faces))  # type: ignore[arg-type]
    return bodies


def _line(entry: Entry, system: System) -> Line:
    shape = entry.part.shape
    assert isinstance(shape, Bead)
    paths = tuple(entry.part.place.apply(path) for path in shape.paths)
    return Line(**_item(entry, system), paths=paths)  # type: ignore[arg-type]


def _unseen(entry: Entry, system: System) -> Item:
    return Item(**_item(entry, system))  # type: ignore[arg-type]


def _markers(aeroplane: Aeroplane) -> list[Marker]:
    system = aeroplane.design.units
    contacts = [Marker("contact", name, point, system) for name, point in aeroplane.contacts.items()]
    return [Marker("balance", "balance point", aeroplane.cg_mm, system), *contacts]


def _disc(aeroplane: Aeroplane) -> Disc | None:
    propeller = aeroplane.propeller
    if propeller is None:
        return None
    text = f"propeller {units.length(propeller.diameter_mm, aeroplane.design.units)}"
    return Disc(propeller.centre, propeller.axis, propeller.diameter_mm, text)


def _ground(aeroplane: Aeroplane) -> tuple[Point, ...]:
    levels = {(x, 0.0, z) for x, _, z in aeroplane.contacts.values()}
    return tuple(sorted(levels))


def _dimensions(aeroplane: Aeroplane, bodies: tuple[Body, ...]) -> list[Dimension]:
    """The dimensions, those that stand nearest to the model first."""
    system = aeroplane.design.units
    found = [_balance_dimension(aeroplane)]
    mains = _main_contacts(aeroplane)
    if mains is not None:
        text = f"track {units.length(abs(mains[1][1] - mains[0][1]), system)}"
        found.append(Dimension("track", text, *mains, RIGHT, DOWN, ("front", "three-quarter")))
    wing = [body.vertices for body in bodies if body.group == WING]
    if wing:
        tips = _extremes(np.vstack(wing), 1)
        text = f"span {units.length(tips[1][1] - tips[0][1], system)}"
        found.append(Dimension("span", text, *tips, RIGHT, UP, ("front",)))
        found.append(Dimension("span", text, *tips, RIGHT, FORWARD, ("top",)))
    if bodies:
        ends = _extremes(np.vstack([body.vertices for body in bodies]), 0)
        text = f"length {units.length(ends[1][0] - ends[0][0], system)}"
        found.append(Dimension("length", text, *ends, AFT, DOWN, ("side",)))
        found.append(Dimension("length", text, *ends, AFT, LEFT, ("top",)))
    return found


def _balance_dimension(aeroplane: Aeroplane) -> Dimension:
    x, y, z = aeroplane.cg_mm
    behind = aeroplane.cg_behind_leading_edge_mm
    text = behind_leading_edge(behind, aeroplane.design.units)
    _, _, edge_z = aeroplane.layout.wing_place.origin
    edge, balance = (x - behind, 0.0, edge_z), (x, y, z)
    ends = (edge, balance) if behind >= 0.0 else (balance, edge)
    return Dimension("balance", text, *ends, AFT, UP, ("side",))


def _main_contacts(aeroplane: Aeroplane) -> tuple[Point, Point] | None:
    """The main wheels' contact points, left and right, or None without them."""
    off_centre = [point for point in aeroplane.contacts.values() if point[1] != 0.0]
    if len(off_centre) < 2:
        return None
    ordered = sorted(off_centre, key=lambda point: point[1])
    return ordered[0], ordered[-1]


def _extremes(points: Array, axis: int) -> tuple[Point, Point]:
    low, high = points[points[:, axis].argmin()], points[points[:, axis].argmax()]
    return tuple(map(float, low)), tuple(map(float, high))  # type: ignore[return-value]
