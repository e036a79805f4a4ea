"""The demo redesign's parts and cutting plan, worked out once."""

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
