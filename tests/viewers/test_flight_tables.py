"""Flight on screen: tables that say what the estimates say, in either system, and what could not be told."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

import airframe
from airframe.balance.margins import CaseMargins, Place, case_margins
from airframe.balance.whole import balances
from viewers import flight_level_tables, flight_tables
from viewers.cli import cli
from viewers.flight_summary import changes, summary

CONFIGS = Path(__file__).parents[2] / "configs"


def test_margins_of_every_case_in_percent_and_at_their_stations() -> None:
    """A line a case; the middle column is the static margin as it balances now."""
    aeroplane = airframe.load(CONFIGS / "teasel-mk2.toml")
    found = case_margins(balances(aeroplane), aeroplane.flight.neutral_point_mm)
    table = flight_tables.margins_table(found, "metric")
    assert [row.cells[0] for row in table.rows] == [one.case for one in found]
    assert table.rows[0].cells[2] == f"{100.0 * aeroplane.flight.static_margin():.0f} at 48.0"


@pytest.mark.parametrize(
    ("margin", "word"),
    [(-0.01, "TAIL-HEAVY"), (0.03, "twitchy"), (0.08, "lively"), (0.15, "steady"), (0.3, "very steady")],
)
def test_a_margin_in_words(margin: float, word: str) -> None:
    """From tail-heavy to very steady; a tray without room says so."""
    table = flight_tables.margins_table([CaseMargins("battery", Place(40.0, margin), None, None)], "imperial")
    assert table.rows[0].cells[1] == "no room"
    assert table.rows[0].cells[4].startswith(word)


def test_what_is_not_stated_is_a_note_and_not_a_table() -> None:
    """The third demo states neither motor nor servos: a note for each says what is missing, other tables are there."""
    aeroplane = airframe.load(CONFIGS / "plover.toml")
    shown = summary(aeroplane, balances(aeroplane))
    power, controls = shown.notes
    assert "kv" in power
    assert (
        controls.startswith("where the table of controls has –")
        and "state the elevator servo's arm and torque" in controls
    )
    assert not any(table.title.startswith("power on") for table in shown.tables)
    assert all(len(row.cells) == len(table.columns) for table in shown.tables for row in table.rows)


def test_a_design_without_a_battery_says_so() -> None:
    """The note names what is missing, in the tables and in the object."""
    aeroplane = airframe.load(CONFIGS / "teasel-mk2.toml", ["equipment.battery.fitted=false"])
    assert "no power figures: the design has no battery" in summary(aeroplane, balances(aeroplane)).notes
    setting = ["--set", "equipment.battery.fitted=false", "--json"]
    result = CliRunner().invoke(cli, ["flight", str(CONFIGS / "teasel-mk2.toml"), *setting])
    assert json.loads(result.stdout)["power"] == {"": "the design has no battery"}


def test_tables_judge_by_the_limits_of_the_design() -> None:
    """A builder's own limits of push-rod, tail, spiral and rudder are those of the tables."""
    own = {"push_rod_margin": 9.0, "tail_volume_low": 0.4, "fin_volume_high": 0.06, "spiral_low": 6.9}
    own |= {"rudder_roll_low": 0.12, "margin_low": '"7 %"'}
    aeroplane = airframe.load(
        CONFIGS / "teasel-mk2.toml", [f"limits.flight.{key}={value}" for key, value in own.items()]
    )
    tables = summary(aeroplane, balances(aeroplane)).tables
    rows = {row.cells[0]: row.cells for table in tables for row in table.rows}
    assert rows["elevator"][-1] == "wants 5, or thicker wire"  # 3 lengths bear 2.9 times, so 6 do 9: 2.9 (6/3)^2 = 12
    assert rows["tail volume, horizontal"][2] == "0.40 to 0.80 is usual"
    assert rows["tail volume, vertical"][2] == "0.020 to 0.060 is usual"
    assert rows["spiral rule (above 6.9: dies away)"][2].startswith("a bank grows")
    assert "0.12 to 0.20" in rows["turning by rudder alone, figure"][2]
    assert "balance for a margin of 7 %" in rows


def test_level_flight_ends_where_the_motor_ends() -> None:
    """No speed beyond the top of level flight's band is told; without a motor's data every one is."""
    for name, is_known in (("teasel-mk2", True), ("plover", False)):
        flight = airframe.load(CONFIGS / f"{name}.toml").flight
        told = flight_level_tables.level_table(flight, "metric").rows
        assert (flight.top_speed_m_s is not None) == is_known
        assert float(told[-1].cells[0].split(" ")[0]) <= flight.fastest_m_s or not is_known
        assert (len(told) < len(flight.level)) == is_known


def test_a_builder_in_inches_reads_no_metres() -> None:
    """The third demo's tables are in mph, ft, oz and in throughout; its loading is its mass over its area."""
    aeroplane = airframe.load(CONFIGS / "plover.toml")
    tables = summary(aeroplane, balances(aeroplane)).tables
    cells = [cell for table in tables for row in table.rows for cell in row.cells]
    assert not [cell for cell in cells if re.search(r"\d (m|mm|m/s|N|g/dm²|kg/m³)\b", cell)]
    (loading,) = [row.cells[1] for row in tables[0].rows if row.cells[0] == "wing loading"]
    mean = aeroplane.layout.mean_chord
    ounces, feet = aeroplane.statement.whole.mass / 28.349523125, mean.area_mm2 / 304.8**2
    assert float(loading.split(" ")[0]) == pytest.approx(ounces / feet, abs=0.051)


def test_the_command_prints_one_object() -> None:
    """With --json nothing but the object; bands are ordered."""
    result = CliRunner().invoke(cli, ["flight", str(CONFIGS / "teasel-mk2.toml"), "--json"])
    told = json.loads(result.stdout)
    assert result.exit_code == 0
    assert told["held"] is True
    assert told["stall_speed_m_s"] == sorted(told["stall_speed_m_s"])
    assert told["static_margins"][0]["now"]["static_margin"] == pytest.approx(told["static_margin"], abs=1e-12)


def test_a_redesign_beside_its_prototype() -> None:
    """Every motion of both in seconds, and causes in percent that add up as rounded."""
    old, new = (airframe.load(CONFIGS / f"{name}.toml") for name in ("teasel-mk1", "teasel-mk2"))
    figures, motions, causes, parts = changes(old, new).tables
    assert [column.title for column in figures.columns[1:]] == ["Teasel Mk 1", "Teasel Mk 2"]
    assert motions.rows[0].cells[0] == "short period, one swing"
    assert motions.rows[0].cells[1].startswith(f"{old.flight.modes[0].period_s:.2g}")
    assert sum(row.kind == "group" for row in parts.rows) == 5
    total = 0.0
    for row in causes.rows[1:]:
        value = float(row.cells[2].split(" ")[0])
        if row.kind == "total":
            assert value == pytest.approx(total, abs=0.051 * 12)
            break
        total += value


def test_a_motion_that_turns_from_dying_to_growing_is_told() -> None:
    """Without any dihedral a bank grows: the word stands out, and both times say what they are."""
    mk2 = CONFIGS / "teasel-mk2.toml"
    new = airframe.load(mk2, ['wing.panels.1.dihedral="0 deg"'])
    table = changes(airframe.load(mk2), new).tables[1]
    (spiral,) = [row.cells for row in table.rows if row.cells[0].startswith("spiral")]
    assert spiral[1].startswith("half gone in")
    assert spiral[2].startswith("doubles in")
    assert spiral[3] == "GROWS now"


def test_against_is_in_the_object_too() -> None:
    """With --against the prototype's name and every motion of both."""
    paths = [str(CONFIGS / f"teasel-{name}.toml") for name in ("mk2", "mk1")]
    result = CliRunner().invoke(cli, ["flight", paths[0], "--against", paths[1], "--json"])
    told = json.loads(result.stdout)["against"]
    assert told["name"] == "Teasel Mk 1"
    assert [one["name"] for one in told["motions"]][-1] == "spiral"
    assert all(one["shares"] for one in told["motions"])
