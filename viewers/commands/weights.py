"""The commands new, schema and weigh."""

from __future__ import annotations

import json
import shutil
import sys
from pathlib import Path

import click

from viewers.shell import Ticker, bold, reads_config, weighed_aeroplane


@click.command(short_help="Write a commented starter config.")
@click.argument("file", type=click.Path(path_type=Path))
def new(file: Path) -> None:
    """Write a commented starter config to FILE, which must not be there yet."""
    from airframe.starter import write_starter

    write_starter(file)
    click.echo(f"wrote {file}; next: airframe weigh {file}")


@click.command(short_help="Print the JSON Schema of a config.")
def schema() -> None:
    """Print the JSON Schema of a config, with which editors complete and check it."""
    from airframe.schema.published import json_schema

    click.echo(json.dumps(json_schema(), indent=2, ensure_ascii=False))


@click.command(short_help="Show the weight statement.")
@reads_config
@click.option("--all", "every", is_flag=True, help="Show every part, each joint of glue included.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def weigh(config: Path, settings: tuple[str, ...], no_cache: bool, every: bool, as_json: bool) -> None:
    """Show the weight statement of CONFIG: mass, balance point, inertia, and what they are made of."""
    from viewers import tables, terminal

    with Ticker(not as_json) as tell:
        aeroplane = weighed_aeroplane(config, settings, no_cache, tell)
        _ = aeroplane.statement
    if as_json:
        click.echo(json.dumps(tables.as_json(aeroplane)))
        return
    listing = tables.parts_table(aeroplane) if every else tables.group_table(aeroplane)
    click.echo(bold(aeroplane.design.name))
    click.echo(terminal.headline_text(tables.headlines(aeroplane), bold))
    click.echo(f"  balance point: {tables.balance_point(aeroplane)}\n")
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else None
    click.echo(terminal.table_text(listing, bold, width) + "\n")
    click.echo(terminal.table_text(tables.inertia_table(aeroplane), bold) + "\n")
    for note in tables.notes(aeroplane):
        click.echo(note)
    if not every:
        click.echo("every part: airframe weigh --all")
