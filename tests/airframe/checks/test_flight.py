"""Findings in flight together: what is not stated, what cannot be held, and that each says what it is."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from airframe import config
from airframe.checks import flight
from airframe.drawing import PartError
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.model import Aeroplane
from tests.electric import electric
from tests.fittings import MOTOR, PROPELLER
from tests.mending import STORE, data_with, flown, one
from tests.space.designs import designs

GEOMETRY = ("flight.tail-volume", "flight.throw", "flight.loading")
"""What is read off the drawing alone."""


def test_a_bare_design_is_told_what_it_does_not_state() -> None:
    """Nothing carried: balance and course are asked all the same, power and controls are two notes, nothing crashes."""
    found = flight.findings(flown(data_with()))
    notes = {finding.code: finding.message for finding in found if finding.verdict == "info"}
    assert set(notes) == {"flight.stall", "flight.loading", "flight.power", "flight.controls"}
    assert "no motor and no propeller and no battery" in notes["flight.power"]
    assert "no push-rod" in notes["flight.controls"]
    assert one(found, "flight.margin").value is not None


def test_what_is_missing_is_named_once() -> None:
    """A motor without its Kv on two batteries without a capacity: one note, in the words of the config."""
    battery = {
        "kind": "battery", "station": "60 mm", "water_line": "-20 mm",
        "options": {name: {"mass": "90 g", "size": ["60 mm", "30 mm", "18 mm"]} for name in ("small", "large")},
    }  # fmt: skip
    carried = {"battery": battery, "motor": MOTOR, "propeller": PROPELLER}
    found = flight.findings(flown(data_with(equipment=carried)))
    assert "the motor's kv" in one(found, "flight.power").message


def test_a_measurement_that_nothing_explains_is_told() -> None:
    """A thrust that no propeller of this size gives is no crash and no figure; controls are asked without it."""
    data = electric()
    data["flight"]["measured_thrust"] = "900 N"
    found = flight.findings(flown(data))
    assert one(found, "flight.power").verdict == "info"
    assert "twice slow cruise" in one(found, "flight.servo: elevator servo").message


def test_what_does_not_stay_level_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no elevator holds slow cruise, that is the finding, and what stands on level flight is not asked."""

    def refuse(self: Flight, speed_m_s: float) -> None:
        raise NoTrimError(f"no incidence and elevator hold it at {speed_m_s:.3g} m/s")

    monkeypatch.setattr(Flight, "trimmed", refuse)
    found = flight.findings(flown(data_with()))
    level = one(found, "flight.level")
    assert level.verdict == "fail"
    assert "no incidence and elevator hold it" in level.message
    assert not any(finding.code.startswith(("flight.margin", "flight.motion")) for finding in found)
    assert one(found, "flight.loading").value is not None


def test_every_estimate_says_so() -> None:
    """In its message or its source; what is read off the drawing alone need not."""
    found = flight.findings(flown(electric()))
    assert len(found) > 25
    silent = {
        finding.code.partition(":")[0]
        for finding in found
        if "estimate" not in f"{finding.message} {finding.source}".lower()
    }
    assert silent == set(GEOMETRY)
    assert all(finding.source for finding in found)
    assert not any("safe" in finding.message for finding in found)


def test_any_design_is_answered() -> None:
    """A design composed at random that can be weighed gets its findings: finite values, each code once."""
    answered: list[int] = []

    @settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
    @given(designs())
    def compose(data: dict[str, Any]) -> None:
        try:
            aeroplane = Aeroplane(config.from_dict(data), STORE)
            _ = aeroplane.statement
        except (config.ConfigError, PartError):
            return
        found = flight.findings(aeroplane)
        codes = [finding.code for finding in found]
        assert len(set(codes)) == len(codes)
        assert all(abs(finding.value) < 1e6 for finding in found if finding.value is not None)
        answered.append(len(found))

    compose()
    assert answered


@pytest.mark.parametrize(
    ("limits", "words"),
    [
        ({"margin_low": "45 %"}, "margin_low must lie below margin_high"),
        ({"tail_volume_low": 0.9}, "tail_volume_low must lie below tail_volume_high"),
        ({"fin_volume_high": 0.01}, "fin_volume_low must lie below fin_volume_high"),
        ({"doubling_fail": "5 s"}, "doubling_fail must lie below doubling"),
    ],
)
def test_limits_that_exclude_each_other_are_refused(limits: dict[str, Any], words: str) -> None:
    """By the names that the builder writes."""
    with pytest.raises(config.ConfigError, match=words):
        config.from_dict(data_with(limits={"flight": limits}))
