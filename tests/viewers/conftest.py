"""A small complete aeroplane, staged once for all viewers' tests."""

from __future__ import annotations

from pathlib import Path

import pytest

from airframe.model import Aeroplane
from tests.designs import plain
from tests.fittings import MOTOR, PROPELLER, gear_data
from viewers.scene import Scene
from viewers.staging import stage

BATTERY = {
    "kind": "battery",
    "mass": "90 g",
    "size": ["60 mm", "30 mm", "20 mm"],
    "station": "40 mm",
    "water_line": "-20 mm",
}
FINISH = [{"on": "fin", "material": "acrylic paint"}]


def fitted(units: str = "metric") -> Aeroplane:
    """The plain design with gear, motor, propeller, battery and a coat of paint on its fin."""
    items = {"motor": MOTOR, "propeller": PROPELLER, "battery": BATTERY}
    return Aeroplane(plain(units=units, gear=gear_data(), equipment=items, finish=FINISH))


@pytest.fixture(scope="session")
def aeroplane() -> Aeroplane:
    return fitted()


@pytest.fixture(scope="session")
def scene(aeroplane: Aeroplane) -> Scene:
    return stage(aeroplane)


@pytest.fixture(scope="session")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of its own for the shape cache, shared by the command line's tests."""
    return tmp_path_factory.mktemp("cache")
