"""One lattice a geometry: what is kept, and that another balance point is answered exactly from it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np

from airframe import config
from airframe.flight.air import around
from airframe.flight.lattice import Lattice
from airframe.flight.panels import Panels, cut
from airframe.flight.solved import Lattices, geometry_key
from airframe.flight.surfaces import sheets
from airframe.flight.whole import Flight
from airframe.layout import Layout
from airframe.model import Aeroplane

CONFIGS = Path(__file__).parents[3] / "configs"
MK2 = CONFIGS / "teasel-mk2.toml"


def panels(*settings: str) -> Panels:
    """The second demo's, with settings."""
    return cut(sheets(Layout(config.load(MK2, list(settings)))))


def shifted(given: Panels, by_m: tuple[float, float, float]) -> Panels:
    """The same panels elsewhere."""
    moved = {name: getattr(given, name) + by_m for name in ("start", "end", "middle", "control")}
    return replace(given, **moved)


def test_a_battery_elsewhere_is_the_same_geometry_and_a_longer_tail_is_another() -> None:
    """The key answers for every setting that draws the same surfaces, and for no other."""
    here = geometry_key(panels())
    assert geometry_key(panels('equipment.battery.station="50 mm"')) == here
    assert geometry_key(panels('tail.stabiliser.span="401 mm"')) != here
    assert geometry_key(panels('tail.stabiliser.station="655.1 mm"')) != here
    assert geometry_key(panels(), -0.1) != here


def test_moments_and_rates_about_any_point_are_those_of_a_lattice_solved_there() -> None:
    """The kept lattice about a balance point against one drawn and solved with its origin there, to 1e-9."""
    about = np.array([0.231, 0.004, -0.017])
    kept, there = Lattice(panels()), Lattice(shifted(panels(), tuple(-about)))
    motion, moved = (9.0, 0.4, 0.7, 0.5, -0.3, 0.2), (0.1, -0.2)
    one, other = kept.loads(motion, moved, 1.2, about), there.loads(motion, moved, 1.2)
    np.testing.assert_allclose(one.wrench, other.wrench, atol=1e-9 * np.abs(other.wrench).max())
    np.testing.assert_allclose(one.slopes, other.slopes, atol=1e-9 * np.abs(other.slopes).max())
    origin = kept.loads(motion, moved, 1.2)
    assert not np.allclose(origin.slopes, other.slopes, rtol=1e-3)


def test_the_store_is_bounded_and_drops_the_longest_unused() -> None:
    """Of three geometries in a store for two the one not asked for again goes."""
    store = Lattices(2)
    first, second, third = (shifted(panels(), (x, 0.0, 0.0)) for x in (0.0, 0.1, 0.2))
    one, two = store.lattice(first), store.lattice(second)
    assert store.lattice(shifted(first, (0.0, 0.0, 0.0))) is one
    store.lattice(third)
    assert store.count == 2
    assert store.lattice(first) is one
    assert store.lattice(second) is not two


def test_variants_of_one_geometry_share_the_solved_lattice() -> None:
    """A battery moved by `changed` finds the lattice; its trim is that of an aeroplane that solved its own."""
    design = config.load(MK2)
    first = Aeroplane(design)
    moved = first.changed(config.load(MK2, ['equipment.battery.station="50 mm"']))
    assert moved.flight.air.lattice is first.flight.air.lattice
    alone = Flight(moved.layout, moved.statement.whole)
    assert alone.air.lattice is not first.flight.air.lattice
    assert moved.flight.cruise.elevator_rad == alone.cruise.elevator_rad != first.flight.cruise.elevator_rad
    assert moved.flight.static_margin() == alone.static_margin()


def test_air_is_built_from_the_store() -> None:
    """Wing with tail and the tail alone: two lattices, found again for another balance point."""
    store, layout = Lattices(), Layout(config.load(MK2))
    one, other = (around(layout, (x, 0.0, 0.0), lattices=store) for x in (200.0, 240.0))
    assert store.count == 2
    assert one.lattice is other.lattice
    assert one.tail is other.tail
