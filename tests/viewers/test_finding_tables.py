"""Findings in words, in tables and as JSON."""

from __future__ import annotations

from dataclasses import replace

import pytest

from airframe.checks.finding import Finding, Remedy
from viewers import finding_lines, finding_tables, terminal

TIPPY = Finding(
    "ground.overturn",
    "fail",
    68.05,
    "deg",
    (None, 55.0),
    "It tips over.",
    "geometry",
    (Remedy("widen the track to 230 mm", ('gear.track="230 mm"',)), Remedy("lower the balance point by 60 mm")),
)
ROOM = Finding("propeller.ground", "pass", 39.6, "mm", (20.0, None), "The propeller clears the ground.", "our choice")
LINE = Finding("ground.wheel-line", "caution", 26.0, "deg", (16.0, 25.0), "It may swerve.", "a handbook")
NOTE = Finding("ground.lateral", "info", 0.405, "g", (None, None), "0.41 g tips it over.", "geometry")
ALL = (ROOM, NOTE, TIPPY, LINE)


def plain(text: str, *_: object) -> str:
    """No colour, no bold type."""
    return text


def test_the_worst_comes_first() -> None:
    """Cards, table and JSON all begin with what fails and end with what is only said."""
    order = ["ground.overturn", "ground.wheel-line", "propeller.ground", "ground.lateral"]
    assert [card.code for card in finding_tables.cards(ALL, "metric")] == order
    assert [row.cells[1] for row in finding_tables.findings_table(ALL, "metric").rows] == order
    assert [one["code"] for one in finding_tables.as_json("Plain", ALL)["findings"]] == order


@pytest.mark.parametrize(
    ("value", "limit", "text"),
    [
        (80.86, (57.7, 80.77), ", missed by 0.004 in"),  # 0.09 / 25.4 = 0.00354
        (57.66, (57.7, 80.77), ", missed by 0.002 in"),  # 0.04 / 25.4 = 0.00157
        (80.72, (57.7, 80.77), ""),
        (80.77, (57.7, 80.77), ""),
        (84.0, (57.7, 80.77), ""),
        (None, (57.7, None), ""),
    ],
)
def test_a_miss_that_the_figures_hide_is_told(value: float, limit: tuple[float, float], text: str) -> None:
    """Where value and limit read the same, by how much it is outside; nothing where it is inside, or can be seen."""
    finding = Finding("balance.range", "fail", value, "mm", limit, "It is tail-heavy.", "invented for a test")
    assert finding_tables.missed_text(finding, "imperial") == text
    assert finding_tables.cards([finding], "imperial")[0].limit.endswith(text or " in")
    assert finding_tables.missed_text(replace(finding, verdict="pass"), "imperial") == ""


def test_json_keeps_the_contract() -> None:
    """Keys, nulls and the worst verdict are those agreed."""
    data = finding_tables.as_json("Plain", ALL)
    assert list(data) == ["name", "verdict", "findings"]
    assert (data["name"], data["verdict"]) == ("Plain", "fail")
    assert data["findings"][0] == {
        "code": "ground.overturn",
        "verdict": "fail",
        "value": 68.05,
        "unit": "deg",
        "limit": [None, 55.0],
        "message": "It tips over.",
        "remedy": "widen the track to 230 mm or lower the balance point by 60 mm",
        "source": "geometry",
    }
    assert data["findings"][2]["remedy"] is None
    assert finding_tables.as_json("Plain", ()) == {"name": "Plain", "verdict": "info", "findings": []}


@pytest.mark.parametrize(
    ("value", "unit", "system", "text"),
    [
        (68.05, "deg", "imperial", "68 deg"),
        (39.6, "mm", "metric", "39.6 mm"),
        (25.4, "mm", "imperial", "1 in"),
        (0.405, "g", "imperial", "0.405 g"),
        (4.4704, "m/s", "imperial", "10 mph"),
        (1234.5, "mm", "metric", "1234 mm"),
        (0.25, "", "metric", "0.25"),
        (-0.0001, "mm", "metric", "-0.0001 mm"),
        (0.646, "mm^3", "imperial", "0.0000394 in^3"),
        (-4e-8, "mm", "imperial", "0 in"),
        (-0.0, "mm", "metric", "0 mm"),
        (None, "mm", "metric", ""),
    ],
)
def test_values_carry_their_unit(value, unit, system, text) -> None:
    """Three figures, in the units that the design shows; an acceleration in g is never taken for grams."""
    assert finding_tables.value_text(value, unit, system) == text


def test_limits_are_told_in_words() -> None:
    """A lower bound, an upper bound, both, none."""
    texts = [finding_tables.limit_text(finding.limit, finding.unit, "metric") for finding in (ROOM, TIPPY, LINE, NOTE)]
    assert texts == ["at least 20 mm", "at most 55 deg", "16 to 25 deg", ""]
    assert finding_tables.limit_text((25.4, 50.8), "mm", "imperial") == "1 to 2 in"
    assert finding_tables.limit_text((0.0, 0.0), "mm", "metric") == "should be 0 mm"


def test_a_setting_can_be_pasted_into_a_shell() -> None:
    """What holds blanks or quotes is quoted, and a single quote inside survives."""
    assert finding_tables.quoted("wing.scores=9") == "wing.scores=9"
    assert finding_tables.quoted('gear.track="230 mm"') == "'gear.track=\"230 mm\"'"
    assert finding_tables.quoted("a='b'") == "'a='\\''b'\\'''"


def test_summary_counts() -> None:
    """Each verdict with its number, in the singular where there is one."""
    assert finding_tables.summary(ALL) == "1 fails, 1 caution, 1 passes, 1 note"
    assert finding_tables.summary((ROOM, ROOM)) == "2 pass"
    assert finding_tables.summary(()) == "nothing to check"


def test_the_terminal_shows_what_to_do() -> None:
    """What fails has message, remedies with their settings, and source; what passes has one line."""
    lines = finding_lines.findings_text(finding_tables.cards(ALL, "metric"), plain, plain).splitlines()
    assert lines[0] == "FAIL     ground.overturn  68 deg, at most 55 deg"
    assert "         remedy: widen the track to 230 mm" in lines
    assert "             --set 'gear.track=\"230 mm\"'" in lines
    assert "         or: lower the balance point by 60 mm" in lines
    assert "pass     propeller.ground: 39.6 mm, at least 20 mm" in lines
    assert not any("our choice" in line for line in lines)


def test_every_finding_in_full() -> None:
    """On request those that pass have message and source too, and no line is wider than asked."""
    cards = finding_tables.cards(ALL, "metric")
    lines = finding_lines.findings_text(cards, plain, plain, every=True, width=60).splitlines()
    assert any("our choice" in line for line in lines)
    assert max(map(len, lines)) <= 60


def test_the_table_fits_a_terminal() -> None:
    """It is a table like any other."""
    text = terminal.table_text(finding_tables.findings_table(ALL, "metric"), lambda words: words, width=100)
    assert "FAIL" in text and "68 deg" in text
