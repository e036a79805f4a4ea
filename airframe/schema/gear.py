"""The landing gear as a builder states it."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import model_validator

from airframe import ruler
from airframe.schema.base import Coordinate, Length, Mass, SheetName, SolidName, Table, default

HUB_ROOM_MM = 4.0
"""What a wheel's diameter must exceed twice its axle by, for a hub and a tyre."""


class Wheel(Table):
    """A bought wheel."""

    diameter_mm: Length
    """Over the tyre."""
    width_mm: Length
    """Of the tyre."""
    mass_g: Mass
    """Of one wheel, without its collars."""
    basis: Literal["estimated", "weighed"] = "estimated"
    """weighed: the mass comes from your kitchen scale."""
    collar_mass_g: Mass = default("0.8 g")
    """Of each of the two collars that hold it."""


class GearPlate(Table):
    """The plate between the sides, flush with their bottom edges, that the legs are bound to."""

    material: SheetName = "birch plywood 3 mm"
    """A material of kind sheet."""
    from_station_mm: Coordinate
    """Of its front edge."""
    to_station_mm: Coordinate
    """Of its rear edge."""
    buttress_material: SheetName | None = None
    """An upright cross piece glued on the plate's rear edge; none if not given."""
    buttress_height_mm: Length = default("25 mm")
    """Above the plate."""

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.to_station_mm <= self.from_station_mm:
            raise ValueError("'to_station' must exceed 'from_station'")
        return self


class Strut(Table):
    """A second wire from the plate to the axle, bound and soldered to the leg."""

    wire_diameter_mm: Length = default("2 mm")
    """Of the strut's wire."""
    station_mm: Coordinate
    """Where it leaves the plate."""


class Fairing(Table):
    """A flat strip along each leg."""

    material: SheetName = "balsa sheet 3 mm"
    """A material of kind sheet."""
    chord_mm: Length = default("20 mm")
    """Fore and aft."""


class TailWheel(Table):
    """A wheel on a bent wire under the tail."""

    wheel: Wheel
    """The wheel itself."""
    axle_station_mm: Coordinate
    """Of the wheel's axle."""
    pivot_station_mm: Coordinate
    """Where the wire leaves the fuselage's bottom."""
    wire_diameter_mm: Length = default("1.5 mm")
    """Of the bent wire."""
    height_mm: Length
    """From the thrust line down to the bottom of the wheel, wire unloaded."""
    steerable: bool = True
    """With a tiller arm under the fuselage, for a push-rod or springs from the rudder."""


class Skid(Table):
    """A bent wire that slides, instead of a tail wheel."""

    front_station_mm: Coordinate
    """Where the wire leaves the fuselage's bottom."""
    contact_station_mm: Coordinate
    """Where it touches the ground."""
    height_mm: Length
    """From the thrust line down to the lowest point."""
    wire_diameter_mm: Length = default("1.5 mm")
    """Of the bent wire."""


class NoseWheel(Table):
    """A wheel on an upright wire behind the firewall."""

    wheel: Wheel
    """The wheel itself."""
    axle_station_mm: Coordinate
    """Of the wheel's axle."""
    wire_diameter_mm: Length = default("3 mm")
    """Of the upright wire."""
    height_mm: Length
    """From the thrust line down to the bottom of the wheel."""


class Gear(Table):
    """Bent music-wire legs and what rolls on them."""

    arrangement: Literal["tail wheel", "nose wheel", "none"] = "tail wheel"
    """none: hand launched, lands on its belly; the rest of the table is then ignored."""
    track_mm: Length = default("200 mm")
    """Between the middles of the main wheels."""
    axle_station_mm: Coordinate = default("100 mm")
    """Of the main wheels' axle."""
    height_mm: Length = default("160 mm")
    """From the thrust line down to the bottom of the main wheels, fuselage level."""
    wire_diameter_mm: Length = default("3 mm")
    """Of the main legs."""
    wire_material: SolidName = "music wire"
    """A material of kind solid."""
    bend_radius_mm: Length = default("6 mm")
    """Inside radius of every bend in the gear's wires."""
    leg_station_mm: Coordinate | None = None
    """Where the legs leave the plate; default: the middle of the plate."""
    wheel: Wheel | None = None
    """Each of the two main wheels."""
    plate: GearPlate | None = None
    """What the legs are bound to."""
    strut: Strut | None = None
    """A brace for each leg; none if not given."""
    fairing: Fairing | None = None
    """A strip along each leg; none if not given."""
    tail_wheel: TailWheel | None = None
    """With a tail wheel: this or a skid."""
    skid: Skid | None = None
    """With a tail wheel: instead of one."""
    nose_wheel: NoseWheel | None = None
    """With a nose wheel: the third wheel."""

    @model_validator(mode="after")
    def _wheels_fit_their_wires(self) -> Self:
        pairs = [("wheel", self.wheel, self.wire_diameter_mm)]
        for name, holder in (("tail_wheel", self.tail_wheel), ("nose_wheel", self.nose_wheel)):
            if holder is not None:
                pairs.append((f"{name}.wheel", holder.wheel, holder.wire_diameter_mm))
        for name, wheel, wire in pairs:
            least = 2.0 * wire + HUB_ROOM_MM
            if wheel is not None and wheel.diameter_mm < least:
                needs = f"needs a diameter of {ruler.least(least)} or more"
                raise ValueError(f"{name}: a wheel on a wire of {ruler.exact(wire)} {needs}")
        return self

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if self.arrangement == "none":
            return self
        missing = [name for name in ("wheel", "plate") if getattr(self, name) is None]
        if self.arrangement == "nose wheel" and self.nose_wheel is None:
            missing.append("nose_wheel")
        if self.arrangement == "tail wheel" and self.tail_wheel is None and self.skid is None:
            missing.append("tail_wheel (or skid)")
        if missing:
            raise ValueError(f"a gear with a {self.arrangement} needs: {', '.join(missing)}")
        if self.arrangement == "tail wheel" and self.tail_wheel is not None and self.skid is not None:
            raise ValueError("give a tail_wheel or a skid, not both")
        return self
