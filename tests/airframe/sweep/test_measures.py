"""What may be asked of a variant: every finding of the demos by its code, sums as the weight statement has them."""

from __future__ import annotations

from pathlib import Path

import pytest

import airframe
from airframe.checks import mending, whole
from airframe.checks.finding import Finding, Verdict
from airframe.checks.pairs import PairCache
from airframe.config import read
from airframe.model import Aeroplane
from airframe.sweep.codes import FINDINGS
from airframe.sweep.measures import MeasureError, measure, take
from airframe.sweep.variants import variant
from tests.designs import plain
from tests.fittings import MOTOR, PROPELLER, gear_data
from viewers import weight_json

CONFIGS = Path(__file__).parent.parent.parent.parent / "configs"


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2", "plover"])
def test_every_finding_of_a_demo_is_known(name: str) -> None:
    """Each finding's code, without its item, stands in the table with its check and its unit.

    Asked as a sweep asks it, without remedies, a check answers the same.
    """
    aeroplane = airframe.load(CONFIGS / f"{name}.toml")
    for check, ask in whole.checks(PairCache()):
        findings = ask(aeroplane)
        found = {finding.code.split(":")[0]: (check, finding.unit) for finding in findings}
        assert {code: FINDINGS.get(code) for code in found} == found
        assert [_answer(one) for one in mending.on_trial(ask)(aeroplane)] == [_answer(one) for one in findings]


def _answer(one: Finding) -> tuple[object, ...]:
    return one.code, one.verdict, one.value, one.unit, one.limit


def test_each_measure_is_what_the_statement_and_the_checks_say() -> None:
    """A sum is the statement's own number, a finding's value and verdict are its check's."""
    aeroplane = Aeroplane(plain(gear=gear_data(), equipment={"motor": MOTOR, "propeller": PROPELLER}))
    ground = {one.code: one for _, check in whole.checks(PairCache())[1:2] for one in check(aeroplane)}
    codes = ["mass", "cg.station", "inertia.product", "parts.wing.mass", "ground.overturn", "ground.overturn.verdict"]
    taken = take(aeroplane, [measure(code) for code in codes], PairCache())
    assert taken == {
        "mass": aeroplane.statement.whole.mass,
        "cg.station": aeroplane.cg_mm[0],
        "inertia.product": aeroplane.statement.whole.inertia[0, 2],
        "parts.wing.mass": aeroplane.statement.groups["wing"].mass,
        "ground.overturn": ground["ground.overturn"].value,
        "ground.overturn.verdict": ground["ground.overturn"].verdict,
    }


def test_the_outline_is_drawn_only_where_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """The overturn angle needs no mesh of any part; a side wind does."""
    aeroplane = Aeroplane(plain(gear=gear_data(), equipment={"motor": MOTOR, "propeller": PROPELLER}))

    def outlined(*_: object) -> None:
        raise AssertionError("the outline was drawn")

    monkeypatch.setattr("airframe.checks.ground.placed_meshes", outlined)
    assert take(aeroplane, [measure("ground.overturn.verdict")], PairCache())
    with pytest.raises(AssertionError, match="the outline was drawn"):
        take(aeroplane, [measure("ground.overturn"), measure("ground.wind")], PairCache())


def test_each_check_is_asked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Many measures of one check ask it once, and no other check is asked."""
    asked = []
    checks = (("one", lambda _: asked.append("one") or []), ("two", lambda _: asked.append("two") or []))
    monkeypatch.setattr(whole, "checks", lambda _: checks)
    monkeypatch.setitem(FINDINGS, "my.a", ("one", "mm"))
    monkeypatch.setitem(FINDINGS, "my.b", ("one", "mm"))
    taken = take(Aeroplane(plain()), [measure("my.a"), measure("my.b"), measure("my.a.verdict")], PairCache())
    assert taken == {"my.a": None, "my.b": None, "my.a.verdict": None}
    assert asked == ["one"]


@pytest.mark.parametrize(
    ("code", "check"),
    [("ground.overturn", "standing and tipping over"), ("flight.margin", "flight"), ("mass", None)],
)
def test_no_check_is_asked_but_that_of_the_code(monkeypatch: pytest.MonkeyPatch, code: str, check: str | None) -> None:
    """Tipping over asks what stands, a flight code the flight check, a sum none at all."""
    asked: list[str] = []
    ours = [name for name, _ in whole.checks(PairCache())]
    monkeypatch.setattr(whole, "checks", lambda _: [(name, lambda _, n=name: asked.append(n) or []) for name in ours])
    take(Aeroplane(plain()), [measure(code)], PairCache())
    assert asked == ([] if check is None else [check])


@pytest.mark.parametrize(
    ("verdicts", "worst"),
    [(("pass", "pass", "pass"), 6.0), (("caution", "pass", "caution"), 31.0), (("fail", "pass", "caution"), 15.0)],
)
def test_of_several_items_the_worst_answers(
    monkeypatch: pytest.MonkeyPatch, verdicts: tuple[Verdict, ...], worst: float
) -> None:
    """Of the items with the worst verdict it is the one nearest to its limit, or furthest beyond: not the first."""
    values, limit = (15.0, 6.0, 31.0), (5.0, 40.0)
    of_items = [
        Finding(f"my.margin: {value:.0f}", verdict, value, "%", limit, "", "our own rule")
        for value, verdict in zip(values, verdicts, strict=True)
    ]
    nothing_near = Finding("my.margin: none", "pass", None, "%", limit, "", "our own rule")
    monkeypatch.setattr(whole, "checks", lambda _: (("one", lambda _: [nothing_near, *of_items]),))
    monkeypatch.setitem(FINDINGS, "my.margin", ("one", "%"))
    assert take(Aeroplane(plain()), [measure("my.margin")], PairCache()) == {"my.margin": worst}


@pytest.mark.parametrize(
    ("typed", "meant"), [("ground.overtrun", "ground.overturn"), ("cg.staton", "cg.station"), ("mas", "mass")]
)
def test_a_wrong_code_names_the_nearest(typed: str, meant: str) -> None:
    """A code that names nothing is refused with the nearest that does."""
    with pytest.raises(MeasureError, match=f"did you mean '{meant}'"):
        measure(typed)


def test_a_wrong_code_costs_no_check(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no check comes from outside, none is asked, and not even a part is drawn, before the code is refused."""
    aeroplane = Aeroplane(plain())
    monkeypatch.setattr(Aeroplane, "parts", property(lambda _: pytest.fail("a part was drawn")))
    with pytest.raises(MeasureError, match=r"did you mean 'ground\.overturn'"):
        measure("ground.overtrun", aeroplane)


@pytest.mark.parametrize("name", ["teasel-mk1", "teasel-mk2"])
def test_a_variant_weighs_as_a_run_of_its_own(name: str) -> None:
    """The statement of a variant equals, to the last digit, that of the config read with the setting.

    Mk 1 has a weighing log, from which both learn.
    """
    file, setting = CONFIGS / f"{name}.toml", 'equipment.receiver.station="255 mm"'
    base = read(file)
    made = variant(base, Aeroplane.loaded(base), [setting])
    assert weight_json.as_json(made) == weight_json.as_json(airframe.load(file, [setting]))
