"""What stands between the fuselage's sides, and the room that it leaves."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf

import numpy as np

from airframe import ruler
from airframe.drawing import PartError
from airframe.layout import Edge, Layout
from airframe.parts.firewall_plate import firewall_plate
from airframe.parts.side_planes import taper_station_mm

TOUCH_MM = 0.05
"""Things that overlap by less than this touch."""
LEAST_MM = 5.0
"""A piece smaller than this is not worth cutting."""


@dataclass(frozen=True)
class Box:
    """A stretch of stations and a range of water lines, reaching from side to side."""

    name: str
    from_mm: float
    to_mm: float
    low_mm: float = -inf
    high_mm: float = inf

    def meets(self, other: Box) -> bool:
        """Whether the two overlap by more than a touch."""
        along = min(self.to_mm, other.to_mm) - max(self.from_mm, other.from_mm)
        upright = min(self.high_mm, other.high_mm) - max(self.low_mm, other.low_mm)
        return along > TOUCH_MM and upright > TOUCH_MM

    @property
    def area_mm2(self) -> float:
        """Its size in side view; 0 where it is turned inside out."""
        return max(self.to_mm - self.from_mm, 0.0) * max(self.high_mm - self.low_mm, 0.0)


def refuse_meeting(box: Box, others: Iterable[Box]) -> None:
    """Raise PartError if the box overlaps any of the others."""
    for other in others:
        if box.meets(other):
            takes = f"station {ruler.span(other.from_mm, other.to_mm)}"
            if np.isfinite([other.low_mm, other.high_mm]).all():
                takes += f", water line {ruler.span(other.low_mm, other.high_mm)}"
            raise PartError(box.name, f"runs into {other.name}, which takes {takes}; keep clear of that")


def refuse_outside(layout: Layout, box: Box) -> None:
    """Raise PartError if the box reaches past an end of the sides."""
    if box.from_mm < layout.nose_mm - TOUCH_MM or box.to_mm > layout.tail_mm + TOUCH_MM:
        takes = f"takes station {ruler.span(box.from_mm, box.to_mm)}"
        raise PartError(box.name, f"{takes}; the sides reach from {ruler.span(layout.nose_mm, layout.tail_mm)}")


def refuse_height(layout: Layout, box: Box) -> None:
    """Raise PartError if the box does not fit between floor and deck over its whole stretch."""
    low, high = layout.clear_height_mm(box.from_mm, box.to_mm)
    if box.low_mm < low - TOUCH_MM or box.high_mm > high + TOUCH_MM:
        takes = f"takes water line {ruler.span(box.low_mm, box.high_mm)}"
        raise PartError(box.name, f"{takes}; {ruler.span(low, high)} is free over its stretch")


def refuse_twin(layout: Layout, box: Box, thickness_mm: float) -> None:
    """Raise PartError if sheet on the inner face of both sides would meet in the middle."""
    room = layout.inner_half_width_mm(box.to_mm)
    if room < thickness_mm - TOUCH_MM:
        there = f"to the centre plane there are {ruler.about(room)} at station {ruler.about(box.to_mm)}"
        raise PartError(box.name, f"is {ruler.exact(thickness_mm)} thick; {there}")


def free_box(wanted: Box, keep: Box, others: Iterable[Box]) -> Box:
    """The wanted box, cut back from all others by whichever cut leaves most of it.

    No cut goes into `keep`; where that holds nothing in height (low above high) any height will do.
    Raises PartError if something cannot be cleared.
    """
    for other in others:
        if not wanted.meets(other):
            continue
        cuts = []
        if other.to_mm <= keep.from_mm + TOUCH_MM:
            cuts.append(replace(wanted, from_mm=other.to_mm))
        if other.from_mm >= keep.to_mm - TOUCH_MM:
            cuts.append(replace(wanted, to_mm=other.from_mm))
        if other.high_mm <= keep.low_mm + TOUCH_MM:
            cuts.append(replace(wanted, low_mm=other.high_mm))
        if other.low_mm >= keep.high_mm - TOUCH_MM:
            cuts.append(replace(wanted, high_mm=other.low_mm))
        if not cuts or not max(cut.area_mm2 for cut in cuts):
            takes = f"station {ruler.span(other.from_mm, other.to_mm)}"
            raise PartError(wanted.name, f"has no room beside {other.name}, which takes {takes}")
        wanted = max(cuts, key=lambda cut: cut.area_mm2)
    return wanted


# --- what stands there ----------------------------------------------------------------------------------


@lru_cache(maxsize=8)
def firewall_doublers(layout: Layout) -> tuple[Box, Box] | None:
    """What the plywood doublers behind the firewall take, right and left; None if there are none.

    Raises PartError where a former, the gear's buttress or the taper is in the way.
    """
    firewall = layout.design.fuselage.firewall
    if firewall.doubler_material is None:
        return None
    thickness = layout.design.material(firewall.doubler_material).thickness_mm
    plate, inner = firewall_plate(layout), layout.inner_half_width_mm(0.0)
    upright = (plate.low_mm, plate.high_mm)
    starts = [plate.rear_mm(y, upright) for y in ((inner - thickness, inner), (thickness - inner, -inner))]
    behind = firewall.doubler_behind_mm
    low, high = layout.clear_height_mm(min(starts), max(starts) + behind)
    boxes = [Box("firewall doubler", x, x + behind, low + 0.5, high - 0.5) for x in starts]
    taper = taper_station_mm(layout)
    for box in boxes:
        refuse_twin(layout, box, thickness)
        for other in (*_formers(layout), *_buttress(layout), Box("the sides' taper", taper, inf)):
            if box.meets(other):
                room = other.from_mm - max(starts)
                advice = f"make doubler_behind {ruler.most(room)} or less" if room >= LEAST_MM else "move one of them"
                raise PartError(box.name, f"runs into {other.name} at station {ruler.about(other.from_mm)}; {advice}")
    return boxes[0], boxes[1]


def cross_pieces(layout: Layout) -> list[Box]:
    """What stands across the whole fuselage and parts it: firewall, formers, the gear plate's buttress."""
    return [Box("the firewall", *firewall_plate(layout).stretch_mm()), *_formers(layout), *_buttress(layout)]


def _formers(layout: Layout) -> list[Box]:
    fuselage = layout.design.fuselage
    boxes = []
    for former in fuselage.formers:
        thickness = layout.design.material(former.material or fuselage.material).thickness_mm
        boxes.append(Box(former_name(former.name), former.station_mm, former.station_mm + thickness))
    return boxes


def former_name(name: str) -> str:
    """The part's name of a former: 'F2' is called 'former F2'."""
    return name if "former" in name.lower() else f"former {name}"


def _buttress(layout: Layout) -> list[Box]:
    plate = layout.design.gear.plate
    if layout.gear_plate is None or plate is None or plate.buttress_material is None:
        return []
    rear = layout.gear_plate.to_mm
    floor = layout.water_line_mm("bottom", rear) + layout.gear_plate.thickness_mm
    thickness = layout.design.material(plate.buttress_material).thickness_mm
    return [Box("the gear plate's buttress", rear - thickness, rear, -inf, floor + plate.buttress_height_mm)]


def braces(layout: Layout) -> list[Box]:
    """What the cross braces take, in the design's order."""
    fuselage = layout.design.fuselage
    boxes = []
    for brace in fuselage.braces:
        thickness = layout.design.material(brace.material or fuselage.material).thickness_mm
        z, x = brace.water_line_mm, brace.station_mm
        boxes.append(Box(brace.name, x, x + brace.depth_mm, z - thickness, z))
    return boxes


def shelves(layout: Layout) -> list[Box]:
    """What the shelves take as stated, before they are cut at formers; in the design's order."""
    fuselage = layout.design.fuselage
    boxes = []
    for shelf in fuselage.shelves:
        thickness = layout.design.material(shelf.material or fuselage.material).thickness_mm
        z = shelf.water_line_mm
        boxes.append(Box(shelf.name, shelf.from_station_mm, shelf.to_station_mm, z - thickness, z))
    return boxes


def dowels(layout: Layout) -> list[Box]:
    """What the wing's dowels take, front and rear; none if the wing is not held by dowels."""
    mounting = layout.design.wing.mounting
    if mounting is None:
        return []
    r = mounting.dowel_diameter_mm / 2.0
    named = (("front wing dowel", mounting.front), ("rear wing dowel", mounting.rear))
    return [
        Box(name, dowel.station_mm - r, dowel.station_mm + r, dowel.water_line_mm - r, dowel.water_line_mm + r)
        for name, dowel in named
    ]


def against_the_sides(layout: Layout) -> list[Box]:
    """Everything that touches the sides' inner faces, for what is to be glued on there later."""
    wide = [
        box
        for box, shelf in zip(shelves(layout), layout.design.fuselage.shelves, strict=True)
        if shelf.width_mm is None
    ]
    return [*cross_pieces(layout), *braces(layout), *wide, *(firewall_doublers(layout) or ())]


def clear_half_width_mm(layout: Layout, x_mm: float) -> float:
    """Butt line of the first face inside the right side: the side's own, or its firewall doubler's."""
    inner = layout.inner_half_width_mm(x_mm)
    doublers = firewall_doublers(layout)
    if doublers is None or not any(box.from_mm <= x_mm < box.to_mm for box in doublers):
        return inner
    return inner - layout.design.material(layout.design.fuselage.firewall.doubler_material or "").thickness_mm


def is_covered(layout: Layout, edge: Edge, x_mm: float) -> bool:
    """Whether a deck, floor or gear plate closes the fuselage at a station."""
    over = any(
        deck.face == edge and deck.from_station_mm <= x_mm <= deck.to_station_mm
        for deck in layout.design.fuselage.decks
    )
    return over or layout.closing_thickness_mm(edge, x_mm) > 0.0
