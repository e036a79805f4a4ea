"""The plywood plate between the sides that carries the landing gear, with its buttress."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import cos, hypot, tan

from airframe import ruler
from airframe.axes import Place, Point, about_y, at
from airframe.drawing import Panel, Part, PartError, loop, rectangle
from airframe.layout import Layout
from airframe.parts.common import GEAR, SLACK_MM, across, adhesive, joint
from airframe.schema.gear import GearPlate

PLATE = "gear plate"
BUTTRESS = "gear buttress"
BOW_LIMIT_MM = 1.0
"""How far the sides' bottom line may leave the flat plate: that much a wire presses into the edge of a foam side."""


@dataclass(frozen=True)
class PlateLie:
    """How the plate lies: flat between its two stations, its lower face level with the sides' bottom edges there."""

    layout: Layout
    table: GearPlate
    thickness_mm: float

    @cached_property
    def slope_rad(self) -> float:
        """Fall of the plate going aft."""
        return self.layout.slope_rad("bottom", self.table.from_station_mm, self.table.to_station_mm)

    @cached_property
    def place(self) -> Place:
        """Own x aft along the plate, own z up through it; origin in the middle of the lower face's front edge."""
        x = self.table.from_station_mm
        return at(x, 0.0, self.layout.water_line_mm("bottom", x)).after(about_y(self.slope_rad))

    def lower_mm(self, x_mm: float) -> float:
        """Water line of the lower face at a station."""
        front = self.table.from_station_mm
        return self.layout.water_line_mm("bottom", front) - (x_mm - front) * tan(self.slope_rad)

    def upper_mm(self, x_mm: float) -> float:
        """Water line of the upper face at a station."""
        return self.lower_mm(x_mm) + self.thickness_mm / cos(self.slope_rad)

    def wire_mm(self, x_mm: float, diameter_mm: float) -> float:
        """Water line of the middle of a wire that crosses under the plate at a station, touching it."""
        return self.lower_mm(x_mm) - diameter_mm / 2.0 / cos(self.slope_rad)

    def check_wire(self, name: str, x_mm: float, diameter_mm: float) -> None:
        """Raise PartError unless a wire at this station has the plate above its whole thickness."""
        low = self.table.from_station_mm + diameter_mm / 2.0
        high = self.table.to_station_mm - diameter_mm / 2.0
        if not low - SLACK_MM <= x_mm <= high + SLACK_MM:
            where = f"the gear plate has room from {ruler.room(low, high)}"
            raise PartError(name, f"leaves the fuselage at station {ruler.exact(x_mm)}; {where}")


def plate_lie(layout: Layout) -> PlateLie:
    """The plate of a design that has a landing gear, checked against the fuselage that holds it."""
    table = layout.design.gear.plate
    assert table is not None
    lie = PlateLie(layout, table, layout.design.material(table.material).thickness_mm)
    front, rear = table.from_station_mm, table.to_station_mm
    if front < layout.nose_mm or rear > layout.tail_mm:
        sides = f"the sides reach from {ruler.span(layout.nose_mm, layout.tail_mm)}"
        raise PartError(PLATE, f"lies from station {ruler.span(front, rear)}, but {sides}")
    if min(_half_widths(layout, front, rear)) <= 0.0:
        raise PartError(PLATE, "there is no room between the sides")
    bow = max(abs(z - lie.lower_mm(x)) for x, z in layout.edge_points("bottom", front, rear))
    if bow > BOW_LIMIT_MM:
        remedy = "put a fuselage station at each of its ends, or keep it clear of the bend"
        raise PartError(PLATE, f"is flat, but the sides' bottom line leaves it by {ruler.about(bow)}; {remedy}")
    return lie


def plate_parts(lie: PlateLie) -> list[Part]:
    """The plate, its buttress if there is one, and what they are glued with."""
    layout, table = lie.layout, lie.table
    material = layout.design.material(table.material)
    front, rear = table.from_station_mm, table.to_station_mm
    w0, w1 = _half_widths(layout, front, rear)
    length = hypot(rear - front, lie.lower_mm(rear) - lie.lower_mm(front))
    panel = Panel(loop([(0.0, -w0), (length, -w1), (length, w1), (0.0, w0)]), lie.thickness_mm)
    place = lie.place.after(at(0.0, 0.0, lie.thickness_mm))
    plate = Part(PLATE, GEAR, panel, place, material)
    seam = [(front, w0, lie.upper_mm(front)), (rear, w1, lie.upper_mm(rear))]
    side = layout.design.material(layout.design.fuselage.material)
    glue = joint(f"{PLATE} to sides", [seam, mirrored(seam)], adhesive(layout.design, material, side))
    return [plate, glue, *_buttress(lie)]


def _buttress(lie: PlateLie) -> list[Part]:
    """An upright board across the fuselage at the plate's rear end; its foot rests on the highest line under it."""
    layout, table = lie.layout, lie.table
    if table.buttress_material is None:
        return []
    material = layout.design.material(table.buttress_material)
    rear = table.to_station_mm
    front = rear - material.thickness_mm
    foot = max(lie.upper_mm(front), lie.upper_mm(rear))
    _, roof = layout.clear_height_mm(front, rear)
    if front <= table.from_station_mm or foot + table.buttress_height_mm > roof + SLACK_MM:
        limits = f"{ruler.most(rear - table.from_station_mm)} of plate and {ruler.most(roof - foot)} of height"
        size = f"{ruler.exact(material.thickness_mm)} thick and {ruler.exact(table.buttress_height_mm)} high"
        raise PartError(BUTTRESS, f"is {size}; there are {limits}")
    half = min(_half_widths(layout, front, rear))
    panel = Panel(rectangle(-half, 0.0, half, table.buttress_height_mm), material.thickness_mm)
    buttress = Part(BUTTRESS, GEAR, panel, across(front, 0.0, foot), material)
    top = foot + table.buttress_height_mm
    ends = [[(x, half, foot), (x, half, top)] for x in (front, rear)]
    paths = [[(front, -half, foot), (front, half, foot)], *ends, *(mirrored(path) for path in ends)]
    glue = joint(f"{BUTTRESS} to plate and sides", paths, adhesive(layout.design, material))
    return [buttress, glue]


def _half_widths(layout: Layout, front_mm: float, rear_mm: float) -> tuple[float, float]:
    return layout.inner_half_width_mm(front_mm), layout.inner_half_width_mm(rear_mm)


def mirrored(path: Iterable[Point]) -> list[Point]:
    """The same path on the other side of the centre plane."""
    return [(x, -y, z) for x, y, z in path]
