"""Plans of small designs, for the tests of what works through them."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from airframe.config import Loaded, from_dict, read
from airframe.model import Aeroplane
from airframe.sweep.keys import all_typed
from airframe.sweep.plan import Plan, planned
from tests.designs import plain_data
from tests.fittings import gear_data

CONFIGS = Path(__file__).parent.parent.parent.parent / "configs"
BATTERY = {
    "kind": "battery",
    "mass": "90 g",
    "size": ["60 mm", "30 mm", "20 mm"],
    "station": "40 mm",
    "water_line": "-20 mm",
}
CAMERA = {"mass": "80 g", "size": ["30 mm", "40 mm", "30 mm"], "station": "150 mm"}


def small() -> Loaded:
    """The plain design with gear, a battery and a camera, as if it had been read."""
    data = plain_data() | {"gear": gear_data(), "equipment": {"battery": BATTERY, "camera": CAMERA}}
    return Loaded(from_dict(data), (), data)


def plan(loaded: Loaded, *keys: str, codes: tuple[str, ...] = ("mass",), is_paired: bool = False) -> Plan:
    """A plan as the command makes it."""
    return planned(loaded, Aeroplane.loaded(loaded), all_typed(keys), codes, is_paired)


def demo(name: str) -> Loaded:
    """One of the demos."""
    return read(CONFIGS / f"{name}.toml")


@dataclass(frozen=True)
class DeadlyPlan(Plan):
    """A plan with a variant that ends the process that makes it: always, or where the file is not there yet."""

    deadly: int = 0
    only_once: Path | None = None

    def settings(self, number: int) -> tuple[str, ...]:
        """The variant as --set lines, if one lives to see them."""
        if number == self.deadly and not (self.only_once and self.only_once.exists()):
            if self.only_once:
                self.only_once.touch()
            os._exit(3)
        return super().settings(number)
