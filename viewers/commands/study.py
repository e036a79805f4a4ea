"""The command study: the main job in one go."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.commands.projects import Project, project
from viewers.shell import FAILING, Ticker, Workshop, bold, reads_config, workshop

if TYPE_CHECKING:
    from viewers.study import Subject


@click.command(short_help="Do the whole job: weigh, check, draw, report.")
@reads_config
@click.option(
    "--against",
    type=click.Path(path_type=Path),
    help="Config of the prototype: the report then shows what changed, and the old aeroplane as a ghost.",
)
@click.option(
    "-o",
    "output",
    type=click.Path(path_type=Path),
    help="Folder to write into, made if need be; default: the config's name with -study, here.",
)
@click.option(
    "--json", "as_json", is_flag=True, help="Print what weigh and check say, and the files, as one JSON object."
)
def study(
    config: Path, settings: tuple[str, ...], no_cache: bool, against: Path | None, output: Path | None, as_json: bool
) -> None:
    """Do the whole job for CONFIG: weigh, check, draw, and write report.html with pictures and a model to turn.

    Exit code 1 where a check fails; everything is written all the same.
    """
    from airframe.checks.finding import worst
    from airframe.writing import check_folder
    from viewers import finding_tables, terminal, weight_json, weight_tables
    from viewers.beside import Beside
    from viewers.gallery import sitter
    from viewers.study import study as write_study

    folder = output if output is not None else Path(f"{config.stem}-study")
    check_folder(folder)
    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        before = None if against is None else project(Workshop((), here.store, tell), against)
        new = project(here, config)
        tell("setting the scene")
        with Beside(sitter(new.aeroplane), None if before is None else sitter(before.aeroplane)) as drawing:
            subject = _checked(new, before)
            written = write_study(subject, drawing, folder, tell)
    aeroplane = subject.aeroplane
    if as_json:
        told = {
            "weigh": weight_json.as_json(aeroplane),
            "check": finding_tables.as_json(aeroplane.design.name, subject.findings),
            "files": [str(path) for path in written],
        }
        click.echo(json.dumps(told))
    else:
        click.echo(bold(aeroplane.design.name))
        click.echo(terminal.headline_text(weight_tables.headlines(aeroplane), bold))
        click.echo(f"  checks        {finding_tables.summary(subject.findings)}")
        for finding in subject.findings:
            if finding.verdict == "fail":
                click.echo(f"    {finding.code}: {finding.message}")
        click.echo(f"\nwrote {len(written)} files to {folder}\nopen {written[0]} in a browser")
    if worst(subject.findings) == "fail":
        sys.exit(FAILING)


def _checked(new: Project, old: Project | None) -> Subject:
    """What the study is about, once the checks are through."""
    from airframe.compare.whole import compare
    from viewers.study import Subject

    if old is None:
        return Subject(new.aeroplane, tuple(new.checked().findings))
    comparison = compare(old.checked(), new.checked())
    findings = tuple(pair.new for pair in comparison.findings if pair.new is not None)
    return Subject(new.aeroplane, findings, comparison)
