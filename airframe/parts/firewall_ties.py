"""What ties the firewall to the foam sides: plywood doublers along them, gussets in the corners."""

from __future__ import annotations

from math import inf, pi

from airframe import ruler
from airframe.axes import Array, about_z
from airframe.drawing import Panel, Part, PartError, loop, points3, rectangle
from airframe.layout import Layout
from airframe.materials import Material
from airframe.parts import inside
from airframe.parts.common import FUSELAGE, SLACK_MM, adhesive, joint, level
from airframe.parts.firewall_plate import FirewallPlate
from airframe.parts.inside import Box
from airframe.parts.side_planes import right_plane, taper_station_mm
from airframe.schema.fuselage import Gussets


def parts(layout: Layout, plate: FirewallPlate) -> list[Part]:
    """Doublers, gussets and the epoxy. Raises PartError for what has no room."""
    firewall = layout.design.fuselage.firewall
    result = _doublers(layout)
    for gussets, is_behind in ((firewall.gussets_behind, True), (firewall.gussets_ahead, False)):
        if gussets is not None and gussets.water_lines:
            result += _gussets(layout, plate, gussets, is_behind)
    return result


def _doublers(layout: Layout) -> list[Part]:
    """Strips on the inner faces of the sides, from the firewall's rear face aft; tilted, it stops them unevenly."""
    boxes = inside.firewall_doublers(layout)
    name = layout.design.fuselage.firewall.doubler_material
    if boxes is None or name is None:
        return []
    material = layout.design.material(name)
    length, low, high = layout.design.fuselage.firewall.doubler_behind_mm, boxes[0].low_mm, boxes[0].high_mm
    panel = Panel(rectangle(0.0, low, length, high), material.thickness_mm)
    right = right_plane(layout, 0.0, layout.side_thickness_mm)
    corners = [(0.0, low, 0.0), (length, low, 0.0), (length, high, 0.0), (0.0, high, 0.0), (0.0, low, 0.0)]
    result, paths = [], []
    for box, plane, side in zip(boxes, (right, right.mirrored()), ("right", "left"), strict=True):
        place = plane.moved(dx_mm=box.from_mm)
        result.append(Part(f"firewall doubler {side}", FUSELAGE, panel, place, material))
        paths.append(points3(place.apply(corners).tolist()))
    side_material = layout.design.material(layout.design.fuselage.material)
    return [*result, joint("firewall doublers", paths, adhesive(layout.design, side_material, material))]


def _gussets(layout: Layout, plate: FirewallPlate, gussets: Gussets, is_behind: bool) -> list[Part]:
    """Level right-angled triangles, a right and a left one at every water line."""
    material = layout.design.material(gussets.material)
    where, leg = ("behind" if is_behind else "ahead"), gussets.leg_mm
    doublers = inside.firewall_doublers(layout) if is_behind else None
    beside = layout.nose_mm if doublers is None else max(box.from_mm for box in doublers)
    inner = inside.clear_half_width_mm(layout, beside)
    if leg > inner + SLACK_MM:
        problem = f"leg is {ruler.exact(leg)}; there are {ruler.most(inner)} to the centre plane"
        raise PartError(f"firewall gusset {where}", problem)
    result: list[Part] = []
    paths: list[Array] = []
    standing = _standing(layout)
    for number, z in enumerate(gussets.water_lines, 1):
        name = f"firewall gusset {where}{f' {number}' if len(gussets.water_lines) > 1 else ''}"
        upright = (z - material.thickness_mm, z)
        pair: list[Box] = []
        for side, reach in (("right", (inner - leg, inner)), ("left", (-inner, leg - inner))):
            x = plate.rear_mm(reach, upright) if is_behind else plate.front_mm(reach, upright)
            pair.append(Box(f"{name} {side}", *((x, x + leg) if is_behind else (x - leg, x)), *upright))
            _check_room(layout, pair[-1], standing)
            part, legs = _gusset(pair[-1].name, material, (x, inner, z), leg, is_behind)
            sign = 1.0 if side == "right" else -1.0
            result.append(part if sign > 0.0 else part.mirrored(part.name))
            paths.append(legs * (1.0, sign, 1.0))
        standing += pair[:1]
    side_material = layout.design.material(layout.design.fuselage.material)
    seams = [points3(path.tolist()) for path in paths]
    return [*result, joint(f"firewall gussets {where}", seams, adhesive(layout.design, side_material, material))]


def _gusset(
    name: str, material: Material, corner_mm: tuple[float, float, float], leg_mm: float, is_behind: bool
) -> tuple[Part, Array]:
    """A right-hand gusset with its right angle at a corner, and the joint line along both legs.

    One drawing serves behind and ahead: a quarter turn brings the legs from aft and inboard to inboard and forward.
    """
    x, y, z = corner_mm
    panel = Panel(loop([(0.0, 0.0), (leg_mm, 0.0), (0.0, -leg_mm)]), material.thickness_mm)
    place = level(z, x, y).after(about_z(0.0 if is_behind else -pi / 2.0))
    legs = place.apply([(leg_mm, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, -leg_mm, 0.0)])
    return Part(name, FUSELAGE, panel, place, material), legs


def _standing(layout: Layout) -> list[Box]:
    """What a gusset could run into, apart from the firewall and the doublers that it is glued to."""
    taper = Box("the sides' taper", taper_station_mm(layout), inf)
    across = inside.cross_pieces(layout)[1:]
    return [*across, *inside.braces(layout), *inside.shelves(layout), *inside.dowels(layout), taper]


def _check_room(layout: Layout, box: Box, standing: list[Box]) -> None:
    if box.from_mm < layout.nose_mm - inside.TOUCH_MM:
        text = f"reaches ahead to station {ruler.about(box.from_mm)}; the sides begin at {ruler.about(layout.nose_mm)}"
        raise PartError(box.name, f"{text}: start the station table at {ruler.most(box.from_mm)} or further ahead")
    inside.refuse_outside(layout, box)
    inside.refuse_height(layout, box)
    inside.refuse_meeting(box, standing)
