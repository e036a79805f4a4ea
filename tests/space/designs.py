"""Whole configs over the whole space of what a builder may type, some of them with a slip of the pen."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from hypothesis import strategies as st

from tests.space import carried, structure
from tests.space.quantities import Draw, Pen, Table

SLIPS: tuple[Any, ...] = (
    "0 mm", "-40 mm", "0.01 mm", "1 mm", "3.3 mm", "12 mm", "33 mm", "90 mm", "0.2 m", "1 ft", "3 m", "5000 in",
    "250", "12 parsec", "", "-8 deg", "89 deg", "45 g", "0 g", "150 %", "none", "nan mm", "birch plywood 3 mm",
    0, 7, -3, 92.5, True, [], {}, ["5 mm"],
)  # fmt: skip
"""What may stand in the place of what was meant: sizes out of proportion, other units, no unit, no sense."""


@st.composite
def designs(draw: Draw) -> Table:
    """A config, in the tables that TOML would give."""
    pen = Pen(draw)
    box = structure.body(pen)
    items = carried.equipment(pen, box)
    return pen.some(
        {
            "name": "Any",
            "fuselage": structure.fuselage(pen, box),
            "wing": structure.wing(pen, box),
            "tail": structure.tail(pen, box),
            "gear": carried.gear(pen, box),
            "equipment": items,
        },
        units=lambda: pen.one_of(("metric", "imperial")),
        materials=lambda: carried.materials(pen),
        glue=lambda: {"foam_joint": pen.one_of(("wood glue line", "epoxy fillet"))},
        stock=lambda: {"sheet_length": pen.length(430, 1300), "sheet_width": pen.length(300, 700)},
        certainty=lambda: carried.certainty(pen),
        finish=lambda: carried.finish(pen),
        weighed=lambda: carried.weighed(pen, items),
        mesh_angle=lambda: f"{pen.number(0.1, 0.5)} rad",
    )


@st.composite
def slips(draw: Draw) -> Table:
    """A config with one value wrong, one key misspelt, or one left out."""
    pen = Pen(draw)
    data: Table = deepcopy(draw(designs()))
    holder, key = pen.one_of(_leaves(data))
    what = pen.one_of(("value", "value", "value", "name", "gone"))
    if what == "value":
        holder[key] = deepcopy(pen.one_of(SLIPS))
    elif isinstance(holder, list):
        del holder[key]
    else:
        value = holder.pop(key)
        if what == "name":
            holder[f"{key}s"] = value
    return data


def _leaves(value: Any) -> list[tuple[Any, Any]]:
    """Every place in the config that holds a value: the table or list, and the key or index."""
    steps = list(value.items()) if isinstance(value, dict) else list(enumerate(value))
    found: list[tuple[Any, Any]] = []
    for key, inner in steps:
        found += _leaves(inner) if isinstance(inner, (dict, list)) and inner else [(value, key)]
    return found
