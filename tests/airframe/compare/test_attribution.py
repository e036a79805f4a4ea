"""Shares of a difference that add up to all of it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airframe.compare.attribution import Attribution, Share, attribution
from airframe.compare.parts import Pair
from airframe.inertia import Body, about, combined
from airframe.mass import Entry
from tests.bodies import entry, lump

EXACT = 1e-9
"""Of the largest number that goes into a sum."""

coordinate = st.floats(-800.0, 800.0)
root = st.floats(-60.0, 60.0)
bodies = st.builds(lump, st.floats(0.01, 300.0), st.tuples(*[coordinate] * 3), st.tuples(*[root] * 9))


def _entry(body: Body, group: str) -> Entry:
    base = entry("part", body.mass, group=group)
    return Entry(base.part, base.basis, body, base.amount, body.mass)


@st.composite
def redesigns(draw: st.DrawFn) -> list[Pair]:
    """Parts that were added, removed, changed and kept, at least one in either aeroplane."""
    pairs = [Pair(_entry(draw(bodies), "wing"), _entry(draw(bodies), "wing"))]
    for kind in draw(st.lists(st.sampled_from(["added", "removed", "changed", "kept"]), max_size=7)):
        group = draw(st.sampled_from(["wing", "tail", "payload"]))
        one, two = _entry(draw(bodies), group), _entry(draw(bodies), group)
        pairs.append(
            {"added": Pair(None, two), "removed": Pair(one, None), "changed": Pair(one, two), "kept": Pair(one, one)}[
                kind
            ]
        )
    return pairs


def _taken_apart(pairs: list[Pair]) -> tuple[Attribution, Body, Body]:
    old = combined([pair.old.body for pair in pairs if pair.old])
    new = combined([pair.new.body for pair in pairs if pair.new])
    return attribution(pairs, old, new), old, new


def _assert_adds_up(shares: list[Share], found: Attribution, old: Body, new: Body) -> None:
    mass = sum(share.mass_g for share in shares)
    assert mass == pytest.approx(new.mass - old.mass, abs=EXACT * (old.mass + new.mass))
    shift = np.sum([share.balance_mm for share in shares], axis=0)
    scale_mm = 1600.0 * (old.mass + new.mass) / new.mass
    np.testing.assert_allclose(shift, new.centre - old.centre, rtol=0.0, atol=EXACT * scale_mm)
    inertia = np.sum([share.inertia_g_mm2 for share in shares], axis=0) + found.moved_g_mm2
    scale = float(np.trace(about(old, new.centre)) + np.trace(about(new, old.centre))) + 1.0
    np.testing.assert_allclose(inertia, new.inertia - old.inertia, rtol=0.0, atol=EXACT * scale)


@given(redesigns())
def test_shares_add_up(pairs: list[Pair]) -> None:
    """Mass, shift of the balance point and inertia: by part, by group and by fate, to 1e-9."""
    found, old, new = _taken_apart(pairs)
    for shares in (
        [part.share for part in found.parts],
        list(found.by_group.values()),
        list(found.by_fate.values()),
    ):
        _assert_adds_up(shares, found, old, new)


@given(redesigns())
def test_the_order_of_changes_does_not_matter(pairs: list[Pair]) -> None:
    """A part's share is its own: it does not depend on which other part is looked at first."""
    forward, _, _ = _taken_apart(pairs)
    backward, _, _ = _taken_apart(pairs[::-1])
    for one, other in zip(forward.parts, reversed(backward.parts), strict=True):
        np.testing.assert_allclose(one.share.balance_mm, other.share.balance_mm, rtol=1e-6, atol=1e-6)


def test_a_moved_item_by_hand() -> None:
    """100 g moved 30 mm aft in an aeroplane of 400 g moves the balance point 30 x 100 / 400 = 7.5 mm."""
    rest = _entry(lump(300.0, (0.0, 0.0, 0.0), (0.0,) * 9), "wing")
    before = _entry(lump(100.0, (0.0, 0.0, 0.0), (0.0,) * 9), "payload")
    after = _entry(lump(100.0, (30.0, 0.0, 0.0), (0.0,) * 9), "payload")
    found, _, _ = _taken_apart([Pair(rest, rest), Pair(before, after)])
    np.testing.assert_allclose(found.by_group["payload"].balance_mm, (7.5, 0.0, 0.0))
    np.testing.assert_allclose(found.by_group["wing"].balance_mm, 0.0, atol=1e-12)
    # About the old balance point 100 g at 30 mm: 90000 g mm^2 in pitch; about the new one, reduced mass
    # 300 * 100 / 400 = 75 g at 30 mm: 67500 g mm^2. The difference is 400 g at 7.5 mm: 22500 g mm^2.
    assert found.by_group["payload"].inertia_g_mm2[1, 1] == pytest.approx(90000.0)
    assert found.whole.inertia_g_mm2[1, 1] == pytest.approx(67500.0)
    assert found.moved_g_mm2[1, 1] == pytest.approx(-22500.0)


def test_ballast_on_the_balance_point_moves_nothing() -> None:
    """Mass added exactly at the balance point adds mass, no shift and no inertia."""
    rest = _entry(lump(300.0, (50.0, 0.0, 5.0), (9.0,) * 9), "wing")
    added = _entry(lump(40.0, (50.0, 0.0, 5.0), (0.0,) * 9), "payload")
    found, _, _ = _taken_apart([Pair(rest, rest), Pair(None, added)])
    share = found.by_fate["added"]
    assert share.mass_g == 40.0
    np.testing.assert_allclose(share.balance_mm, 0.0, atol=1e-12)
    np.testing.assert_allclose(share.inertia_g_mm2, 0.0, atol=1e-12)


def test_nothing_left() -> None:
    """An aeroplane without parts has no balance point to move; what was there is taken off."""
    part = _entry(lump(100.0, (5.0, 0.0, 0.0), (1.0,) * 9), "wing")
    found, _, _ = _taken_apart([Pair(part, None)])
    assert found.whole.mass_g == -100.0
    np.testing.assert_allclose(found.parts[0].share.balance_mm, 0.0)
