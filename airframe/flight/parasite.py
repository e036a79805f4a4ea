"""The drag of all that does not lift, added up from the drawing as areas: an estimate in a wide band; SI units.

A drag area is drag over dynamic pressure. Coefficients of wheels, wires and boxes are from memory of the usual
collections of wind-tunnel tests (such as Hoerner, "Fluid-Dynamic Drag"), rounded; the rest is our choice, as marked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

import numpy as np

from airframe.flight import sections
from airframe.flight.atmosphere import Air
from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band, exactly
from airframe.flight.plan import Plan, plan
from airframe.flight.surfaces import sheets
from airframe.layout import Layout
from airframe.schema.equipment import Battery, Item, Motor, RoundItem
from airframe.schema.gear import Wheel

WIRE = Band(1.0, 1.1, 1.2)
"""A round wire across the stream, by length times diameter (Re 10^3 to 10^5; from memory)."""
WHEEL = Band(0.25, 0.4, 0.6)
"""A wheel edge on, by diameter times width (from memory; bare tyre to tyre with collars)."""
BLUFF = Band(0.8, 1.0, 1.2)
"""A box or a cylinder in the stream, by the area that it shows (from memory)."""
BODY = Band(0.1, 0.2, 0.4)
"""Shape of a square-edged fuselage beyond its skin friction, by its largest section (our choice, no source)."""
MOTOR = Band(0.0, 0.5, 1.0)
"""A motor under a cowl to one in the open, by the area of its case (our choice, no source)."""
INTERFERENCE = Band(1.0, 1.1, 1.3)
"""What joints, bands, horns and gaps add to the sum (our choice, no source)."""
PLATES = {"stabiliser": "stabiliser and elevator", "fin": "fin and rudder"}
"""Surfaces of the tail, and what they are called with what moves on them."""
LEAST_MM2 = 1.0
"""An item that shows less is inside."""
FOLDED_CAMBER = 0.5
"""The mean line of a section folded from two skins, the lower one flat, rises half as high as its upper skin."""
M2_PER_MM2 = M_PER_MM**2
STATIONS = 60
"""Along the fuselage, for its wetted area and its largest section."""


@dataclass(frozen=True)
class DragItem:
    """One thing in the stream and its drag area."""

    name: str
    area_m2: Band


@dataclass(frozen=True)
class Outside:
    """What the air meets besides the wing, whatever its speed: measured once for all masses of one drawing."""

    length_m: float
    """Of the fuselage."""
    wetted_m2: float
    section_m2: float
    """Its largest."""
    plates: tuple[tuple[str, Plan, float], ...]
    """Tail surfaces with their words and thickness in m."""
    steady: tuple[DragItem, ...]
    """Gear and what is carried: no friction, so the same at every speed."""


def outside(layout: Layout) -> Outside:
    """Of a drawing. Raises PartError for a tail that cannot be drawn."""
    x = np.linspace(layout.nose_mm, layout.tail_mm, STATIONS)
    width = np.array([2.0 * layout.half_width_mm(at) for at in x])
    height = np.array([layout.water_line_mm("top", at) - layout.water_line_mm("bottom", at) for at in x])
    around = 2.0 * (width + height)
    wetted = sum((b - a) * (p + q) / 2.0 for (a, b), (p, q) in zip(pairwise(x), pairwise(around), strict=True))
    thickness, surfaces = layout.design.material(layout.design.tail.material).thickness_mm * M_PER_MM, sheets(layout)
    return Outside(
        (layout.tail_mm - layout.nose_mm) * M_PER_MM,
        float(wetted) * M2_PER_MM2,
        float((width * height).max()) * M2_PER_MM2,
        tuple((words, plan(surfaces, name), thickness) for name, words in PLATES.items()),
        (*_gear(layout), *_carried(layout)),
    )


def drag_items(met: Outside, air: Air, speed_m_s: float) -> list[DragItem]:
    """Everything but the wing, largest first."""
    items = [_fuselage(met, air, speed_m_s), *_tail(met, air, speed_m_s), *met.steady]
    return sorted(items, key=lambda item: -item.area_m2.middle)


def drag_area_m2(items: Iterable[DragItem]) -> Band:
    """The sum with what the joints add."""
    total = exactly(0.0)
    for item in items:
        total = total.plus(item.area_m2)
    return Band(total.low * INTERFERENCE.low, total.middle * INTERFERENCE.middle, total.high * INTERFERENCE.high)


def wing_drag_area_m2(layout: Layout, air: Air, speed_m_s: float, lift_coefficient: float) -> Band:
    """The wing's profile drag at a lift coefficient, as an area."""
    wing, chord = layout.design.wing, layout.mean_chord.length_mm
    camber = mean_camber(layout)
    thickness = layout.design.material(wing.material).thickness_mm / chord
    reynolds = air.reynolds(speed_m_s, chord * M_PER_MM)
    return sections.profile_drag(lift_coefficient, camber, thickness, reynolds).times(
        layout.mean_chord.area_mm2 * M2_PER_MM2
    )


def mean_camber(layout: Layout) -> float:
    """Camber of the wing section's mean line, as a share of the chord."""
    wing = layout.design.wing
    return wing.camber_share * {"flat plate": 0.0, "folded": FOLDED_CAMBER}.get(wing.section, 1.0)


def _fuselage(met: Outside, air: Air, speed_m_s: float) -> DragItem:
    """Skin friction of the box between its edges, and its bluntness."""
    friction = sections.friction(air.reynolds(speed_m_s, met.length_m))
    return DragItem("fuselage", friction.times(met.wetted_m2).plus(BODY.times(met.section_m2)))


def _tail(met: Outside, air: Air, speed_m_s: float) -> Iterator[DragItem]:
    """Flat plates at no lift."""
    for words, shape, thickness_m in met.plates:
        reynolds = air.reynolds(speed_m_s, shape.mean_chord_m)
        drag = sections.profile_drag(0.0, 0.0, thickness_m / shape.mean_chord_m, reynolds)
        yield DragItem(words, drag.times(shape.area_m2))


def _gear(layout: Layout) -> Iterator[DragItem]:
    """Wheels edge on, legs as straight wires from the fuselage to the axle."""
    gear = layout.design.gear
    if gear.arrangement == "none" or gear.wheel is None:
        return
    yield DragItem("main wheels", _wheel(gear.wheel).times(2.0))
    x = gear.axle_station_mm if gear.leg_station_mm is None else gear.leg_station_mm
    down = layout.water_line_mm("bottom", x) + gear.height_mm - gear.wheel.diameter_mm / 2.0
    leg = hypot(gear.track_mm / 2.0 - layout.half_width_mm(x), down)
    yield DragItem("main legs", _wire(leg, gear.wire_diameter_mm).times(2.0))
    if gear.strut is not None:
        yield DragItem("struts", _wire(leg, gear.strut.wire_diameter_mm).times(2.0))
    third = gear.nose_wheel or gear.tail_wheel
    if third is not None:
        drop = layout.water_line_mm("bottom", third.axle_station_mm) + third.height_mm
        wire = _wire(max(drop - third.wheel.diameter_mm / 2.0, 0.0), third.wire_diameter_mm)
        yield DragItem("third wheel", _wheel(third.wheel).plus(wire))
    if gear.skid is not None:
        drop = layout.water_line_mm("bottom", gear.skid.front_station_mm) + gear.skid.height_mm
        yield DragItem("skid", _wire(max(drop, 0.0), gear.skid.wire_diameter_mm))


def _carried(layout: Layout) -> Iterator[DragItem]:
    """The motor, and what any item shows beyond the fuselage's section at its middle."""
    for name, item in layout.design.equipment.items():
        if not item.fitted:
            continue
        if isinstance(item, Motor):
            yield DragItem(name, MOTOR.times(item.diameter_mm**2 * np.pi / 4.0 * M2_PER_MM2))
        elif isinstance(item, Item | RoundItem | Battery):
            shown = _shown_mm2(layout, item)
            if shown > LEAST_MM2:
                yield DragItem(name, BLUFF.times(shown * M2_PER_MM2))


def _shown_mm2(layout: Layout, item: Item | RoundItem | Battery) -> float:
    """The item's frontal rectangle, less what the fuselage's section covers of it."""
    x, y, z = item.station_mm, item.butt_line_mm, item.water_line_mm
    if isinstance(item, RoundItem):
        across, up = item.axis == "butt line", item.axis == "water line"
        wide, high = (item.length_mm if turned else item.diameter_mm for turned in (across, up))
    else:
        _, wide, high = item.chosen().size if isinstance(item, Battery) else item.size
    z += high / 2.0 if isinstance(item, Battery) else 0.0
    inside = layout.nose_mm <= x <= layout.tail_mm
    half = layout.half_width_mm(x) if inside else 0.0
    top, bottom = layout.water_line_mm("top", x), layout.water_line_mm("bottom", x)
    covered_wide = max(min(y + wide / 2.0, half) - max(y - wide / 2.0, -half), 0.0)
    covered_high = max(min(z + high / 2.0, top) - max(z - high / 2.0, bottom), 0.0)
    return wide * high - covered_wide * covered_high


def _wheel(wheel: Wheel) -> Band:
    return WHEEL.times(wheel.diameter_mm * wheel.width_mm * M2_PER_MM2)


def _wire(length_mm: float, diameter_mm: float) -> Band:
    return WIRE.times(length_mm * diameter_mm * M2_PER_MM2)
