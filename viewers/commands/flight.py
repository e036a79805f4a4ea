"""The command flight: slow-flight and stability estimates."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.shell import Ticker, bold, reads_config, weighed_aeroplane

if TYPE_CHECKING:
    from airframe.flight.whole import Flight
    from airframe.model import Aeroplane
    from viewers.tables import Table


@click.command(short_help="Estimate how slowly and how steadily it flies.")
@reads_config
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def flight(config: Path, settings: tuple[str, ...], no_cache: bool, as_json: bool) -> None:
    """Estimate how slowly CONFIG flies, whether it holds a course, what its power does, and its throws.

    Estimates from the drawing and published trends; no clearance to fly.
    """
    from viewers import flight_tables, terminal

    with Ticker(not as_json) as tell:
        aeroplane = weighed_aeroplane(config, settings, no_cache, tell)
        estimates = aeroplane.flight
        tell("solving the lattice")
        _ = estimates.modes
        tables = [] if as_json else _tables(aeroplane, estimates)
    if as_json:
        from viewers import flight_json

        click.echo(json.dumps(flight_json.as_json(aeroplane.design.name, estimates, _options(aeroplane))))
        return
    click.echo(bold(aeroplane.design.name) + ": estimates\n")
    for table in tables:
        click.echo(terminal.table_text(table, bold) + "\n")
    for caution in flight_tables.CAUTIONS:
        click.echo(caution)


def _tables(aeroplane: Aeroplane, estimates: Flight) -> list[Table]:
    from viewers import flight_tables

    system = aeroplane.design.units
    tables = [
        flight_tables.speeds_table(estimates, system),
        flight_tables.balance_table(estimates, system),
        flight_tables.steering_table(estimates),
        flight_tables.motions_table(estimates),
    ]
    for option in _options(aeroplane):
        figures = estimates.power(option or None)
        if isinstance(figures, str):
            click.echo(f"no power figures{f' on the {option} battery' if option else ''}: {figures}", err=True)
        else:
            tables.append(flight_tables.power_table(figures, option, system))
    controls = flight_tables.controls_table(estimates, system)
    return [*tables, controls] if controls.rows else tables


def _options(aeroplane: Aeroplane) -> list[str]:
    """The battery options that are in the design; an empty name for a battery without any."""
    from airframe.schema.equipment import Battery

    batteries = [item for item in aeroplane.design.equipment.values() if isinstance(item, Battery) and item.fitted]
    return [option for battery in batteries[:1] for option in (battery.options or ("",))]
