"""Findings on balance in flight and on the tail: margins by the lever law, volumes by hand, elevator by its throw."""

from __future__ import annotations

from math import cos, degrees, radians
from typing import Any

import pytest

from airframe.checks import flight
from airframe.checks.finding import Finding
from airframe.model import Aeroplane
from tests.mending import assert_mended, data_with, flown, one

BATTERY = {
    "kind": "battery",
    "mass": "150 g",
    "size": ["60 mm", "30 mm", "20 mm"],
    "station": "100 mm",
    "water_line": "-20 mm",
    "tray_from": "8 mm",
    "tray_to": "320 mm",
}


def tables(station_mm: float = 100.0, **changes: Any) -> dict[str, Any]:
    """The plain design, wing turned up by 8 deg, with a battery at a station."""
    data = data_with(equipment={"battery": BATTERY | {"station": f"{station_mm} mm"}}, **changes)
    data["wing"]["panels"] = [{"span": "450 mm", "dihedral": "8 deg"}]
    return data


def margin_percent(aeroplane: Aeroplane) -> float:
    """Neutral point less balance point, over the mean chord."""
    chord = aeroplane.layout.mean_chord.length_mm
    return 100.0 * (aeroplane.flight.neutral_point_mm - aeroplane.cg_mm[0]) / chord


def station_for(percent: float) -> float:
    """Where the battery gives a static margin, by the lever law d = (x - x0) M / m from station 100."""
    aeroplane = flown(tables())
    shift = (margin_percent(aeroplane) - percent) / 100.0 * aeroplane.layout.mean_chord.length_mm
    return 100.0 + shift * aeroplane.statement.whole.mass / 150.0


def margin(data: dict[str, Any]) -> Finding:
    """The finding on the static margin as drawn."""
    return one(flight.findings(flown(data)), "flight.margin: battery")


@pytest.mark.parametrize(
    ("percent", "verdict", "words"),
    [(12.0, "pass", "ahead of the neutral point"), (2.0, "caution", "twitchy"), (-3.0, "fail", "tail-heavy")],
)
def test_static_margin(percent: float, verdict: str, words: str) -> None:
    """The battery put where the lever law wants it gives the margin wanted to 0.6 %; below 0 fails, below 5 cautions.

    The neutral point moves a little with the trim at which it is asked for: hence not closer.
    """
    finding = margin(tables(station_for(percent)))
    assert finding.value == pytest.approx(percent, abs=0.6)
    assert finding.verdict == verdict
    assert words in finding.message


@pytest.mark.parametrize(("percent", "offered"), [(2.0, 2), (-1.0, 1)])
def test_the_battery_or_a_larger_tail_mends_a_heavy_tail(percent: float, offered: int) -> None:
    """Each by itself turns the margin to pass; where even half as much tail again would not, it is not offered."""
    data = tables(station_for(percent))
    finding = margin(data)
    keys = [remedy.settings[0].partition("=")[0] for remedy in finding.remedies]
    assert keys == ["equipment.battery.station", "tail.stabiliser.span"][:offered]
    assert_mended(data, flight.findings, finding)


def test_a_heavy_nose_cautions() -> None:
    """A limit of 10 % makes 15 % too much: the battery goes aft."""
    data = tables(station_for(15.0), limits={"flight": {"margin_high": "10 %"}})
    finding = margin(data)
    assert finding.verdict == "caution"
    assert "nose-heavy" in finding.message
    assert_mended(data, flight.findings, finding)


def test_every_battery_has_its_margin_and_only_the_one_in_use_fails() -> None:
    """Two batteries at a station far aft, both tail-heavy: the one in use fails, the other cautions."""
    options = {"used": {"mass": "150 g", "size": BATTERY["size"]}, "spare": {"mass": "140 g", "size": BATTERY["size"]}}
    battery = {key: value for key, value in BATTERY.items() if key not in ("mass", "size")}
    battery |= {"options": options, "station": f"{station_for(-4.0)} mm"}
    found = flight.findings(flown(tables() | {"equipment": {"battery": battery}}))
    assert one(found, "flight.margin: used").verdict == "fail"
    assert one(found, "flight.margin: spare").verdict == "caution"


def test_the_range_must_end_ahead_of_the_neutral_point() -> None:
    """A range whose end is stated as a margin of 2 % is 2 %: a caution; ended at 5 % it passes."""
    data = tables(balance={"forward": "20 %", "aft": "2 % margin"})
    finding = one(flight.findings(flown(data)), "flight.range")
    assert finding.value == pytest.approx(2.0, abs=1e-6)
    assert finding.verdict == "caution"
    assert_mended(data, flight.findings, finding)
    kept = one(flight.findings(flown(tables(balance={"forward": "20 %", "aft": "8 % margin"}))), "flight.range")
    assert (kept.verdict, kept.remedies) == ("pass", ())


def test_tail_volumes_by_hand() -> None:
    """Plain rectangles, worked by hand: V_h = S l / (S c) = 320 131 367.75 / (900 cos(8 deg) 200 200).

    The tail's chord is 90 + 1 + 40 mm, gap included; its quarter lies at 505 + 131/4, the wing's at 120 + 50.
    """
    found = flight.findings(flown(tables()))
    finding = one(found, "flight.tail-volume: horizontal")
    assert finding.value == pytest.approx(320 * 131 * 367.75 / (900 * cos(radians(8.0)) * 200 * 200), abs=1e-4)
    assert finding.verdict == "pass"


@pytest.mark.parametrize(("key", "which"), [("tail_volume", "horizontal"), ("fin_volume", "vertical")])
def test_little_tail_cautions_and_much_is_told(key: str, which: str) -> None:
    """Limits a quarter above what there is: caution, with the tail that reaches them; limits below: a note."""
    value = one(flight.findings(flown(tables())), f"flight.tail-volume: {which}").value
    assert value is not None
    little = tables(limits={"flight": {f"{key}_low": 1.25 * value, f"{key}_high": 2.0 * value}})
    finding = one(flight.findings(flown(little)), f"flight.tail-volume: {which}")
    assert finding.verdict == "caution"
    assert_mended(little, flight.findings, finding)
    much = tables(limits={"flight": {f"{key}_low": 0.5 * value, f"{key}_high": 0.8 * value}})
    assert one(flight.findings(flown(much)), f"flight.tail-volume: {which}").verdict == "info"


def test_elevator_left_is_throw_less_what_trim_takes() -> None:
    """The lesser of up and down; 3 deg of throw leave too little, and more throw mends it."""
    aeroplane = flown(tables(station_for(12.0)))
    finding = one(flight.findings(aeroplane), "flight.elevator: slow cruise")
    assert finding.value == pytest.approx(25.0 - abs(degrees(aeroplane.flight.cruise.elevator_rad)), abs=1e-3)
    assert finding.verdict == "pass"
    data = tables(station_for(12.0))
    data["tail"]["elevator"] |= {"throw_up": "5.5 deg", "throw_down": "5.5 deg"}
    for when in ("slow cruise", "stall"):
        short = one(flight.findings(flown(data)), f"flight.elevator: {when}")
        assert short.verdict == "caution"
        assert_mended(data, flight.findings, short)
