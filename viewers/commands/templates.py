"""The command templates: full-size patterns to cut from."""

from __future__ import annotations

from math import isnan
from pathlib import Path
from typing import Any

import click

from viewers.shell import Refusal, Ticker, reads_config, weighed_aeroplane

PAPER_NAMES = ("a4", "a3", "letter", "plot")


@click.command(short_help="Write full-size cutting templates and a shopping list.")
@reads_config
@click.option("-o", "output", required=True, type=click.Path(path_type=Path), help="Folder to write into.")
@click.option(
    "--paper",
    type=click.Choice(PAPER_NAMES),
    default="a4",
    show_default=True,
    help="Pages of the PDF; plot is one big page a sheet, for a plotter.",
)
@click.option(
    "--seconds",
    type=click.FloatRange(0.1, 3600.0),
    default=10.0,
    show_default=True,
    help="Nominal time to look for a closer fit on the sheets.",
)
@click.option("--seed", type=click.IntRange(0), default=0, show_default=True, help="Another seed tries other layouts.")
def templates(
    config: Path, settings: tuple[str, ...], no_cache: bool, output: Path, paper: Any, seconds: float, seed: int
) -> None:
    """Write full-size templates of CONFIG: a tiled PDF to print, DXF and SVG for machines, a shopping list.

    Measure the check bars on every printed page before cutting.
    """
    from airframe.writing import check_folder
    from viewers.paper.templates import left_over, write_templates

    if isnan(seconds):
        message = "--seconds: nan is not a number of seconds"
        raise Refusal(message)
    check_folder(output)
    with Ticker() as tell:
        aeroplane = weighed_aeroplane(config, settings, no_cache, tell)
        written = write_templates(aeroplane, output, paper, seconds, seed, tell)
    click.echo(f"wrote {len(written)} files to {output}")
    for path in left_over(output, written):
        click.echo(f"not of this plan, left from an earlier one: {path}")
    click.echo(f"print {written[0]} at 100 %, and measure the check bars before cutting")
