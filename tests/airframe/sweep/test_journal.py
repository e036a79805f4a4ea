"""What is done of a sweep outlives it, and is taken up by the same sweep only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf
from pathlib import Path

import pytest

from airframe.model import Aeroplane
from airframe.sweep.engines import SweepError
from airframe.sweep.journal import Journal
from airframe.sweep.plan import Plan
from airframe.sweep.rows import Row
from airframe.sweep.whole import Sweep
from airframe.writing import WriteError
from tests.airframe.sweep.plans import plan, small

KEYS = ("gear.track=150 mm:210 mm:5",)


def _sweep(made: Plan, journal: Journal | None = None) -> Sweep:
    return Sweep(made, Aeroplane.loaded(made.base), journal=journal)


class _Stopping(Sweep):
    """Ctrl-C after the second row."""

    def keep(self, rows: Sequence[Row]) -> None:
        """As ever, but stop."""
        super().keep(rows)
        if len(self.table.rows) == 2:
            raise KeyboardInterrupt


def test_an_interrupted_sweep_goes_on(tmp_path: Path) -> None:
    """Stopped after two variants, taken up in a new process's place: the table is that of one run, none done twice."""
    made = plan(small(), *KEYS, codes=("mass", "ground.overturn", "ground.overturn.verdict"))
    journal = Journal(tmp_path / "out.csv", made)
    journal.begin()
    first = _Stopping(made, Aeroplane.loaded(made.base), journal=journal)
    with pytest.raises(KeyboardInterrupt):
        first.run(workers=1)
    journal.close()
    again = Journal(tmp_path / "out.csv", made)
    second = _sweep(made, again)
    second.recall(again.resume())
    assert second.table.rows == first.table.rows
    counted: list[int] = []
    second.progress = lambda done, count: counted.append(done)
    second.run(workers=1)
    alone = _sweep(made)
    alone.run(workers=1)
    assert second.table == alone.table
    assert counted == [3, 4, 5]
    again.remove()
    assert list(tmp_path.iterdir()) == []


def test_rows_come_back_to_the_last_digit(tmp_path: Path) -> None:
    """Numbers, words, nothing, infinity and messages survive the file; a line cut short by a power cut does not."""
    made = plan(small(), *KEYS)
    rows = [
        Row(3, made.values(3), {"mass": 0.1 + 0.2, "a": None, "b": inf, "c": "pass"}, "pass"),
        Row(0, made.values(0), {}, None, 'camera: does not fit, so "so"\nor so'),
    ]
    journal = Journal(tmp_path / "out.csv", made)
    journal.begin()
    journal.add(rows)
    journal.close()
    whole = journal.path.read_text()
    journal.path.write_text(whole + '[1, "pa')
    again = Journal(tmp_path / "out.csv", made)
    assert again.resume() == rows
    again.close()
    assert journal.path.read_text() == whole


def test_another_sweep_is_refused(tmp_path: Path) -> None:
    """Another design, a file of somebody else's: a clear message, and the file stays as it is."""
    made = plan(small(), *KEYS)
    journal = Journal(tmp_path / "out.csv", made)
    journal.begin()
    journal.close()
    before = journal.path.read_bytes()
    base = small()
    heavier = replace(base, data={**base.data, "name": "Another"})
    with pytest.raises(SweepError, match="another design, other keys"):
        Journal(tmp_path / "out.csv", plan(heavier, *KEYS)).resume()
    assert journal.path.read_bytes() == before
    journal.path.write_text("shopping list\n")
    with pytest.raises(SweepError, match="without --resume"):
        Journal(tmp_path / "out.csv", made).resume()
    assert journal.path.read_text() == "shopping list\n"


def test_nothing_to_resume_is_a_beginning(tmp_path: Path) -> None:
    """Without a journal a resumed sweep begins; without a folder it says so."""
    made = plan(small(), *KEYS)
    journal = Journal(tmp_path / "out.csv", made)
    assert journal.resume() == []
    journal.close()
    assert journal.path.exists()
    with pytest.raises(WriteError, match="no such file or directory"):
        Journal(tmp_path / "absent" / "out.csv", made).begin()


def test_what_is_kept_is_known_without_taking_it_up(tmp_path: Path) -> None:
    """Rows of this very sweep are counted; those of another, or none, are not."""
    made, other = plan(small(), *KEYS), plan(small(), "gear.track=150 mm:200 mm:5")
    journal = Journal(tmp_path / "out.csv", made)
    assert journal.kept() == 0
    journal.begin()
    journal.add([Row(0, made.values(0), {"mass": 1.0}), Row(1, made.values(1), {"mass": 2.0})])
    journal.close()
    assert Journal(tmp_path / "out.csv", made).kept() == 2
    assert Journal(tmp_path / "out.csv", other).kept() == 0
