"""Small whole designs for tests, in memory."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from airframe.schema.design import Design

_PLAIN: dict[str, Any] = {
    "name": "Plain",
    "fuselage": {
        "width": "70 mm",
        "stations": [
            {"station": "0 mm", "top": "40 mm", "bottom": "-40 mm"},
            {"station": "350 mm", "top": "40 mm", "bottom": "-40 mm"},
            {"station": "600 mm", "top": "40 mm", "bottom": "0 mm"},
        ],
    },
    "wing": {"root_chord": "200 mm", "station": "120 mm", "panels": [{"span": "450 mm"}]},
    "tail": {
        "stabiliser": {"span": "320 mm", "root_chord": "90 mm", "station": "505 mm"},
        "elevator": {"root_chord": "40 mm"},
        "fin": {"height": "110 mm", "root_chord": "90 mm", "station": "505 mm"},
        "rudder": {"root_chord": "40 mm"},
    },
}


def plain_data() -> dict[str, Any]:
    """A box fuselage with a flat wing and tail, no gear, nothing carried: as a config file would state it."""
    return deepcopy(_PLAIN)


def plain(**changes: Any) -> Design:
    """The plain design with tables merged in; a double underscore goes one table down: fuselage__firewall={...}."""
    data = plain_data()
    for name, change in changes.items():
        *path, last = name.split("__")
        table = data
        for key in path:
            table = table.setdefault(key, {})
        old = table.get(last)
        table[last] = {**old, **change} if isinstance(old, dict) and isinstance(change, dict) else change
    return Design.model_validate(data)
