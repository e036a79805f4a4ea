"""Remedies on trial, on the demos: what they cost, and two that do together what one cannot."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from airframe import config
from airframe.checks import mending, whole
from airframe.checks.finding import PASSES, Finding, rank
from airframe.checks.pairs import PairCache
from airframe.model import Aeroplane
from airframe.store import MemoryStore

CONFIGS = Path(__file__).parents[3] / "configs"
STORE, PAIRS = MemoryStore(), PairCache()


def built(name: str, lines: Sequence[str] = ()) -> Aeroplane:
    return Aeroplane.loaded(config.read(CONFIGS / f"{name}.toml", lines), STORE)


@cache
def asked(name: str, lines: Sequence[str] = ()) -> tuple[Finding, ...]:
    """What all checks find, remedies not tried."""
    return whole.run(built(name, lines), cache=PAIRS)


@cache
def tried(name: str, lines: Sequence[str] = ()) -> dict[str, Finding]:
    """What all checks find, with remedies that were tried."""

    def rebuild(settings: Sequence[str]) -> Aeroplane:
        return built(name, [*lines, *settings])

    return {finding.code: finding for finding in whole.run(rebuild(()), rebuild, cache=PAIRS)}


def attention(name: str, lines: Sequence[str] = ()) -> dict[str, int]:
    """The rank of each finding on balance and on the ground, where what passes is like what was not asked."""
    asks = (one for one in asked(name, tuple(lines)) if one.code.startswith(("balance.", "ground.")))
    return {one.code: rank(one) for one in asks if rank(one) < PASSES}


def test_two_remedies_together_where_one_costs_another_check() -> None:
    """Ballast in Plover's tail brings the balance point aft, too near the main wheels; with the axle aft it stands."""
    finding = tried("plover")["balance.range"]
    joint = finding.remedies[0]
    assert joint.text.startswith("add ") and ", and move the main axle to station " in joint.text
    assert "at the cost of" not in joint.text
    ballast = [line for line in joint.settings if not line.startswith("gear.")]
    before = attention("plover")
    assert attention("plover", ballast).keys() - before.keys() == {"ground.tip-back"}
    after = attention("plover", joint.settings)
    assert "balance.range" not in after
    assert all(after[code] >= before[code] for code in after)


def test_what_both_are_takes_the_place_of_the_first_alone() -> None:
    """The ballast is offered once; what moves something else instead stays, with its cost."""
    texts = [remedy.text for remedy in tried("plover")["balance.range"].remedies]
    assert sum(text.startswith("add ") for text in texts) == 1
    assert all("at the cost of a failed check" in text for text in texts[1:])
    assert len(texts) > 1


def test_a_remedy_that_costs_nothing_is_left_alone() -> None:
    """With its camera in, Mk 2 takes ballast for the smaller battery and stands as well as before."""
    proposed = {one.code: one for one in asked("teasel-mk2")}["balance.reach: 2-cell, camera in"]
    assert tried("teasel-mk2")[proposed.code].remedies == proposed.remedies


def test_of_a_key_that_both_set_the_later_value_holds() -> None:
    """The lines of a joint remedy name each key once."""
    assert mending.merged(["a.b=1", 'c="x = y"'], ["a.b=2", "d=3"]) == ("a.b=2", 'c="x = y"', "d=3")
