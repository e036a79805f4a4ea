"""The command balance: where each battery may sit."""

from __future__ import annotations

import json
from pathlib import Path

import click

from viewers.shell import Refusal, Ticker, bold, reads_config, workshop


@click.command(short_help="Show where each battery may sit; ballast if none will do.")
@reads_config
@click.option("--chart", type=click.Path(path_type=Path), help="Write the chart of balance against tray station: .svg.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def balance(config: Path, settings: tuple[str, ...], no_cache: bool, chart: Path | None, as_json: bool) -> None:
    """Show where each battery of CONFIG may sit on its tray so that the aeroplane balances; ballast if none will do."""
    if chart is not None and chart.suffix.lower() != ".svg":
        raise Refusal(f"cannot draw to '{chart.name}'; the name of the chart must end in .svg")
    from airframe.balance.json_form import to_json
    from airframe.balance.whole import balances
    from airframe.checks.balance import overturn_of

    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        aeroplane = here.aeroplane(here.read(config))
        found = balances(aeroplane, overturn_of(aeroplane))
    design = aeroplane.design
    if chart is not None:
        from airframe.writing import write_whole
        from viewers.balance_chart import chart as drawn

        write_whole(chart, drawn(found, design.units).encode())
    if as_json:
        click.echo(json.dumps(to_json(found, design)))
        return
    from viewers import balance_tables, terminal
    from viewers.finding_tables import quoted

    click.echo(bold(design.name))
    click.echo(terminal.headline_text(balance_tables.headlines(found, design.units), bold))
    for make in (balance_tables.cases_table, balance_tables.effects_table, balance_tables.levers_table):
        table = make(found, design.units)
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
    for note in balance_tables.notes(found, design.units):
        click.echo(note)
