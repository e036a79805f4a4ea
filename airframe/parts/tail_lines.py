"""Where the edges and hinge lines of the tail run, in the stabiliser's frame."""

from __future__ import annotations

from dataclasses import dataclass
from math import tan

from airframe import ruler
from airframe.axes import Point
from airframe.drawing import PartError, points3
from airframe.layout import Layout
from airframe.parts.common import SLACK_MM
from airframe.schema.tail import Hinge

STRIP_SPACING_MM = 80.0
"""One strip of hinge glue for about every so much of the hinge line, unless the design counts them."""
LEAST_STRIPS = 2
LEAST_FLAT_MM = 2.0
"""What a bevel must leave of a moving surface's far face."""


@dataclass(frozen=True)
class Surface:
    """A tail surface, measured along its straight hinge line: a butt line, or a height above the stabiliser's frame."""

    name: str
    hinge_edge_mm: float
    """Own x of its edge at the hinge line."""
    from_mm: float
    """Where the surface begins along the hinge line."""
    to_mm: float
    root_mm: float
    """Where its root chord is measured."""
    root_chord_mm: float
    tip_chord_mm: float
    """At `to_mm`."""

    def chord_mm(self, along_mm: float) -> float:
        """Chord at a place along the hinge line."""
        share = (along_mm - self.root_mm) / (self.to_mm - self.root_mm)
        return self.root_chord_mm + (self.tip_chord_mm - self.root_chord_mm) * share


@dataclass(frozen=True)
class TailLines:
    """The tail's right half and its upright surfaces.

    Frame: x aft from the stabiliser's leading edge on the centre plane, y to the right wing, z up
    from the stabiliser's lower face, square to it.
    """

    thickness_mm: float
    stabiliser: Surface
    elevator: Surface
    """The right half; it begins at the centre plane, or beside the gap if split."""
    fin: Surface
    rudder: Surface
    elevator_lower_mm: float
    """Own x where the elevator's lower face begins, behind its bevel."""
    elevator_pivot_mm: float
    """Own x of the elevator's hinge line: the middle of the gap, on the upper faces."""
    rudder_pivot_mm: float
    """Own x of the rudder's hinge line: the middle of the gap, on the left faces."""


def tail_lines(layout: Layout) -> TailLines:
    """The lines of a design's tail. Raises PartError for a surface that comes to nothing."""
    tail = layout.design.tail
    t = layout.design.material(tail.material).thickness_mm
    stabiliser, elevator, fin, rudder = tail.stabiliser, tail.elevator, tail.fin, tail.rudder
    half_span = stabiliser.span_mm / 2.0
    hinge = stabiliser.root_chord_mm
    fixed = _surface("stabiliser", hinge, 0.0, half_span, 0.0, stabiliser.root_chord_mm, stabiliser.tip_chord_mm)
    inner = elevator.split_gap_mm / 2.0 if elevator.split else 0.0
    behind = hinge + elevator.hinge.gap_mm
    moving = _surface("elevator", behind, inner, half_span, 0.0, elevator.root_chord_mm, elevator.tip_chord_mm)
    fin_rear = _fin_front_mm(layout, t) + fin.root_chord_mm
    top = t + fin.height_mm
    low = t + rudder.root_clearance_mm
    if low > top - LEAST_FLAT_MM + SLACK_MM:
        clearance, most = rudder.root_clearance_mm, fin.height_mm - LEAST_FLAT_MM
        of_fin = f"a fin {ruler.exact(fin.height_mm)} high"
        problem = f"a root clearance of {ruler.exact(clearance)} leaves nothing of {of_fin}"
        higher = f"make the fin {ruler.least(clearance + LEAST_FLAT_MM)} high or more"
        cure = f"{ruler.most(most)} or less would do" if most > 0.0 else higher
        raise PartError("rudder", f"{problem}; {cure}")
    upright = _surface("fin", fin_rear, t, top, t, fin.root_chord_mm, fin.tip_chord_mm)
    swinging = _surface(
        "rudder", fin_rear + rudder.hinge.gap_mm, low, top, low, rudder.root_chord_mm, rudder.tip_chord_mm
    )
    for surface, hanging in ((moving, elevator.hinge), (swinging, rudder.hinge)):
        _leave_a_face(surface, hanging, t)
    return TailLines(
        thickness_mm=t,
        stabiliser=fixed,
        elevator=moving,
        fin=upright,
        rudder=swinging,
        elevator_lower_mm=behind + t * tan(elevator.hinge.bevel_rad),
        elevator_pivot_mm=hinge + elevator.hinge.gap_mm / 2.0,
        rudder_pivot_mm=fin_rear + rudder.hinge.gap_mm / 2.0,
    )


@dataclass(frozen=True)
class HingeLine:
    """The line that a control surface swings about, in the aeroplane's frame."""

    point: Point
    """One point of it."""
    axis: Point
    """Unit vector: a turn about it by the right-hand rule lifts the elevator, takes the rudder to the right."""


def hinge_lines(layout: Layout) -> dict[str, HingeLine]:
    """The hinge lines of "elevator" and "rudder". Raises PartError for a surface that comes to nothing."""
    lines, own = tail_lines(layout), layout.stabiliser_place
    table = {
        "elevator": ((lines.elevator_pivot_mm, 0.0, lines.thickness_mm), (0.0, -1.0, 0.0)),
        "rudder": ((lines.rudder_pivot_mm, -lines.thickness_mm / 2.0, lines.rudder.from_mm), (0.0, 0.0, 1.0)),
    }
    return {
        name: HingeLine(*points3([own.apply(point).tolist(), own.turn(axis).tolist()]))
        for name, (point, axis) in table.items()
    }


def _surface(
    name: str, hinge_mm: float, from_mm: float, to_mm: float, root_mm: float, root_chord: float, tip_chord: float | None
) -> Surface:
    return Surface(name, hinge_mm, from_mm, to_mm, root_mm, root_chord, root_chord if tip_chord is None else tip_chord)


def _fin_front_mm(layout: Layout, thickness_mm: float) -> float:
    """Own x of the fin's leading edge, which the design gives as a station on the stabiliser's upper face."""
    place = layout.stabiliser_place
    along, _, up = place.rotation[0]  # stations gained by a step along own x, own z
    return (layout.design.tail.fin.station_mm - place.origin[0] - up * thickness_mm) / along


def _leave_a_face(surface: Surface, hinge: Hinge, thickness_mm: float) -> None:
    needed = thickness_mm * tan(hinge.bevel_rad) + LEAST_FLAT_MM
    chord = min(surface.chord_mm(surface.from_mm), surface.tip_chord_mm)
    if chord < needed - SLACK_MM:
        cure = f"it needs {ruler.least(needed)}, or a smaller bevel"
        raise PartError(surface.name, f"its chord of {ruler.exact(chord)} is used up by the bevel; {cure}")


def strip_spans(surface: Surface, hinge: Hinge, count: int | None) -> list[tuple[float, float]]:
    """Where the strips of glue begin and end along the hinge line, evenly spaced.

    Raises PartError for more glue than there is hinge line.
    """
    length = surface.to_mm - surface.from_mm
    number = max(round(length / STRIP_SPACING_MM), LEAST_STRIPS) if count is None else count
    strip = hinge.strip_length_mm
    if number * strip > length:
        problem = f"{number} hinge strips of {ruler.exact(strip)} do not fit on a hinge line of {ruler.exact(length)}"
        raise PartError(surface.name, f"{problem}; make them {ruler.most(length / number)} long at most, or fewer")
    pitch = length / number
    middles = [surface.from_mm + pitch * (k + 0.5) for k in range(number)]
    return [(middle - strip / 2.0, middle + strip / 2.0) for middle in middles]
