"""Control horns, and the wire that joins the halves of a split elevator."""

from __future__ import annotations

from dataclasses import dataclass

from airframe import ruler
from airframe.axes import Place, Point, frame
from airframe.drawing import Panel, Part, PartError, Wire, circle, loop, points3
from airframe.layout import Layout
from airframe.parts import common
from airframe.parts.tail_lines import Surface, TailLines, tail_lines

HOLE_MM = 1.6
"""For the push-rod's bent end."""
RIM_MM = 3.0
"""From the middle of the hole to the horn's edge."""
LEAST_BASE_MM = 3.0
"""A shorter base is not worth cutting."""
SETBACK_MM = 1.0
"""Between a surface's front edge and the horn's base."""
JOINER_INSET_MM = 10.0
"""From the gap to the joiner's legs, along the span."""
JOINER_LEG_MM = 30.0
"""How far the joiner's legs reach aft, chord allowing."""
SIDE_ROOM_MM = 2.0
"""Between the joiner and a horn beside it, or the elevator's trailing edge behind it."""


@dataclass(frozen=True)
class Joiner:
    """A wire bent to a U under the halves of a split elevator; the stabiliser's frame."""

    diameter_mm: float
    cross_mm: float
    """Own x of its cross piece."""
    half_width_mm: float
    """Butt line of its right leg."""
    rear_mm: float
    """Own x of the legs' ends."""


@dataclass(frozen=True)
class Horn:
    """A horn's drawing: own x aft along the surface from the base's front end, own y away from the surface."""

    name: str
    panel: Panel
    hole: tuple[float, float]
    own: Place
    """Carries the drawing into the stabiliser's frame."""


def parts(layout: Layout, lines: TailLines) -> list[Part]:
    """The horns, the joiner of a split elevator, and their glue."""
    made: list[Part] = []
    for horn in _horns(layout, lines):
        made += _standing(layout, horn)
    joiner = _joiner(layout, lines)
    return made if joiner is None else [*made, *_joined(layout, lines, joiner)]


def horn_points(layout: Layout) -> dict[str, Point]:
    """Where the push-rods' holes are, in the aeroplane's frame, surfaces undeflected: by the horn's name."""
    points = {}
    for horn in _horns(layout, tail_lines(layout)):
        middle = (*horn.hole, -horn.panel.thickness_mm / 2.0)
        points[horn.name] = points3([layout.stabiliser_place.after(horn.own).apply(middle).tolist()])[0]
    return points


# --- horns ----------------------------------------------------------------------------------------------


def _horns(layout: Layout, lines: TailLines) -> tuple[Horn, Horn]:
    return _elevator_horn(layout, lines), _rudder_horn(layout, lines)


def _elevator_horn(layout: Layout, lines: TailLines) -> Horn:
    """Hangs below; its hole under the hinge line. Inside a joiner's legs it stands behind the cross piece."""
    horns = layout.design.tail.horns
    thickness = layout.design.material(horns.material).thickness_mm
    y = horns.elevator_butt_line_mm
    front = lines.elevator_lower_mm + SETBACK_MM
    joiner = _joiner(layout, lines)
    if joiner is not None and abs(y) < joiner.half_width_mm:
        # As far behind the wire again as it is thick: the horn's front edge leans over it.
        front = joiner.cross_mm + 1.5 * joiner.diameter_mm + SETBACK_MM
    _keep_on_surface("elevator horn", lines.elevator, 0.0, abs(y), thickness, front, horns.base_mm)
    panel, hole = _drawn("elevator horn", lines.elevator_pivot_mm - front, layout)
    own = frame((1, 0, 0), (0, 0, -1), (front, y + thickness / 2.0, 0.0))
    return Horn("elevator horn", panel, hole, own)


def _rudder_horn(layout: Layout, lines: TailLines) -> Horn:
    """Stands on the left face, level; its hole beside the hinge line."""
    horns = layout.design.tail.horns
    thickness = layout.design.material(horns.material).thickness_mm
    low = lines.rudder.from_mm
    z = low + horns.rudder_height_mm
    front = lines.rudder.hinge_edge_mm + SETBACK_MM
    _keep_on_surface("rudder horn", lines.rudder, low, horns.rudder_height_mm, thickness, front, horns.base_mm)
    panel, hole = _drawn("rudder horn", lines.rudder_pivot_mm - front, layout)
    own = frame((1, 0, 0), (0, -1, 0), (front, -lines.thickness_mm / 2.0, z - thickness / 2.0))
    return Horn("rudder horn", panel, hole, own)


def _drawn(name: str, hole_x_mm: float, layout: Layout) -> tuple[Panel, tuple[float, float]]:
    """A triangle, its tip cut square round the hole, leaning forward so that the hole is at the hinge line."""
    horns = layout.design.tail.horns
    height, base = horns.height_mm, horns.base_mm
    if height < 2.0 * RIM_MM:
        problem = f"a height of {ruler.exact(height)} leaves no room for its hole"
        raise PartError(name, f"{problem}; make it {ruler.least(2.0 * RIM_MM)}")
    left, right = hole_x_mm - RIM_MM, hole_x_mm + RIM_MM
    outline = loop([(0, 0), (base, 0), (right, height + RIM_MM), (left, height + RIM_MM), (left, height - RIM_MM)])
    thickness = layout.design.material(horns.material).thickness_mm
    return Panel(outline, thickness, holes=(circle(hole_x_mm, height, HOLE_MM),)), (hole_x_mm, height)


def _keep_on_surface(
    name: str, surface: Surface, zero_mm: float, at_mm: float, thickness_mm: float, front_mm: float, base_mm: float
) -> None:
    """Refuse a horn beside its surface; `at_mm` and the message count from `zero_mm` along the hinge line."""
    low, high = surface.from_mm - zero_mm + thickness_mm / 2.0, surface.to_mm - zero_mm - thickness_mm / 2.0
    if not low - common.SLACK_MM <= at_mm <= high + common.SLACK_MM:
        problem = f"at {ruler.exact(at_mm)} it stands beside the {surface.name}"
        room_for_it = f"from {ruler.room(low, high)}"
        raise PartError(name, f"{problem}, which has room for it {room_for_it}")
    room = surface.hinge_edge_mm + surface.chord_mm(zero_mm + at_mm) - front_mm - base_mm
    if room < -common.SLACK_MM:
        most = base_mm + room
        cure = f"{ruler.most(most)} or less would do" if most >= LEAST_BASE_MM else "give it more chord"
        raise PartError(name, f"its base of {ruler.exact(base_mm)} reaches beyond the {surface.name}; {cure}")


def _standing(layout: Layout, horn: Horn) -> list[Part]:
    """The horn, with plywood adhesive along both sides of its base."""
    design = layout.design
    material = design.material(design.tail.horns.material)
    place = layout.stabiliser_place.after(horn.own)
    base = design.tail.horns.base_mm
    feet = [place.apply([(0.0, 0.0, z), (base, 0.0, z)]).tolist() for z in (0.0, -horn.panel.thickness_mm)]
    adhesive = common.adhesive(design, material, design.material(design.tail.material))
    return [
        Part(horn.name, common.TAIL, horn.panel, place, material),
        common.joint(horn.name, [points3(foot) for foot in feet], adhesive),
    ]


# --- joiner of a split elevator -----------------------------------------------------------------------------


def _joiner(layout: Layout, lines: TailLines) -> Joiner | None:
    """The U behind the bevel on the halves' lower faces, wide enough to let the horn stand inside or outside it."""
    tail = layout.design.tail
    if not tail.elevator.split:
        return None
    d, y = tail.elevator.joiner_wire_mm, abs(tail.horns.elevator_butt_line_mm)
    beside = layout.design.material(tail.horns.material).thickness_mm / 2.0 + d / 2.0 + SIDE_ROOM_MM
    half_width = lines.elevator.from_mm + JOINER_INSET_MM
    if y < half_width + beside:
        half_width = max(half_width, y + beside)
    cross = lines.elevator_lower_mm + d / 2.0 + SETBACK_MM
    rear = lines.elevator.hinge_edge_mm + lines.elevator.chord_mm(half_width) - SIDE_ROOM_MM
    # The bend takes 1.5 d of each leg: centre-line radius d + d / 2, quarter turn.
    needed = 2.0 * d + SIDE_ROOM_MM
    if rear - cross < needed or half_width > lines.elevator.to_mm - d:
        problem = f"a joiner of {ruler.exact(d)} wire finds no room on the halves"
        legs = f"legs of {ruler.least(needed)} {ruler.about(half_width)} off the centre"
        raise PartError("elevator joiner", f"{problem}; it needs {legs}")
    return Joiner(d, cross, half_width, min(rear, cross + JOINER_LEG_MM))


def _joined(layout: Layout, lines: TailLines, joiner: Joiner) -> list[Part]:
    design, d = layout.design, joiner.diameter_mm
    front = layout.stabiliser_place.apply((joiner.cross_mm - d / 2.0, 0.0, -d))
    reach = layout.tail_mm - float(front[0])
    if reach > 0.0 and layout.water_line_mm("bottom", front[0]) < front[2] < layout.water_line_mm("top", front[0]):
        problem = f"the fuselage reaches {ruler.about(reach)} under it"
        raise PartError("elevator joiner", f"{problem}; move the stabiliser aft, or end the fuselage sooner")
    legs, cross, width = joiner.rear_mm, joiner.cross_mm, joiner.half_width_mm
    u_shape = [(legs, -width, 0.0), (cross, -width, 0.0), (cross, width, 0.0), (legs, width, 0.0)]
    wire = Wire(points3(u_shape), d, d)
    steel = design.material("music wire")
    place = layout.stabiliser_place
    inner = lines.elevator.from_mm
    paths = [[(legs, s * width, 0.0), (cross, s * width, 0.0), (cross, s * inner, 0.0)] for s in (1.0, -1.0)]
    adhesive = common.adhesive(design, steel, design.material(design.tail.material))
    return [
        Part("elevator joiner", common.TAIL, wire, place.moved(*(place.turn((0.0, 0.0, -d / 2.0)).tolist())), steel),
        common.joint("elevator joiner", [points3(place.apply(path).tolist()) for path in paths], adhesive),
    ]
