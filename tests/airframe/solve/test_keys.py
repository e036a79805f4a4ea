"""Keys with numbers: what they are now, between which values they are looked for, what is refused."""

from __future__ import annotations

from math import pi

import pytest

from airframe.config import ConfigError
from airframe.solve import keys
from tests.airframe.sweep.plans import demo, small


def test_a_size_is_looked_for_from_half_to_double() -> None:
    """The track of 200 mm between 100 and 400 mm."""
    assert keys.key(small(), "gear.track").range() == (100.0, 400.0)


def test_a_place_is_looked_for_on_both_sides() -> None:
    """A water line of -20 mm, which may be above as well as below, 50 mm up and down."""
    assert keys.key(small(), "equipment.battery.water_line").range() == (-70.0, 30.0)


def test_a_share_stays_within_the_whole() -> None:
    """No range reaches beyond what the schema allows."""
    camber = keys.key(demo("teasel-mk1"), "wing.spar.position")
    assert camber.range() == (0.15, 0.6)
    assert (camber.least, camber.most) == (0.0, 1.0)


def test_a_default_counts_as_what_a_key_is_now() -> None:
    """The butt line of the battery is written nowhere, and is 0 mm."""
    assert keys.key(small(), "equipment.battery.butt_line").now == 0.0


def test_rows_and_angles_are_keys_too() -> None:
    """The outer panel's dihedral of 16 degrees, in radians inside."""
    one = keys.key(demo("teasel-mk1"), "wing.panels.1.dihedral")
    assert one.now == pytest.approx(16.0 * pi / 180.0, rel=1e-15)
    assert one.exactly(pi / 6.0) == 'wing.panels.1.dihedral="30 deg"'


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("gear.trak", "there is no gear.trak in this design; did you mean 'gear.track'"),
        ("gear.arrangement", "is not a number"),
        ("equipment.battery", "is not a number"),
        ("wing.panels.7.span", "there is no wing.panels.7 in this design"),
    ],
)
def test_what_is_no_number_is_refused(name: str, said: str) -> None:
    """With the nearest name where one is near."""
    with pytest.raises(ConfigError, match=said):
        keys.key(small(), name)


def test_a_key_without_a_value_needs_its_range_said() -> None:
    """Where the legs leave the plate is left out; without --between nobody knows where to look."""
    base = small()
    leg = keys.key(base, "gear.leg_station")
    assert leg.now is None
    with pytest.raises(ConfigError, match="say where to look"):
        keys.looked_for(base, leg, None)
    assert keys.looked_for(base, leg, ("130 mm", "10 cm")) == (100.0, 130.0)


def test_ends_of_another_kind_are_refused() -> None:
    """Both wrong ends are told."""
    with pytest.raises(ConfigError) as caught:
        keys.between(keys.key(small(), "gear.track"), ("20 g", "300"))
    assert len(caught.value.problems) == 2
