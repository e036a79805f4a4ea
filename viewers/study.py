"""The main job in one go: weigh, draw, and write a folder that holds everything there is to see."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from airframe.writing import write_folder
from viewers import finding_tables, report, turnable, weight_json, weight_tables
from viewers.report import Subject

if TYPE_CHECKING:
    from airframe.balance.whole import Balances
    from viewers.beside import Beside
    from viewers.scene import Scene

__all__ = ["REPORT", "Subject", "study"]

REPORT = "report.html"


def study(
    subject: Subject, drawing: Beside, folder: Path, tell: Callable[[str], None] = lambda _: None
) -> tuple[Path, ...]:
    """Write report, turnable model, pictures, weights and findings into the folder, which is made if need be.

    `drawing` is of the same aeroplanes, begun before. The report comes first among the returned paths. All is written
    or nothing, once everything is made. Raises PartError, PictureError or WriteError.
    """
    from airframe.balance.whole import balances

    aeroplane = subject.aeroplane
    drawing.tell(subject.findings)
    tables_by_name = {"weights": weight_json.as_json(aeroplane)}
    tables_by_name["findings"] = finding_tables.as_json(aeroplane.design.name, subject.findings)
    if subject.comparison is not None:
        from airframe.compare.json_form import to_json

        tables_by_name["comparison"] = to_json(subject.comparison)
    tell("drawing")
    scene, found = drawing.new.scene, balances(aeroplane)
    model = turnable.page(scene, weight_tables.group_masses(aeroplane))
    charts = _charts(subject, scene, found)
    pictures = drawing.pictures()
    tell("writing")
    page = report.report(subject, pictures, model, charts, found)
    contents = {REPORT: page.encode(), "model.html": model.encode()}
    contents |= {f"{name}.json": json.dumps(table, indent=1).encode() for name, table in tables_by_name.items()}
    contents |= {f"{name}.png": data for name, data in pictures.items()}
    return tuple(write_folder(folder, contents))


def _charts(subject: Subject, scene: Scene, found: Balances) -> list[str]:
    """Of flight, as SVG; beside the prototype's where there is one."""
    from viewers.flight_charts.whole import charts

    old = subject.comparison.old if subject.comparison is not None else None
    return [chart.svg for chart in charts(subject.aeroplane, scene, found, old).shown]
