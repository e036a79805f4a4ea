"""The landing gear: main legs and a third point, or none at all."""

from __future__ import annotations

from airframe.axes import Point
from airframe.drawing import Part
from airframe.layout import Layout
from airframe.parts import main_gear, third_point


def parts(layout: Layout) -> list[Part]:
    """Every part of the landing gear; none for an aeroplane that lands on its belly."""
    if layout.design.gear.arrangement == "none":
        return []
    return [*main_gear.parts(layout), *third_point.parts(layout)]


def contact_points(layout: Layout) -> dict[str, Point]:
    """Lowest point of each wheel or skid, fuselage level and wires unloaded, by the part's name.

    Main wheels first, right then left; empty without a landing gear.
    """
    gear = layout.design.gear
    if gear.arrangement == "none":
        return {}
    right = (gear.axle_station_mm, gear.track_mm / 2.0, -gear.height_mm)
    name, third = third_point.contact(layout)
    left = (right[0], -right[1], right[2])
    return {f"{main_gear.WHEEL} right": right, f"{main_gear.WHEEL} left": left, name: third}
