"""The report of a study: one page to read on a screen or on A4 paper, with nothing to load from elsewhere."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from importlib.resources import files
from typing import TYPE_CHECKING

from viewers import tables

if TYPE_CHECKING:
    from airframe.model import Aeroplane

CAUTIONS = (
    "Every figure here is an estimate from drawings and stated weights. It prepares a decision, it does not make one: "
    "weigh and balance the finished model before each first flight and after every change.",
    "A turning propeller cuts. Take it off for any work on the bench; stand behind it when the battery is connected.",
    "Lithium batteries burn when crushed, overcharged or pierced. Charge them watched, on something that cannot burn.",
    "Hot glue and its nozzle burn skin; a sharp blade slips. Cut away from your hand, on a mat, with a fresh blade.",
    "Fly only where and as local rules and the flying site's owner allow, away from people, animals, roads and wires.",
    "Have someone with experience inspect the model and stand beside you for the first flights.",
)


def report(aeroplane: Aeroplane, pictures: Mapping[str, bytes], model: str) -> str:
    """The page as text.

    Args:
        pictures: PNG data by name; "three-quarter" and "sheet" are shown.
        model: the turnable model, a page of its own.
    """
    from jinja2 import Environment, PackageLoader

    environment = Environment(loader=PackageLoader("viewers", "."), autoescape=True, trim_blocks=True)
    statement = aeroplane.statement
    heaviest = max((body.mass for body in statement.groups.values()), default=0.0)
    return environment.get_template("report.html.j2").render(
        css=(files("viewers") / "report.css").read_text("utf-8"),
        name=aeroplane.design.name,
        headlines=tables.headlines(aeroplane),
        balance=tables.balance_point(aeroplane),
        pictures={name: _data_url(data) for name, data in pictures.items()},
        model=model,
        groups=tables.group_table(aeroplane),
        bars={name: body.mass / heaviest if heaviest else 0.0 for name, body in statement.groups.items()},
        masses=tables.group_masses(aeroplane),
        inertia=tables.inertia_table(aeroplane),
        tensor=tables.tensor_table(aeroplane),
        parts=tables.parts_table(aeroplane),
        materials=tables.materials_table(aeroplane),
        notes=tables.notes(aeroplane),
        cautions=CAUTIONS,
    )


def _data_url(png: bytes) -> str:
    return "data:image/png;base64," + base64.b64encode(png).decode("ascii")
