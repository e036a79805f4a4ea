"""The command sensitivity: what moves a result most, as a table and a chart."""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.commands.outputs import wrong_with
from viewers.plot_files import ENDINGS
from viewers.shell import Refusal, Ticker, bold, reads_config, workshop

if TYPE_CHECKING:
    from matplotlib.figure import Figure


@click.command(short_help="What moves tip-over, mass and balance most.")
@reads_config
@click.option("--of", "codes", multiple=True, metavar="CODE,...", help="Results to look at.")
@click.option("--keys", "names", multiple=True, metavar="KEY,...", help="Keys to move instead of all the main ones.")
@click.option("--chart", "picture", type=click.Path(path_type=Path), help="Write a chart: .png or .svg.")
@click.option("--workers", type=click.IntRange(1, 256), help="Processes to share the work; by itself, one a processor.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units.")
def sensitivity(
    config: Path,
    settings: tuple[str, ...],
    no_cache: bool,
    codes: tuple[str, ...],
    names: tuple[str, ...],
    picture: Path | None,
    workers: int | None,
    as_json: bool,
) -> None:
    """Show what moves a result most: by how much a centimetre, a gram, a degree of each key changes it.

    \b
      airframe sensitivity kestrel.toml --chart slopes.png
      airframe sensitivity kestrel.toml --of ground.overturn --keys gear.track,gear.height

    Every key is moved a little to both sides of what it is, at two steps; where these do not agree it says so.
    Without --of: the overturn angle, the mass, the balance point behind the leading edge.
    """
    from airframe.solve.forms import sensitivity_json
    from airframe.solve.sensitivity import sensitivity as slopes
    from viewers import solve_chart, solve_tables, terminal

    wrong = wrong_with("--chart", picture, ENDINGS)
    if wrong:
        raise Refusal("\n".join(wrong))
    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        loaded = here.read(config)
        asked, moved = _listed(codes), _listed(names)
        aeroplane = here.aeroplane(loaded)
        found = slopes(loaded, aeroplane, asked, moved, partial(_told, tell), workers, not no_cache)
    if picture is not None:
        _draw(picture, solve_chart.chart(found), f"What moves {found.name} most")
    if as_json:
        click.echo(json.dumps(sensitivity_json(found)))
        return
    click.echo(bold(found.name))
    for table in solve_tables.slope_tables(found):
        click.echo(terminal.table_text(table, bold, terminal.screen_width()) + "\n")
    for note in solve_tables.slope_notes(found):
        click.echo(note)


def _told(tell: Ticker, done: int, count: int) -> None:
    tell(f"{done} of {count} variants")


def _listed(texts: Sequence[str]) -> list[str]:
    """What was given with commas between, or one by one."""
    return [one.strip() for several in texts for one in several.split(",")]


def _draw(picture: Path, figure: Figure, words: str) -> None:
    from airframe.writing import write_whole
    from viewers.plot_files import data

    write_whole(picture, data(figure, words, picture.suffix))
