"""Puts an aeroplane on the stage: every part where it is, marked and dimensioned, ready to be drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from airframe import units
from airframe.axes import Array, Point
from airframe.drawing import Bead, Film, Panel
from airframe.mass import Entry
from airframe.parts.common import WING
from airframe.units import System
from viewers.coats import surface
from viewers.scene import AFT, DOWN, FORWARD, LEFT, RIGHT, UP, Body, Coat, Dimension, Disc, Line, Marker, Scene

if TYPE_CHECKING:
    from airframe.model import Aeroplane


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
        coats=tuple(_coats(aeroplane)),
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


def _coats(aeroplane: Aeroplane) -> list[Coat]:
    sheets = {(p.shape, p.place): p.name for p in aeroplane.parts if isinstance(p.shape, Panel)}
    made = []
    for entry in aeroplane.statement.entries:
        film, place = entry.part.shape, entry.part.place
        if not isinstance(film, Film):
            continue
        vertices, faces = surface(film)
        faces = faces[:, ::-1] if place.is_mirrored else faces
        item, on = _item(entry, aeroplane.design.units), sheets.get((film.panel, place))
        made.append(Coat(**item, vertices=place.apply(vertices), faces=faces, on=on))  # type: ignore[arg-type]
    return made


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
    found = [balance_dimension(aeroplane)]
    mains = main_contacts(aeroplane)
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


def balance_dimension(aeroplane: Aeroplane) -> Dimension:
    """From the wing's leading edge on the centre plane to the balance point."""
    x, y, z = aeroplane.cg_mm
    behind = aeroplane.cg_behind_leading_edge_mm
    text = behind_leading_edge(behind, aeroplane.design.units)
    _, _, edge_z = aeroplane.layout.wing_place.origin
    edge, balance = (x - behind, 0.0, edge_z), (x, y, z)
    ends = (edge, balance) if behind >= 0.0 else (balance, edge)
    return Dimension("balance", text, *ends, AFT, UP, ("side",))


def main_contacts(aeroplane: Aeroplane) -> tuple[Point, Point] | None:
    """The main wheels' contact points, left and right, fuselage level, or None without them."""
    off_centre = [point for point in aeroplane.contacts.values() if point[1] != 0.0]
    if len(off_centre) < 2:
        return None
    ordered = sorted(off_centre, key=lambda point: point[1])
    return ordered[0], ordered[-1]


def _extremes(points: Array, axis: int) -> tuple[Point, Point]:
    low, high = points[points[:, axis].argmin()], points[points[:, axis].argmax()]
    return tuple(map(float, low)), tuple(map(float, high))  # type: ignore[return-value]
