"""Answers against closed forms: a mass, moments, the overturn angle from the wheels' places; and when there is none."""

from __future__ import annotations

from math import floor

import pytest

from airframe.config import Loaded, from_dict
from airframe.solve import keys
from airframe.solve.answers import Answer, solve
from airframe.solve.trials import Trials
from airframe.sweep.variants import variant
from tests.airframe.solve.benches import BATTERY_G, BATTERY_MM, overturn_deg, trials
from tests.airframe.sweep.plans import small

FINDING_DEG = 1e-4
"""Findings have four decimals."""


def _solved(asked: Trials, name: str, ends: tuple[str, str] | None = None) -> Answer:
    one = keys.key(asked.base, name)
    return solve(asked, one, keys.looked_for(asked.base, one, ends))


def test_a_mass_limit_gives_the_mass_that_is_left() -> None:
    """mass <= M - 10.3 g takes 10.3 g off the battery; the next whole gram below is the answer."""
    base = small()
    mass = trials(base).aeroplane.statement.whole.mass
    answer = _solved(trials(base, f"mass <= {mass - 10.3:.9f} g"), "equipment.battery.mass")
    assert answer.edge is not None
    assert answer.edge.at == pytest.approx(BATTERY_G - 10.3, abs=0.02)
    assert answer.choice is not None
    assert answer.choice.setting == f'equipment.battery.mass="{floor(BATTERY_G - 10.3)} g"'
    assert answer.choice.tried.values == (pytest.approx(mass - 11.0, abs=1e-9),)


def test_a_balance_point_is_met_by_moments() -> None:
    """To move the balance point by c the battery moves by c M / m; the nearest millimetre is the answer."""
    base = small()
    aeroplane = trials(base).aeroplane
    station, mass = aeroplane.cg_mm[0], aeroplane.statement.whole.mass
    answer = _solved(trials(base, f"cg.station = {station + 2.0:.9f} mm"), "equipment.battery.station")
    expected = BATTERY_MM + 2.0 * mass / BATTERY_G
    assert answer.edge is not None
    assert answer.edge.at == pytest.approx(expected, abs=0.02)
    assert answer.choice is not None
    assert answer.choice.value == round(expected)


def test_the_track_is_the_least_whole_millimetre_that_keeps_the_overturn_angle() -> None:
    """By the geometry of the wheels' contacts, the answer keeps the angle and a millimetre less does not."""
    base = small()
    asked = trials(base)
    limit = overturn_deg(asked.aeroplane) - 4.0
    answer = _solved(trials(base, f"ground.overturn <= {limit:.9f} deg"), "gear.track")
    assert answer.choice is not None
    built = variant(base, asked.aeroplane, [answer.choice.setting])
    less = variant(base, asked.aeroplane, [f'gear.track="{answer.choice.value - 1.0:g} mm"'])
    assert answer.choice.tried.values == (pytest.approx(overturn_deg(built), abs=FINDING_DEG),)
    assert overturn_deg(built) <= limit + FINDING_DEG < overturn_deg(less)


def test_inches_are_cut_in_sixteenths() -> None:
    """A design in inches has its answer in inches, on the safe side."""
    data = small().data | {"units": "imperial"}
    base = Loaded(from_dict(data), (), data)
    limit = overturn_deg(trials(base).aeroplane) - 4.0
    answer = _solved(trials(base, f"ground.overturn <= {limit:.9f} deg"), "gear.track")
    assert answer.choice is not None
    assert answer.choice.text.endswith(" in")
    assert (answer.choice.value / 25.4 * 16.0) % 1.0 == pytest.approx(0.0, abs=1e-9)
    assert answer.choice.tried.values[0] <= limit


def test_what_holds_already_needs_no_answer() -> None:
    """Where the condition holds now, the stretch round the present value is told to its edges."""
    base = small()
    mass = trials(base).aeroplane.statement.whole.mass
    answer = _solved(trials(base, f"mass <= {mass + 20.0:.9f} g"), "equipment.battery.mass")
    assert answer.holds_now
    assert answer.choice is None
    (stretch,) = answer.stretches
    assert stretch.low == BATTERY_G / 2.0
    assert stretch.high == pytest.approx(BATTERY_G + 20.0, abs=0.02)


def test_no_answer_tells_how_near_it_comes() -> None:
    """The battery cannot take more off the mass than it weighs: it comes nearest at its lower end."""
    base = small()
    mass = trials(base).aeroplane.statement.whole.mass
    answer = _solved(trials(base, f"mass <= {mass - 60.0:.9f} g"), "equipment.battery.mass")
    assert answer.choice is None
    assert answer.nearest is not None
    assert answer.nearest.value == pytest.approx(BATTERY_G / 2.0, abs=1e-3)
    assert answer.nearest.tried.values == (pytest.approx(mass - BATTERY_G / 2.0, abs=1e-3),)


def test_two_conditions_that_shut_each_other_out_have_no_answer() -> None:
    """The balance point cannot be ahead of one station and behind a later one."""
    base = small()
    station = trials(base).aeroplane.cg_mm[0]
    texts = (f"cg.station >= {station + 2.0:.9f} mm", f"cg.station <= {station - 2.0:.9f} mm")
    answer = _solved(trials(base, *texts), "equipment.battery.station")
    assert answer.choice is None
    assert answer.stretches == ()


def test_a_condition_beside_an_exact_value_is_kept_too() -> None:
    """The value that the balance point asks for is refused where another condition forbids it."""
    base = small()
    station = trials(base).aeroplane.cg_mm[0]
    texts = (f"cg.station = {station + 2.0:.9f} mm", f"cg.station <= {station + 1.0:.9f} mm")
    answer = _solved(trials(base, *texts), "equipment.battery.station")
    assert answer.choice is None
    assert answer.nearest is not None


def test_a_stretch_that_cannot_be_built_is_told() -> None:
    """A gear so low that its legs have no room is a stretch with its reason, and no answer."""
    base = small()
    answer = _solved(trials(base, "ground.overturn <= 10 deg"), "gear.height", ("40 mm", "200 mm"))
    assert answer.choice is None
    assert answer.unbuilt[0].low == 40.0
    assert "main leg" in answer.unbuilt[0].problem


def test_a_design_that_cannot_be_built_may_be_mended() -> None:
    """A gear too low for its legs: the answer is the height nearest to it that can be built and keeps the angle."""
    data = small().data
    data = data | {"gear": data["gear"] | {"height": "40 mm"}}
    base = Loaded(from_dict(data), (), data)
    answer = _solved(trials(base, "ground.overturn <= 60 deg"), "gear.height", ("30 mm", "150 mm"))
    assert "main leg" in answer.now.problem
    assert answer.choice is not None
    assert answer.choice.is_round
    assert answer.edge is not None
    assert answer.edge.is_jump
    assert 0.0 <= answer.choice.value - answer.edge.at < 1.1
    assert answer.costs == ()
