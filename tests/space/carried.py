"""Landing gear, equipment, materials, finish and weighings over the whole config space."""

from __future__ import annotations

from collections.abc import Callable

from tests.space.quantities import Pen, Table
from tests.space.structure import PLYWOODS, Body

GROUPS = ("propulsion", "controls", "electrical", "payload", "fuselage", "landing gear")


def gear(pen: Pen, box: Body) -> Table:
    """The gear's table: tail wheel, skid, nose wheel or none."""
    third = pen.one_of(("none", "tail wheel", "skid", "nose wheel"))
    if third == "none":
        return {"arrangement": "none"}
    front, rear = box.gear_plate
    lowest = -min(box.bottoms)
    height = lowest + pen.number(60, 120)
    plate = {"from_station": pen.mm(front), "to_station": pen.mm(rear), "material": pen.one_of(PLYWOODS)}
    return pen.some(
        {
            "arrangement": "nose wheel" if third == "nose wheel" else "tail wheel",
            "track": pen.mm(box.width + pen.number(90, 220)),
            "axle_station": pen.mm((front + rear) / 2.0 + pen.number(-40, 40)),
            "height": pen.mm(height),
            "wheel": _wheel(pen, 40, 70),
            "plate": pen.some(
                plate, buttress_material=lambda: pen.one_of(PLYWOODS), buttress_height=lambda: pen.length(10, 25)
            ),
            **_third_point(pen, box, third, height),
        },
        wire_diameter=lambda: pen.length(2, 4),
        bend_radius=lambda: pen.length(3, 8),
        leg_station=lambda: pen.mm((front + rear) / 2.0 + pen.number(-6, 6)),
        strut=lambda: {"station": pen.mm(front + 6.0), "wire_diameter": pen.length(1.5, 2.5)},
        fairing=lambda: {"chord": pen.length(10, 24)},
    )


def _wheel(pen: Pen, low_mm: float, high_mm: float) -> Table:
    table = {"diameter": pen.length(low_mm, high_mm), "width": pen.length(6, 18), "mass": pen.mass(2, 12)}
    return pen.some(table, basis=lambda: "weighed", collar_mass=lambda: pen.mass(0, 2))


def _third_point(pen: Pen, box: Body, third: str, height: float) -> Table:
    if third == "nose wheel":
        return {
            "nose_wheel": {"wheel": _wheel(pen, 35, 55), "axle_station": pen.length(14, 40), "height": pen.mm(height)}
        }
    x = box.length * pen.number(0.93, 0.98)
    low = pen.mm(-box.bottom(x) + pen.number(25, 50))
    if third == "skid":
        contact = pen.mm(x + pen.number(15, 40))
        return {"skid": {"front_station": pen.mm(x), "contact_station": contact, "height": low}}
    wheel = {"wheel": _wheel(pen, 18, 28), "axle_station": pen.mm(x + pen.number(8, 30))}
    return {"tail_wheel": {**wheel, "pivot_station": pen.mm(x), "height": low, "steerable": pen.yes()}}


def equipment(pen: Pen, box: Body) -> Table:
    """Items of every kind, each of them once in two times."""
    kinds: dict[str, Callable[[Pen, Body], Table]] = {
        "motor": _motor,
        "propeller": _propeller,
        "battery": _battery,
        "spare pack": _batteries,
        "receiver": _box,
        "beacon tube": _cylinder,
        "elevator push-rod": _push_rod,
        "battery lead": _lead,
        "motor bolts": _screws,
    }
    items = {name: make(pen, box) for name, make in kinds.items() if pen.yes()}
    return {name: pen.some(item, fitted=lambda: pen.one_of((True, True, False))) for name, item in items.items()}


def _motor(pen: Pen, box: Body) -> Table:
    return pen.some(
        {"kind": "motor", "mass": pen.mass(15, 90), "diameter": pen.length(20, 36), "length": pen.length(18, 42)},
        shaft_length=lambda: pen.length(6, 25),
        shaft_diameter=lambda: pen.length(2, 5),
    )


def _propeller(pen: Pen, box: Body) -> Table:
    return pen.some(
        {"kind": "propeller", "mass": pen.mass(3, 25), "diameter": pen.length(120, 300), "pitch": pen.length(60, 200)},
        blades=lambda: pen.count(2, 4),
        hub_diameter=lambda: pen.length(8, 20),
    )


def _size(pen: Pen) -> list[str]:
    return [pen.length(10, 70), pen.length(8, 36), pen.length(4, 24)]


def _battery(pen: Pen, box: Body) -> Table:
    place = {"station": pen.mm(0.08 * box.length), "water_line": pen.mm(0.3 * box.bottom(0.0))}
    return {"kind": "battery", "mass": pen.mass(30, 160), "size": _size(pen), **place}


def _batteries(pen: Pen, box: Body) -> Table:
    place = {"station": pen.mm(0.3 * box.length), "water_line": pen.mm(0.3 * box.bottom(0.0))}
    options = {f"{n}-cell": {"mass": pen.mass(30, 160), "size": _size(pen), "cells": n} for n in (2, 3)}
    return pen.some({"kind": "battery", "options": options, **place}, use=lambda: "3-cell", basis=lambda: "weighed")


def _box(pen: Pen, box: Body) -> Table:
    x = pen.number(0.05, 0.9) * box.length
    place = {"station": pen.mm(x), "water_line": pen.mm((box.top(x) + box.bottom(x)) / 2.0)}
    return pen.some(
        {"mass": pen.mass(0, 60), "size": _size(pen), **place},
        kind=lambda: "box",
        butt_line=lambda: pen.length(-15, 15),
        group=lambda: pen.one_of(GROUPS),
        place=lambda: pen.one_of(("inside", "outside")),
        basis=lambda: pen.one_of(("estimated", "weighed")),
    )


def _cylinder(pen: Pen, box: Body) -> Table:
    size = {"diameter": pen.length(4, 24), "length": pen.length(8, 60)}
    place = {"station": pen.mm(pen.number(0.1, 0.8) * box.length), "place": pen.one_of(("inside", "outside"))}
    return pen.some(
        {"kind": "cylinder", "mass": pen.mass(1, 30), **size, **place},
        axis=lambda: pen.one_of(("station", "butt line", "water line")),
    )


def _push_rod(pen: Pen, box: Body) -> Table:
    start = pen.point(0.4 * box.length, pen.number(-10, 10), 0.0)
    end = pen.point(box.length, pen.number(-25, 25), pen.number(-10, 40))
    rod = {"kind": "push-rod", "from_point": start, "to_point": end}
    return pen.some(rod, diameter=lambda: pen.length(0.8, 2), end_length=lambda: pen.length(4, 12))


def _lead(pen: Pen, box: Body) -> Table:
    path = [pen.point(pen.number(10, 300), pen.number(-20, 20), pen.number(-20, 20)) for _ in range(pen.count(2, 4))]
    return pen.some(
        {"kind": "lead", "path": path},
        material=lambda: pen.one_of(("servo lead", "power lead", "rubber band")),
        slack=lambda: pen.length(1, 300),
    )


def _screws(pen: Pen, box: Body) -> Table:
    points = [pen.point(3.0, y, 8.0) for y in (-9.0, 9.0)]
    return pen.some(
        {"kind": "screws", "points": points},
        diameter=lambda: pen.length(2, 4),
        length=lambda: pen.length(3, 16),
        pointing=lambda: pen.one_of(("aft", "forward", "left", "right", "down", "up")),
    )


def materials(pen: Pen) -> Table:
    """Materials of one's own, of every kind; the first replaces a built-in one."""
    sheet = {"kind": "sheet", "thickness": pen.length(2, 6), "source": "weighed"}
    weight = pen.one_of(({"areal_weight": "440 g/m^2"}, {"density": "35 kg/m^3"}, {"areal_weight": "1.4 oz/ft^2"}))
    return {
        "foam board 5 mm": {**sheet, **weight},
        "own cord": {"kind": "line", "linear_weight": "3.1 g/m", "look": "rubber", "source": "weighed"},
        "own varnish": {"kind": "film", "areal_weight": "40 g/m^2", "look": "paint", "source": "weighed"},
        "own wood": {"kind": "solid", "density": "520 kg/m^3", "look": "wood", "source": "weighed"},
    }


def finish(pen: Pen) -> list[Table]:
    """One or two coats on parts that every design has, or may have."""
    coat = {"material": pen.one_of(("acrylic paint", "light filler"))}
    names = [pen.one_of(("fuselage side*", "wing skin*", "fin", "tail", "elevator")) for _ in range(pen.count(1, 2))]
    extra = {"coats": lambda: pen.count(1, 3), "face": lambda: pen.one_of(("outer", "inner", "both"))}
    return [pen.some({"on": name, **coat}, **extra) for name in names]


def weighed(pen: Pen, items: Table) -> list[Table]:
    """What was put on the scale: a group, parts, an item, the whole aeroplane."""
    whats = [what for what in ("wing", "tail", "stabiliser", "wing skin *", *items) if pen.yes(3)]
    rows = [_piece(pen, what, 40, 250) for what in whats[:3]]
    if pen.yes(3):
        rows.append(_piece(pen, "whole", 300, 900) | {"without": [pen.one_of(("stabiliser", "wing rib *", *items))]})
    return rows


def _piece(pen: Pen, what: str, low_g: float, high_g: float) -> Table:
    return pen.some(
        {"what": what, "mass": pen.mass(low_g, high_g)},
        together_with=lambda: [pen.one_of(("fuselage side*", "glue, *", "fin"))],
        balances_at=lambda: pen.length(50, 500),
        resolution=lambda: pen.one_of(("0.1 g", "1 g", "0 g")),
    )


def certainty(pen: Pen) -> Table:
    """How well the builder thinks that numbers are known, to the extremes."""
    shares = ("0 %", "2 %", "10 %", "100 %")
    keys = ("sheet", "metal", "line", "weighed_material", "bead", "estimated", "scale_calibration")
    return {key: pen.one_of(shares) for key in keys if pen.yes()}
