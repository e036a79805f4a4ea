"""On arrays every variant has the bits of a run of its own; what is not for arrays is not reckoned on them."""

from __future__ import annotations

import pytest

import airframe
from airframe.model import Aeroplane
from airframe.sweep.arrays import Reckoner, are_enough
from airframe.sweep.codes import SUMS
from airframe.sweep.measures import Sums, summed
from airframe.sweep.plan import Plan
from airframe.sweep.work import Bench, Job
from tests.airframe.sweep.plans import CONFIGS, demo, plan, small

ALL = (*SUMS, "parts.payload.mass", "parts.electrical.mass", "parts.wing.mass")
STATION, WEIGHT = "equipment.camera.station=100 mm:200 mm:7", "equipment.battery.mass=0 g:150 g:5"


def _reckoned(made: Plan) -> Reckoner:
    probe = are_enough(made, Aeroplane.loaded(made.base))
    assert probe is not None
    return Reckoner(made, probe)


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_a_grid_has_the_bits_of_single_runs(name: str) -> None:
    """Of a demo's grid of masses and places, every 29th row equals the row that is built by itself.

    Mk 1 was weighed and learns from its own log, Mk 2 from Mk 1's, Plover from none.
    """
    keys = (
        "equipment.receiver.station=200 mm:300 mm:5",
        "equipment.receiver.mass=0 g:30 g:5",
        "equipment.battery.butt_line=-40 mm:40 mm:3",
        "equipment.battery.water_line=-30 mm,-1 in",
    )
    made = plan(demo(name), *keys, codes=ALL)
    bench, rows = Bench(Job(made)), list(_reckoned(made).rows(range(made.count)))
    assert [row.number for row in rows] == list(range(150))
    assert rows[::29] == [bench.row(number) for number in range(0, made.count, 29)]


def test_rows_equal_the_config_read_with_the_settings() -> None:
    """The sums of a variant are those of the config read with its --set lines, to the last digit."""
    made = plan(demo("teasel-mk2"), STATION, "equipment.motor.mass=40 g,2 oz", codes=ALL)
    rows = list(_reckoned(made).rows([3, 10, 13]))
    for row in rows:
        alone = Sums.of(airframe.load(CONFIGS / "teasel-mk2.toml", made.settings(row.number)))
        assert row.answers == {code: summed(code, alone) for code in ALL}


def test_pairs_and_single_keys() -> None:
    """Paired values, and one key alone, equal single runs too."""
    for keys, is_paired in (
        (("equipment.camera.mass=10 g,20 g", "equipment.camera.station=10 cm,6 in"), True),
        ((WEIGHT,), False),
    ):
        made = plan(small(), *keys, codes=ALL, is_paired=is_paired)
        bench = Bench(Job(made))
        assert list(_reckoned(made).rows(range(made.count))) == [bench.row(n) for n in range(made.count)]


def test_what_cannot_be_is_a_row_with_the_same_message() -> None:
    """Items outside the fuselage: the message is that of the first of them, as in a run of its own."""
    keys = ("equipment.battery.station=40 mm,2 m", "equipment.camera.station=150 mm,3 m")
    made = plan(small(), *keys, codes=ALL)
    bench, rows = Bench(Job(made)), list(_reckoned(made).rows(range(4)))
    assert rows == [bench.row(number) for number in range(4)]
    assert [row.message.split(":")[0] for row in rows] == ["", "camera", "battery", "battery"]


@pytest.mark.parametrize(
    ("keys", "codes"),
    [
        (("gear.track=240 mm,250 mm",), ("mass",)),
        (('equipment.camera.size=["30 mm", "40 mm", "30 mm"]',), ("mass",)),
        ((STATION, "wing.root_chord=200 mm,210 mm"), ("mass",)),
        (("equipment.camera.fitted=true,false",), ("mass",)),
        ((STATION,), ("mass", "ground.overturn")),
    ],
)
def test_geometry_and_findings_are_not_for_arrays(keys: tuple[str, ...], codes: tuple[str, ...]) -> None:
    """A key that draws anything anew, or a measure that asks a check, needs whole aeroplanes."""
    made = plan(small(), *keys, codes=codes)
    assert are_enough(made, Aeroplane.loaded(made.base)) is None


def test_an_axis_whose_part_draws_more_is_seen_in_the_drawings(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were a place to move another part too, the probes' drawings would tell, whatever the key's name says."""
    made, aeroplane = plan(small(), STATION), Aeroplane.loaded(small())
    probe_parts = {part.name: part for part in aeroplane.parts}
    moved = tuple(part.mirrored(part.name) if part.name == "battery" else part for part in probe_parts.values())
    assert are_enough(made, aeroplane) is not None
    monkeypatch.setattr(aeroplane, "parts", moved)
    assert are_enough(made, aeroplane) is None
