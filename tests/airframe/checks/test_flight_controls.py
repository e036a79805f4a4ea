"""Findings on controls in flight: throws by the linkage, servos by their torque, push-rods by Euler."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, dist, pi, sqrt
from typing import Any

import pytest

from airframe.checks import flight_controls
from airframe.checks.finding import Finding
from airframe.checks.flight_controls import RESERVE
from airframe.flight.throws import YOUNG_WIRE_PA
from airframe.layout import Layout
from airframe.model import Aeroplane
from airframe.parts.tail_horns import horn_points
from tests.designs import plain
from tests.mending import assert_mended, data_with, flown, one

SERVO = {"kind": "servo", "mass": "9 g", "size": ["23 mm", "12 mm", "24 mm"], "station": "308 mm", "group": "controls"}


def tables(servo: dict[str, Any] | None = None, wire: str = "2 mm", system: str = "metric") -> dict[str, Any]:
    """The plain design with a push-rod from a servo to the elevator's horn."""
    hole = horn_points(Layout(plain()))["elevator horn"]
    rod = {"kind": "push-rod", "diameter": wire, "from_point": ["318 mm", "20 mm", "4 mm"],
           "to_point": [f"{value} mm" for value in hole]}  # fmt: skip
    carried = {"elevator servo": SERVO | (servo or {}), "elevator push-rod": rod}
    data = data_with(equipment=carried, units=system)
    data["wing"]["panels"] = [{"span": "450 mm", "dihedral": "8 deg"}]
    return data


def findings(aeroplane: Aeroplane) -> list[Finding]:
    """Of the controls alone."""
    return flight_controls.findings(aeroplane, aeroplane.flight)


def asked(data: dict[str, Any], settings: Sequence[str] = ()) -> list[Finding]:
    """Findings of these tables."""
    return findings(flown(data, settings))


def test_a_push_rod_by_euler() -> None:
    """Value times the most asked is pi^3 E d^4 / (64 L^2): pinned ends, round wire."""
    aeroplane = flown(tables(wire="1.2 mm"))
    finding = one(findings(aeroplane), "flight.push-rod: elevator push-rod")
    rod = aeroplane.design.equipment["elevator push-rod"]
    length_m = dist(rod.from_point, rod.to_point) / 1000.0  # type: ignore[union-attr]  # a push-rod
    bears_n = pi**3 * YOUNG_WIRE_PA * 0.0012**4 / (64.0 * length_m**2)
    (run,) = aeroplane.flight.control_runs
    assert finding.value == pytest.approx(bears_n / run.rod_force_n.high, abs=1e-3)


def test_thin_wire_cautions_and_thicker_wire_mends_it() -> None:
    """0.8 mm buckles; the wire proposed holds, half a millimetre less would not; guides by the square of their number.

    Common practice, no source: thicker wire over a short run needs no guides. Buckling agrees: it goes by d^4 / L^2.
    """
    data = tables(wire="0.8 mm")
    finding = one(asked(data), "flight.push-rod: elevator push-rod")
    assert finding.value is not None
    assert finding.verdict == "caution"
    guides, wire = finding.remedies
    assert_mended(data, findings, finding)
    key, _, typed = wire.settings[0].partition("=")
    thinner = float(typed.strip('"').removesuffix(" mm")) - 0.5
    assert one(asked(data, [f'{key}="{thinner} mm"']), finding.code).verdict == "caution"
    pieces = ceil(sqrt(RESERVE * 2.0 / finding.value))
    assert guides.text == (
        "guide it in the middle" if pieces == 2 else f"guide it in {pieces - 1} places, evenly spaced"
    )
    assert guides.settings == (f'equipment."elevator push-rod".guides={pieces - 1}',)
    assert (pieces - 1) ** 2 * finding.value < RESERVE * 2.0 <= pieces**2 * finding.value
    guided = one(asked(data, list(guides.settings)), finding.code)
    assert guided.value == pytest.approx(pieces**2 * finding.value, rel=0.03)  # the guides' mass makes it faster
    assert guided.verdict == "pass" and "without guides" not in guided.message


def test_wire_is_proposed_in_the_builders_sizes() -> None:
    """In thirty-seconds of an inch, in its lowest terms, for who builds in inches."""
    data = tables(wire="0.8 mm", system="imperial")
    finding = one(asked(data), "flight.push-rod: elevator push-rod")
    assert finding.remedies[1].settings == ('equipment."elevator push-rod".diameter="1/16 in"',)
    assert_mended(data, findings, finding)


def test_stout_wire_passes() -> None:
    """3 mm bears many times what is asked."""
    finding = one(asked(tables(wire="3 mm")), "flight.push-rod: elevator push-rod")
    assert (finding.verdict, finding.remedies) == ("pass", ())


@pytest.mark.parametrize(("arm", "verdict"), [("20 mm", "pass"), ("6 mm", "caution")])
def test_throw(arm: str, verdict: str) -> None:
    """A short arm does not reach the throw that is stated; the arm proposed does."""
    data = tables({"arm": arm})
    finding = one(asked(data), "flight.throw: elevator")
    assert finding.verdict == verdict
    if verdict == "caution":
        assert finding.value is not None and finding.value < 25.0
        assert_mended(data, findings, finding)


def test_a_linkage_that_locks_is_told() -> None:
    """An arm far longer than the horn passes its dead point before the servo's end: no value, a caution, an arm."""
    data = tables({"arm": "60 mm", "travel": "60 deg"})
    finding = one(asked(data), "flight.throw: elevator")
    assert (finding.value, finding.verdict) == (None, "caution")
    assert "locks" in finding.message
    assert_mended(data, findings, finding)


@pytest.mark.parametrize(("share", "verdict"), [(2.2, "pass"), (1.5, "caution"), (0.4, "fail")])
def test_servo_torque(share: float, verdict: str) -> None:
    """Twice the most asked passes; less cautions; less than the least asked fails; the torque proposed will do."""
    (run,) = flown(tables({"arm": "14 mm"})).flight.control_runs
    torque = share * run.torque_needed_n_m.high
    data = tables({"arm": "14 mm", "torque": f"{1000.0 * torque:.4f} mN m"})
    finding = one(asked(data), "flight.servo: elevator servo")
    assert finding.value == pytest.approx(share, rel=1e-3)
    assert finding.verdict == verdict
    if verdict != "pass":
        assert "kg cm" in finding.remedies[0].text
        assert_mended(data, findings, finding)


def test_what_a_servo_does_not_state_is_told() -> None:
    """A plain servo: one note that names what to state, no throw, no torque; the push-rod is asked all the same."""
    found = asked(tables())
    assert "the elevator servo's arm and torque" in one(found, "flight.servos").message
    assert {finding.code.partition(":")[0] for finding in found} == {"flight.servos", "flight.push-rod"}
