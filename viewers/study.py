"""The main job in one go: weigh, draw, and write a folder that holds everything there is to see."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from airframe.writing import write_folder
from viewers import finding_tables, report, stills, turnable, weight_json, weight_tables
from viewers.report import Subject
from viewers.staging import stage

if TYPE_CHECKING:
    from airframe.balance.whole import Balances
    from viewers.flight_charts.whole import Chart
    from viewers.scene import Scene

__all__ = ["REPORT", "Subject", "study"]

REPORT = "report.html"


def study(subject: Subject, folder: Path, tell: Callable[[str], None] = lambda _: None) -> tuple[Path, ...]:
    """Write report, turnable model, pictures, weights and findings into the folder, which is made if need be.

    The report comes first among the returned paths. All is written or nothing, once everything is made.
    Raises PartError, PictureError or WriteError.
    """
    from airframe.balance.whole import balances

    aeroplane = subject.aeroplane
    tables_by_name = {"weights": weight_json.as_json(aeroplane)}
    tables_by_name["findings"] = finding_tables.as_json(aeroplane.design.name, subject.findings)
    if subject.comparison is not None:
        from airframe.compare.json_form import to_json

        tables_by_name["comparison"] = to_json(subject.comparison)
    tell("setting the scene")
    scene = stage(aeroplane)
    model = turnable.page(scene, weight_tables.group_masses(aeroplane))
    tell("drawing")
    pictures: dict[str, bytes] = dict(stills.pictures(scene).items()) | _special(subject)
    tell("writing")
    found = balances(aeroplane)
    page = report.report(subject, pictures, model, _charts(subject, scene, found), found)
    contents = {REPORT: page.encode(), "model.html": model.encode()}
    contents |= {f"{name}.json": json.dumps(table, indent=1).encode() for name, table in tables_by_name.items()}
    contents |= {f"{name}.png": data for name, data in pictures.items()}
    return tuple(write_folder(folder, contents))


def _charts(subject: Subject, scene: Scene, found: Balances) -> tuple[Chart, ...]:
    """Of flight; beside the prototype's where there is one."""
    from viewers.flight_charts.whole import charts

    old = subject.comparison.old if subject.comparison is not None else None
    return charts(subject.aeroplane, scene, found, old).shown


def _special(subject: Subject) -> dict[str, bytes]:
    """Pictures of how it stands, and of old and new together, where there is such a thing."""
    from viewers import compare_picture, stand_picture
    from viewers.posture import posture

    result = {}
    if posture(subject.aeroplane) is not None:
        result["stand"] = stand_picture.stand(subject.aeroplane, subject.findings)
    if subject.comparison is not None:
        old, new = subject.comparison.old, subject.comparison.new
        result["ghost"] = compare_picture.ghost(old, new)
        if posture(old) is not None and posture(new) is not None:
            result["fronts"] = compare_picture.fronts(old, new)
    return result
