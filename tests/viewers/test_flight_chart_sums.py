"""What flight charts rest on: forces that add up, ellipses, outlines."""

from __future__ import annotations

from functools import cache
from math import pi
from pathlib import Path

import numpy as np
import pytest

import airframe
from airframe.flight.loading import wing_loading
from airframe.flight.responses import Response
from airframe.flight.whole import Flight
from airframe.model import Aeroplane
from airframe.units import STANDARD_GRAVITY_M_S2
from tests.designs import plain
from viewers.flight_charts import forces, responses, spans, trim_forces
from viewers.flight_charts.outline import from_left
from viewers.scene import Scene
from viewers.staging import stage

CONFIGS = Path(__file__).parents[2] / "configs"


@cache
def flying(name: str) -> Flight:
    """A demo's flight, worked out once for all tests."""
    return airframe.load(CONFIGS / f"{name}.toml").flight


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_what_holds_it_adds_up_to_nothing(name: str) -> None:
    """In steady flight all forces sum to nothing, and all moments about the balance point (Newton)."""
    flight = flying(name)
    found = trim_forces.pushes(flight, flight.cruise)
    weight = flight.mass_kg * STANDARD_GRAVITY_M_S2
    assert np.abs(sum(push.force_n for push in found)).max() < 1e-9 * weight
    assert abs(sum(push.moment_n_m for push in found)) < 1e-9 * weight


@pytest.mark.parametrize("name", ["teasel-mk2", "plover"])
def test_the_wing_lifts_where_its_arrow_stands(name: str) -> None:
    """Lift at the arrow's foot gives the wing's moment: M = z F_x - x F_z, nose up; and it is square to the path."""
    flight = flying(name)
    wing = trim_forces.pushes(flight, flight.cruise)[0]
    arm = wing.at_mm / 1000.0 - flight.air.about_m[[0, 2]]
    assert arm[1] * wing.force_n[0] - arm[0] * wing.force_n[1] == pytest.approx(wing.moment_n_m, rel=1e-9)
    tilt = forces.Tilt(flight.cruise.incidence_rad, np.zeros(2))
    across, up = tilt.vectors(wing.force_n)
    assert up > 0.0
    assert across == pytest.approx(0.0, abs=1e-12 * up)


def test_a_tilted_fuselage_has_its_nose_up() -> None:
    """Nose up by 30 deg: what points ahead on the drawing points ahead and up on the page (x aft, y up)."""
    tilt = forces.Tilt(pi / 6.0, np.array([10.0, 0.0]))
    np.testing.assert_allclose(tilt.points([9.0, 0.0]), [-np.sqrt(0.75), 0.5])


def test_the_ellipse_carries_the_same_lift() -> None:
    """Its integral is the wing's lift, its height at the centre 4 L / (pi b) (Anderson, from memory)."""
    flight = flying("teasel-mk2")
    spread = wing_loading(flight.air, flight.cruise)
    order = np.argsort(spread.place_m[:, 1])
    y = np.linspace(-0.5, 0.5, 20_001)
    lift = np.interp(y, spread.place_m[order, 1], spread.lift_n_m[order])
    total = np.trapezoid(lift, y)
    curve = spans.ellipse(y, lift)
    assert np.trapezoid(curve, y) == pytest.approx(total, rel=1e-5)
    assert curve[10_000] == pytest.approx(4.0 * total / pi, rel=1e-12)


def test_an_outline_is_as_large_as_its_part() -> None:
    """A side 80 mm high for 350 mm, then rising to half that in 250 mm: 43,000 mm^2 seen from the left."""
    scene = stage(Aeroplane(plain()))
    only = Scene(**{**vars(scene), "bodies": tuple(b for b in scene.bodies if b.name == "fuselage side left")})
    (outline,) = from_left(only)
    x, z = outline.rings[0][:-1].T
    area = 0.5 * abs(x @ np.roll(z, -1) - z @ np.roll(x, -1))
    assert area == pytest.approx(80.0 * 350.0 + (80.0 + 40.0) / 2.0 * 250.0, rel=1e-3)


def test_changes_are_doubtful_from_the_first_that_is_large() -> None:
    """Bank beyond 30 deg counts; a quick roll does not; where all stays small nothing is doubted."""
    times = np.linspace(0.0, 4.0, 41)
    bank, roll = 12.0 * times, 100.0 * times
    found = Response("kick", times, {"bank deg": bank, "roll rate deg/s": roll}, "it rolls")
    assert responses.doubtful_from_s(found) == pytest.approx(2.6)
    assert responses.doubtful_from_s(Response("kick", times, {"bank deg": bank / 2.0}, "it rolls")) is None
