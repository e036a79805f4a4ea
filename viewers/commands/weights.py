"""The commands new, schema and weigh."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.shell import Ticker, bold, reads_config, weighed_aeroplane

if TYPE_CHECKING:
    from airframe.model import Aeroplane


@click.command(short_help="Write a commented starter config.")
@click.argument("file", type=click.Path(path_type=Path))
def new(file: Path) -> None:
    """Write a commented starter config to FILE, which must not be there yet."""
    from airframe.starter import write_starter

    write_starter(file)
    click.echo(f"wrote {file}; next: airframe weigh {shlex.quote(str(file))}")


@click.command(short_help="Print the JSON Schema of a config.")
def schema() -> None:
    """Print the JSON Schema of a config, with which editors complete and check it."""
    from airframe.schema.published import json_schema

    click.echo(json.dumps(json_schema(), indent=2, ensure_ascii=False))


@click.command(short_help="Show the weight statement.")
@reads_config
@click.option("--all", "every", is_flag=True, help="Show every part, each joint of glue included.")
@click.option("--sure", is_flag=True, help="Show how sure the figures are, the weighing log, and what to weigh next.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def weigh(config: Path, settings: tuple[str, ...], no_cache: bool, every: bool, sure: bool, as_json: bool) -> None:
    """Show the weight statement of CONFIG: mass, balance point, inertia, and what they are made of."""
    with Ticker(not as_json) as tell:
        aeroplane = weighed_aeroplane(config, settings, no_cache, tell)
        _ = aeroplane.statement
    if as_json:
        from viewers import sure_json, weight_json

        certainty = {"certainty": sure_json.as_json(aeroplane)} if sure else {}
        click.echo(json.dumps({**weight_json.as_json(aeroplane), **certainty}))
    elif sure:
        _tell_sureness(aeroplane, every)
    else:
        _tell_weights(aeroplane, every)


def _tell_weights(aeroplane: Aeroplane, every: bool) -> None:
    from viewers import sure_tables, terminal, weight_tables

    odd = sure_tables.remarks(aeroplane)
    listing = weight_tables.parts_table(aeroplane) if every else weight_tables.group_table(aeroplane)
    click.echo(bold(aeroplane.design.name))
    click.echo(terminal.headline_text(weight_tables.headlines(aeroplane), bold))
    click.echo(f"  balance point: {weight_tables.balance_point(aeroplane)}\n")
    click.echo(terminal.table_text(listing, bold, terminal.screen_width()) + "\n")
    if aeroplane.has_learned:
        click.echo(terminal.table_text(sure_tables.groups_table(aeroplane), bold) + "\n")
    click.echo(terminal.table_text(weight_tables.inertia_table(aeroplane), bold) + "\n")
    for note in (*weight_tables.notes(aeroplane), *odd):
        click.echo(note)
    click.echo("how sure, and what to weigh next: airframe weigh --sure")
    if not every:
        click.echo("every part: airframe weigh --all")


def _tell_sureness(aeroplane: Aeroplane, every: bool) -> None:
    from airframe.checks.balance import overturn_of
    from viewers import sure_tables, swing_tables, terminal

    tables = (
        sure_tables.sure_table(aeroplane, overturn_of(aeroplane)),
        sure_tables.parts_table(aeroplane) if every else sure_tables.groups_table(aeroplane),
        sure_tables.log_table(aeroplane),
        sure_tables.materials_table(aeroplane),
        sure_tables.swings_table(aeroplane),
        sure_tables.next_table(aeroplane),
        swing_tables.swing_table(aeroplane),
    )
    # All tables are made before the first is shown, so that a wrong line of the log leaves nothing half told.
    click.echo(bold(aeroplane.design.name))
    click.echo(terminal.headline_text(sure_tables.headlines(aeroplane), bold))
    for table in tables:
        if table is not None and table.rows:
            click.echo("\n" + terminal.table_text(table, bold))
    click.echo(f"\n{sure_tables.READING}")
    for remark in sure_tables.remarks(aeroplane):
        click.echo(f"\n{remark}")
    error = 100.0 * swing_tables.relative_error(aeroplane)
    click.echo(f"\n{swing_tables.CAUTION}; timed by hand, ten swings leave {error:.1f} % of the inertia unsure")
