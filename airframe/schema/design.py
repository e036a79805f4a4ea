"""A whole design: the root of the config file."""

from __future__ import annotations

from typing import Any, Literal, Self

from pydantic import Field, model_validator

from airframe.materials import MATERIALS, Material
from airframe.schema.balance import Balance
from airframe.schema.base import Angle, FilmName, LineName, Table, default
from airframe.schema.certainty import Certainty
from airframe.schema.equipment import AnyItem, Battery
from airframe.schema.flight import Flight
from airframe.schema.fuselage import Fuselage
from airframe.schema.gear import Gear
from airframe.schema.limits import Limits
from airframe.schema.materials import MaterialTable
from airframe.schema.stock import Stock
from airframe.schema.tail import Tail
from airframe.schema.weighing import Swung, Weighed
from airframe.schema.wing import Wing
from airframe.units import System


class Glue(Table):
    """What the joints are made with."""

    foam_joint: LineName = "hot glue bead"
    """Foam to foam, one bead along every joint line."""
    plywood_joint: LineName = "epoxy fillet"
    """Plywood to anything, and wire to plywood."""


class Finish(Table):
    """A coat on chosen faces: paint, filler, covering tape."""

    on: str
    """Names of parts; * stands for anything, e.g. "fuselage side*"."""
    material: FilmName
    """A material of kind film."""
    face: Literal["outer", "inner", "both"] = "outer"
    """outer: the face that is seen."""
    coats: int = Field(strict=True, default=1, ge=1, le=10)
    """Of the material, one over the other."""


class Design(Table):
    """A complete aeroplane."""

    name: str = Field(min_length=1)
    """What the aeroplane is called in every result."""
    units: System = "metric"
    """Only how results are shown; the file may mix units as it likes."""
    materials: dict[str, MaterialTable] = Field(default_factory=dict)
    """Materials of your own, by name."""
    stock: Stock = Stock()
    """What parts are cut from."""
    glue: Glue = Glue()
    """What the joints are made with."""
    fuselage: Fuselage
    """The box that everything hangs on."""
    wing: Wing
    """Both halves."""
    tail: Tail
    """Stabiliser, elevator, fin and rudder."""
    gear: Gear = Gear.model_validate({"arrangement": "none"})
    """What it stands on; none if not given."""
    equipment: dict[str, AnyItem] = Field(default_factory=dict)
    """What is bought and carried, by names of your own."""
    finish: tuple[Finish, ...] = ()
    """Paint, filler and covering, in the order they go on."""
    balance: Balance = Balance()
    """Where it should balance, and what may be left at home."""
    weighed: tuple[Weighed, ...] = ()
    """What the kitchen scale said of parts, groups and the whole; a redesign learns from it."""
    swung: tuple[Swung, ...] = ()
    """What swinging the aeroplane as a pendulum said of its inertia."""
    certainty: Certainty = Certainty()
    """How well weights and places are known, where nothing better is stated beside them."""
    limits: Limits = Limits()
    """Limits and assumptions of the checks."""
    flight: Flight = Flight()
    """What the flight estimates assume, and what was measured of thrust and current."""
    extra: dict[str, dict[str, Any]] = Field(default_factory=dict)
    """What plug-ins need, [extra.NAME]: kept as it is written, and read by the plug-in of that name."""
    mesh_angle_rad: Angle = default("0.05 rad", ge=0.01, le=0.5)
    """Largest angle between neighbouring facets of the meshes that are weighed."""

    @model_validator(mode="after")
    def _measured_with_a_battery_it_has(self) -> Self:
        wanted = self.flight.measured_with
        battery = next((one for one in self.equipment.values() if isinstance(one, Battery) and one.fitted), None)
        if wanted is not None and battery is not None and battery.options and wanted not in battery.options:
            there = ", ".join(battery.options)
            raise ValueError(f"flight.measured_with = '{wanted}' is not among the battery's options: {there}")
        return self

    def material(self, name: str) -> Material:
        """A material by name: the design's own first, then the built-in table.

        Raises KeyError for a name that is in neither; a validated design has no such name.
        """
        own = self.materials.get(name)
        return own.material(name) if own is not None else MATERIALS[name]
