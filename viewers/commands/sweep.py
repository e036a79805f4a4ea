"""The command sweep: many variants of one design, as a table, a file and a plot."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.commands.outputs import wrong_with
from viewers.plot_files import ENDINGS
from viewers.shell import FAILING, Refusal, Ticker, Workshop, bold, reads_config, workshop

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from airframe.model import Aeroplane
    from airframe.sweep.journal import Journal
    from airframe.sweep.plan import Plan
    from airframe.sweep.rows import Table
    from airframe.sweep.whole import Sweep

TABLES = (".csv", ".parquet")
PARTIAL = ".partial"
"""In the name of an output that is not whole, before its ending."""
STOPPED = 130
CONNECT_S = 10
"""How long a scheduler is waited for."""


def _listing(context: click.Context, _option: click.Parameter, codes: tuple[str, ...]) -> tuple[str, ...]:
    """Every code by its subject, where help is asked for."""
    if "help" in codes:
        from viewers.sweep_tables import measures_text

        click.echo(measures_text())
        context.exit()
    return codes


@click.command(short_help="Try many variants at once: table, file, plot.")
@reads_config
@click.argument("keys", nargs=-1, required=True, metavar="KEY=FROM:TO:N|KEY=a,b,c...")
@click.option(
    "--measure",
    "codes",
    metavar="CODE,...",
    multiple=True,
    is_eager=True,
    callback=_listing,
    help="What to ask of each variant; 'help' lists the codes.",
)
@click.option("--zip", "is_paired", is_flag=True, help="Pair the keys' values one to one instead of every combination.")
@click.option("-o", "output", type=click.Path(path_type=Path), help="Write the table: .csv or .parquet.")
@click.option("--plot", "picture", type=click.Path(path_type=Path), help="Write a plot: .png or .svg.")
@click.option("--workers", type=click.IntRange(1, 256), help="Processes to share the work; by itself, one a processor.")
@click.option("--cluster", metavar="ADDRESS", help="Share the work on a running Dask cluster.")
@click.option("--resume", is_flag=True, help="Go on where an interrupted sweep with the same -o stopped.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of a table.")
def sweep(
    config: Path,
    settings: tuple[str, ...],
    no_cache: bool,
    keys: tuple[str, ...],
    codes: tuple[str, ...],
    is_paired: bool,
    output: Path | None,
    picture: Path | None,
    workers: int | None,
    cluster: str | None,
    resume: bool,
    as_json: bool,
) -> None:
    """Try many variants of CONFIG: every value of each key with every value of the others.

    A key is one of --set, its values FROM:TO:N (N of them, both ends included) or a list, with units:

    \b
      airframe sweep kestrel.toml gear.track="200 mm:300 mm:11" --measure ground.overturn,mass
      airframe sweep kestrel.toml equipment.battery.use=2-cell,3-cell -o batteries.csv

    Measures are mass, cg.station, cg.behind_leading_edge, cg.percent_mac, cg.butt_line, cg.water_line,
    inertia.roll, .pitch, .yaw and .product, parts.GROUP.mass, and the code of any finding of 'check', with .verdict
    behind it for its verdict; --measure help lists them all. A variant that cannot be built is a row that says why.
    Ctrl-C keeps what is done.
    """
    from airframe.sweep.whole import Sweep
    from viewers import sweep_tables

    wrong = _wrong_names(output, picture, resume)
    with Ticker(not as_json) as tell, ExitStack() as stack:
        asked = [code.strip() for several in codes for code in several.split(",")]
        here = workshop(settings, no_cache, tell)
        plan, aeroplane = _planned(here, config, keys, asked, is_paired, picture is not None, wrong)
        made = Sweep(plan, aeroplane, not no_cache, lambda done, count: tell(f"{done} of {count} variants"))
        executor, count = _on_cluster(cluster, stack) if cluster is not None else (None, workers)
        journal = _journal(made, output, resume)
        is_stopped = _run(made, count, executor) and not made.table.is_whole
    if output is not None:
        _write(made.table, output)
    if journal is not None:
        journal.close() if is_stopped else journal.remove()
    _tell(made.table, as_json)
    if picture is not None and made.table.rows:
        _draw(made.table, picture)
    if is_stopped:
        _tell_stopped(made.table, output)
        sys.exit(STOPPED)
    why = sweep_tables.why_none(made.table)
    if why:
        click.echo(f"airframe: {why}", err=True)
        sys.exit(FAILING)


def _planned(
    here: Workshop,
    config: Path,
    keys: Sequence[str],
    asked: Sequence[str],
    is_paired: bool,
    is_drawn: bool,
    wrong: list[str],
) -> tuple[Plan, Aeroplane]:
    """What is to be done, and to what. Raises Refusal with all that is wrong, what was known to be so first."""
    from airframe.config import ConfigError
    from airframe.sweep.keys import all_typed
    from airframe.sweep.plan import planned
    from viewers import sweep_plots

    try:
        loaded = here.read(config)
        aeroplane = here.aeroplane(loaded)
        plan = planned(loaded, aeroplane, all_typed(keys), asked, is_paired)
        if is_drawn:
            sweep_plots.check(plan.axes, is_paired)
    except (ConfigError, sweep_plots.PlotError) as error:
        raise Refusal("\n".join([*wrong, str(error)])) from error
    if wrong:
        raise Refusal("\n".join(wrong))
    return plan, aeroplane


def _wrong_names(output: Path | None, picture: Path | None, resume: bool) -> list[str]:
    found = [*wrong_with("-o", output, TABLES), *wrong_with("--plot", picture, ENDINGS)]
    if resume and output is None:
        found.append("--resume needs the -o FILE of the sweep that is to go on")
    return found


def _journal(made: Sweep, output: Path | None, resume: bool) -> Journal | None:
    """Where finished rows are kept while the sweep runs; those of an interrupted one are taken up."""
    from airframe.sweep.journal import Journal

    if output is None:
        return None
    made.journal = Journal(output, made.plan)
    if resume:
        made.recall(made.journal.resume())
        return made.journal
    kept = made.journal.kept()
    if kept:
        message = (
            f"{made.journal.path} keeps {kept} variants of this sweep, which was interrupted: add --resume to go on, "
            "or remove that file to start anew"
        )
        raise Refusal(message)
    made.journal.begin()
    return made.journal


def _run(made: Sweep, workers: int | None, executor: Executor | None) -> bool:
    """Whether it was stopped by Ctrl-C before all was done."""
    try:
        made.run(workers, executor)
    except KeyboardInterrupt:
        return True
    return False


def _on_cluster(address: str, stack: ExitStack) -> tuple[Executor, int]:
    """The executor of a running cluster, and how many variants it works on at a time."""
    try:
        from distributed import Client
    except ImportError:
        message = "--cluster needs the extra 'cluster': pip install 'airframe[cluster]'"
        raise Refusal(message) from None
    try:
        client = stack.enter_context(Client(address, timeout=CONNECT_S))
    except (OSError, ValueError) as error:
        message = f"--cluster {address}: no Dask scheduler answers there ({error})"
        raise Refusal(message) from None
    count = sum(client.nthreads().values())
    if count == 0:
        message = f"--cluster {address}: the scheduler has no workers"
        raise Refusal(message)
    return client.get_executor(pure=False), count


def _write(result: Table, output: Path) -> None:
    """Write the table, whole or under a name that says that it is not."""
    from airframe.sweep import forms
    from airframe.writing import write_whole

    form = forms.csv_bytes if output.suffix.lower() == ".csv" else forms.parquet_bytes
    write_whole(output if result.is_whole else partial_name(output), form(result))
    if result.is_whole:
        partial_name(output).unlink(missing_ok=True)


def _draw(result: Table, picture: Path) -> None:
    """Write the plot; of an interrupted sweep under a name that says so."""
    from airframe.writing import write_whole
    from viewers import plot_files, sweep_plots

    data = plot_files.data(sweep_plots.plot(result), f"Variants of {result.name}", picture.suffix)
    write_whole(picture if result.is_whole else partial_name(picture), data)


def partial_name(path: Path) -> Path:
    """ "tracks.csv" -> "tracks.partial.csv"."""
    return path.with_suffix(PARTIAL + path.suffix)


def _tell(result: Table, as_json: bool) -> None:
    if as_json:
        from airframe.sweep import forms

        click.echo(json.dumps(forms.to_json(result)))
        return
    from viewers import sweep_tables, terminal

    click.echo(bold(result.name))
    click.echo(terminal.table_text(sweep_tables.table(result), bold, terminal.screen_width()) + "\n")
    for note in sweep_tables.notes(result):
        click.echo(note)


def _tell_stopped(result: Table, output: Path | None) -> None:
    text = f"stopped: {len(result.rows)} of {result.count} variants are done"
    if output is not None:
        text += f" and in {partial_name(output)}; the same command with --resume goes on"
    click.echo(text, err=True)
