"""What is bought and carried: motor, propeller, battery, servos, camera, leads, screws."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator

from airframe.schema.base import Coordinate, Length, LineName, Mass, SolidName, Table, default

Group = Literal["propulsion", "controls", "electrical", "payload", "fuselage", "landing gear"]
ItemBasis = Literal["estimated", "weighed"]
Size = Annotated[tuple[Length, Length, Length], Field(description="length (fore and aft), width, height")]


class Item(Table):
    """A box-shaped bought item."""

    kind: Literal["box"] = "box"
    mass_g: Mass
    basis: ItemBasis = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    size: Size
    """Length (fore and aft), width, height."""
    station_mm: Coordinate
    """Of its middle, as are butt line and water line."""
    butt_line_mm: Coordinate = default("0 mm")
    water_line_mm: Coordinate = default("0 mm")
    group: Group = "payload"
    place: Literal["inside", "outside"] = "inside"
    """Whether it belongs inside the fuselage."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""


class RoundItem(Table):
    """A bought item of round section."""

    kind: Literal["cylinder"]
    mass_g: Mass
    basis: ItemBasis = "estimated"
    diameter_mm: Length
    length_mm: Length
    axis: Literal["station", "butt line", "water line"] = "station"
    """The direction its axis runs."""
    station_mm: Coordinate
    butt_line_mm: Coordinate = default("0 mm")
    water_line_mm: Coordinate = default("0 mm")
    group: Group = "payload"
    place: Literal["inside", "outside"] = "inside"
    fitted: bool = True


class BatteryOption(Table):
    """One of the batteries that the builder owns."""

    mass_g: Mass
    basis: ItemBasis = "estimated"
    size: Size
    cells: int | None = Field(default=None, ge=1, le=12)


class Battery(Table):
    """The flight battery: one of several options, on a tray."""

    kind: Literal["battery"]
    options: dict[str, BatteryOption] = Field(default_factory=dict)
    """By name; or give mass and size here for a single battery."""
    use: str | None = None
    """The option that is in the aeroplane; default: the first."""
    mass_g: Mass | None = None
    basis: ItemBasis = "estimated"
    size: Size | None = None
    cells: int | None = Field(default=None, ge=1, le=12)
    station_mm: Coordinate
    """Of its middle."""
    butt_line_mm: Coordinate = default("0 mm")
    water_line_mm: Coordinate
    """Of its underside: the tray's upper face."""
    tray_from_mm: Coordinate | None = None
    """How far forward the battery's front end may be moved."""
    tray_to_mm: Coordinate | None = None
    """How far aft its rear end may be moved."""
    group: Group = "electrical"
    place: Literal["inside", "outside"] = "inside"
    fitted: bool = True

    @model_validator(mode="after")
    def _one_way_to_state_it(self) -> Self:
        single = self.mass_g is not None and self.size is not None
        if not self.options and not single:
            raise ValueError("give mass and size, or a table of options")
        if self.options and self.use is not None and self.use not in self.options:
            raise ValueError(f"use = '{self.use}' is not among the options: {', '.join(self.options)}")
        return self

    def chosen(self) -> BatteryOption:
        """The battery in the aeroplane: mass and size given here override the option's."""
        if self.options:
            base = self.options[self.use if self.use is not None else next(iter(self.options))]
        else:
            assert self.mass_g is not None and self.size is not None
            return BatteryOption.model_construct(mass_g=self.mass_g, basis=self.basis, size=self.size, cells=self.cells)
        changes = {
            name: value
            for name, value in (("mass_g", self.mass_g), ("size", self.size), ("cells", self.cells))
            if value is not None
        }
        return base.model_copy(update=changes) if changes else base


class Motor(Table):
    """The motor, bolted to the firewall's front face, on the thrust axis."""

    kind: Literal["motor"]
    mass_g: Mass
    basis: ItemBasis = "estimated"
    diameter_mm: Length
    length_mm: Length
    """Of the case with its mount, without the shaft."""
    shaft_diameter_mm: Length = default("3 mm")
    shaft_length_mm: Length = default("14 mm")
    """Ahead of the case; its mass is in the motor's."""
    group: Group = "propulsion"
    place: Literal["inside", "outside"] = "outside"
    fitted: bool = True


class Propeller(Table):
    """The propeller on the motor's shaft."""

    kind: Literal["propeller"]
    mass_g: Mass
    basis: ItemBasis = "estimated"
    diameter_mm: Length
    pitch_mm: Length
    blades: int = Field(default=2, ge=2, le=6)
    hub_diameter_mm: Length = default("14 mm")
    hub_length_mm: Length = default("8 mm")
    group: Group = "propulsion"
    place: Literal["inside", "outside"] = "outside"
    fitted: bool = True


class PushRod(Table):
    """A wire from a servo arm to a horn, straight between the two points."""

    kind: Literal["push-rod"]
    from_point: tuple[Coordinate, Coordinate, Coordinate]
    """Station, butt line, water line of the end at the servo."""
    to_point: tuple[Coordinate, Coordinate, Coordinate]
    diameter_mm: Length = default("1.2 mm")
    material: SolidName = "music wire"
    end_length_mm: Length = default("8 mm")
    """Of the bent-over end that goes through arm and horn, at each end."""
    group: Group = "controls"
    fitted: bool = True


class Lead(Table):
    """A cable along a path."""

    kind: Literal["lead"]
    path: tuple[tuple[Coordinate, Coordinate, Coordinate], ...] = Field(min_length=2)
    """Station, butt line, water line of each corner."""
    material: LineName = "servo lead"
    slack_mm: Coordinate = default("0 mm")
    """Extra length, spread along the path."""
    group: Group = "electrical"
    fitted: bool = True


class Screws(Table):
    """Equal screws or bolts at several points, axes along one direction."""

    kind: Literal["screws"]
    points: tuple[tuple[Coordinate, Coordinate, Coordinate], ...] = Field(min_length=1)
    """Station, butt line, water line of the underside of each head."""
    diameter_mm: Length = default("3 mm")
    length_mm: Length = default("12 mm")
    head_diameter_mm: Length = default("5.5 mm")
    head_height_mm: Length = default("2 mm")
    pointing: Literal["aft", "forward", "left", "right", "down", "up"] = "aft"
    """From head to tip."""
    material: SolidName = "steel"
    group: Group = "propulsion"
    fitted: bool = True


def _kind(value: object) -> str:
    if isinstance(value, dict):
        kind = value.get("kind", "box")
        return kind if isinstance(kind, str) else "box"
    return str(getattr(value, "kind", "box"))


AnyItem = Annotated[
    Annotated[Item, Tag("box")]
    | Annotated[RoundItem, Tag("cylinder")]
    | Annotated[Battery, Tag("battery")]
    | Annotated[Motor, Tag("motor")]
    | Annotated[Propeller, Tag("propeller")]
    | Annotated[PushRod, Tag("push-rod")]
    | Annotated[Lead, Tag("lead")]
    | Annotated[Screws, Tag("screws")],
    Discriminator(_kind),
]
