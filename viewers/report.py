"""The report of a study: one page to read on a screen or on A4 paper, with nothing to load from elsewhere."""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from typing import TYPE_CHECKING

from viewers import finding_tables, weight_tables

if TYPE_CHECKING:
    from airframe.balance.whole import Balances
    from airframe.checks.finding import Finding
    from airframe.compare.whole import Comparison
    from airframe.model import Aeroplane
    from airframe.units import System
    from viewers.tables import Table

CAUTIONS = (
    "Every figure here is an estimate from drawings and stated weights. It prepares a decision, it does not make one: "
    "weigh and balance the finished model before each first flight and after every change.",
    "A turning propeller cuts. Take it off for any work on the bench; stand behind it when the battery is connected.",
    "Lithium batteries burn when crushed, overcharged or pierced. Charge them watched, on something that cannot burn.",
    "Hot glue and its nozzle burn skin; a sharp blade slips. Cut away from your hand, on a mat, with a fresh blade.",
    "Fly only where and as local rules and the flying site's owner allow, away from people, animals, roads and wires.",
    "Have someone with experience inspect the model and stand beside you for the first flights.",
)


@dataclass(frozen=True, eq=False)
class Subject:
    """What a study is about."""

    aeroplane: Aeroplane
    findings: tuple[Finding, ...]
    comparison: Comparison | None = None
    """With its prototype, where one was given."""


def report(
    subject: Subject,
    pictures: Mapping[str, bytes],
    model: str,
    charts: Sequence[str] = (),
    found: Balances | None = None,
) -> str:
    """The page as text.

    Args:
        subject: what it is about.
        pictures: PNG data by name; "three-quarter" and "sheet" are shown.
        model: the turnable model, a page of its own.
        charts: of flight, each as SVG, shown with its tables in their order.
        found: where its batteries may sit, if that is known already.
    """
    from jinja2 import Environment, PackageLoader

    from airframe.balance.whole import balances

    environment = Environment(loader=PackageLoader("viewers", "."), autoescape=True, trim_blocks=True)
    aeroplane, comparison = subject.aeroplane, subject.comparison
    statement = aeroplane.statement
    found = found or balances(aeroplane)
    heaviest = max((body.mass for body in statement.groups.values()), default=0.0)
    return environment.get_template("report.html.j2").render(
        css=(files("viewers") / "report.css").read_text("utf-8"),
        name=aeroplane.design.name,
        prototype=comparison.old.design.name if comparison is not None else None,
        changes=_changes(comparison) if comparison is not None else (),
        verdicts=finding_tables.summary(subject.findings),
        findings=finding_tables.cards(subject.findings, aeroplane.design.units),
        headlines=weight_tables.headlines(aeroplane),
        balance=weight_tables.balance_point(aeroplane),
        pictures={name: _data_url(data) for name, data in pictures.items()},
        model=model,
        groups=weight_tables.group_table(aeroplane),
        bars={name: body.mass / heaviest if heaviest else 0.0 for name, body in statement.groups.items()},
        masses=weight_tables.group_masses(aeroplane),
        inertia=weight_tables.inertia_table(aeroplane),
        tensor=weight_tables.tensor_table(aeroplane),
        parts=weight_tables.parts_table(aeroplane),
        materials=weight_tables.materials_table(aeroplane),
        notes=weight_tables.notes(aeroplane),
        cautions=CAUTIONS,
        **_balance(found, aeroplane.design.units),
        **_flight(subject, found, charts),
        **_sureness(aeroplane),
    )


def _balance(found: Balances, system: System) -> dict[str, object]:
    """Chart and table of where each battery may sit; nothing without a battery."""
    from viewers import balance_chart, balance_tables

    if not found.answers:
        return {"balance_chart": None}
    return {"balance_chart": balance_chart.chart(found, system), "cases": balance_tables.cases_table(found, system)}


def _flight(subject: Subject, found: Balances, charts: Sequence[str]) -> dict[str, object]:
    """Estimates of flight: tables, what a redesign changed, what could not be told, charts, cautions."""
    from viewers import flight_summary, flight_tables

    told = flight_summary.summary(subject.aeroplane, found)
    compared = subject.comparison
    changed = None if compared is None else flight_summary.changes(compared.old, compared.new)
    return {
        "flight": told.tables,
        "flight_changes": () if changed is None else changed.tables,
        "flight_notes": told.notes if changed is None else (*told.notes, *changed.notes),
        "flight_cautions": flight_tables.CAUTIONS,
        "flight_charts": charts,
    }


def _sureness(aeroplane: Aeroplane) -> dict[str, object]:
    from airframe.checks.balance import overturn_of
    from viewers import sure_tables

    return {
        "sure": sure_tables.sure_table(aeroplane, overturn_of(aeroplane)),
        "log": sure_tables.log_table(aeroplane),
        "next_to_weigh": sure_tables.next_table(aeroplane),
    }


def _changes(comparison: Comparison) -> tuple[Table, ...]:
    from viewers import compare_parts, compare_tables

    found = (
        compare_tables.figures_table(comparison),
        compare_tables.findings_table(comparison, every=False),
        compare_tables.attribution_table(comparison),
        compare_parts.parts_table(comparison),
        compare_tables.changes_table(comparison),
        compare_tables.costs_table(comparison),
    )
    return tuple(table for table in found if table.rows)


def _data_url(png: bytes) -> str:
    return "data:image/png;base64," + base64.b64encode(png).decode("ascii")
