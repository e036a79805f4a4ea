"""What the page calls the values of a design, and under which heading each stands."""

from __future__ import annotations

import re
from fnmatch import fnmatchcase
from typing import Any, Literal

from airframe.schema.base import Table
from viewers.bench.edits import named
from viewers.bench.places import Keys, Leaf
from viewers.bench.terms import ACROSS, LAST, NAMES, UPRIGHT, WAY

GroupName = Literal["body", "wing", "tail", "legs", "carried", "finish", "flight"]
TITLES: dict[GroupName, str] = {
    "body": "Body",
    "wing": "Wing",
    "tail": "Tail",
    "legs": "Legs and wheels",
    "carried": "What it carries",
    "finish": "Glue and finish",
    "flight": "Balance and flight",
}
"""The headings, in the order a builder thinks of them."""
_GROUPS: dict[str, GroupName] = {
    "fuselage": "body",
    "wing": "wing",
    "tail": "tail",
    "gear": "legs",
    "equipment": "carried",
    "balance": "flight",
    "flight": "flight",
    "glue": "finish",
    "finish": "finish",
    "materials": "finish",
}
"""What of a config is a matter of dimensions, and what numbers are judged and estimated by: the range of the balance
point and the assumptions of flight are neither carried nor cut, so they have a heading of their own. Limits, stock,
logs and certainties are left to the file."""
MAIN = (
    "fuselage.width", "fuselage.tail_width",
    "wing.root_chord", "wing.camber", "wing.station", "wing.panels.*.span", "wing.panels.*.tip_chord",
    "wing.panels.*.dihedral",
    "tail.stabiliser.span", "tail.stabiliser.root_chord", "tail.stabiliser.station", "tail.elevator.root_chord",
    "tail.fin.height", "tail.fin.root_chord", "tail.rudder.root_chord",
    "gear.track", "gear.axle_station", "gear.height", "gear.wire_diameter", "gear.wheel.diameter",
    "gear.nose_wheel.wheel.diameter", "gear.tail_wheel.wheel.diameter",
    "equipment.*.station", "equipment.*.use", "equipment.*.options.*.mass",
    "balance.forward", "balance.aft", "flight.measured_thrust", "flight.measured_current", "flight.altitude",
)  # fmt: skip
"""What stands open on the page; the rest is folded away under its heading."""
MAIN_MASS_KINDS = ("motor", "battery")
"""Bought items whose mass is among them, beside the payload."""
_ROWS = {
    "stations": "side outline, point {row}",
    "formers": "former {name}",
    "braces": "{name}",
    "openings": "{name}",
    "decks": "{name}",
    "shelves": "{name}",
    "shells": "{name}",
    "holes": "hole {name}",
    "slots": "slot {row}",
    "panels": "panel {row}",
    "rib_positions": "rib {row}, from the middle",
    "water_lines": "height of gusset {row}",
    "finish": "{material} on {on}",
    "path": "corner {row}",
    "points": "screw {row}",
}
"""What a row of each list is called."""
_POINTS = ("station", "sideways (butt line)", "height (water line)")
_SIZES = ("length", "width", "height")
_UNSAID = ("fuselage", "wing", "tail", "gear", "equipment", "materials", "finish", "options")
"""Tables that need no word: the heading says them."""


def group(keys: Keys) -> GroupName | None:
    """The heading that a value stands under; None for what is not shown."""
    return _GROUPS.get(keys[0])


def is_main(leaf: Leaf) -> bool:
    """Whether it stands open."""
    key = named(leaf.keys)
    if leaf.value is None and leaf.keys[0] != "flight":
        return False
    if any(fnmatchcase(key, pattern) for pattern in MAIN) or leaf.keys in _height_and_length(leaf):
        return True
    item = leaf.holders[-1]
    is_mass = leaf.keys[0] == "equipment" and len(leaf.keys) == 3 and leaf.keys[-1] == "mass"
    return is_mass and (getattr(item, "group", "") == "payload" or getattr(item, "kind", "") in MAIN_MASS_KINDS)


def _height_and_length(leaf: Leaf) -> list[Keys]:
    """Top and bottom of the body where it is tallest, and where it ends."""
    if leaf.keys[:2] != ("fuselage", "stations"):
        return []
    rows = leaf.holders[2]
    tallest = max(range(len(rows)), key=lambda row: float(rows[row].top_mm - rows[row].bottom_mm))
    ends = [(str(tallest), "top"), (str(tallest), "bottom"), (str(len(rows) - 1), "station")]
    return [("fuselage", "stations", *end) for end in ends]


def label(leaf: Leaf) -> str:
    """What it is called: "front former: station"; the heading is not said again."""
    key = named(leaf.keys)
    if key in NAMES:
        return NAMES[key]
    if leaf.keys in _height_and_length(leaf):
        what = leaf.keys[-1]
        return "body ends at station" if what == "station" else f"body {what}, where tallest"
    words = [_step(leaf, index) for index in range(len(leaf.keys))]
    *where, what = [word for word in words if word] or [key]
    return f"{' '.join(where)}: {what}" if where else what


def _step(leaf: Leaf, index: int) -> str:
    """The word for one step on the way; none where the others say it."""
    key, holder = leaf.keys[index], leaf.holders[index]
    is_last = index == len(leaf.keys) - 1
    if isinstance(holder, Table):
        if index == 1 and leaf.keys[:2] == ("gear", "wheel"):
            return "main wheels"
        field = "" if index and key == "wheel" else _word(key, holder, is_last)
        is_list = not is_last and isinstance(_held(leaf, index), tuple)
        return "" if (key in _UNSAID and not is_last) or (is_list and _names_rows(leaf, index)) else field
    if isinstance(holder, tuple):
        return _row(leaf, index, holder)
    return key if key not in _UNSAID else ""


def _word(key: str, holder: Table, is_last: bool) -> str:
    """What a builder calls a key of a table."""
    if key in ACROSS:
        return (ACROSS if getattr(holder, "face", "") in ("top", "bottom") else UPRIGHT)[key]
    return (LAST if is_last else WAY).get(key, key.replace("_", " "))


def _names_rows(leaf: Leaf, index: int) -> bool:
    rows = _held(leaf, index)
    return leaf.keys[index] in _ROWS or (leaf.keys[index] == "size" and len(rows) == len(_SIZES))


def _held(leaf: Leaf, index: int) -> Any:
    """What stands under a step: the next holder, or the value itself."""
    return leaf.holders[index + 1] if index + 1 < len(leaf.holders) else leaf.value


def _row(leaf: Leaf, index: int, holder: tuple[Any, ...]) -> str:
    name, number = leaf.keys[index - 1], int(leaf.keys[index])
    if name == "size":
        return _SIZES[number]
    is_point = len(holder) == len(_POINTS) and all(isinstance(one, float) for one in holder)
    if is_point and name not in _ROWS:
        return _POINTS[number]
    pattern = _ROWS.get(name)
    if pattern is None:
        return _POINTS[number] if is_point else str(number + 1)
    row = holder[number]
    known = {key: _short(getattr(row, key, "")) for key in ("name", "on", "material")}
    return pattern.format(row=number + 1, **known)


def in_words(message: str, table: str) -> str:
    """What the schema says of a table, its keys called as on the page."""

    def called(found: re.Match[str]) -> str:
        key = found["key"]
        plain = LAST.get(key, key.replace("_", " ")) if "_" in key else None
        return NAMES.get(f"{table}.{key}", plain or found[0])

    return re.sub(r"(?P<quote>'?)\b(?P<key>[a-z]+(?:_[a-z]+)*)\b(?P=quote)", called, message)


def _short(value: object) -> str:
    return re.sub(r"\s+", " ", str(value))[:40]
