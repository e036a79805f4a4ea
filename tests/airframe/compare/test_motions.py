"""Motions side by side: shares that add up, and causes that are where they should be."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest

import airframe
from airframe.compare.json_form import to_json
from airframe.compare.motions import (
    SHAPE,
    TOGETHER,
    MotionChange,
    dies_per_s,
    exchanged,
    motion_changes,
    part_shares,
    swings_per_s,
)
from airframe.compare.parts import paired
from airframe.compare.whole import Version, compare
from airframe.config import load
from airframe.flight.trim import NoTrimError
from airframe.inertia import combined
from airframe.model import Aeroplane

CONFIGS = Path(__file__).parents[3] / "configs"


@cache
def demo(name: str) -> Aeroplane:
    """A demo, read once for all tests."""
    return airframe.load(CONFIGS / f"{name}.toml")


def assert_adds_up(changes: tuple[MotionChange, ...]) -> None:
    """The shares of every motion are the differences of the two aeroplanes' own roots."""
    for one in changes:
        assert one.old is not None and one.new is not None
        swings = sum(share.swings_per_s for share in one.shares)
        dies = sum(share.dies_per_s for share in one.shares)
        assert swings == pytest.approx(swings_per_s(one.new) - swings_per_s(one.old), abs=1e-9)
        assert dies == pytest.approx(dies_per_s(one.new) - dies_per_s(one.old), abs=1e-9)


def test_from_prototype_to_redesign_the_shares_add_up() -> None:
    """Five motions, each with a share of the shape, of every group and of the masses together."""
    old, new = demo("teasel-mk1"), demo("teasel-mk2")
    changes = motion_changes(old, new)
    assert [one.name for one in changes] == ["short period", "phugoid", "Dutch roll", "roll", "spiral"]
    assert_adds_up(changes)
    causes = [share.cause for share in changes[0].shares]
    assert causes[0] == SHAPE and causes[-1] == TOGETHER
    assert set(causes[1:-1]) == {*old.statement.groups, *new.statement.groups}


def test_turned_round_every_share_turns_its_sign() -> None:
    """No order is hidden in it: from the redesign back to the prototype each share is its own opposite."""
    forth = motion_changes(demo("teasel-mk1"), demo("teasel-mk2"))
    back = motion_changes(demo("teasel-mk2"), demo("teasel-mk1"))
    for there, here in zip(forth, back, strict=True):
        returned = {share.cause: share for share in here.shares}
        for share in there.shares:
            assert share.dies_per_s == pytest.approx(-returned[share.cause].dies_per_s, abs=1e-9)
            assert share.swings_per_s == pytest.approx(-returned[share.cause].swings_per_s, abs=1e-9)


def test_a_moved_battery_is_the_only_cause() -> None:
    """20 mm aft it lowers the margin: the nod is slower, by the battery's group alone; the shape did nothing."""
    old = demo("teasel-mk2")
    new = old.changed(load(CONFIGS / "teasel-mk2.toml", ['equipment.battery.station="68 mm"']))
    changes = motion_changes(old, new)
    assert_adds_up(changes)
    nod = {share.cause: share.swings_per_s for share in changes[0].shares}
    assert nod["electrical"] < -1e-3
    assert all(abs(value) < 1e-6 for cause, value in nod.items() if cause != "electrical")


def test_more_dihedral_is_the_shapes_doing() -> None:
    """The tips bent up by 4 deg more let the spiral die away faster; the masses, hardly moved, do little of it."""
    old = demo("teasel-mk2")
    new = old.changed(load(CONFIGS / "teasel-mk2.toml", ['wing.panels.1.dihedral="20 deg"']))
    spiral = motion_changes(old, new)[-1]
    assert spiral.name == "spiral"
    shares = {share.cause: share.dies_per_s for share in spiral.shares}
    assert shares[SHAPE] > 0.0
    assert shares[SHAPE] > 5.0 * sum(abs(value) for cause, value in shares.items() if cause != SHAPE)


def test_bodies_taken_out_and_put_in() -> None:
    """Exchanging a group of one for that of the other gives what the remaining groups and it add up to."""
    old, new = demo("teasel-mk1").statement, demo("teasel-mk2").statement
    groups = {**old.groups, "wing": new.groups["wing"]}
    expected, found = combined(list(groups.values())), exchanged(old.whole, [old.groups["wing"]], [new.groups["wing"]])
    assert found.mass == pytest.approx(expected.mass, rel=1e-12)
    np.testing.assert_allclose(found.centre, expected.centre, atol=1e-9)
    np.testing.assert_allclose(found.inertia, expected.inertia, rtol=1e-9, atol=1e-3)
    with pytest.raises(NoTrimError, match="nothing"):
        exchanged(old.whole, [old.whole], [])


def test_single_parts_are_told_with_both_sides_together() -> None:
    """Only the battery moved: it is told first, with its group's share; of the redesign the legs count as one."""
    old = demo("teasel-mk2")
    new = old.changed(load(CONFIGS / "teasel-mk2.toml", ['equipment.battery.station="68 mm"']))
    shares = part_shares(old, new, paired(old.statement, new.statement))["short period"]
    battery = {share.cause: share.swings_per_s for share in motion_changes(old, new)[0].shares}["electrical"]
    assert shares[0].cause == "battery"
    assert sum(share.swings_per_s for share in shares) == pytest.approx(battery, rel=0.05)
    first = demo("teasel-mk1")
    names = [one.cause for one in part_shares(first, old, paired(first.statement, old.statement))["roll"]]
    assert {"main leg", "camera", "main gear strut (new)"} <= set(names)
    assert not any(name.endswith((" left", " right")) for name in names)


def test_a_comparison_holds_the_motions_in_its_object() -> None:
    """As `compare --json` prints them: rates of both and shares that add up."""
    old, new = demo("teasel-mk1"), demo("teasel-mk2")
    told = to_json(compare(Version(old, {}), Version(new, {})))["motions"]
    assert [one["name"] for one in told] == [mode.name for mode in new.flight.modes]
    for one in told:
        gained = one["new"]["dies_per_s"] - one["old"]["dies_per_s"]
        assert sum(share["dies_per_s"] for share in one["shares"]) == pytest.approx(gained, abs=1e-9)
