"""The lever law against two-mass beams and against adding bodies up."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.balance.lever import ballast_g, left_out_mm, loads, moved_by_mm, placed, stations_for
from airframe.inertia import Body, combined
from tests.bodies import lump

SMALL = 1e-9
MASS = st.floats(1.0, 900.0)
PLACE = st.floats(-300.0, 900.0)
CENTRE = st.tuples(PLACE, PLACE, PLACE)
ROOTS = st.tuples(*[st.floats(-40.0, 40.0)] * 9)
BODY = st.builds(lump, MASS, CENTRE, ROOTS)


def point(mass_g: float, station_mm: float) -> Body:
    """A mass point on the x axis."""
    return Body(mass_g, np.array([station_mm, 0.0, 0.0]), np.zeros((3, 3)))


def test_two_masses_on_a_beam() -> None:
    """300 g at 0 and 100 g at x balance at x / 4 and have I = 300 * 100 / 400 * x^2, the reduced mass (closed form)."""
    load = loads([point(300.0, 0.0)], [point(100.0, 40.0)])
    found = placed(load, [0.0, 100.0, -60.0])
    assert found.mass_g[0, 0] == 400.0
    assert found.cg_mm[0, :, 0] == pytest.approx([0.0, 25.0, -15.0], rel=SMALL)
    assert found.pitch_g_mm2[0] == pytest.approx([0.0, 75.0 * 100.0**2, 75.0 * 60.0**2], rel=SMALL)


def test_where_to_put_it() -> None:
    """To balance 400 g at 25 mm, the 100 g must sit at 100 mm: the inverse of the beam above."""
    load = loads([point(300.0, 0.0)], [point(100.0, 40.0)])
    assert stations_for(load, [25.0, 0.0, -15.0])[0] == pytest.approx([100.0, 0.0, -60.0], rel=SMALL)


def test_ballast_on_a_beam() -> None:
    """600 g at 230 mm come to 220 mm by 600 * 10 / 200 = 30 g at 20 mm; none at 400 mm would do."""
    assert ballast_g(600.0, 230.0, 220.0, 20.0) == pytest.approx(30.0, rel=SMALL)
    assert ballast_g(600.0, 230.0, 220.0, 400.0) < 0.0


def test_leaving_out_and_moving() -> None:
    """Without 100 g at 40 mm, 400 g at 10 mm are 300 g at 0; 10 mm of a quarter of the mass are 2.5 mm of the whole."""
    assert left_out_mm(100.0, 40.0, 400.0, 10.0) == pytest.approx(-10.0, rel=SMALL)
    assert moved_by_mm(100.0, 400.0, 10.0) == 2.5


@given(BODY, BODY, PLACE)
def test_it_is_what_adding_bodies_gives(rest: Body, item: Body, station: float) -> None:
    """Mass, balance point and pitch inertia are those of the combined bodies, by tensors and not by the sums here."""
    found = placed(loads([rest], [item]), [station])
    there = Body(item.mass, np.array([station, *item.centre[1:]]), item.inertia)
    whole = combined([rest, there])
    assert found.mass_g[0, 0] == pytest.approx(whole.mass, rel=SMALL)
    assert found.cg_mm[0, 0] == pytest.approx(whole.centre, rel=SMALL, abs=1e-9)
    # Sums about the origin lose digits against m r^2 there.
    scale = whole.mass * float(np.abs(np.concatenate([rest.centre, there.centre])).max()) ** 2
    assert found.pitch_g_mm2[0, 0] == pytest.approx(whole.inertia[1, 1], rel=SMALL, abs=1e-12 * scale + SMALL)


@given(BODY, BODY, PLACE)
def test_there_and_back(rest: Body, item: Body, balance: float) -> None:
    """At the station for a balance point, the balance point is there."""
    load = loads([rest], [item])
    station = float(stations_for(load, [balance])[0, 0])
    assert placed(load, [station]).cg_mm[0, 0, 0] == pytest.approx(balance, abs=1e-6)


@given(MASS, PLACE, PLACE, PLACE)
def test_ballast_brings_it_there(mass: float, balance: float, wanted: float, at: float) -> None:
    """The whole with the ballast (or with that much taken away, where it is negative) balances where it was wanted."""
    if abs(wanted - at) < 1.0 or abs(balance - at) < 1.0:
        return
    extra = ballast_g(mass, balance, wanted, at)
    assert (mass * balance + extra * at) / (mass + extra) == pytest.approx(wanted, abs=1e-6)


def test_many_placements_are_as_many_single_ones() -> None:
    """Ten thousand placements (four aeroplanes, 2500 stations) in one call are those made one by one."""
    generator = np.random.default_rng(4)
    rest = [lump(600.0 + 10.0 * i, (220.0, i, -5.0), tuple(generator.uniform(-40, 40, 9))) for i in range(4)]
    item = [lump(90.0 + i, (40.0, 0.0, -10.0), tuple(generator.uniform(-9, 9, 9))) for i in range(4)]
    stations = np.linspace(0.0, 120.0, 2500)
    found = placed(loads(rest, item), stations)
    assert found.cg_mm.shape == (4, 2500, 3)
    for i, k in ((0, 0), (1, 700), (2, 1999), (3, 2499)):
        single = placed(loads([rest[i]], [item[i]]), [stations[k]])
        assert single.cg_mm[0, 0] == pytest.approx(found.cg_mm[i, k], rel=1e-12)
        assert single.pitch_g_mm2[0, 0] == pytest.approx(found.pitch_g_mm2[i, k], rel=1e-9)
