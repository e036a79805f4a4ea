"""The static margin of every battery at every station, against aeroplanes rebuilt with the battery there."""

from __future__ import annotations

from pathlib import Path

import pytest

import airframe
from airframe.balance.margins import case_margins
from airframe.balance.whole import balances
from airframe.config import load

CONFIGS = Path(__file__).parents[3] / "configs"
MK2 = CONFIGS / "teasel-mk2.toml"


def test_a_margin_is_that_of_an_aeroplane_built_so() -> None:
    """Every option at foremost, present and rearmost free station: the rebuilt one's own, but for its neutral point.

    The neutral point is taken of the design as it is: another mass flies at another incidence, which moves it by
    less than 0.3 % of the chord.
    """
    aeroplane = airframe.load(MK2)
    found = case_margins(balances(aeroplane), aeroplane.flight.neutral_point_mm)
    assert [one.case for one in found] == [
        "3-cell, camera in",
        "3-cell, camera out",
        "2-cell, camera in",
        "2-cell, camera out",
    ]
    assert found[0].now.margin == pytest.approx(aeroplane.flight.static_margin(), abs=1e-12)
    for one in (found[0], found[2]):
        option = one.case.split(",")[0]
        assert one.foremost is not None and one.rearmost is not None
        assert one.foremost.margin > one.now.margin > one.rearmost.margin
        for place in (one.foremost, one.rearmost):
            settings = [f'equipment.battery.use="{option}"', f'equipment.battery.station="{place.station_mm} mm"']
            built = aeroplane.changed(load(MK2, settings))
            assert place.margin == pytest.approx(built.flight.static_margin(), abs=3e-3)
