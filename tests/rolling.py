"""Small whole designs that stand on wheels, for the checks on the ground."""

from __future__ import annotations

from typing import Any

from airframe.schema.design import Design
from tests.designs import plain, plain_data

WHEEL = {"diameter": "50 mm", "width": "16 mm", "mass": "7 g"}
SMALL_WHEEL = {"diameter": "24 mm", "width": "8 mm", "mass": "2 g"}
PLATE = {"from_station": "90 mm", "to_station": "140 mm"}
TAIL_WHEEL_GEAR: dict[str, Any] = {
    "arrangement": "tail wheel",
    "track": "180 mm",
    "axle_station": "100 mm",
    "height": "140 mm",
    "wheel": WHEEL,
    "plate": PLATE,
    "tail_wheel": {
        "wheel": SMALL_WHEEL,
        "axle_station": "590 mm",
        "pivot_station": "570 mm",
        "height": "45 mm",
    },
}
NOSE_WHEEL_GEAR: dict[str, Any] = {
    "arrangement": "nose wheel",
    "track": "240 mm",
    "axle_station": "240 mm",
    "height": "140 mm",
    "wheel": WHEEL,
    "plate": {"from_station": "200 mm", "to_station": "250 mm"},
    "nose_wheel": {"wheel": WHEEL, "axle_station": "40 mm", "height": "140 mm"},
}
POWER = {
    "motor": {"kind": "motor", "mass": "40 g", "diameter": "28 mm", "length": "30 mm"},
    "propeller": {"kind": "propeller", "mass": "9 g", "diameter": "200 mm", "pitch": "100 mm"},
    "battery": {
        "kind": "battery",
        "station": "60 mm",
        "water_line": "-20 mm",
        "options": {
            "large": {"mass": "120 g", "size": ["76 mm", "35 mm", "22 mm"]},
            "small": {"mass": "80 g", "size": ["70 mm", "34 mm", "18 mm"]},
        },
    },
}


def merged(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """Tables laid over tables."""
    result = dict(base)
    for key, value in changes.items():
        old = result.get(key)
        result[key] = merged(old, value) if isinstance(old, dict) and isinstance(value, dict) else value
    return result


def rolling_data(on: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """The plain design on a landing gear, with motor, propeller and battery, as a config file would state it."""
    return merged({**plain_data(), "gear": on, "equipment": POWER}, changes)


def tail_wheel(**changes: Any) -> Design:
    """On a tail wheel; tables are merged in."""
    return Design.model_validate(rolling_data(TAIL_WHEEL_GEAR, **changes))


def nose_wheel(**changes: Any) -> Design:
    """On a nose wheel; tables are merged in."""
    return Design.model_validate(rolling_data(NOSE_WHEEL_GEAR, **changes))


def belly() -> Design:
    """Without landing gear or power: hand launched, lands on its belly."""
    return plain()
