"""Slopes against analytic derivatives: moments, the overturn angle's formula; and what has no slope."""

from __future__ import annotations

import numpy as np
import pytest

from airframe.config import ConfigError
from airframe.model import Aeroplane
from airframe.solve.sensitivity import Sensitivity, sensitivity
from airframe.solve.slopes import slope
from tests.airframe.solve.benches import BATTERY_G, BATTERY_MM, overturn_slope_deg
from tests.airframe.sweep.plans import small

PLACES = (-1.0, -0.5, 0.0, 0.5, 1.0)
MASS, STATION, HEIGHT = (f"equipment.battery.{name}" for name in ("mass", "station", "water_line"))
FINDING_PER_CM = 1e-4 / 2.0 * 10.0
"""Degrees: what the rounding of findings to four decimals does to a slope over two steps of 2 mm."""


@pytest.fixture(scope="module")
def found() -> tuple[Aeroplane, Sensitivity]:
    """The slopes of the battery's mass and places."""
    base = small()
    aeroplane = Aeroplane.loaded(base)
    codes = ("mass", "cg.station", "ground.overturn")
    return aeroplane, sensitivity(base, aeroplane, codes, (MASS, STATION, HEIGHT))


def _change(found: Sensitivity, code: str, name: str) -> float:
    (one,) = [one for one in found.slopes if one.measure.code == code and one.key.name == name]
    assert one.change is not None
    return one.change


def test_a_gram_is_a_gram(found: tuple[Aeroplane, Sensitivity]) -> None:
    """The whole gains what the battery does, and nothing when that moves."""
    assert _change(found[1], "mass", MASS) == pytest.approx(1.0, rel=1e-9)
    assert _change(found[1], "mass", STATION) == 0.0


def test_the_balance_point_moves_by_moments(found: tuple[Aeroplane, Sensitivity]) -> None:
    """A centimetre aft moves it by 10 m / M, a gram by (x - c) / M, the step's square aside."""
    aeroplane, slopes = found
    mass, station = aeroplane.statement.whole.mass, aeroplane.cg_mm[0]
    assert _change(slopes, "cg.station", STATION) == pytest.approx(10.0 * BATTERY_G / mass, rel=1e-9)
    assert _change(slopes, "cg.station", MASS) == pytest.approx((BATTERY_MM - station) / mass, rel=1e-4)


@pytest.mark.parametrize(("name", "way"), [(STATION, (1.0, 0.0, 0.0)), (HEIGHT, (0.0, 0.0, 1.0))])
def test_the_overturn_angle_follows_its_formula(
    found: tuple[Aeroplane, Sensitivity], name: str, way: tuple[float, float, float]
) -> None:
    """A centimetre moves the balance point by 10 m / M, and the angle by the derivative of atan(height / distance)."""
    aeroplane, slopes = found
    shift = np.array(way) * 10.0 * BATTERY_G / aeroplane.statement.whole.mass
    expected = overturn_slope_deg(aeroplane, shift)
    assert _change(slopes, "ground.overturn", name) == pytest.approx(expected, abs=FINDING_PER_CM)


def test_the_greatest_comes_first(found: tuple[Aeroplane, Sensitivity]) -> None:
    """Whatever its sign; what moves nothing is left out and counted."""
    slopes = found[1]
    ranked = slopes.ranked("ground.overturn", "1 cm")
    assert [abs(one.change or 0.0) for one in ranked] == sorted(
        (abs(one.change or 0.0) for one in ranked), reverse=True
    )
    assert slopes.ranked("mass", "1 cm") == []
    assert slopes.idle("mass") == 2


def test_keys_that_only_move_equipment_need_no_variant(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where only sums are asked for, no row is made by building one."""

    def never(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr("airframe.sweep.work.Bench.row", never)
    base = small()
    slopes = sensitivity(base, Aeroplane.loaded(base), ("mass",), (MASS, STATION))
    assert _change(slopes, "mass", MASS) == pytest.approx(1.0, rel=1e-9)


def test_two_workers_find_what_one_does() -> None:
    """To the last digit, however the variants were shared; the design as it is counts once among them."""
    base, names = small(), (HEIGHT, "gear.track", "gear.height")
    told: list[tuple[int, int]] = []
    alone, shared = (
        sensitivity(
            base, Aeroplane.loaded(base), (), names, lambda *done: told.append(done), workers=workers, is_cached=False
        )
        for workers in (1, 2)
    )
    assert shared == alone
    assert all(one.change is not None for one in shared.slopes)
    assert told.count((13, 13)) == 2


def test_a_parabola_has_the_slope_of_its_tangent() -> None:
    """x^2 + 3 x about 1: 2 x + 3, exactly, as central differences have it."""
    values = [(1.0 + x) ** 2 + 3.0 * (1.0 + x) for x in PLACES]
    assert slope(values, 1.0, 0.0) == pytest.approx(5.0, rel=1e-14)


def test_the_top_of_a_hill_has_no_slope_but_is_smooth() -> None:
    """x^2 about 0 neither rises nor falls."""
    assert slope([x * x for x in PLACES], 1.0, 0.0) == 0.0


@pytest.mark.parametrize(
    "values",
    [[abs(x) for x in PLACES], [float(x >= 0.0) for x in PLACES], [max(0.0, x) for x in PLACES]],
    ids=["corner", "jump", "ramp"],
)
def test_corners_and_jumps_have_no_slope(values: list[float]) -> None:
    """Nothing is told rather than a mean of two slopes."""
    assert slope(values, 1.0, 0.0) is None


def test_a_value_that_stands_apart_is_left_out() -> None:
    """A part that was weighed 2 g heavier than drawn, just as it is: the four round it have their slope."""
    assert slope([3.0 * x + (2.0 if x == 0.0 else 0.0) for x in PLACES], 1.0, 0.0) == pytest.approx(3.0, rel=1e-14)


def test_what_is_lost_in_rounding_is_no_slope() -> None:
    """A change of the last decimal may be none at all."""
    assert slope([0.0, 0.0, 0.0, 0.0, 1e-4], 1.0, 1e-4) == 0.0


def test_wrong_codes_and_keys_are_refused() -> None:
    """All of them, before anything is built."""
    base = small()
    with pytest.raises(ConfigError, match="did you mean 'mass'"):
        sensitivity(base, Aeroplane.loaded(base), ("mas",), ())
    with pytest.raises(ConfigError) as caught:
        sensitivity(base, Aeroplane.loaded(base), ("mass",), ("gear.trak", "gear.arrangement"))
    assert len(caught.value.problems) == 2
