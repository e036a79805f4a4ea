"""A plan is checked before anything runs, and numbers its variants in the grid's order."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from airframe.config import ConfigError, Loaded, read
from airframe.model import Aeroplane
from airframe.sweep.keys import all_typed
from airframe.sweep.plan import Plan, planned

TEASEL = Path(__file__).parent.parent.parent.parent / "configs" / "teasel-mk2.toml"


@cache
def _teasel() -> tuple[Loaded, Aeroplane]:
    loaded = read(TEASEL)
    return loaded, Aeroplane.loaded(loaded)


def plan(*keys: str, codes: tuple[str, ...] = ("mass",), is_paired: bool = False) -> Plan:
    return planned(*_teasel(), all_typed(keys), codes, is_paired)


def problems(*keys: str, codes: tuple[str, ...] = ("mass",), is_paired: bool = False) -> list[str]:
    with pytest.raises(ConfigError) as error:
        plan(*keys, codes=codes, is_paired=is_paired)
    return [str(problem) for problem in error.value.problems]


def test_the_last_key_changes_fastest() -> None:
    """Six variants of two keys, in the order of two nested loops."""
    made = plan("gear.track=240 mm,260 mm", "fuselage.width=92 mm,94 mm,96 mm")
    assert [made.values(number) for number in range(made.count)] == [(t, w) for t in (240, 260) for w in (92, 94, 96)]
    assert made.settings(4) == ('gear.track="260 mm"', 'fuselage.width="94 mm"')


def test_pairs_go_together() -> None:
    """With pairing the first value meets the first, the second the second."""
    made = plan("gear.track=240 mm,260 mm", "fuselage.width=92 mm,94 mm", is_paired=True)
    assert [made.values(number) for number in range(made.count)] == [(240, 92), (260, 94)]


def test_everything_wrong_is_told_at_once() -> None:
    """A key that is none, a value out of bounds, a wrong unit, a wrong code: one message each, nearest names given."""
    told = problems(
        "gear.trakc=240 mm,250 mm",
        "gear.height=-5 mm:100 mm:3",
        "fuselage.width=92 g,93 g",
        "gear.arrangement=tail weel",
        "wing.panels.7.span=1 mm",
        codes=("mass", "ground.overtrun"),
    )
    for words in (
        "gear.trakc", "did you mean 'track'", 'gear.height="-5 mm"', '"g" is a unit of mass',
        "did you mean 'tail wheel'", "has rows 0 to", "did you mean 'ground.overturn'",
    ):  # fmt: skip
        assert any(words in line for line in told), words


@pytest.mark.parametrize(
    ("keys", "is_paired", "says"),
    [
        ((), False, "no key to change"),
        (("gear.track=1 mm,2 mm", "gear.track=3 mm"), False, "is given twice"),
        (("gear.track=240 mm,250 mm", "fuselage.width=92 mm"), True, "gear.track has 2, fuselage.width has 1"),
        (("gear.track=240 mm:250 mm:2000", "fuselage.width=92 mm:93 mm:2000"), False, "2000 x 2000 variants"),
    ],
)
def test_axes_that_do_not_go_together(keys: tuple[str, ...], is_paired: bool, says: str) -> None:
    """No key, one twice, unequal pairs and far too many variants are refused."""
    assert any(says in line for line in problems(*keys, is_paired=is_paired))


def test_what_is_wrong_in_some_variants_only_is_left_to_the_rows() -> None:
    """A width that the tail width forbids makes no design, but its neighbour does: the plan stands."""
    assert plan("fuselage.width=10 mm,92 mm").count == 2


def test_the_digest_tells_sweeps_apart() -> None:
    """The same sweep has the same digest; another value, measure or design has another."""
    made = plan("gear.track=240 mm,250 mm")
    assert made.digest == plan("gear.track=240 mm,250 mm").digest
    wider = read(TEASEL, ['fuselage.width="94 mm"'])
    others = [
        plan("gear.track=240 mm,251 mm"),
        plan("gear.track=240 mm,250 mm", codes=("cg.station",)),
        plan("gear.track=240 mm,250 mm", is_paired=True),
        planned(wider, Aeroplane.loaded(wider), all_typed(["gear.track=240 mm,250 mm"]), ["mass"]),
    ]
    assert len({made.digest, *(other.digest for other in others)}) == 5


@pytest.mark.parametrize(
    ("key", "says"),
    [
        # 7 - 2 = 5 has the divisors 1 and 5; 8 - 2 = 6 has 1, 2, 3 and 6, of which 2, 3 and 1 are the nearest to 4.
        ("wing.scores=2:7:3", "3 values from 2 to 7 have 4.5 among them: write 2:7:2 or 2:7:6"),
        ("wing.scores=2:8:5", "5 values from 2 to 8 have 3.5 among them: write 2:8:3 or 2:8:4 or 2:8:7"),
    ],
)
def test_steps_that_are_no_whole_numbers(key: str, says: str) -> None:
    """A key of whole numbers says which value is none, and which numbers of values would do."""
    assert problems(key) == [f"wing.scores: must be a whole number; {says}"]


def test_steps_that_may_be_any_number() -> None:
    """A key that takes any number is not asked for whole ones."""
    assert plan("wing.scores=2:8:4").count == 4
    assert plan("limits.making.edge_ratio=1:2:3").count == 3
