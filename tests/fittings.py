"""Landing gear and equipment to fit to the plain design, as a config file would state them."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from airframe.layout import Layout
from tests.designs import plain

_WHEEL = {"diameter": "60 mm", "width": "18 mm", "mass": "9 g"}
_SMALL_WHEEL = {"diameter": "25 mm", "width": "8 mm", "mass": "2 g"}

_MAIN = {
    "track": "200 mm",
    "axle_station": "120 mm",
    "height": "150 mm",
    "wire_diameter": "3 mm",
    "bend_radius": "6 mm",
    "wheel": _WHEEL,
    "plate": {"from_station": "90 mm", "to_station": "150 mm"},
}
_THIRD: dict[str, dict[str, Any]] = {
    "tail wheel": {
        "tail_wheel": {
            "wheel": _SMALL_WHEEL,
            "axle_station": "590 mm",
            "pivot_station": "565 mm",
            "height": "50 mm",
        }
    },
    "skid": {"skid": {"front_station": "520 mm", "contact_station": "580 mm", "height": "60 mm"}},
    "nose wheel": {
        "arrangement": "nose wheel",
        "nose_wheel": {"wheel": _SMALL_WHEEL, "axle_station": "30 mm", "height": "150 mm"},
    },
}


def gear_data(third: str = "tail wheel", **changes: Any) -> dict[str, Any]:
    """A complete gear table; `third` is 'tail wheel', 'skid' or 'nose wheel'; changes replace whole keys."""
    return deepcopy({**_MAIN, **_THIRD[third], **changes})


def geared(third: str = "tail wheel", **changes: Any) -> Layout:
    """The plain design on such a gear."""
    return Layout(plain(gear=gear_data(third, **changes)))


def carrying(**items: Any) -> Layout:
    """The plain design with this equipment; underscores in a name stand for spaces."""
    return Layout(plain(equipment={name.replace("_", " "): item for name, item in items.items()}))


MOTOR = {"kind": "motor", "mass": "46 g", "diameter": "28 mm", "length": "34 mm"}
PROPELLER = {"kind": "propeller", "mass": "11 g", "diameter": "228 mm", "pitch": "127 mm"}
