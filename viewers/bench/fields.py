"""Every value of a design that the builder may turn, as a field of the page."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from math import radians
from typing import Any, get_origin

from airframe.config import ConfigError
from airframe.config.settings import read_setting
from airframe.materials import MATERIALS
from airframe.schema.balance import OnChord
from airframe.schema.base import Table
from airframe.schema.design import Design
from airframe.schema.equipment import Battery
from airframe.schema.fuselage import MOST_THRUST_RAD
from airframe.schema.values import bounds
from airframe.schema.walk import NOTHING
from airframe.units import Dimension, System
from viewers.bench import quantities, words
from viewers.bench.edits import named
from viewers.bench.places import ABSENT, Keys, Leaf, leaf, leaves
from viewers.bench.quantities import Bounds
from viewers.bench.source import Variant
from viewers.bench.words import TITLES, GroupName

Field = dict[str, Any]
_PASSED_OVER = ("kind", "name", "source")
"""Words that name things: they are not turned on the bench."""
SIGNED = ("dihedral", "sweep", "incidence", "down_thrust", "right_thrust")
"""Angles that may be either way."""
LEAST_ANGLE_RAD, STEEPEST_RAD = radians(10.0), radians(57.0)
REACH_MM = 200.0
"""How far a slider moves a thing along the body from where it is filed."""
ROOM_MM = 60.0
"""How far it moves one across or up."""
CLEAR_MM = 1.0
"""From one station of the body's side view to the next, at least."""
ALTITUDE, HIGH_FIELD_MM = "altitude", 3.0e6
"""Of the flying field, and as high as a slider takes it; higher ones are typed."""
FROM_NOTHING = {"length": 50.0, "mass": 50.0, "share": 0.2}
"""How far a slider runs for a quantity that is nothing as filed: mm, g, a share."""


@dataclass
class Fields:
    """The fields of one visit: a slider keeps its ends, whatever is typed meanwhile."""

    filed: Variant
    prototype: Variant | None
    ends: dict[Keys, Bounds] = field(default_factory=dict)

    def groups(self, variant: Variant, system: System) -> list[dict[str, Any]]:
        """Every field under its heading."""
        found: dict[GroupName, list[Field]] = {name: [] for name in TITLES}
        for one in leaves(variant.design, variant.data):
            name, made = words.group(one.keys), self._field(one, variant.design, system)
            if name is not None and made is not None:
                found[name].append(made)
        return [{"name": name, "title": TITLES[name], "fields": made} for name, made in found.items()]

    def some(self, keys: Iterable[Keys], variant: Variant, system: System) -> list[Field]:
        """The fields of these keys."""
        found = (leaf(variant.design, variant.data, one) for one in keys)
        made = (self._field(one, variant.design, system) for one in found if one is not None)
        return [one for one in made if one is not None]

    def told_of(self, variant: Variant) -> Callable[[str, str], tuple[str, str]]:
        """What of a key and a message about it becomes the label of its field, and the message in the page's words."""

        def told(key: str, message: str) -> tuple[str, str]:
            try:
                found = leaf(variant.design, variant.data, read_setting(f"{key}=0")[0])
            except ConfigError:
                found = None
            is_field = found is not None and not isinstance(found.value, Table | dict | tuple)
            return words.label(found) if is_field and found is not None else "", words.in_words(message, key)

        return told

    def bounds_of(self, one: Leaf, design: Design) -> Bounds:
        """The ends of its slider, settled when it is first shown."""
        if one.keys not in self.ends:
            was = leaf(self.filed.design, self.filed.data, one.keys)
            is_known = was is not None and isinstance(was.value, float | int)
            self.ends[one.keys] = _bounds(was if is_known and was is not None else one, design)
        return self.ends[one.keys]

    def _field(self, one: Leaf, design: Design, system: System) -> Field | None:
        shown = _shown(one, design)
        if shown is None:
            return None
        text = _text(one, design, system)
        made: Field = {
            "key": named(one.keys),
            "label": words.label(one),
            "kind": shown,
            "text": text,
            "value": one.value if isinstance(one.value, bool | int | str) else None,
            "unit": "",
            "help": " ".join(one.spot.description.split()),
            "stated": one.is_stated,
            "optional": one.spot.may_be_none,
            "main": words.is_main(one),
            "filed": self._other(self.filed, one, system),
            "prototype": None if self.prototype is None else self._other(self.prototype, one, system),
        }
        if shown == "number":
            made |= self._number(one, design, system)
        if shown == "choice":
            made |= {"choices": _choices(one, design), "value": NOTHING if one.value is None else str(one.value)}
        return made

    def _number(self, one: Leaf, design: Design, system: System) -> Field:
        dimension, is_whole = one.dimension, isinstance(one.value, int)
        unit = "" if dimension is None else _unit(one, dimension, design, system)
        low, high, step = quantities.slider(self.bounds_of(one, design), unit, dimension, is_whole)
        value = one.value if dimension is None else float(quantities.number(one.value / dimension.factors[unit]))
        return {"value": value, "unit": unit, "low": low, "high": high, "step": step}

    def _other(self, variant: Variant, one: Leaf, system: System) -> str | None:
        """The same value of another design in words; None where it has none, or calls the row by another name."""
        other = leaf(variant.design, variant.data, one.keys)
        if other is None or other.value is ABSENT or _row_names(other) != _row_names(one):
            return None
        return _text(other, variant.design, system) or None


def _row_names(one: Leaf) -> tuple[object, ...]:
    """What the rows that hold a value are called."""
    return tuple(getattr(holder, "name", None) for holder in one.holders[1:])


def _shown(one: Leaf, design: Design) -> str | None:
    """How a value is turned; None for one that is not."""
    if words.group(one.keys) is None or one.keys[-1] in _PASSED_OVER:
        return None
    if isinstance(one.value, bool):
        return "switch"
    if _choices(one, design):
        return "choice"
    if one.spot.kind in (float, int):
        return "number" if one.value is not None else "text"
    return "text" if one.spot.kind in (str, OnChord) else None


def _choices(one: Leaf, design: Design) -> list[str]:
    """The words that may stand here, if it is a matter of choice."""
    nothing = [NOTHING] if one.spot.may_be_none else []
    if one.spot.words:
        return nothing + [str(word) for word in one.spot.words]
    item = one.holders[-1]
    if isinstance(item, Battery) and one.keys[-1] == "use":
        return list(item.options)
    if one.spot.material is None:
        return []
    own = [name for name, table in design.materials.items() if table.kind == one.spot.material]
    return [
        *nothing,
        *own,
        *(name for name, known in MATERIALS.items() if known.kind == one.spot.material and name not in own),
    ]


def _text(one: Leaf, design: Design, system: System) -> str:
    """A value as it reads in its field; empty for what is left out."""
    if one.value is None:
        return ""
    if isinstance(one.value, bool):
        return "yes" if one.value else "no"
    if isinstance(one.value, OnChord):
        return one.written if isinstance(one.written, str) else _on_chord(one.value)
    if one.dimension is not None:
        unit = _unit(one, one.dimension, design, system)
        return quantities.text(one.value, unit, one.dimension, one.written)
    return quantities.number(one.value) if isinstance(one.value, float) else str(one.value)


def _unit(one: Leaf, dimension: Dimension, design: Design, system: System) -> str:
    """The unit that a value is shown in: a height above the sea in metres or feet, whatever the model is cut in."""
    if one.keys[-1] == ALTITUDE and quantities.written_unit(one.written, dimension) is None:
        return quantities.FAR[system]
    return quantities.unit_of(dimension, one.written, design.units, system)


def _on_chord(value: OnChord) -> str:
    if value.share is not None:
        return f"{quantities.number(100.0 * value.share)} %"
    if value.margin is not None:
        return f"{quantities.number(100.0 * value.margin)} % margin"
    return f"{quantities.number(value.behind_mm or 0.0)} mm"


# --- how far a slider runs ------------------------------------------------------------------------------


def _bounds(one: Leaf, design: Design) -> Bounds:
    """From about half to about double as filed; places within the body and a little beyond; angles both ways."""
    value, least = float(one.value), bounds(one.spot)
    name = one.keys[-1]
    if name == ALTITUDE:
        return Bounds(0.0, max(HIGH_FIELD_MM, value)).clipped(*least)
    if one.dimension is not None and one.dimension.name == "angle":
        return _angle(name, value).clipped(*least)
    if one.dimension is not None and one.dimension.name == "length" and least[0] is not None and least[0] < 0.0:
        return _within_body(one, value, design)
    if value == 0.0:
        reach = FROM_NOTHING.get(one.dimension.name, 1.0) if one.dimension is not None else 1.0
        return Bounds(0.0, reach).clipped(*least)
    return Bounds(0.5 * value, 2.0 * value).clipped(*least)


def _angle(name: str, value: float) -> Bounds:
    """Both ways where it may be, else from about half to about double."""
    most = max(2.0 * abs(value), LEAST_ANGLE_RAD)
    if name in SIGNED:
        most = min(most, STEEPEST_RAD if "thrust" not in name else MOST_THRUST_RAD)
        return Bounds(-most, most)
    return Bounds(0.5 * value, most)


def _within_body(one: Leaf, value: float, design: Design) -> Bounds:
    """A station, butt line or water line: some way round where it is.

    Stations not beyond the body's ends, and those of the body's own side view not beyond their neighbours.
    """
    if _axis(one) != "station":
        return Bounds(value - ROOM_MM, value + ROOM_MM)
    stations = [row.station_mm for row in design.fuselage.stations]
    nose, tail = stations[0], stations[-1]
    if one.keys[:2] == ("fuselage", "stations"):
        row = int(one.keys[2])
        nose = stations[row - 1] + CLEAR_MM if row > 0 else value - ROOM_MM
        tail = stations[row + 1] - CLEAR_MM if row + 1 < len(stations) else value + REACH_MM
        tail = min(tail, 0.0) if row == 0 else tail  # the body begins at the firewall or ahead of it
    low, high = max(nose, value - REACH_MM), min(tail, value + REACH_MM)
    return Bounds(min(low, value), max(high, value))


def _axis(one: Leaf) -> str:
    """Along which of the three axes a coordinate is measured."""
    name = one.keys[-1]
    if name.isdecimal() and get_origin(one.spot.kind) is None:
        held = one.holders[-1]
        is_point = isinstance(held, tuple) and len(held) == 3 and one.keys[-2] != "water_lines"
        return ("station", "butt", "water")[int(name)] if is_point else "water"
    if "butt" in name:
        return "butt"
    is_opening_across = name in ("low", "high") and getattr(one.holders[-1], "face", "") in ("top", "bottom")
    if is_opening_across:
        return "butt"
    is_water = any(word in name for word in ("water", "top", "bottom", "crown", "edge", "low", "high"))
    return "water" if is_water else "station"
