"""Flight on screen: tables that say what the estimates say, in either system, and what could not be told."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

import airframe
from airframe.balance.margins import CaseMargins, Place, case_margins
from airframe.balance.whole import balances
from viewers import flight_tables
from viewers.cli import cli
from viewers.flight_summary import summary

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
    """The third demo states no motor: one note says what is missing, every other table is there."""
    aeroplane = airframe.load(CONFIGS / "plover.toml")
    shown = summary(aeroplane, balances(aeroplane))
    assert len(shown.notes) == 1
    assert "kv" in shown.notes[0]
    assert not any(table.title.startswith("power on") for table in shown.tables)
    assert all(len(row.cells) == len(table.columns) for table in shown.tables for row in table.rows)


def test_the_command_prints_one_object() -> None:
    """With --json nothing but the object; bands are ordered."""
    result = CliRunner().invoke(cli, ["flight", str(CONFIGS / "teasel-mk2.toml"), "--json"])
    told = json.loads(result.stdout)
    assert result.exit_code == 0
    assert told["held"] is True
    assert told["stall_speed_m_s"] == sorted(told["stall_speed_m_s"])
    assert told["static_margins"][0]["now"]["static_margin"] == pytest.approx(told["static_margin"], abs=1e-12)
