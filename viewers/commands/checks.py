"""The commands check and compare."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.commands.projects import project
from viewers.shell import FAILING, Ticker, Workshop, bold, marked, reads_config, takes_settings, workshop

if TYPE_CHECKING:
    from airframe.compare.whole import Comparison
    from viewers.tables import Table

WIDTH = 100
"""Characters of a table of changes."""


@click.command(short_help="Show every finding, worst first, with what would mend it.")
@reads_config
@click.option("--all", "every", is_flag=True, help="Tell passed checks and notes in full too.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def check(config: Path, settings: tuple[str, ...], no_cache: bool, every: bool, as_json: bool) -> None:
    """Ask of CONFIG what a builder asks before cutting: does it stand, clear, fit and move, can it be made.

    Exit code 1 where a check fails. Findings are estimates from the drawing, no clearance to fly.
    """
    from airframe.checks.finding import worst
    from viewers import finding_tables
    from viewers.finding_lines import findings_text

    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        loaded = here.read(config)
        findings = here.findings(loaded, here.aeroplane(loaded))
    if as_json:
        click.echo(json.dumps(finding_tables.as_json(loaded.design.name, findings)))
    else:
        click.echo(f"{bold(loaded.design.name)}: {finding_tables.summary(findings)}\n")
        click.echo(findings_text(finding_tables.cards(findings, loaded.design.units), marked, bold, every))
        if not every:
            click.echo("\nevery finding in full: airframe check --all")
    if worst(findings) == "fail":
        sys.exit(FAILING)


@click.command(short_help="Show what a redesign changes.")
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@takes_settings
@click.option("--all", "every", is_flag=True, help="Show unchanged parts and findings too.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def compare(old: Path, new: Path, settings: tuple[str, ...], no_cache: bool, every: bool, as_json: bool) -> None:
    """Set NEW beside OLD: dimensions, parts, what each change did to mass and balance, findings, cost in foam.

    --set changes NEW only.
    """
    from airframe.compare.json_form import to_json
    from airframe.compare.whole import compare as compare_versions

    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        before = project(Workshop((), here.store, tell), old)
        after = project(here, new)
        comparison = compare_versions(before.checked(), after.checked())
        is_turned_round = _is_based_on(after.loaded.files[0], before.loaded.files)
    if is_turned_round:
        click.echo(f"note: {old} is based on {new}: is it the redesign? OLD comes first, NEW second", err=True)
    if as_json:
        click.echo(json.dumps(to_json(comparison)))
        return
    click.echo(bold(f"{comparison.old.design.name} -> {comparison.new.design.name}") + "\n")
    click.echo(comparison_text(comparison, every))


def _is_based_on(base: Path, files: Sequence[Path]) -> bool:
    """Whether a config, the first of its files, was read by way of another one."""
    return base.resolve() in [file.resolve() for file in files[1:]]


def comparison_text(comparison: Comparison, every: bool = False) -> str:
    """The tables of a comparison for a terminal; one line for two that are the same."""
    from viewers import compare_parts, compare_tables, terminal

    if not comparison.changes and comparison.unchanged == len(comparison.pairs):
        return "nothing differs: not a key, not a part"
    tables = (
        compare_tables.figures_table(comparison),
        compare_tables.findings_table(comparison, every),
        compare_tables.changes_table(comparison),
        compare_parts.parts_table(comparison, every),
        compare_tables.attribution_table(comparison),
        compare_tables.costs_table(comparison),
        *_flight_tables(comparison),
    )
    return "\n\n".join(terminal.table_text(table, bold, width=WIDTH) for table in tables if table.rows)


def _flight_tables(comparison: Comparison) -> tuple[Table, ...]:
    """How both fly and move, where both are held in level flight."""
    from viewers import flight_change_tables

    if not comparison.motions:
        return ()
    names = comparison.old.design.name, comparison.new.design.name
    system = comparison.new.design.units
    return (
        flight_change_tables.flights_table(comparison.old.flight, comparison.new.flight, names, system),
        flight_change_tables.motions_table(comparison.motions, names),
        flight_change_tables.causes_table(comparison.motions),
    )
