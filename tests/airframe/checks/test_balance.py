"""Findings on balance: the range now, the reach of every case, and sideways."""

from __future__ import annotations

from typing import Any

import pytest

from airframe.axes import Array
from airframe.checks import balance
from airframe.checks.finding import Finding
from airframe.checks.ground import findings as ground_findings
from tests.fittings import MOTOR, gear_data
from tests.mending import assert_mended, data_with, flown, one

BATTERY = {
    "kind": "battery",
    "mass": "120 g",
    "size": ["60 mm", "30 mm", "20 mm"],
    "station": "60 mm",
    "water_line": "-20 mm",
    "tray_from": "8 mm",
    "tray_to": "112 mm",
}


def tables(**balance_table: Any) -> dict[str, Any]:
    """The plain design with motor and battery and this [balance]."""
    return data_with(equipment={"battery": BATTERY, "motor": MOTOR}, balance=balance_table)


def ranged(forward: float, aft: float) -> dict[str, Any]:
    """A range from so many mm behind the present balance point to so many."""
    behind = flown(tables()).cg_behind_leading_edge_mm
    return tables(forward=f"{behind + forward} mm", aft=f"{behind + aft} mm")


def asked(data: dict[str, Any]) -> list[Finding]:
    """All findings on balance."""
    return balance.findings(flown(data))


def test_in_range() -> None:
    """All pass, and nothing is proposed."""
    found = asked(ranged(-2.0, 2.0))
    assert [finding.verdict for finding in found] == ["pass"] * 3
    assert not any(finding.remedies for finding in found)
    assert one(found, "balance.range").value == pytest.approx(flown(tables()).cg_behind_leading_edge_mm, abs=1e-3)


@pytest.mark.parametrize(("low", "high", "words"), [(1.0, 5.0, "nose-heavy"), (-5.0, -1.0, "tail-heavy")])
def test_out_of_range_within_reach(low: float, high: float, words: str) -> None:
    """A range of the builder's own is failed; the battery can mend it, which the check says when asked again."""
    data = ranged(low, high)
    finding = one(asked(data), "balance.range")
    assert finding.verdict == "fail"
    assert words in finding.message
    assert one(asked(data), "balance.reach: battery").verdict == "pass"
    assert_mended(data, balance.findings, finding)


@pytest.mark.parametrize(("low", "high"), [(12.0, 16.0), (-20.0, -13.0)])
def test_out_of_reach(low: float, high: float) -> None:
    """Where no station of the tray will do, range and reach both fail; ballast mends both."""
    data = ranged(low, high)
    for code in ("balance.range", "balance.reach: battery"):
        finding = one(asked(data), code)
        assert finding.verdict == "fail"
        assert "ballast" in finding.remedies[0].text
        assert_mended(data, balance.findings, finding)


@pytest.mark.parametrize(
    ("low", "high", "words"), [(1.0, 5.0, "1.0 mm ahead of"), (-5.0, -0.02, "less than 0.1 mm aft")]
)
def test_it_is_told_by_how_much(low: float, high: float, words: str) -> None:
    """How far outside the range it is, and where that is less than a ruler shows, that it is."""
    assert words in one(asked(ranged(low, high)), "balance.range").message


def test_our_own_range_only_cautions_of_a_heavy_nose() -> None:
    """A default is our choice, so a heavy nose is a caution; a heavy tail fails all the same."""
    tail = data_with(equipment={"battery": BATTERY | {"station": "300 mm", "tray_to": "400 mm"}})
    assert one(asked(tail), "balance.range").verdict == "fail"
    nose = data_with(equipment={"battery": BATTERY | {"mass": "400 g"}, "motor": MOTOR})
    assert one(asked(nose), "balance.range").verdict == "caution"
    stated = nose | {"balance": {"forward": "25 %"}}
    assert one(asked(stated), "balance.range").verdict == "fail"


def test_other_cases_caution() -> None:
    """A battery that is owned but not in use, and cannot bring it into range, is a caution."""
    options = {"used": {"mass": "120 g", "size": BATTERY["size"]}, "spare": {"mass": "70 g", "size": BATTERY["size"]}}
    item = {key: value for key, value in BATTERY.items() if key not in ("mass", "size")} | {"options": options}
    data = ranged(-3.0, 3.0) | {"equipment": {"battery": item, "motor": MOTOR}}
    found = asked(data)
    assert one(found, "balance.reach: used").verdict == "pass"
    spare = one(found, "balance.reach: spare")
    assert spare.verdict == "caution"
    assert 'equipment.battery.use="spare"' in spare.remedies[0].settings
    assert_mended(data, balance.findings, spare)


def test_sideways() -> None:
    """40 g at 80 mm to the right: y = m d / M (closed form, to the plain design's symmetry); the battery goes left."""
    weight = {"mass": "40 g", "size": ["20 mm", "20 mm", "20 mm"], "station": "200 mm", "butt_line": "80 mm"}
    data = tables() | {"equipment": {"battery": BATTERY, "motor": MOTOR, "weight": weight | {"place": "outside"}}}
    finding = one(asked(data), "balance.sideways")
    whole = flown(data).statement.whole
    assert finding.value == pytest.approx(40.0 * 80.0 / whole.mass, abs=0.3)
    assert finding.verdict == "caution"
    assert "right" in finding.message
    assert_mended(data, balance.findings, finding)
    assert one(asked(tables()), "balance.sideways").message.endswith("on the centre plane.")


def test_no_battery() -> None:
    """Range and sideways are asked all the same; reach does not apply."""
    found = balance.findings(flown(data_with(equipment={"motor": MOTOR})))
    assert one(found, "balance.reach").verdict == "info"
    assert one(found, "balance.range").remedies == ()


def test_the_overturn_angle_is_the_ground_checks_own() -> None:
    """At the present balance point it is what the check on the ground says; without gear there is none."""
    aeroplane = flown(tables() | {"gear": gear_data()})
    angle = balance.overturn_of(aeroplane)
    assert angle is not None
    cg: Array = aeroplane.statement.whole.centre
    overturn = one(ground_findings(aeroplane), "ground.overturn")
    assert overturn.value == pytest.approx(angle(cg) * 57.29577951308232, abs=1e-3)
    assert balance.overturn_of(flown(tables())) is None
