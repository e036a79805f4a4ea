"""A plug-in's own table of the config, [extra.NAME], read with units, bounds and words as every other table is."""

from __future__ import annotations

from typing import TypeVar

from pydantic import ValidationError

from airframe.config.problems import dotted
from airframe.config.wording import problems_in
from airframe.config.written import Written
from airframe.drawing import PartError
from airframe.schema.base import Table
from airframe.schema.design import Design
from airframe.schema.walk import Spot, cleared, materials_named

OwnTable = TypeVar("OwnTable", bound=Table)


def table(design: Design, name: str, kind: type[OwnTable]) -> OwnTable | None:
    """What the design says in [extra.NAME], as a table of the plug-in's kind; None where it says nothing.

    The kind is a subclass of `airframe.schema.base.Table`: a field `length_mm: Length = default("60 mm")` is written
    `length = "70 mm"`. Raises PartError, named by the key, for the first thing that is wrong.
    """
    if name not in design.extra:
        return None
    spot = Spot(kind)
    data = cleared(design.extra[name], spot)
    try:
        read = kind.model_validate(data)
    except ValidationError as error:
        problem = next(problems_in(error, Written(data, {}), name, spot))
        raise PartError(_key(name, problem.key), problem.message) from None
    for path, material, wanted in materials_named(data, spot):
        _check_material(design, _key(name, dotted(path)), material, wanted)
    return read


def _key(name: str, key: str) -> str:
    return ".".join(part for part in ("extra", dotted((name,)), key) if part)


def _check_material(design: Design, key: str, name: str, wanted: str) -> None:
    try:
        kind = design.material(name).kind
    except KeyError:
        raise PartError(key, f"there is no material {name}; a {wanted} is needed") from None
    if kind != wanted:
        raise PartError(key, f"{name} is a {kind}; a material of kind {wanted} is needed")
