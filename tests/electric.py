"""The starter's aeroplane with its electrical side filled in."""

from __future__ import annotations

import copy
import tomllib
from typing import Any

from airframe.starter import starter_text

STARTER: dict[str, Any] = tomllib.loads(starter_text())


def electric() -> dict[str, Any]:
    """The starter with every electrical key filled in."""
    data = copy.deepcopy(STARTER)
    items = data["equipment"]
    items["motor"] |= {"kv": "960 rpm/V", "resistance": "95 mohm", "no_load_current": "0.6 A"}
    items["propeller"] |= {"thrust_coefficient": 0.1, "power_coefficient": 0.04}
    items["battery"] |= {"max_current": "20 A"}
    for option in items["battery"]["options"].values():
        option |= {"capacity": "1300 mAh", "resistance": "30 mohm", "max_current": "26 A"}
    items["speed controller"] |= {"kind": "speed controller", "max_current": "18 A", "resistance": "4 mohm"}
    for name in ("elevator servo", "rudder servo"):
        items[name] |= {"kind": "servo", "torque": "1.5 kg cm", "arm": "12 mm", "travel": "40 deg"}
    data["flight"] = {
        "measured_thrust": "620 gf",
        "measured_current": "11.5 A",
        "measured_with": "2-cell",
        "altitude": "300 ft",
        "stall_lift_coefficient": 1.1,
        "usable_capacity": "75 %",
    }
    return data
