"""The command balance: where each battery may sit."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.shell import Refusal, Ticker, bold, reads_config, workshop

if TYPE_CHECKING:
    from airframe.model import Aeroplane


@click.command(short_help="Show where each battery may sit; ballast if none will do.")
@reads_config
@click.option("--chart", type=click.Path(path_type=Path), help="Write the chart of balance against tray station: .svg.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def balance(config: Path, settings: tuple[str, ...], no_cache: bool, chart: Path | None, as_json: bool) -> None:
    """Show where each battery of CONFIG may sit on its tray so that the aeroplane balances; ballast if none will do."""
    if chart is not None and chart.suffix.lower() != ".svg":
        raise Refusal(f"cannot draw to '{chart.name}'; the name of the chart must end in .svg")
    from airframe.balance.json_form import to_json
    from airframe.balance.margins import case_margins
    from airframe.balance.whole import balances
    from airframe.checks.balance import overturn_of

    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        aeroplane = here.aeroplane(here.read(config))
        found = balances(aeroplane, overturn_of(aeroplane))
        neutral = _neutral_point_mm(aeroplane)
    design = aeroplane.design
    if chart is not None:
        from airframe.writing import write_whole
        from viewers.balance_chart import chart as drawn

        write_whole(chart, drawn(found, design.units).encode())
    if as_json:
        click.echo(json.dumps(to_json(found, design, () if neutral is None else case_margins(found, neutral))))
        return
    from viewers import balance_tables, terminal
    from viewers.finding_tables import quoted

    click.echo(bold(design.name))
    click.echo(terminal.headline_text(balance_tables.headlines(found, design.units), bold))
    for table in (
        balance_tables.cases_table(found, design.units),
        balance_tables.effects_table(found, design.units, neutral),
        balance_tables.levers_table(found, design.units),
    ):
        if table.rows:
            click.echo("\n" + terminal.table_text(table, bold))
    if found.answers:
        chances = balance_tables.chances_table(found, aeroplane.sureness.balance_mm[0].sigma)
        click.echo("\n" + terminal.table_text(chances, bold))
    for advice in balance_tables.advice(found, design):
        click.echo(f"\n{bold(advice.case)}: {advice.text}")
        for line in advice.settings:
            click.echo(f"    --set {quoted(line)}")
    click.echo("")
    told = balance_tables.notes(found, design.units)
    for note in told if neutral is None or not found.answers else (balance_tables.MARGIN_NOTE, *told):
        click.echo(note)


def _neutral_point_mm(aeroplane: Aeroplane) -> float | None:
    """By the flight estimates; None where nothing holds it in level flight."""
    from airframe.flight.trim import NoTrimError

    try:
        return aeroplane.flight.neutral_point_mm
    except NoTrimError:
        return None
