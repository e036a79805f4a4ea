"""The fuselage as a builder states it: side view, width, formers, decks, firewall, openings."""

from __future__ import annotations

from itertools import pairwise
from math import radians
from typing import Literal, Self

from pydantic import Field, model_validator

from airframe.schema.base import Angle, Coordinate, Distance, Length, SheetName, Table, default

MOST_THRUST_RAD = radians(15.0)
"""Beyond this the firewall no longer closes the nose."""

Face = Literal["left", "right", "sides", "top", "bottom"]


class Station(Table):
    """One row of the station table: where the top and bottom of the sides are."""

    station_mm: Coordinate
    """Aft of the firewall's front face; ahead of it is negative."""
    top_mm: Coordinate
    """Water line of the sides' top edge."""
    bottom_mm: Coordinate
    """Water line of the sides' bottom edge."""

    @model_validator(mode="after")
    def _top_above_bottom(self) -> Self:
        if self.top_mm <= self.bottom_mm:
            raise ValueError("top must lie above bottom")
        return self


class Former(Table):
    """A former across the fuselage, from side to side and from floor to deck."""

    name: str
    """The part is called by it."""
    station_mm: Coordinate
    """Of its front face."""
    material: SheetName | None = None
    """Default: the fuselage's material."""
    rim_mm: Length | None = None
    """With a rim, the middle is cut out and this much is left all round; without, the former is whole."""


class Brace(Table):
    """A strip across the fuselage from side to side, lying flat."""

    name: str
    """The part is called by it."""
    station_mm: Coordinate
    """Of its front edge."""
    water_line_mm: Coordinate
    """Of its upper face."""
    depth_mm: Length
    """Fore and aft."""
    material: SheetName | None = None
    """Default: the fuselage's material."""


class Opening(Table):
    """A hole cut in a side, a deck or a floor: a hatch, a hand hole, a camera window."""

    name: str
    """What the opening and its lid are called."""
    face: Face
    """Where it is cut; sides: the same in left and right."""
    from_station_mm: Coordinate
    """Of its front edge."""
    to_station_mm: Coordinate
    """Of its rear edge."""
    low_mm: Coordinate
    """Sides: lower water line. Top and bottom: butt line of the left edge."""
    high_mm: Coordinate
    """Sides: upper water line. Top and bottom: butt line of the right edge."""
    corner_radius_mm: Distance = default("0 mm")
    """Of its four corners."""
    cover: bool = False
    """Whether the piece cut out is put back as a lid."""

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.to_station_mm <= self.from_station_mm or self.high_mm <= self.low_mm:
            raise ValueError("the opening has no size: 'to_station' must exceed 'from_station' and 'high' 'low'")
        return self


class Deck(Table):
    """Sheet that closes the top or the bottom between the sides, following their edges.

    A windscreen is a deck of clear sheet over a rising part of the top line.
    """

    name: str
    """The part is called by it."""
    face: Literal["top", "bottom"]
    """Which edges of the sides it follows."""
    from_station_mm: Coordinate
    """Of its front edge."""
    to_station_mm: Coordinate
    """Of its rear edge."""
    material: SheetName | None = None
    """Default: the fuselage's material."""
    fit: Literal["between", "over"] = "between"
    """between: set in flush with the sides' edges; over: laid on top of them, as wide as the fuselage."""

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.to_station_mm <= self.from_station_mm:
            raise ValueError("'to_station' must exceed 'from_station'")
        return self


class Slot(Table):
    """A rectangular hole through a shelf."""

    station_mm: Coordinate
    """Of its middle."""
    butt_line_mm: Coordinate = default("0 mm")
    """Of its middle, to the right wing."""
    length_mm: Length
    """Fore and aft."""
    width_mm: Length
    """Across the fuselage."""


class Shelf(Table):
    """A level board between the sides: battery tray, servo deck, seat of a camera or a pilot figure."""

    name: str
    """The part is called by it."""
    from_station_mm: Coordinate
    """Of its front edge."""
    to_station_mm: Coordinate
    """Of its rear edge."""
    water_line_mm: Coordinate
    """Of its upper face."""
    material: SheetName | None = None
    """Default: the fuselage's material."""
    width_mm: Length | None = None
    """Default: all the way between the sides."""
    slots: tuple[Slot, ...] = ()
    """Holes through the board, for servos and leads."""

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.to_station_mm <= self.from_station_mm:
            raise ValueError("'to_station' must exceed 'from_station'")
        return self


class ShellEnd(Table):
    """One end of a bent shell: a box section with rounded corners, open at the far side."""

    station_mm: Coordinate
    """Of the section's plane."""
    width_mm: Length
    """Outside."""
    crown_mm: Coordinate
    """Water line of the closed face, outside."""
    edge_mm: Coordinate
    """Water line of the free edges."""
    corner_radius_mm: Length
    """Outside; more than the sheet's thickness."""


class Shell(Table):
    """A scored and bent panel between two end sections: a cowl (opens down) or a belly pan (opens up)."""

    name: str
    """The part is called by it."""
    opens: Literal["down", "up"]
    """down: a cowl; up: a belly pan."""
    front: ShellEnd
    """The forward section."""
    rear: ShellEnd
    """The aft section."""
    scores_per_corner: int = Field(strict=True, default=3, ge=1, le=12)
    """Score lines that bend each rounded corner."""
    material: SheetName | None = None
    """Default: the fuselage's material."""
    end_formers: tuple[Literal["front", "rear"], ...] = ()
    """Flat formers inside the ends."""
    former_rim_mm: Length = default("10 mm")
    """How much of an end former is left round its hole."""

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.rear.station_mm <= self.front.station_mm:
            raise ValueError("the rear section must lie behind the front one")
        for end in (self.front, self.rear):
            if (end.crown_mm > end.edge_mm) != (self.opens == "down"):
                raise ValueError("the crown lies above the edges when it opens down, below when it opens up")
        return self


class Hole(Table):
    """A round hole in the firewall."""

    name: str
    """What passes through it."""
    butt_line_mm: Coordinate
    """Of its middle, to the right wing."""
    water_line_mm: Coordinate
    """Of its middle, up from the thrust line."""
    diameter_mm: Length
    """Of the hole."""


class Gussets(Table):
    """Right-angled triangles in the corners between firewall and sides."""

    material: SheetName = "birch plywood 3 mm"
    """A material of kind sheet."""
    leg_mm: Length = default("20 mm")
    """Length of the two equal legs."""
    water_lines: tuple[Coordinate, ...] = ()
    """Upper faces of the gussets, one pair (left and right) for each."""


class Firewall(Table):
    """The plywood bulkhead that carries the motor; its front face is station 0."""

    material: SheetName = "birch plywood 3 mm"
    """A material of kind sheet."""
    down_thrust_rad: Angle = default("0 deg")
    """Positive points the propeller down."""
    right_thrust_rad: Angle = default("0 deg")
    """Positive points the propeller to the right."""
    bolt_circle_mm: Length | None = None
    """Diameter of the circle of the motor's four bolts."""
    bolt_diameter_mm: Length = default("3 mm")
    """Of the motor's bolts: the holes are cut to it."""
    shaft_hole_mm: Length | None = None
    """Clearance hole for the motor's rear shaft, on the thrust line."""
    holes: tuple[Hole, ...] = ()
    """Wire and cable cut-outs."""
    doubler_material: SheetName | None = None
    """Plywood on the inside of the sides, glued to the firewall's edges; none if not given."""
    doubler_behind_mm: Length = default("40 mm")
    """How far the doublers reach aft."""
    gussets_behind: Gussets | None = None
    """In the corners aft of the firewall; none if not given."""
    gussets_ahead: Gussets | None = None
    """Only where the sides reach ahead of the firewall."""

    @model_validator(mode="after")
    def _thrust_is_slight(self) -> Self:
        if max(abs(self.down_thrust_rad), abs(self.right_thrust_rad)) > MOST_THRUST_RAD:
            raise ValueError("down_thrust and right_thrust must stay within 15 deg")
        return self


class Fuselage(Table):
    """A box of two sides with formers, decks and floor."""

    material: SheetName = "foam board 5 mm"
    """A material of kind sheet, for all that does not state its own."""
    width_mm: Length
    """Outside, over the sides, from the nose to the taper station."""
    tail_width_mm: Length | None = None
    """Outside width at the last station; default: no taper."""
    taper_station_mm: Coordinate | None = None
    """Where the sides are scored and bent inwards; needed with tail_width."""
    line: Literal["straight", "curved"] = "straight"
    """How top and bottom run between the stations."""
    stations: tuple[Station, ...] = Field(min_length=2)
    """Front to rear."""
    splice_station_mm: Coordinate | None = None
    """Where a side longer than the sheet is joined; default: the middle of the longest allowed front piece."""
    splice_doubler_mm: Length = default("80 mm")
    """Length of the doubler inside a splice."""
    formers: tuple[Former, ...] = ()
    """Across the fuselage, from floor to deck."""
    braces: tuple[Brace, ...] = ()
    """Strips across the fuselage, lying flat."""
    openings: tuple[Opening, ...] = ()
    """Holes in sides, decks and floors."""
    decks: tuple[Deck, ...] = ()
    """Sheets that close the top and the bottom."""
    shelves: tuple[Shelf, ...] = ()
    """Level boards between the sides."""
    shells: tuple[Shell, ...] = ()
    """Scored and bent cowls and belly pans."""
    firewall: Firewall = Firewall()
    """The plywood bulkhead that carries the motor."""

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        stations = [s.station_mm for s in self.stations]
        if any(b <= a for a, b in pairwise(stations)):
            raise ValueError("stations must increase from front to rear")
        if stations[0] > 0:
            raise ValueError("the first station must be at or ahead of the firewall (station 0)")
        if (self.tail_width_mm is None) != (self.taper_station_mm is None):
            raise ValueError("tail_width and taper_station go together")
        if self.taper_station_mm is not None and not 0 < self.taper_station_mm < stations[-1]:
            raise ValueError("taper_station must lie between the firewall and the last station")
        if self.tail_width_mm is not None and self.tail_width_mm > self.width_mm:
            raise ValueError("tail_width must not exceed width")
        return self
