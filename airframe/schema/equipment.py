"""What is bought and carried: motor, propeller, battery, servos, camera, leads, screws."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator

from airframe.schema.base import (
    Angle,
    Charge,
    Coordinate,
    Current,
    Distance,
    Length,
    LineName,
    Mass,
    MotorConstant,
    Resistance,
    Share,
    SolidName,
    Table,
    Torque,
    default,
)

Group = Literal["propulsion", "controls", "electrical", "payload", "fuselage", "landing gear"]
ItemBasis = Literal["estimated", "weighed"]
Coefficient = Annotated[float, Field(strict=True, gt=0, le=1)]
Size = Annotated[tuple[Length, Length, Length], Field(description="length (fore and aft), width, height")]


class Item(Table):
    """A box-shaped bought item."""

    kind: Literal["box"] = "box"
    """What it is: a plain box."""
    mass_g: Mass
    """As estimated, or as weighed (see basis)."""
    basis: ItemBasis = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    uncertainty_share: Share | None = None
    """Standard uncertainty of the mass; if not given, by its basis from [certainty]."""
    size: Size
    """Length (fore and aft), width, height."""
    station_mm: Coordinate
    """Of its middle, as are butt line and water line."""
    butt_line_mm: Coordinate = default("0 mm")
    """Of its middle, to the right wing."""
    water_line_mm: Coordinate = default("0 mm")
    """Of its middle, up from the thrust line."""
    group: Group = "payload"
    """The heading it is added up under."""
    place: Literal["inside", "outside"] = "inside"
    """Whether it belongs inside the fuselage."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""


class SpeedController(Item):
    """A box-shaped speed controller."""

    kind: Literal["speed controller"]  # type: ignore[assignment]  # a box for all that only asks where it is
    """What it is: the motor's speed controller."""
    max_current_a: Current | None = None
    """What it carries for as long as you like."""
    resistance_ohm: Resistance | None = None
    """Between battery and motor."""


class Servo(Item):
    """A box-shaped servo."""

    kind: Literal["servo"]  # type: ignore[assignment]  # a box, as above
    """What it is: a servo."""
    torque_n_m: Torque | None = None
    """At which it stalls, at the voltage it is fed; kg cm and oz in are kilogram- and ounce-force."""
    arm_mm: Length | None = None
    """From its shaft to the hole that the push-rod is in."""
    travel_rad: Annotated[Angle, Field(gt=0.0, lt=1.5)] = default("45 deg")
    """From the middle to either end, as your transmitter is set."""


class RoundItem(Table):
    """A bought item of round section."""

    kind: Literal["cylinder"]
    """What it is: a cylinder."""
    mass_g: Mass
    """As estimated, or as weighed (see basis)."""
    basis: ItemBasis = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    uncertainty_share: Share | None = None
    """Standard uncertainty of the mass; if not given, by its basis from [certainty]."""
    diameter_mm: Length
    """Outside."""
    length_mm: Length
    """Along its axis."""
    axis: Literal["station", "butt line", "water line"] = "station"
    """The direction its axis runs."""
    station_mm: Coordinate
    """Of its middle, as are butt line and water line."""
    butt_line_mm: Coordinate = default("0 mm")
    """Of its middle, to the right wing."""
    water_line_mm: Coordinate = default("0 mm")
    """Of its middle, up from the thrust line."""
    group: Group = "payload"
    """The heading it is added up under."""
    place: Literal["inside", "outside"] = "inside"
    """Whether it belongs inside the fuselage."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""


class BatteryOption(Table):
    """One of the batteries that the builder owns."""

    mass_g: Mass
    """With its plug and lead."""
    basis: ItemBasis = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    uncertainty_share: Share | None = None
    """Standard uncertainty of the mass; if not given, by its basis from [certainty]."""
    size: Size
    cells: int | None = Field(strict=True, default=None, ge=1, le=12)
    """In series."""
    capacity_c: Charge | None = None
    """As printed on it."""
    resistance_ohm: Resistance | None = None
    """Of the whole pack with its plug and leads."""
    max_current_a: Current | None = None
    """What it may be asked for as long as you like: its capacity in Ah times its C rate."""


_ELECTRICAL = ("cells", "capacity_c", "resistance_ohm", "max_current_a")
"""What a single battery states of itself as an option does."""


class Battery(Table):
    """The flight battery: one of several options, on a tray."""

    kind: Literal["battery"]
    """What it is: the flight battery."""
    options: dict[str, BatteryOption] = Field(default_factory=dict)
    """By name; or give mass and size here for a single battery."""
    use: str | None = None
    """The option that is in the aeroplane; default: the first."""
    mass_g: Mass | None = None
    """With its plug and lead; not needed with options."""
    basis: ItemBasis = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    uncertainty_share: Share | None = None
    """Standard uncertainty of the mass; if not given, by its basis from [certainty]."""
    size: Size | None = None
    """Length (fore and aft), width, height; not needed with options."""
    cells: int | None = Field(strict=True, default=None, ge=1, le=12)
    """In series."""
    capacity_c: Charge | None = None
    """As printed on it."""
    resistance_ohm: Resistance | None = None
    """Of the whole pack with its plug and leads."""
    max_current_a: Current | None = None
    """What it may be asked for as long as you like: its capacity in Ah times its C rate."""
    station_mm: Coordinate
    """Of its middle."""
    butt_line_mm: Coordinate = default("0 mm")
    """Of its middle, to the right wing."""
    water_line_mm: Coordinate
    """Of its underside: the tray's upper face."""
    tray_from_mm: Coordinate | None = None
    """How far forward the battery's front end may be moved."""
    tray_to_mm: Coordinate | None = None
    """How far aft its rear end may be moved."""
    group: Group = "electrical"
    """The heading it is added up under."""
    place: Literal["inside", "outside"] = "inside"
    """Whether it belongs inside the fuselage."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""

    @model_validator(mode="after")
    def _one_way_to_state_it(self) -> Self:
        single = self.mass_g is not None and self.size is not None
        if not self.options and not single:
            raise ValueError("give mass and size, or a table of options")
        if self.options and self.use is not None and self.use not in self.options:
            raise ValueError(f"use = '{self.use}' is not among the options: {', '.join(self.options)}")
        return self

    @model_validator(mode="after")
    def _tray_has_a_length(self) -> Self:
        if self.tray_from_mm is not None and self.tray_to_mm is not None and self.tray_from_mm >= self.tray_to_mm:
            raise ValueError("tray_from must lie ahead of tray_to: both are stations, measured aft")
        return self

    def chosen(self) -> BatteryOption:
        """The battery in the aeroplane: mass and size given here override the option's."""
        if self.options:
            base = self.options[self.use if self.use is not None else next(iter(self.options))]
        else:
            assert self.mass_g is not None and self.size is not None
            return BatteryOption.model_construct(
                mass_g=self.mass_g,
                basis=self.basis,
                uncertainty_share=self.uncertainty_share,
                size=self.size,
                **{name: getattr(self, name) for name in _ELECTRICAL},
            )
        given = {name: getattr(self, name) for name in ("mass_g", "size", *_ELECTRICAL)}
        changes: dict[str, object] = {name: value for name, value in given.items() if value is not None}
        if "mass_g" in changes:
            changes |= {"basis": self.basis, "uncertainty_share": self.uncertainty_share}
        return base.model_copy(update=changes) if changes else base


class Motor(Table):
    """The motor, bolted to the firewall's front face, on the thrust axis."""

    kind: Literal["motor"]
    """What it is: the motor."""
    mass_g: Mass
    """With its mount, shaft and leads."""
    basis: ItemBasis = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    uncertainty_share: Share | None = None
    """Standard uncertainty of the mass; if not given, by its basis from [certainty]."""
    diameter_mm: Length
    """Of the case."""
    length_mm: Length
    """Of the case with its mount, without the shaft."""
    shaft_diameter_mm: Length = default("3 mm")
    """Of the shaft that carries the propeller."""
    shaft_length_mm: Length = default("14 mm")
    """Ahead of the case; its mass is in the motor's."""
    kv_rad_s_v: MotorConstant | None = None
    """How much faster it turns, unloaded, for each volt more."""
    resistance_ohm: Resistance | None = None
    """Of its winding, between two leads."""
    no_load_current_a: Current | None = None
    """What it draws without a propeller."""
    group: Group = "propulsion"
    """The heading it is added up under."""
    place: Literal["inside", "outside"] = "outside"
    """Whether it belongs inside the fuselage."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""

    @model_validator(mode="after")
    def _shaft_thinner_than_case(self) -> Self:
        if self.shaft_diameter_mm >= self.diameter_mm:
            raise ValueError("shaft_diameter must be less than diameter, which is the case's")
        return self


class Propeller(Table):
    """The propeller on the motor's shaft."""

    kind: Literal["propeller"]
    """What it is: the propeller."""
    mass_g: Mass
    """With its nut or adapter."""
    basis: ItemBasis = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    uncertainty_share: Share | None = None
    """Standard uncertainty of the mass; if not given, by its basis from [certainty]."""
    diameter_mm: Length
    """Of the disk that the blades sweep."""
    pitch_mm: Length
    """Advance in one turn, as printed on the blade."""
    blades: int = Field(strict=True, default=2, ge=2, le=6)
    """How many."""
    hub_diameter_mm: Length = default("14 mm")
    """Outside."""
    hub_length_mm: Length = default("8 mm")
    """Fore and aft."""
    thrust_coefficient: Coefficient | None = None
    """Standing still: thrust / (air density, turns a second squared, diameter to the fourth)."""
    power_coefficient: Coefficient | None = None
    """Standing still: power / (air density, turns a second cubed, diameter to the fifth)."""
    group: Group = "propulsion"
    """The heading it is added up under."""
    place: Literal["inside", "outside"] = "outside"
    """Whether it belongs inside the fuselage."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""

    @model_validator(mode="after")
    def _blades_longer_than_hub(self) -> Self:
        if self.diameter_mm < 2.0 * self.hub_diameter_mm:
            raise ValueError("diameter must be at least twice hub_diameter, or there is no blade")
        return self


class PushRod(Table):
    """A wire from a servo arm to a horn, straight between the two points."""

    kind: Literal["push-rod"]
    """What it is: a push-rod."""
    from_point: tuple[Coordinate, Coordinate, Coordinate]
    """Station, butt line, water line of the end at the servo."""
    to_point: tuple[Coordinate, Coordinate, Coordinate]
    """Station, butt line, water line of the end at the horn."""
    diameter_mm: Length = default("1.2 mm")
    """Of the wire."""
    material: SolidName = "music wire"
    """A material of kind solid."""
    end_length_mm: Length = default("8 mm")
    """Of the bent-over end that goes through arm and horn, at each end."""
    guides: int = Field(strict=True, default=0, ge=0, le=9)
    """Short tubes that it slides in, evenly spaced, each held by a strip of board: they keep it from bending."""
    group: Group = "controls"
    """The heading it is added up under."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""


class Lead(Table):
    """A cable along a path."""

    kind: Literal["lead"]
    """What it is: a cable."""
    path: tuple[tuple[Coordinate, Coordinate, Coordinate], ...] = Field(min_length=2)
    """Station, butt line, water line of each corner."""
    material: LineName = "servo lead"
    """A material of kind line."""
    slack_mm: Distance = default("0 mm")
    """Extra length, spread along the path."""
    group: Group = "electrical"
    """The heading it is added up under."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""


class Screws(Table):
    """Equal screws or bolts at several points, axes along one direction."""

    kind: Literal["screws"]
    """What it is: one or more equal screws."""
    points: tuple[tuple[Coordinate, Coordinate, Coordinate], ...] = Field(min_length=1)
    """Station, butt line, water line of the underside of each head."""
    diameter_mm: Length = default("3 mm")
    """Of the shank."""
    length_mm: Length = default("12 mm")
    """From under the head to the tip."""
    head_diameter_mm: Length = default("5.5 mm")
    """Outside."""
    head_height_mm: Length = default("2 mm")
    """Along the axis."""
    pointing: Literal["aft", "forward", "left", "right", "down", "up"] = "aft"
    """From head to tip."""
    material: SolidName = "steel"
    """A material of kind solid."""
    group: Group = "propulsion"
    """The heading it is added up under."""
    fitted: bool = True
    """false leaves the item out and keeps its numbers in the file."""

    @model_validator(mode="after")
    def _head_wider_than_shank(self) -> Self:
        if self.head_diameter_mm <= self.diameter_mm:
            raise ValueError("head_diameter must exceed diameter")
        return self


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
    | Annotated[Screws, Tag("screws")]
    | Annotated[SpeedController, Tag("speed controller")]
    | Annotated[Servo, Tag("servo")],
    Discriminator(_kind),
]
