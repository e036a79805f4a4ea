"""The best of several keys against linear closed forms: corners, an active condition, none that is kept."""

from __future__ import annotations

from math import ceil

import pytest

from airframe.config import ConfigError
from airframe.solve import keys
from airframe.solve.optimum import Best, optimum
from tests.airframe.solve.benches import BATTERY_G, BATTERY_MM, CAMERA_G, trials
from tests.airframe.sweep.plans import small

BATTERY, CAMERA, STATION = "equipment.battery.mass", "equipment.camera.mass", "equipment.battery.station"


def _best(names: dict[str, tuple[str, str]], *texts: str, goal: str = "mass", is_most: bool = False) -> Best:
    base = small()
    asked = trials(base, *texts, goal=goal)
    found = [keys.key(base, name) for name in names]
    ends = [keys.looked_for(base, one, names[one.name]) for one in found]
    return optimum(asked, found, ends, is_most)


def test_without_conditions_the_least_mass_is_a_corner() -> None:
    """Both items at their lightest."""
    best = _best({BATTERY: ("60 g", "120 g"), CAMERA: ("50 g", "90 g")})
    assert best.is_kept
    assert best.settings == (f'{BATTERY}="60 g"', f'{CAMERA}="50 g"')
    assert best.tried is not None
    assert best.now.goal is not None
    assert best.tried.goal == pytest.approx(best.now.goal - (BATTERY_G - 60.0) - (CAMERA_G - 50.0), abs=1e-9)


def test_the_most_is_the_other_corner() -> None:
    """Both at their heaviest."""
    best = _best({BATTERY: ("60 g", "120 g"), CAMERA: ("50 g", "90 g")}, is_most=True)
    assert best.settings == (f'{BATTERY}="120 g"', f'{CAMERA}="90 g"')


def test_a_condition_that_binds_is_met_on_the_safe_side() -> None:
    """The least battery that keeps the balance point forward enough, by moments: m = m0 + M c / (x - s)."""
    base = small()
    aeroplane = trials(base).aeroplane
    station, mass = aeroplane.cg_mm[0] - 1.0, aeroplane.statement.whole.mass
    best = _best({BATTERY: ("60 g", "180 g")}, f"cg.station <= {station:.9f} mm")
    expected = BATTERY_G + mass * 1.0 / (station - BATTERY_MM)
    assert best.is_kept
    assert best.settings == (f'{BATTERY}="{ceil(expected)} g"',)


def test_the_cheaper_of_two_ways_is_taken() -> None:
    """The battery may move forward for nothing before it has to weigh more: it goes to the end of its tray."""
    station = trials(small()).aeroplane.cg_mm[0]
    names = {BATTERY: ("90 g", "150 g"), STATION: ("35 mm", "60 mm")}
    best = _best(names, f"cg.station <= {station - 0.5:.9f} mm")
    assert best.is_kept
    assert best.settings[0] == f'{BATTERY}="90 g"'


def test_two_conditions_that_meet_in_a_corner_are_both_kept_when_rounded() -> None:
    """Track and height of the gear: the angle asks for a low gear, the bound of the height for a high one."""
    names = {"gear.track": ("180 mm", "360 mm"), "gear.height": ("133.3 mm", "180 mm")}
    best = _best(names, "ground.overturn <= 50 deg")
    assert best.is_kept
    assert best.tried is not None
    assert best.tried.values[0] == pytest.approx(50.0, abs=0.5)
    assert best.tried.values[0] <= 50.0


def test_where_nothing_keeps_the_conditions_the_nearest_is_told() -> None:
    """The lightest is nearest to a mass that cannot be had."""
    best = _best({BATTERY: ("60 g", "120 g"), CAMERA: ("50 g", "90 g")}, "mass <= 100 g")
    assert not best.is_kept
    assert best.settings == (f'{BATTERY}="60 g"', f'{CAMERA}="50 g"')
    assert best.costs == ()


def test_what_leaves_no_room_is_refused() -> None:
    """An exact value, or the same key twice."""
    with pytest.raises(ConfigError, match="leaves no room"):
        _best({BATTERY: ("60 g", "120 g")}, "cg.station = 100 mm")
    base = small()
    one = keys.key(base, BATTERY)
    with pytest.raises(ConfigError, match="given twice"):
        optimum(trials(base, goal="mass"), [one, one], [(60.0, 120.0)] * 2, False)
