"""Slow results say what the commands say; they never hold up a change, and end when nobody wants them any more."""

from __future__ import annotations

from pathlib import Path
from threading import Event, Thread
from typing import Any

import pytest

from airframe.checks import whole
from airframe.config import from_dict, read
from airframe.model import Aeroplane
from tests.viewers.bench.desks import MK2, PLOVER, changed, desk, number, weighed
from viewers.bench import slow as slow_work
from viewers.bench.refusals import Refused, Superseded
from viewers.bench.source import Source
from viewers.finding_tables import as_json

NARROW = 'gear.track="6 in"'
BATTERY = 'equipment.battery.station="60 mm"'


def _checked(path: Path, *settings: str) -> list[dict[str, Any]]:
    """What check --json prints."""
    loaded = read(path, settings)
    aeroplane = weighed(path, *settings)

    def rebuild(more: Any) -> Aeroplane:
        return aeroplane.changed(from_dict(loaded.data, more))

    found: list[dict[str, Any]] = as_json(aeroplane.design.name, whole.run(aeroplane, rebuild))["findings"]
    return found


def test_findings_are_those_of_check(tmp_path: Path) -> None:
    """They are those of check --json, remedies that mend them too; told sooner, they are the same without those."""
    one = desk(tmp_path, PLOVER)
    changed(one, NARROW)
    first = one.slow(one.revision, is_tried=False)
    told = one.slow(one.revision)
    expected = _checked(tmp_path / PLOVER, NARROW)
    own = ("remedies", "on_trial")
    assert [{k: v for k, v in finding.items() if k not in own} for finding in told["findings"]] == expected
    assert (first["is_tried"], told["is_tried"]) == (False, True)
    assert _without_remedies(first) == _without_remedies(told)
    assert not any(remedy["settings"] for finding in first["findings"] for remedy in finding["remedies"])
    assert (first["numbers"], first["bands"]) == (told["numbers"], told["bands"])
    for finding in told["findings"]:
        assert finding["remedy"] == (" or ".join(remedy["text"] for remedy in finding["remedies"]) or None)
    overturn = next(finding for finding in told["findings"] if finding["code"] == "ground.overturn")
    assert overturn["verdict"] == "fail"
    assert number(one.state(), "overturn")["verdict"] == "fail"
    assert number(changed(one, *overturn["remedies"][0]["settings"]), "overturn")["verdict"] == "pass"


def _without_remedies(told: dict[str, Any]) -> list[dict[str, Any]]:
    own = ("remedy", "remedies", "on_trial")
    return [{k: v for k, v in finding.items() if k not in own} for finding in told["findings"]]


def test_estimates_are_those_of_flight(tmp_path: Path) -> None:
    """Flight numbers are the flight estimates of the edited design, labelled as estimates."""
    one = desk(tmp_path)
    changed(one, BATTERY)
    flight = weighed(tmp_path / MK2, BATTERY).flight
    told = {number["code"]: number for number in one.slow(one.revision)["numbers"]}
    assert told["stall"]["value"] == flight.stall_m_s.middle
    assert told["static-margin"]["value"] == pytest.approx(100.0 * flight.static_margin(), rel=1e-12)
    assert told["spiral"]["value"] == flight.spiral_rule
    assert all("estimate" in number["label"] or "rule of thumb" in number["label"] for number in told.values())
    assert " to " in told["stall"]["text"]


def test_bands_are_those_of_balance(tmp_path: Path) -> None:
    """The stretch of its tray that a battery may take is the one that balance tells, for each case."""
    one = desk(tmp_path)
    bands = one.slow(one.revision)["bands"]
    assert bands[0]["case"] == "3-cell, camera in" and bands[0]["is_current"]
    assert sum(band["is_current"] for band in bands) == 1 and len(bands) == 4
    assert (bands[0]["free"], bands[0]["now"]) == ([46.0, 72.0], 48.0)
    low, high = bands[1]["usable"]
    for station, verdict in ((low + 0.5, "pass"), (high + 0.5, "fail")):
        state = changed(one, f'equipment.battery.station="{station} mm"', "equipment.camera.fitted=false")
        assert number(state, "balance")["verdict"] == verdict


def test_metric_page_of_an_imperial_design(tmp_path: Path) -> None:
    """On a metric page the findings of an imperial design speak of millimetres, as do the settings of remedies."""
    one = desk(tmp_path, PLOVER)
    changed(one, NARROW)
    found = {finding["code"]: finding for finding in one.slow(one.revision, "metric")["findings"]}
    assert " mm above the ground" in found["ground.overturn"]["message"]
    assert found["ground.overturn"]["remedies"][0]["settings"][0].endswith(' mm"')


def test_asked_twice_worked_out_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Results are kept: asking again, or going a step forth and back, runs no check."""
    one = desk(tmp_path, PLOVER)
    first = one.slow(one.revision)
    changed(one, 'gear.track="11 in"')
    one.undo(one.revision)
    monkeypatch.setattr(slow_work.whole, "run", _never)
    again = one.slow(one.revision)
    assert {**again, "revision": 0} == {**first, "revision": 0}
    one.keep(one.revision, "mine")
    assert one.slow(one.revision)["findings"] == first["findings"]


def _never(*_: Any) -> Any:
    raise AssertionError("a check was run again")


def test_a_revision_of_the_past_is_superseded(tmp_path: Path) -> None:
    """Nothing is worked out for a revision that is no longer the current one."""
    one = desk(tmp_path)
    changed(one, BATTERY)
    with pytest.raises(Superseded):
        one.slow(one.revision - 1)


def test_a_change_does_not_wait_and_ends_the_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While a check runs a change is answered; the run then ends at its next step, and the next one is whole."""
    one = desk(tmp_path)
    begun, go_on, real = Event(), Event(), whole.run

    def held_up(aeroplane: Aeroplane, rebuild: Any, progress: Any, cache: Any) -> Any:
        begun.set()
        assert go_on.wait(60.0)
        return real(aeroplane, rebuild, progress, cache)

    monkeypatch.setattr(slow_work.whole, "run", held_up)
    ended: list[BaseException] = []
    thread = Thread(target=_slow_into, args=(one, one.revision, ended))
    thread.start()
    assert begun.wait(60.0)
    state = changed(one, BATTERY)
    assert state["dirty"] and thread.is_alive()
    go_on.set()
    thread.join(60.0)
    assert [type(error) for error in ended] == [Superseded]
    monkeypatch.setattr(slow_work.whole, "run", real)
    told = one.slow(one.revision)
    assert told["bands"][0]["now"] == 60.0 and len(told["findings"]) > 20


def _slow_into(one: Any, revision: int, ended: list[BaseException]) -> None:
    try:
        one.slow(revision)
    except Superseded as error:
        ended.append(error)


def test_a_refused_change_only_interrupts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While a change is being tried slow work stops; where the change is refused the work is begun again and told."""
    one = desk(tmp_path, PLOVER)
    runs: list[str] = []
    real = whole.run

    def refusing(*_: Any) -> Any:
        with pytest.raises(Superseded):
            one._slow._pairs.number(one.aeroplane.parts[0].shape)  # as a check in another thread asks now
        raise Refused("it cannot be built")

    def interrupted(*asked: Any) -> Any:
        runs.append("run")
        if len(runs) == 1:
            with monkeypatch.context() as patch, pytest.raises(Refused):
                patch.setattr(Source, "variant", refusing)
                changed(one, BATTERY)
            raise Superseded
        return real(*asked)

    monkeypatch.setattr(slow_work.whole, "run", interrupted)
    assert len(one.slow(one.revision)["findings"]) > 20
    assert runs == ["run", "run"]


def test_a_run_ends_in_the_middle_of_a_check(tmp_path: Path) -> None:
    """Even between two pairs of parts a run asks whether it is still wanted."""
    one = desk(tmp_path)
    asked: list[int] = []

    def is_wanted() -> bool:
        asked.append(1)
        return len(asked) < 10

    source = one._draft.source  # the run is driven by hand here
    with pytest.raises(Superseded):
        slow_work.SlowWork().results(source, source.filed, "metric", is_wanted)
    assert len(asked) == 10


def test_closing_ends_the_run_and_begins_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Once the desk is closed a run under way ends at its next step, and nobody waits for another."""
    one = desk(tmp_path, PLOVER)
    begun, go_on, real = Event(), Event(), whole.run

    def held_up(*asked: Any) -> Any:
        begun.set()
        assert go_on.wait(60.0)
        return real(*asked)

    monkeypatch.setattr(slow_work.whole, "run", held_up)
    ended: list[BaseException] = []
    thread = Thread(target=_slow_into, args=(one, one.revision, ended))
    thread.start()
    assert begun.wait(60.0)
    one.close()
    go_on.set()
    thread.join(60.0)
    assert [type(error) for error in ended] == [Superseded]
    monkeypatch.setattr(slow_work.whole, "run", _never)
    with pytest.raises(Superseded):
        one.slow(one.revision)
