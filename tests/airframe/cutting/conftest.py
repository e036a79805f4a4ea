"""The demos' parts and cutting plans, worked out once."""

from __future__ import annotations

from pathlib import Path

import pytest

from airframe.config import load
from airframe.cutting.plan import CuttingPlan, plan
from airframe.model import Aeroplane

CONFIGS = Path(__file__).parents[3] / "configs"


@pytest.fixture(scope="session")
def teasel() -> Aeroplane:
    return Aeroplane(load(CONFIGS / "teasel-mk2.toml"))


@pytest.fixture(scope="session")
def teasel_plan(teasel: Aeroplane) -> CuttingPlan:
    return plan(teasel.design, teasel.parts, seconds=0.0)


@pytest.fixture(scope="session", params=["teasel-mk1", "teasel-mk2", "plover"])
def demo(request: pytest.FixtureRequest, teasel: Aeroplane) -> Aeroplane:
    return teasel if request.param == "teasel-mk2" else Aeroplane(load(CONFIGS / f"{request.param}.toml"))


@pytest.fixture(scope="session")
def demo_plan(demo: Aeroplane) -> CuttingPlan:
    return plan(demo.design, demo.parts, seconds=0.0)
