"""Every value of a design that the builder may turn, as a field of the page."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from airframe.config import ConfigError
from airframe.config.settings import read_setting
from airframe.materials import MATERIALS
from airframe.schema.balance import OnChord
from airframe.schema.base import Table
from airframe.schema.design import Design
from airframe.schema.equipment import Battery
from airframe.schema.walk import NOTHING
from airframe.units import Dimension, System
from viewers.bench import quantities, sliders, words
from viewers.bench.edits import named
from viewers.bench.places import ABSENT, Keys, Leaf, leaf, leaves
from viewers.bench.sliders import Bounds
from viewers.bench.source import Variant
from viewers.bench.words import TITLES, GroupName

Field = dict[str, Any]
_PASSED_OVER = ("kind", "name", "source")
"""Words that name things: they are not turned on the bench."""


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
            self.ends[one.keys] = sliders.ends(was if is_known and was is not None else one, design)
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
        slider = sliders.slider(self.bounds_of(one, design), unit, dimension, is_whole)
        value = one.value if dimension is None else float(quantities.number(one.value / dimension.factors[unit]))
        return {"value": value, "unit": unit, **slider._asdict()}

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
    if one.keys[-1] == quantities.ALTITUDE and quantities.written_unit(one.written, dimension) is None:
        return quantities.FAR[system]
    return quantities.unit_of(dimension, one.written, design.units, system)


def _on_chord(value: OnChord) -> str:
    if value.share is not None:
        return f"{quantities.number(100.0 * value.share)} %"
    if value.margin is not None:
        return f"{quantities.number(100.0 * value.margin)} % margin"
    return f"{quantities.number(value.behind_mm or 0.0)} mm"
