"""The command sweep, its table and its plots."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result

import airframe
from airframe.sweep.keys import Axis, typed
from airframe.sweep.measures import codes, measure
from airframe.sweep.rows import Row, Table
from airframe.sweep.whole import Sweep
from viewers import sweep_plots, sweep_tables, weight_json
from viewers.cli import cli
from viewers.commands.sweep import partial_name
from viewers.plot_files import png
from viewers.sweep_plots import PlotError, check, stretches

ROOT = Path(__file__).parent.parent.parent
TEASEL = ROOT / "configs" / "teasel-mk2.toml"


def run(*arguments: str) -> Result:
    return CliRunner().invoke(cli, ["sweep", str(TEASEL), *arguments])


def grid(*axes: Axis, fails: frozenset[int] = frozenset()) -> Table:
    """A made-up table over one or two keys: the mass is the sum of the keys."""
    sizes = [len(axis.values) for axis in axes]
    rows = []
    for number in range(int(np.prod(sizes))):
        values = tuple(axis.values[i] for axis, i in zip(axes, np.unravel_index(number, sizes), strict=True))
        mass = sum(value for value in values if isinstance(value, float))
        rows.append(Row(number, values, {"mass": mass}, "fail" if number in fails else "pass"))
    return Table("Plain", "metric", axes, (measure("mass"),), tuple(rows), len(rows))


def test_json_equals_single_runs() -> None:
    """Masses and balance points of `sweep --json` are those of `weigh --json --set`, to the last digit."""
    result = run(
        "equipment.battery.station=60 mm:80 mm:3",
        "--measure",
        "mass,cg.station",
        "--measure",
        "cg.percent_mac",
        "--json",
    )
    assert result.exit_code == 0, result.output
    for row, station in zip(json.loads(result.stdout)["rows"], (60, 70, 80), strict=True):
        alone = weight_json.as_json(airframe.load(TEASEL, [f'equipment.battery.station="{station} mm"']))
        assert row["values"]["equipment.battery.station"] == station * 1e-3
        expected = {"mass": alone["mass_kg"], "cg.station": alone["cg_m"][0], "cg.percent_mac": alone["cg_percent_mac"]}
        assert row["measures"] == expected


def test_file_and_plot_are_written(tmp_path: Path) -> None:
    """The CSV has a line for each variant, the plot is an SVG, no journal is left."""
    output, picture = tmp_path / "tracks.csv", tmp_path / "tracks.svg"
    result = run("gear.track=240 mm,260 mm", "-o", str(output), "--plot", str(picture), "--measure", "ground.overturn")
    assert result.exit_code == 0, result.output
    assert "2 variants: 1 pass, 1 fail" in result.stdout
    rows = list(csv.DictReader(output.read_text().splitlines()))
    assert [row["gear.track (mm)"] for row in rows] == ["240.0", "260.0"]
    assert [row["verdict"] for row in rows] == ["fail", "pass"]
    assert picture.read_text().startswith("<svg")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["tracks.csv", "tracks.svg"]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("gear.trakc=1 mm,2 mm", "--measure", "mas"), "did you mean 'track'"),
        (("gear.trakc=1 mm,2 mm", "--measure", "mas"), "did you mean 'mass'"),
        (("gear.track=1 mm,2 mm", "-o", "out.xls"), "must end in .csv or .parquet"),
        (("gear.track=1 mm,2 mm", "--plot", "out.pdf"), "must end in .png or .svg"),
        (("gear.track=1 mm,2 mm", "-o", "no-such-folder/out.csv"), "there is no folder no-such-folder"),
        (("gear.track=1 mm,2 mm", "--resume"), "--resume needs the -o FILE"),
        (("gear.track=240 mm,250 mm", "--cluster", "localhost:9"), "no Dask scheduler answers"),
    ],
)
def test_wrong_use_is_told_before_anything_runs(
    arguments: tuple[str, ...], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exit code 2 and a message that says what would do; no file is left."""
    monkeypatch.chdir(tmp_path)
    result = run(*arguments)
    assert result.exit_code == 2
    assert says in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_all_that_is_wrong_is_told_at_once(tmp_path: Path) -> None:
    """A key, a measure and two file names: five problems, one message."""
    result = run("gear.trakc=1 mm", "--measure", "mas", "-o", str(tmp_path / "no" / "out.xls"), "--plot", "a.pdf")
    assert result.exit_code == 2
    wanted = [".csv or .parquet", "there is no folder", ".png or .svg", "mean 'track'", "mean 'mass'"]
    assert [wish in line for wish, line in zip(wanted, result.stderr.splitlines(), strict=True)] == [True] * 5


def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before anything runs, for the plot too, which would be written last."""
    monkeypatch.setattr("os.access", lambda path, mode: mode != os.W_OK)
    result = run("gear.track=240 mm,250 mm", "--plot", str(tmp_path / "a.png"))
    assert result.exit_code == 2
    assert "nothing may be written in the folder" in result.stderr


def test_ctrl_c_with_the_last_row_finds_all_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where every variant was finished there is nothing to resume: the file is whole, and no journal is left."""
    output, work = tmp_path / "out.csv", Sweep.run

    def stopped(made: Sweep, *arguments: Any) -> None:
        work(made, *arguments)
        raise KeyboardInterrupt

    monkeypatch.setattr(Sweep, "run", stopped)
    result = run("gear.track=240 mm,260 mm", "--measure", "mass", "-o", str(output))
    assert (result.exit_code, result.stderr) == (0, "")
    assert [path.name for path in tmp_path.iterdir()] == ["out.csv"]


def test_the_legend_stands_clear_of_the_lines() -> None:
    """Lines that run from side to side leave no corner free: what names them is above their panel, however long."""
    axes = (typed("gear.track=200 mm:300 mm:5"), typed("equipment.battery.mass=80 g,90 g"), typed("wing.scores=4,6"))
    figure = sweep_plots.plot(grid(*axes))
    figure.canvas.draw()
    (panel,) = figure.axes
    legend = panel.get_legend()
    assert legend is not None and len(legend.get_texts()) == 4
    assert legend.get_window_extent().y0 > panel.get_window_extent().y1


def test_a_missing_extra_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the library of clusters the message says how to get it."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    result = run("gear.track=240 mm,250 mm", "--cluster", "localhost:9")
    assert result.exit_code == 2
    assert "pip install 'airframe[cluster]'" in result.stderr


STOPPED_HALF_WAY = """
import os, signal
from airframe.sweep.whole import Sweep
from viewers.cli import main

keep = Sweep.keep

def stopping(made, rows):
    keep(made, rows)
    if len(made.table.rows) > 2:
        Sweep.keep = keep  # once
        os.killpg(0, signal.SIGINT)

Sweep.keep = stopping
main()
"""
"""The command line, to which Ctrl-C comes, as to all its workers, as soon as three variants are done."""


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="no such signal")
def test_ctrl_c_keeps_what_is_done_and_resume_goes_on(tmp_path: Path) -> None:
    """Stopped half way: exit code 130 and a file marked partial; resumed: the whole file, equal to one run's."""
    output, whole = tmp_path / "out.csv", tmp_path / "whole.csv"
    keys = ["gear.track=200 mm:300 mm:24", "--measure", "mass,ground.overturn", "--workers", "2"]
    words = ["sweep", str(TEASEL), *keys]
    command = [sys.executable, "-m", "viewers.cli", *words]
    stopped = subprocess.run(
        [sys.executable, "-c", STOPPED_HALF_WAY, *words, "-o", str(output)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        start_new_session=True,
    )
    assert stopped.returncode == 130, stopped.stderr
    assert "--resume goes on" in stopped.stderr
    done = len(partial_name(output).read_text().splitlines()) - 1
    assert 0 < done < 24
    assert not output.exists()
    subprocess.run([*command, "-o", str(output), "--resume"], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    subprocess.run([*command, "-o", str(whole)], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    assert output.read_bytes() == whole.read_bytes()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out.csv", "whole.csv"]


def test_a_long_table_is_shortened() -> None:
    """The first and last variants are shown, those with the lowest and highest values, and gaps between."""
    made = grid(typed("gear.track=0 mm:999 mm:1000"))
    rows = (*made.rows[:500], Row(500, (500.0,), {"mass": -1.0}, "pass"), *made.rows[501:])
    shown = sweep_tables.table(Table("Plain", "metric", made.axes, made.measures, rows, 1000))
    cells = [row.cells for row in shown.rows]
    assert len(cells) == 2 * sweep_tables.ENDS + 1 + 2
    assert ("500", "-1.0000 ↓", "pass") in cells
    assert cells[-1] == ("999", "999.00 ↑", "pass")
    assert sum(cell[0] == "…" for cell in cells) == 2


def test_notes_say_where_the_extremes_are() -> None:
    """How many pass, and the lowest and highest with the variant that has them."""
    made = grid(typed("gear.track=240 mm,250 mm"), typed("equipment.battery.mass=80 g,90 g"), fails=frozenset({2}))
    assert sweep_tables.notes(made) == (
        "4 variants: 3 pass, 1 fail",
        "  mass: lowest 320.00 g at gear.track 240 mm, equipment.battery.mass 80 g, "
        "highest 340.00 g at gear.track 250 mm, equipment.battery.mass 90 g",
    )


def test_a_message_does_not_fill_the_screen() -> None:
    """A long message is cut in the table; the file has all of it."""
    made = grid(typed("gear.track=240 mm,250 mm"))
    lost = Row(1, (250.0,), {}, None, "camera: " + "far " * 50)
    shown = sweep_tables.table(Table("Plain", "metric", made.axes, made.measures, (made.rows[0], lost), 2))
    assert shown.rows[1].cells[-1].endswith("…")
    assert len(shown.rows[1].cells[-1]) == sweep_tables.LONGEST_MESSAGE
    assert f"  1 cannot be built: {lost.message}" in sweep_tables.notes(
        Table("Plain", "metric", made.axes, made.measures, (made.rows[0], lost), 2)
    )


@pytest.mark.parametrize(
    "keys",
    [
        ("gear.track=200 mm:300 mm:11",),
        ("equipment.battery.use=2-cell,3-cell",),
        ("gear.track=200 mm:300 mm:5", "fuselage.width=90 mm:99 mm:4"),
        ("gear.track=200 mm:300 mm:5", "fuselage.width=90 mm,95 mm"),
        ("gear.track=200 mm:300 mm:5", "equipment.battery.use=2-cell,3-cell"),
        ("gear.track=240 mm",),
    ],
)
def test_a_plot_shows_something(keys: tuple[str, ...]) -> None:
    """Lines over one key, lines of equal value over two, a point for one variant: ink on the paper."""
    from PIL import Image

    made = grid(*(typed(key) for key in keys), fails=frozenset({0, 1}))
    image = np.asarray(Image.open(BytesIO(png(sweep_plots.plot(made), 60))).convert("L"))
    assert (image < 100).mean() > 0.002


def test_too_many_lines_are_refused_before_the_sweep() -> None:
    """More lines than can be told apart, or three keys of numbers, do not go on paper."""
    with pytest.raises(PlotError, match="12 lines cannot be told apart"):
        check([typed(f"k{n}=1 mm:9 mm:{n}") for n in (5, 4, 3)], is_paired=False)
    check([typed(f"k{n}=1 mm:9 mm:5") for n in (5, 4, 3)], is_paired=True)


def test_stretches_of_passes() -> None:
    """Runs of neighbours that pass; none where none does."""
    assert stretches([True, True, False, True, False]) == [(0, 1), (3, 3)]
    assert stretches([False, False]) == []


def test_an_interrupted_sweep_is_not_thrown_away_unasked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without --resume it is refused, with both ways on, and what is kept stays; with it, it goes on."""
    output, keep = tmp_path / "out.csv", Sweep.keep
    command = ("gear.track=240 mm,260 mm", "--measure", "ground.overturn", "--workers", "1", "-o", str(output))

    def stopping(made: Sweep, rows: Sequence[Row]) -> None:
        keep(made, rows)
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(Sweep, "keep", stopping)
        assert run(*command).exit_code == 130
    journal = tmp_path / "out.csv.journal"
    kept = journal.read_bytes()
    again = run(*command)
    assert again.exit_code == 2
    assert "keeps 1 variants of this sweep" in again.stderr and "--resume" in again.stderr
    assert journal.read_bytes() == kept
    assert run(*command, "--resume").exit_code == 0


def test_where_nothing_can_be_built_it_fails() -> None:
    """Exit code 1 and the reason; one variant that can be is enough for 0."""
    none = run("equipment.battery.station=200 in,201 in", "--measure", "mass")
    assert none.exit_code == 1
    assert "none of the 2 variants can be built: battery: is an item outside the fuselage" in none.stderr
    assert run("equipment.battery.station=200 in,2 in", "--measure", "mass").exit_code == 0


def test_codes_are_listed_by_subject() -> None:
    """Without a key too: every code that is known without an aeroplane, under a heading; a wrong code points there."""
    listed = CliRunner().invoke(cli, ["sweep", str(TEASEL), "--measure", "help"])
    assert listed.exit_code == 0
    words = {word for line in listed.stdout.splitlines() for word in line.strip().split(", ")}
    assert {word.rstrip(",") for word in words} >= set(codes())
    assert "standing and tipping over:" in listed.stdout.splitlines()
    assert "--measure help lists them all" in run("gear.track=240 mm", "--measure", "mas").stderr


def test_a_raised_unit() -> None:
    """Inertia is in oz in² on the screen, as the weight statement has it."""
    axes = (typed("gear.track=10 in,11 in"),)
    made = Table("Plain", "imperial", axes, (measure("inertia.roll"),), (Row(0, (254.0,), {"inertia.roll": 1e6}),), 2)
    assert sweep_tables.table(made).columns[1].title == "inertia.roll (oz in²)"
