"""The command flight: slow-flight and stability estimates."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from viewers.shell import Ticker, Workshop, bold, reads_config, workshop

if TYPE_CHECKING:
    from airframe.balance.whole import Balances
    from airframe.model import Aeroplane


@click.command(short_help="Estimate how slowly and how steadily it flies.")
@reads_config
@click.option("--against", type=click.Path(path_type=Path), help="A prototype: tell what changed, and what drives it.")
@click.option(
    "--charts",
    "folder",
    type=click.Path(path_type=Path),
    help="Draw it too: SVG files in this folder, made if need be.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def flight(
    config: Path, settings: tuple[str, ...], no_cache: bool, against: Path | None, folder: Path | None, as_json: bool
) -> None:
    """Estimate how slowly CONFIG flies, whether it holds a course, what its power does, and its throws.

    Estimates from the drawing and published trends; no clearance to fly. --set changes CONFIG only.
    """
    from airframe.balance.whole import balances
    from airframe.writing import check_folder

    if folder is not None:
        check_folder(folder)
    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        aeroplane = here.aeroplane(here.read(config))
        then = Workshop((), here.store, tell)
        old = None if against is None else then.aeroplane(then.read(against))
        tell("estimating")
        found = balances(aeroplane)
        lines = [json.dumps(_object(aeroplane, found, old))] if as_json else _lines(aeroplane, found, old)
        drawn = [] if folder is None else _drawn(aeroplane, found, old, folder, tell)
    for line in lines:
        click.echo(line)
    for words in drawn:
        click.echo(words, err=as_json)


def _object(aeroplane: Aeroplane, found: Balances, old: Aeroplane | None) -> dict[str, Any]:
    from viewers import flight_json, flight_summary

    told = flight_json.as_json(aeroplane, found, flight_summary.battery_options(aeroplane))
    return told if old is None else told | {"against": flight_json.against(old, aeroplane)}


def _lines(aeroplane: Aeroplane, found: Balances, old: Aeroplane | None) -> list[str]:
    from viewers import flight_summary, flight_tables, terminal

    shown = [flight_summary.summary(aeroplane, found)]
    if old is not None:
        shown.append(flight_summary.changes(old, aeroplane))
    tables = [terminal.table_text(table, bold) + "\n" for one in shown for table in one.tables]
    notes = [f"{note[:1].upper()}{note[1:]}." for one in shown for note in one.notes]
    return [bold(aeroplane.design.name) + ": estimates\n", *tables, *notes, *flight_tables.CAUTIONS]


def _drawn(aeroplane: Aeroplane, balanced: Balances, old: Aeroplane | None, folder: Path, tell: Ticker) -> list[str]:
    """Write the charts, all or none; in words what was written, and what could not be drawn.

    A chart of ours from another time that could not be drawn now is removed: it would tell of another aeroplane.
    """
    from airframe.writing import remove, write_folder
    from viewers.flight_charts.whole import NAMES, charts
    from viewers.staging import stage

    tell("drawing")
    found = charts(aeroplane, stage(aeroplane), balanced, old)
    written = write_folder(folder, {f"{chart.name}.svg": chart.svg.encode() for chart in found.shown})
    for name in set(NAMES) - {chart.name for chart in found.shown}:
        remove(folder / f"{name}.svg")
    return [*found.missing, f"wrote {len(written)} charts to {folder}"]
