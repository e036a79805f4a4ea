"""Findings on speed and power: limits of the builder's, current against what bears it, remedies tried."""

from __future__ import annotations

from math import degrees
from pathlib import Path
from typing import Any

import pytest

import airframe
from airframe.balance.target import target
from airframe.checks import flight, flight_power, flight_speeds
from airframe.checks.finding import Finding
from airframe.units import STANDARD_GRAVITY_M_S2
from tests.mending import assert_mended, data_with, flown, one

MOTOR = {"kind": "motor", "mass": "46 g", "diameter": "28 mm", "length": "34 mm", "kv": "850 rpm/V"}
PROPELLER = {"kind": "propeller", "mass": "11 g", "diameter": "9 in", "pitch": "5 in"}
CONTROLLER = {"kind": "speed controller", "mass": "20 g", "size": ["40 mm", "20 mm", "8 mm"], "station": "150 mm"}
SMALL = {"mass": "80 g", "size": ["60 mm", "30 mm", "16 mm"], "cells": 2, "capacity": "1000 mAh"}
LARGE = {"mass": "110 g", "size": ["60 mm", "30 mm", "20 mm"], "cells": 3, "capacity": "1000 mAh"}


def tables(limits: dict[str, Any] | None = None, **items: Any) -> dict[str, Any]:
    """The plain design, wing turned up, with a motor on two batteries; items replaced by name."""
    battery = {
        "kind": "battery",
        "station": "60 mm",
        "water_line": "-20 mm",
        "options": {"3-cell": LARGE, "2-cell": SMALL},
    }
    carried = {"motor": MOTOR, "propeller": PROPELLER, "controller": CONTROLLER | {"max_current": "30 A"}}
    data = data_with(equipment=carried | {"battery": battery} | items, limits={"flight": limits or {}})
    data["wing"]["panels"] = [{"span": "450 mm", "dihedral": "8 deg"}]
    return data


def asked(data: dict[str, Any]) -> list[Finding]:
    """All findings in flight."""
    return flight.findings(flown(data))


def test_every_battery_is_asked_about() -> None:
    """Two batteries and a controller: two currents each, thrust, climb and time, the one in use first; all pass."""
    aeroplane = flown(tables())
    assert [option.name for option in flight_power.options(aeroplane.design)] == ["3-cell", "2-cell"]
    found = flight.findings(aeroplane)
    for option in ("3-cell", "2-cell"):
        for code in ("current: {}, speed controller", "current: {}, battery", "thrust: {}", "climb: {}", "time: {}"):
            assert one(found, f"flight.{code.format(option)}").verdict == "pass"


def test_thrust_to_weight() -> None:
    """Static thrust over weight, in the message and as the value."""
    aeroplane = flown(tables())
    figures = aeroplane.flight.power()
    assert not isinstance(figures, str)
    weight_n = aeroplane.statement.whole.mass / 1000.0 * STANDARD_GRAVITY_M_S2
    finding = one(flight.findings(aeroplane), "flight.thrust: 3-cell")
    assert finding.value == pytest.approx(figures.static_thrust_n.middle / weight_n, abs=1e-4)


@pytest.mark.parametrize(("share", "verdict"), [(1.3, "pass"), (1.0, "caution"), (0.6, "fail")])
def test_current_against_the_controller(share: float, verdict: str) -> None:
    """By the band: all of it within passes, all of it beyond a stated limit fails; a smaller propeller mends both."""
    current = one(asked(tables()), "flight.current: 3-cell, speed controller").value
    assert current is not None
    data = tables(controller=CONTROLLER | {"max_current": f"{share * current:.3f} A"})
    finding = one(asked(data), "flight.current: 3-cell, speed controller")
    assert finding.verdict == verdict
    if verdict != "pass":
        assert finding.remedies[0].settings[0].startswith("equipment.propeller.diameter=")
        assert_mended(data, flight.findings, finding)


def test_a_battery_that_is_not_in_use_only_cautions() -> None:
    """The same current, the same limit; but another battery is in."""
    data = tables(controller=CONTROLLER | {"max_current": "4 A"})
    data["equipment"]["battery"]["use"] = "2-cell"
    found = asked(data)
    assert one(found, "flight.current: 3-cell, speed controller").verdict == "caution"


def test_where_it_was_measured_a_smaller_propeller_must_be_measured_too() -> None:
    """A measured current says nothing of another propeller: the remedy is words only."""
    data = tables(controller=CONTROLLER | {"max_current": "5 A"}) | {"flight": {"measured_current": "11 A"}}
    finding = one(asked(data), "flight.current: 3-cell, speed controller")
    assert finding.value == pytest.approx(11.0, abs=0.01)
    assert finding.verdict == "fail"
    assert [remedy.settings for remedy in finding.remedies] == [()]


def test_too_little_power_to_fly_level_fails() -> None:
    """A motor of a third of the Kv turns the propeller too slowly by any guess: it sinks at full throttle."""
    found = asked(tables(motor=MOTOR | {"kv": "200 rpm/V"}))
    climb = one(found, "flight.climb: 3-cell")
    assert climb.verdict == "fail"
    assert "does not fly level" in climb.message and "sinks" in climb.message
    assert one(found, "flight.climb: 2-cell").verdict == "caution"
    assert one(found, "flight.thrust: 3-cell").verdict == "caution"
    assert not any(finding.code.startswith("flight.time") for finding in found)


def test_time_in_the_air() -> None:
    """A limit of twice the time asks for twice the charge, in steps of 50 mAh."""
    minutes = one(asked(tables()), "flight.time: 3-cell").value
    assert minutes is not None
    finding = one(asked(tables({"flight_time": f"{2.0 * minutes:.4f} min"})), "flight.time: 3-cell")
    assert finding.verdict == "caution"
    assert finding.remedies[0].text in ("fit a battery of 2000 mAh or more", "fit a battery of 2050 mAh or more")


def test_stall_against_the_builders_own_limit() -> None:
    """Only told without one; above it a caution with the mass at which it would do: m (V / V_s)^2."""
    aeroplane = flown(tables())
    finding = one(flight.findings(aeroplane), "flight.stall")
    assert (finding.verdict, finding.limit) == ("info", (None, None))
    stall = aeroplane.flight.stall_m_s.middle
    slow = one(asked(tables({"stall_speed": f"{0.9 * stall:.6f} m/s"})), "flight.stall")
    assert slow.verdict == "caution"
    assert f"{0.81 * aeroplane.statement.whole.mass:.1f}".rstrip("0").rstrip(".") in slow.remedies[0].text
    assert one(asked(tables({"stall_speed": f"{1.1 * stall:.6f} m/s"})), "flight.stall").verdict == "pass"


def test_stall_at_the_ends_of_the_balance_range() -> None:
    """Told of both ends; judged where the elevator gives out before the wing does, which a small throw sees to."""
    path = Path(__file__).parents[3] / "configs/teasel-mk2.toml"
    free, short = (airframe.load(path, [f'tail.elevator.throw_up="{throw} deg"']) for throw in (25, 2))
    wide, narrow = (
        one(flight_speeds.findings(aeroplane, aeroplane.flight), "flight.stall") for aeroplane in (free, short)
    )
    assert wide.message.count("some part of the wing lets go") == 2
    assert wide.value == pytest.approx(free.flight.stall_m_s.middle, abs=1e-4)
    assert "forward end of its range the elevator is fully up at" in narrow.message
    wanted = target(short.layout, lambda: short.flight.neutral_point_mm)
    ends = short.flight.slowest(wanted.forward_mm)
    assert narrow.value == pytest.approx(ends.trim.speed_m_s, abs=1e-4)
    assert degrees(ends.trim.elevator_rad) == pytest.approx(-2.0, abs=0.05)


def test_cubic_loading() -> None:
    """Mass over area to the power of 1.5; only told."""
    aeroplane = flown(tables())
    area_m2 = aeroplane.layout.mean_chord.area_mm2 * 1e-6
    finding = one(flight.findings(aeroplane), "flight.loading")
    assert finding.value == pytest.approx(aeroplane.statement.whole.mass / 1000.0 / area_m2**1.5, abs=1e-3)
    assert finding.verdict == "info"
