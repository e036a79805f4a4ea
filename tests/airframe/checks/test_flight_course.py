"""Findings on holding a course: the spiral rule worked by hand, motions by their time to double, remedies tried."""

from __future__ import annotations

from dataclasses import replace
from math import cos, log, radians
from typing import Any

import pytest

from airframe.checks import flight, flight_course
from airframe.checks.finding import Verdict
from airframe.checks.flight_remedies import Remedies, least_steps
from airframe.flight.modes import Mode
from airframe.schema.limits_flight import FlightLimits
from airframe.units import STANDARD_GRAVITY_M_S2
from tests.mending import assert_mended, data_with, flown, one

BATTERY = {"kind": "battery", "mass": "150 g", "size": ["60 mm", "30 mm", "20 mm"], "station": "60 mm",
           "water_line": "-20 mm"}  # fmt: skip
SEA_LEVEL_KG_M3 = 1.225
"""Standard air (ICAO Doc 7488)."""


def tables(dihedral_deg: float, **limits: Any) -> dict[str, Any]:
    """The plain design with a battery ahead and its wing turned up."""
    data = data_with(equipment={"battery": BATTERY}, limits={"flight": limits})
    data["wing"]["panels"] = [{"span": "450 mm", "dihedral": f"{dihedral_deg} deg"}]
    return data


def test_the_spiral_rule_by_hand() -> None:
    """A plain V of 6 deg is its own equivalent: B = arm 6 / (span C_L), C_L = 2 W / (rho S V^2), V 1.3 times the stall.

    The fin's quarter point, from its own finding's tail volume: arm = V_v S b / S_v.
    """
    aeroplane = flown(tables(6.0))
    found = flight.findings(aeroplane)
    span, area = 0.9 * cos(radians(6.0)), 0.9 * 0.2 * cos(radians(6.0))
    speed, weight = aeroplane.flight.cruise_m_s, aeroplane.statement.whole.mass / 1000.0 * STANDARD_GRAVITY_M_S2
    lift = 2.0 * weight / (SEA_LEVEL_KG_M3 * area * speed**2)
    arm = aeroplane.flight.air.volumes.vertical_arm_m
    rule = one(found, "flight.spiral-rule")
    assert rule.value == pytest.approx(arm * 6.0 / (span * lift), rel=2e-3)
    volume = one(found, "flight.tail-volume: vertical").value
    assert volume is not None and rule.value is not None
    assert one(found, "flight.rudder-roll").value == pytest.approx(volume * rule.value, rel=1e-3)


def test_a_flat_wing_cautions_and_dihedral_mends_it() -> None:
    """No dihedral and no ailerons: neither spiral rule nor rudder will do, the spiral grows; a V mends each."""
    data = tables(0.0)
    found = flight.findings(flown(data))
    for code in ("flight.spiral-rule", "flight.rudder-roll", "flight.motion: spiral"):
        finding = one(found, code)
        assert finding.verdict == "caution", code
        assert "wing.panels.0.dihedral" in finding.remedies[0].settings[0]
        assert_mended(data, flight.findings, finding)
    assert all(one(flight.findings(flown(tables(10.0))), code).verdict == "pass"
               for code in ("flight.spiral-rule", "flight.rudder-roll", "flight.motion: spiral"))  # fmt: skip


def test_weathercock() -> None:
    """The slope of the yawing moment; a limit a little above it cautions, and a higher fin mends it."""
    value = one(flight.findings(flown(tables(8.0))), "flight.weathercock").value
    assert value is not None and value > 0.0
    data = tables(8.0, weathercock_low=1.1 * value)
    finding = one(flight.findings(flown(data)), "flight.weathercock")
    assert finding.verdict == "caution"
    assert finding.remedies[0].settings[0].startswith("tail.fin.height=")
    assert_mended(data, flight.findings, finding)


def test_a_fin_that_turns_its_tail_into_the_wind_fails() -> None:
    """The same slope turned round is no longer a weathercock."""
    aeroplane = flown(tables(8.0))
    trim = aeroplane.flight.cruise
    turned = replace(trim, derivatives=replace(trim.derivatives, table=-trim.derivatives.table))
    assert flight_course.weathercock(turned) == -flight_course.weathercock(trim)
    aeroplane.flight.cruise = turned
    assert (
        one(flight_course.findings(aeroplane, aeroplane.flight, Remedies(aeroplane)), "flight.weathercock").verdict
        == "fail"
    )


@pytest.mark.parametrize(
    ("doubles_s", "verdict"), [(8.0, "pass"), (4.01, "pass"), (3.99, "caution"), (0.9, "caution"), (0.7, "fail")]
)
def test_a_motion_that_grows(doubles_s: float, verdict: Verdict) -> None:
    """Cautions below 4 s; fails only where even a fifth less growth doubles within 1 s: 0.8 log 2 / 0.7 > log 2."""
    mode = Mode("spiral", complex(log(2.0) / doubles_s))
    assert flight_course.motion_verdict(mode, FlightLimits()) == verdict


def test_what_dies_away_passes_however_slowly() -> None:
    """Also where its band reaches into growing."""
    mode = Mode("phugoid", complex(-0.001, 0.9))
    assert flight_course.spread_per_s(mode) > 0.001
    assert flight_course.motion_verdict(mode, FlightLimits()) == "pass"


def test_the_band_of_a_slow_motion_is_told_in_seconds() -> None:
    """A spiral that halves in 7 s, its band just growing: 693 s to double are written out, not as a power of ten."""
    rate = -flight_course.RATE_SPREAD_PER_S + log(2.0) / 693.0
    assert "anything from doubled in 693 s to dying away" in flight_course.motion_words(Mode("spiral", complex(rate)))


def test_least_steps() -> None:
    """The first that passes, of those that pass from there on; none where the last does not, or is no design."""

    def beyond(least: int) -> bool:
        raise ValueError(f"{least} is no design")

    assert [least_steps(lambda count, n=n: count >= n, 40) for n in (1, 7, 40, 41)] == [1, 7, 40, None]  # type: ignore[misc]
    assert least_steps(beyond, 5) is None
    assert least_steps(lambda count: True, 0) is None


def test_no_remedy_is_solved_for_what_is_on_trial() -> None:
    """Verdicts and values are the same without remedies of wing and tail; only those are left out."""
    with_them, without = (flight.findings(flown(tables(0.0)), wanted) for wanted in (True, False))
    assert [(one.code, one.verdict, one.value) for one in with_them] == [(o.code, o.verdict, o.value) for o in without]
    lines = [remedy.settings for finding in without for remedy in finding.remedies]
    assert not any("dihedral" in line for settings in lines for line in settings)
