"""The command flight: slow-flight and stability estimates."""

from __future__ import annotations

import json
from pathlib import Path

import click

from viewers.shell import Ticker, bold, reads_config, weighed_aeroplane


@click.command(short_help="Estimate how slowly and how steadily it flies.")
@reads_config
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def flight(config: Path, settings: tuple[str, ...], no_cache: bool, as_json: bool) -> None:
    """Estimate how slowly CONFIG flies, whether it holds a course, what its power does, and its throws.

    Estimates from the drawing and published trends; no clearance to fly.
    """
    from airframe.balance.whole import balances
    from viewers import flight_json, flight_summary, flight_tables, terminal

    with Ticker(not as_json) as tell:
        aeroplane = weighed_aeroplane(config, settings, no_cache, tell)
        tell("finding where the battery may sit")
        found = balances(aeroplane)
        tell("solving the lattice")
        options = flight_summary.battery_options(aeroplane)
        told = flight_json.as_json(aeroplane, found, options) if as_json else {}
        shown = None if as_json else flight_summary.summary(aeroplane, found)
    if shown is None:
        click.echo(json.dumps(told))
        return
    click.echo(bold(aeroplane.design.name) + ": estimates\n")
    for table in shown.tables:
        click.echo(terminal.table_text(table, bold) + "\n")
    for note in (*shown.notes, *flight_tables.CAUTIONS):
        click.echo(note)
