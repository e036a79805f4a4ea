"""Fuselages, wings and tails over the whole config space, a good share of them buildable."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tests.space.quantities import Pen, Table

SHEETS = ("foam board 5 mm", "foam board 3/16 in", "foam board 3 mm", "extruded foam 6 mm", "balsa sheet 3 mm")
PLYWOODS = ("birch plywood 3 mm", "birch plywood 1.5 mm", "birch plywood 1/8 in", "birch plywood 1/32 in")
ROOM_MM = 13.0
"""Twice the thickest sheet, and a little: what the outside loses to the inside."""


@dataclass(frozen=True)
class Body:
    """The box that a drawn fuselage is, for what must fit in it, on it and under it."""

    nose: float
    length: float
    width: float
    tail_width: float
    taper: float
    stations: tuple[float, ...]
    """Of its table."""
    tops: tuple[float, ...]
    bottoms: tuple[float, ...]
    gear_plate: tuple[float, float]
    """Stations between which the bottom line must be left without a bend."""

    def top(self, x: float) -> float:
        """Water line of the top edge."""
        return float(np.interp(x, self.stations, self.tops))

    def bottom(self, x: float) -> float:
        """Water line of the bottom edge."""
        return float(np.interp(x, self.stations, self.bottoms))

    def inner_half(self, x: float) -> float:
        """Half of the width inside, of the thickest sheet."""
        aft = max(x - self.taper, 0.0) / (self.length - self.taper)
        return max((self.width + (self.tail_width - self.width) * aft - ROOM_MM) / 2.0, 4.0)


def body(pen: Pen) -> Body:
    """Outside lines of a fuselage, from a block to a curved and tapered one."""
    length = pen.number(450, 850)
    nose = pen.one_of((0.0, -3.0, -pen.number(10, 35)))
    width = pen.number(50, 110)
    plate = (0.14 * length, 0.21 * length)
    bends = sorted(x for x in (0.3 * length, 0.5 * length, 0.7 * length, 0.09 * length) if pen.yes())
    stations = (nose, *bends, length)
    high, low = pen.number(24, 60), -pen.number(28, 60)
    tops = [high * pen.number(0.8, 1.2) for _ in stations[:-1]]
    bottoms = [low * pen.number(0.8, 1.2) for _ in stations[:-1]]
    tapers = pen.yes()
    return Body(
        nose,
        length,
        width,
        width * pen.number(0.45, 1.0) if tapers else width,
        length * pen.number(0.4, 0.75) if tapers else 0.0,
        tuple(stations),
        (*tops, pen.number(16, 30)),
        (*bottoms, -pen.number(0, 14)),
        plate,
    )


def fuselage(pen: Pen, box: Body) -> Table:
    """The fuselage's table."""
    rows = zip(box.stations, box.tops, box.bottoms, strict=True)
    keys = ("station", "top", "bottom")
    table: Table = {
        "width": pen.mm(box.width),
        "stations": [dict(zip(keys, pen.point(*row), strict=True)) for row in rows],
    }
    if box.taper:
        table |= {"tail_width": pen.mm(box.tail_width), "taper_station": pen.mm(box.taper)}
    decks = _decks(pen, box)
    table |= {"decks": decks} if decks else {}
    formers = [x * box.length for x in (0.12, 0.24, 0.6, 0.8, 0.97) if pen.yes()]
    return pen.some(
        table,
        material=lambda: pen.one_of(SHEETS),
        line=lambda: pen.one_of(("straight", "curved")),
        formers=lambda: [_former(pen, f"F{i}", x) for i, x in enumerate(formers)],
        braces=lambda: [_brace(pen, box)],
        shelves=lambda: _shelves(pen, box),
        openings=lambda: _openings(pen, box, [deck["face"] for deck in decks if deck["name"] != "rear deck"]),
        shells=lambda: [_shell(pen, box, opens) for opens in ("down", "up") if pen.yes()],
        firewall=lambda: _firewall(pen, box),
        splice_doubler=lambda: pen.length(30, 90),
    )


def _former(pen: Pen, name: str, x: float) -> Table:
    return pen.some(
        {"name": name, "station": pen.mm(x)},
        rim=lambda: pen.length(4, 14),
        material=lambda: pen.one_of((*SHEETS, *PLYWOODS)),
    )


def _brace(pen: Pen, box: Body) -> Table:
    x = box.length * pen.number(0.22, 0.4)
    line = pen.mm(min(box.top(x - 15), box.top(x + 15)) - pen.number(1, 9))
    return {"name": "brace", "station": pen.mm(x), "water_line": line, "depth": pen.length(5, 15)}


def _decks(pen: Pen, box: Body) -> list[Table]:
    runs = {
        "nose deck": ("top", max(box.nose, 0.0) + 4.0, 0.19 * box.length),
        "rear deck": ("top", pen.number(0.5, 0.6) * box.length, box.length - 3.0),
        "floor": ("bottom", 3.0, box.length - 3.0),
    }
    kept = [(name, *run) for name, run in runs.items() if not pen.yes(3)]
    return [
        pen.some(
            {"name": name, "face": face, "from_station": pen.mm(a), "to_station": pen.mm(b)},
            material=lambda: pen.one_of((*SHEETS, "clear sheet 0.5 mm")),
            fit=lambda: pen.one_of(("between", "over")),
        )
        for name, face, a, b in kept
    ]


def _shelves(pen: Pen, box: Body) -> list[Table]:
    shelves = []
    for name, a, b in (("tray", 0.03, 0.11), ("servo deck", 0.4, 0.47)):
        from_mm, to_mm = a * box.length, b * box.length
        middle = (from_mm + to_mm) / 2.0
        line = box.bottom(middle) * pen.number(0.2, 0.6)
        slot = {"station": pen.mm(middle), "length": pen.length(8, 24), "width": pen.length(4, 12)}
        shelf: Table = {
            "name": name,
            "from_station": pen.mm(from_mm),
            "to_station": pen.mm(to_mm),
            "water_line": pen.mm(line),
        }
        shelf |= {"slots": [slot]} if pen.yes() else {}
        shelves.append(pen.some(shelf, width=lambda: pen.length(20, 60)))
    return shelves[: pen.count(1, 2)]


def _openings(pen: Pen, box: Body, closed: list[str]) -> list[Table]:
    half = box.inner_half(0.1 * box.length) * pen.number(0.3, 0.9)
    x = 0.3 * box.length
    hatch = {"name": "hatch", "face": pen.one_of(closed or ["top"]), "low": pen.mm(-half), "high": pen.mm(half)}
    hole = {"name": "window", "face": pen.one_of(("left", "right", "sides"))}
    hatch |= {"from_station": pen.length(10, 20), "to_station": pen.mm(pen.number(0.06, 0.13) * box.length)}
    hole |= {"low": pen.mm(box.bottom(x) * pen.number(0.2, 0.7)), "high": pen.mm(box.top(x) * pen.number(0.2, 0.6))}
    hole |= {"from_station": pen.mm(x), "to_station": pen.mm(x + pen.number(8, 60))}
    return [
        pen.some(one, corner_radius=lambda: pen.length(0.5, 12), cover=lambda: True)
        for one in (hatch, hole)
        if pen.yes()
    ]


def _shell(pen: Pen, box: Body, opens: str) -> Table:
    crown = box.top(box.nose) if opens == "down" else box.bottom(box.nose)
    radius = pen.number(7, 14)
    ends = {}
    for end, x, size in (("front", box.nose - pen.number(15, 60), pen.number(0.6, 1.0)), ("rear", box.nose, 1.0)):
        section = {"station": x, "width": box.width * size, "crown": crown * size, "edge": 0.0, "corner_radius": radius}
        ends[end] = {key: pen.mm(value) for key, value in section.items()}
    name = "cowl" if opens == "down" else "belly pan"
    return pen.some(
        {"name": name, "opens": opens, **ends},
        scores_per_corner=lambda: pen.count(1, 5),
        end_formers=lambda: pen.one_of((["rear"], ["front"], ["front", "rear"])),
        former_rim=lambda: pen.length(5, 14),
        material=lambda: pen.one_of(SHEETS),
    )


def _firewall(pen: Pen, box: Body) -> Table:
    def gussets(least: float, most: float) -> Table:
        lines = [pen.mm(share * box.top(0.0)) for share in (0.55, -0.4) if pen.yes()]
        table = {"water_lines": lines, "leg": pen.length(least, most)}
        return pen.some(table, material=lambda: pen.one_of(PLYWOODS))

    hole = {"name": "leads", "butt_line": "0 mm", "water_line": pen.mm(0.6 * box.bottom(0.0)), "diameter": "8 mm"}
    table: Table = {"material": pen.one_of(PLYWOODS)}
    if box.nose < -9.0 and pen.yes():
        table["gussets_ahead"] = gussets(6.0, -box.nose)
    return pen.some(
        table,
        down_thrust=lambda: pen.angle(-4, 6),
        right_thrust=lambda: pen.angle(-4, 6),
        bolt_circle=lambda: pen.length(16, 26),
        bolt_diameter=lambda: pen.length(2, 4),
        shaft_hole=lambda: pen.length(4, 9),
        holes=lambda: [hole],
        doubler_material=lambda: pen.one_of(PLYWOODS),
        doubler_behind=lambda: pen.length(15, 60),
        gussets_behind=lambda: gussets(6.0, 22.0),
    )


def wing(pen: Pen, box: Body) -> Table:
    """The wing's table."""
    chord, spans = pen.number(0.22, 0.34) * box.length, [pen.number(120, 420) for _ in range(pen.count(1, 3))]
    station = 0.18 * box.length
    section = pen.one_of(("curved plate", "flat plate", "folded"))
    table: Table = {"section": section, "root_chord": pen.mm(chord), "station": pen.mm(station)}
    table["panels"] = [
        pen.some(
            {"span": pen.mm(span)},
            tip_chord=lambda: pen.mm(chord * pen.number(0.5, 1.1)),
            sweep=lambda: pen.angle(-6, 12),
            dihedral=lambda: pen.angle(-3, 18),
        )
        for span in spans
    ]
    if section != "flat plate":
        ribs = [pen.mm(sum(spans) * share) for share in (0.3, 0.55, 0.9) if pen.yes()]
        table = pen.some(
            table | {"camber": pen.share(6, 13) if section == "folded" else pen.share(2, 9)},
            rib_positions=lambda: ribs,
            spar=lambda: pen.some({}, width=lambda: pen.length(3, 10), height=lambda: pen.length(1, 4)),
            camber_position=lambda: pen.share(20, 50),
            scores=lambda: pen.count(1, 9),
            nose_height=lambda: pen.length(14, 26),
        )
    return pen.some(
        table,
        material=lambda: pen.one_of(SHEETS),
        incidence=lambda: pen.angle(-1, 5),
        centre_ribs=lambda: False,
        rib_material=lambda: pen.one_of(SHEETS),
        joint_tape=lambda: pen.one_of(("packing tape", "none")),
        joint_tape_width=lambda: pen.length(15, 60),
        mounting=lambda: _mounting(pen, box, station, station + chord),
    )


def _mounting(pen: Pen, box: Body, front: float, rear: float) -> Table:
    table: Table = {}
    for name, x in (("front", front - pen.number(8, 16)), ("rear", rear + pen.number(10, 16))):
        table[name] = {"station": pen.mm(x), "water_line": pen.mm(box.top(x) - pen.number(13, 18))}
    return pen.some(
        table,
        dowel_diameter=lambda: pen.length(4, 8),
        projection=lambda: pen.length(6, 20),
        reinforcement=lambda: pen.one_of(PLYWOODS),
        reinforcement_size=lambda: pen.length(16, 34),
        bands=lambda: pen.count(0, 9),
    )


def tail(pen: Pen, box: Body) -> Table:
    """The tail's table, its hinge line near the end of the fuselage."""
    chord, fin = pen.number(70, 125), pen.number(60, 110)
    is_split = pen.yes()
    hinge_line = box.length + (pen.number(4, 10) if is_split else pen.number(-8, 2))

    def hinge() -> Table:
        return pen.some(
            {},
            gap=lambda: pen.length(0.5, 2),
            bevel=lambda: pen.angle(20, 50),
            strips=lambda: pen.count(1, 4),
            strip_length=lambda: pen.length(8, 22),
        )

    elevator: Table = {"root_chord": pen.length(35, 60)}
    if is_split:
        elevator |= {"split": True, "split_gap": pen.length(24, 34), "joiner_wire": pen.length(1.5, 2.5)}
    return pen.some(
        {
            "stabiliser": pen.some(
                {"span": pen.length(260, 420), "root_chord": pen.mm(chord), "station": pen.mm(hinge_line - chord)},
                tip_chord=lambda: pen.mm(chord * pen.number(0.7, 1.0)),
                water_line=lambda: pen.mm(box.top(box.length) + pen.number(0, 4)),
            ),
            "elevator": pen.some(elevator, tip_chord=lambda: pen.length(30, 45), hinge=hinge),
            "fin": pen.some(
                {"height": pen.length(90, 170), "root_chord": pen.mm(fin), "station": pen.mm(hinge_line - fin)},
                tip_chord=lambda: pen.length(40, 70),
            ),
            "rudder": pen.some(
                {"root_chord": pen.length(35, 60)},
                tip_chord=lambda: pen.length(30, 45),
                root_clearance=lambda: pen.length(4, 16),
                hinge=hinge,
            ),
        },
        material=lambda: pen.one_of(SHEETS),
        horns=lambda: pen.some(
            {"rudder_height": pen.length(6, 24), "elevator_butt_line": pen.length(27, 60)},
            height=lambda: pen.length(12, 28),
        ),
    )
