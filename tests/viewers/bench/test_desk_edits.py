"""Edits are laid over one another as --set lines are, and can be put over a file that has changed under them."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from airframe.config import ConfigError, from_dict, read
from airframe.schema.design import Design
from tests.viewers.bench.desks import CONFIGS, MK1, MK2, PLOVER
from viewers.bench.edits import Edits, edit, laid_over, rebased, toml, without_idle
from viewers.bench.edits import settings as lines_of
from viewers.bench.history import History

LINES = (
    'fuselage.width="80 mm"',
    'fuselage.width="3 in"',
    'fuselage.stations.0.top="35 mm"',
    'gear.track="9 in"',
    'gear.strut={ station = "141 mm" }',
    'gear.strut.station="142 mm"',
    'gear.strut="none"',
    'tail.elevator.hinge.gap="2 mm"',
    'tail.elevator.hinge={ gap = "3 mm" }',
    'wing.panels.0.dihedral="3 deg"',
    'wing.panels=[{ span = "18 in", dihedral = "2 deg" }]',
    'wing.incidence="1 deg"',
    'wing.spar.width="7 mm"',
    "wing.scores=6",
    'equipment.battery.station="45 mm"',
    "equipment.receiver.fitted=false",
    "finish.0.coats=3",
)
"""Keys in one another's way, and keys that are not."""


@cache
def _filed(name: str) -> tuple[Design, dict[str, object]]:
    loaded = read(CONFIGS / name)
    return loaded.design, loaded.data


def _edits(lines: list[str]) -> Edits:
    return laid_over((), (edit(line) for line in lines))


_LINES = st.lists(st.sampled_from(LINES), max_size=7)


@pytest.mark.parametrize("name", [MK1, MK2, PLOVER])
@settings(max_examples=15, deadline=None)
@given(lines=_LINES)
def test_laid_over_one_by_one_is_set_in_turn(name: str, lines: list[str]) -> None:
    """However edits replace one another, what is left gives the design that all lines in turn give."""
    design, data = _filed(name)
    edits = without_idle(_edits(lines), design, data)
    assert len(edits) <= len(set(lines))
    try:
        expected = from_dict(data, lines)
    except ConfigError:
        return
    assert from_dict(data, lines_of(edits)) == expected


@pytest.mark.parametrize("name", [MK1, PLOVER])
@settings(max_examples=15, deadline=None)
@given(kept=_LINES, saved=_LINES)
def test_rebased_edits_give_what_they_gave(name: str, kept: list[str], saved: list[str]) -> None:
    """A variant, put over the file in which other edits were saved, is the design it was before."""
    design, data = _filed(name)
    edits, written = _edits(kept), _edits(saved)
    try:
        expected = from_dict(data, lines_of(edits))
        new = read(CONFIGS / name, lines_of(written))
    except ConfigError:
        assume(False)
    there = without_idle(rebased(edits, written, design, data), new.design, new.data)
    assert from_dict(new.data, lines_of(there)) == expected


def test_a_part_of_an_edited_table_is_not_idle() -> None:
    """A value that is the filed one still counts where the table round it was replaced by an edit."""
    design, data = _filed(MK1)
    edits = _edits(['wing.panels=[{ span = "300 mm" }]', 'wing.panels.0.span="330 mm"'])
    assert without_idle(edits, design, data) == edits


def test_values_as_toml() -> None:
    """Any value goes through TOML unchanged; what is left out is told in a word."""
    value = {"a b": [1, 2.5, {"c": 'quoted "in" it', "d": True}], "e": "µ\\n"}
    assert edit(f"x={toml(value)}").value == value
    assert toml(None) == '"none"'


@given(st.lists(st.sampled_from(["step", "stroke", "undo", "redo"]), max_size=30))
def test_history_is_a_line_of_states(moves: list[str]) -> None:
    """Against a plain list with a finger on it: undo and redo move the finger, a step cuts off what is beyond."""
    history, line, finger, now, last = History(), [0], 0, 0, None
    edits = {number: (edit(f"wing.scores={number}"),) for number in range(40)}
    for number, move in enumerate(moves, 1):
        if move in ("step", "stroke"):
            history.step(edits[now], move, "same" if move == "stroke" else None)
            is_more = move == "stroke" and last == "stroke"
            line = [*line[: finger + (0 if is_more else 1)], number]
            finger, now = len(line) - 1, number
        elif move == "undo" and finger > 0:
            finger -= 1
            assert history.undo(edits[now]) == edits[line[finger]]
            now = line[finger]
        elif move == "redo" and finger < len(line) - 1:
            finger += 1
            assert history.redo(edits[now]) == edits[line[finger]]
            now = line[finger]
        else:
            continue
        last = move
        assert (len(history.past), len(history.future)) == (finger, len(line) - 1 - finger)
