"""What is proposed for swinging the aeroplane at home."""

from __future__ import annotations

import pytest

import airframe
from tests.benchmarks.measured import TEASEL
from viewers.balance_tables import chances_table
from viewers.swing_tables import relative_error, swing_table


def test_strings_fit_a_room() -> None:
    """For every axis the strings are between half a metre and two and a half, swinging once in one to three seconds."""
    table = swing_table(airframe.load(TEASEL))
    assert [row.cells[0] for row in table.rows] == ["roll", "pitch", "yaw"]
    for row in table.rows:
        _, _, strings, apart, period, _, _ = row.cells
        assert 500.0 < float(strings) < 2500.0
        assert float(strings) == pytest.approx(3.0 * float(apart), abs=0.5)
        assert 1.0 < float(period) < 3.0


def test_more_swings_tell_more() -> None:
    """The share left unsure falls with the number of swings timed."""
    aeroplane = airframe.load(TEASEL)
    assert relative_error(aeroplane, 20) == pytest.approx(relative_error(aeroplane, 10) / 2.0)


def test_chances_are_sure_where_nothing_is_uncertain() -> None:
    """With no uncertainty each case is certainly in range or certainly not, as the cases table says."""
    from airframe.balance.whole import balances

    found = balances(airframe.load(TEASEL))
    rows = {row.cells[0]: row.cells[1:] for row in chances_table(found, 0.0).rows}
    for answer in found.answers:
        x, target = answer.now.cg_mm[0], answer.target
        now = target.forward_mm <= x <= target.aft_mm
        assert rows[answer.case.name] == (f"{100 * now}", f"{100 * bool(answer.in_range)}")
