"""Where things sit: the lines of the fuselage and the frames of wing and tail, before any part exists.

Every part family asks here for what it shares with the others (how wide the fuselage is under the
wing, where the gear plate interrupts the floor), so the families need not know each other.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import atan2, ceil, cos, tan
from typing import Literal

import numpy as np

from airframe import curves
from airframe.axes import Array, Place, about_y, about_z, at
from airframe.schema.design import Design
from airframe.schema.wing import Dowel
from airframe.wing_panels import MeanChord, WingPanelLayout, mean_chord, wing_panels

Edge = Literal["top", "bottom"]

CURVE_STEP_MM = 25.0
"""A curved top or bottom line is cut and scored in straight steps of about this length."""
_BESIDE_MM = 1e-3
"""Just beside a cover's end: there it counts on one side and not on the other."""


class Layout:
    """Derived positions of one design; all in the aeroplane's frame."""

    def __init__(self, design: Design) -> None:
        self.design = design

    # --- fuselage lines ----------------------------------------------------------------------------

    @cached_property
    def nose_mm(self) -> float:
        """Station of the sides' front end."""
        return self.design.fuselage.stations[0].station_mm

    @cached_property
    def tail_mm(self) -> float:
        """Station of the sides' rear end."""
        return self.design.fuselage.stations[-1].station_mm

    @cached_property
    def side_thickness_mm(self) -> float:
        """Thickness of the fuselage's sheet."""
        return self.design.material(self.design.fuselage.material).thickness_mm

    @cached_property
    def _edge_table(self) -> dict[Edge, Array]:
        rows = self.design.fuselage.stations
        x = np.array([row.station_mm for row in rows])
        curved = self.design.fuselage.line == "curved"
        tables: dict[Edge, Array] = {}
        for edge in ("top", "bottom"):
            z = np.array([getattr(row, f"{edge}_mm") for row in rows])
            grid = _refined(x) if curved else x
            tables[edge] = np.column_stack([grid, curves.smooth_curve(x, z, grid) if curved else z])
        return tables

    def water_line_mm(self, edge: Edge, x_mm: float) -> float:
        """Water line of the sides' top or bottom edge at a station."""
        table = self._edge_table[edge]
        return float(np.interp(x_mm, table[:, 0], table[:, 1]))

    def edge_points(self, edge: Edge, from_mm: float, to_mm: float) -> Array:
        """The straight steps (n, 2) of (station, water line) of an edge between two stations."""
        table = self._edge_table[edge]
        inside = table[(table[:, 0] > from_mm + 1e-6) & (table[:, 0] < to_mm - 1e-6)]
        ends = [[x, self.water_line_mm(edge, x)] for x in (from_mm, to_mm)]
        return np.vstack([ends[:1], inside, ends[1:]])

    def slope_rad(self, edge: Edge, from_mm: float, to_mm: float) -> float:
        """How steeply an edge falls going aft between two stations: positive when its rear end is lower."""
        fall = self.water_line_mm(edge, from_mm) - self.water_line_mm(edge, to_mm)
        return atan2(fall, to_mm - from_mm)

    @cached_property
    def taper_rad(self) -> float:
        """Angle by which each side turns in behind the taper station; 0 without taper."""
        fuselage = self.design.fuselage
        if fuselage.tail_width_mm is None or fuselage.taper_station_mm is None:
            return 0.0
        return atan2((fuselage.width_mm - fuselage.tail_width_mm) / 2.0, self.tail_mm - fuselage.taper_station_mm)

    def half_width_mm(self, x_mm: float) -> float:
        """Butt line of the right side's outer face."""
        fuselage = self.design.fuselage
        aft = max(x_mm - (fuselage.taper_station_mm or 0.0), 0.0) if self.taper_rad else 0.0
        return fuselage.width_mm / 2.0 - aft * tan(self.taper_rad)

    def inner_half_width_mm(self, x_mm: float) -> float:
        """Butt line of the right side's inner face."""
        straight = self.design.fuselage.width_mm / 2.0 - self.side_thickness_mm
        if not self.taper_rad:
            return straight
        # The slanted part's inner face; the two meet a little ahead of the score, where the groove closes.
        aft = x_mm - (self.design.fuselage.taper_station_mm or 0.0)
        slanted = self.design.fuselage.width_mm / 2.0 - aft * tan(self.taper_rad)
        return min(straight, slanted - self.side_thickness_mm / cos(self.taper_rad))

    def closing_thickness_mm(self, edge: Edge, x_mm: float) -> float:
        """How much of the height at a station is taken by a deck, floor or gear plate set in between the sides."""
        covers = [
            self.design.material(deck.material or self.design.fuselage.material).thickness_mm
            for deck in self.design.fuselage.decks
            if deck.face == edge and deck.fit == "between" and deck.from_station_mm <= x_mm <= deck.to_station_mm
        ]
        plate = self.gear_plate
        if edge == "bottom" and plate is not None and plate.from_mm <= x_mm <= plate.to_mm:
            covers.append(plate.thickness_mm)
        return max(covers, default=0.0)

    def clear_height_mm(self, from_mm: float, to_mm: float) -> tuple[float, float]:
        """Lowest and highest water line free between floor and deck over a whole stretch of stations."""
        low, high = -np.inf, np.inf
        for x in self._telling_stations(from_mm, to_mm):
            low = max(low, self.water_line_mm("bottom", x) + self._closing_height_mm("bottom", x))
            high = min(high, self.water_line_mm("top", x) - self._closing_height_mm("top", x))
        return float(low), float(high)

    def _telling_stations(self, from_mm: float, to_mm: float) -> list[float]:
        """Stations between which lines and covers run straight: ends, kinks, and just beside every cover's end."""
        marks = [x for edge in ("top", "bottom") for x in self._edge_table[edge][:, 0]]
        for deck in self.design.fuselage.decks:
            marks += [deck.from_station_mm, deck.to_station_mm]
        if self.gear_plate is not None:
            marks += [self.gear_plate.from_mm, self.gear_plate.to_mm]
        beside = [x + step for x in (from_mm, *marks, to_mm) for step in (-_BESIDE_MM, _BESIDE_MM)]
        inside = [x for x in beside if from_mm < x < to_mm]
        return [*inside, (from_mm + to_mm) / 2.0]

    def _closing_height_mm(self, edge: Edge, x_mm: float) -> float:
        """What a cover takes of the height, measured upright: more where the edge slopes."""
        thickness = self.closing_thickness_mm(edge, x_mm)
        if thickness == 0.0:
            return 0.0
        steepest = max(abs(self.slope_rad(edge, x_mm - 0.5, x_mm)), abs(self.slope_rad(edge, x_mm, x_mm + 0.5)))
        return thickness / cos(steepest)

    def underside_mm(self, x_mm: float) -> float:
        """Water line of what lies lowest at a station: the sides' bottom edges, or a deck laid over them."""
        return self.water_line_mm("bottom", x_mm) - self._laid_over_mm("bottom", x_mm)

    def resting_mm(self, from_mm: float, to_mm: float, fall_rad: float) -> float:
        """Water line at `from_mm` of a plane that falls aft by the angle and rests on the sides' top edges.

        It touches where they, or a deck laid over them, stand highest between the two stations; at one end
        or at both if the top is straight there or hollow.
        """
        first, last = max(from_mm, self.nose_mm), min(to_mm, self.tail_mm)
        if last <= first:
            return self.water_line_mm("top", from_mm)
        marks = [x for deck in self.design.fuselage.decks for x in (deck.from_station_mm, deck.to_station_mm)]
        stations = [*self.edge_points("top", first, last)[:, 0], *(x for x in marks if first < x < last)]
        tops = (self.water_line_mm("top", x) + self._laid_over_mm("top", x) for x in stations)
        return float(max(z + (x - from_mm) * tan(fall_rad) for x, z in zip(stations, tops, strict=True)))

    def _laid_over_mm(self, edge: Edge, x_mm: float) -> float:
        """How far a deck laid over the edges reaches beyond them at a station, measured upright."""
        over = [
            self.design.material(deck.material or self.design.fuselage.material).thickness_mm
            for deck in self.design.fuselage.decks
            if deck.face == edge and deck.fit == "over" and deck.from_station_mm <= x_mm <= deck.to_station_mm
        ]
        return max(over, default=0.0) / cos(self.slope_rad(edge, x_mm - 0.5, x_mm))

    # --- landing gear plate ---------------------------------------------------------------------------

    @cached_property
    def gear_plate(self) -> GearPlateLayout | None:
        """The gear plate's stretch of the floor, or None."""
        gear = self.design.gear
        if gear.arrangement == "none" or gear.plate is None:
            return None
        plate = gear.plate
        thickness = self.design.material(plate.material).thickness_mm
        return GearPlateLayout(plate.from_station_mm, plate.to_station_mm, thickness)

    # --- wing ------------------------------------------------------------------------------------------

    @cached_property
    def wing_incidence_rad(self) -> float:
        """As stated, or as the fuselage's top line lies under the root chord."""
        wing = self.design.wing
        if wing.incidence_rad is not None:
            return wing.incidence_rad
        return self.slope_rad("top", wing.station_mm, wing.station_mm + wing.root_chord_mm)

    @cached_property
    def wing_place(self) -> Place:
        """Carries the wing's frame into the aeroplane; origin: leading edge at the centre, section's lowest line."""
        wing = self.design.wing
        fall = self.wing_incidence_rad
        z = wing.water_line_mm
        if z is None:
            z = self.resting_mm(wing.station_mm, wing.station_mm + wing.root_chord_mm * cos(fall), fall)
        return at(wing.station_mm, 0.0, z).after(about_y(fall))

    @cached_property
    def wing_panels(self) -> tuple[WingPanelLayout, ...]:
        """The panels of the right half, root to tip."""
        return wing_panels(self.design.wing, self.wing_place)

    def wing_panel_at(self, distance_mm: float) -> tuple[WingPanelLayout, float]:
        """The panel at a distance from the centre along the panels, and how far out on it."""
        for panel in reversed(self.wing_panels):
            if distance_mm >= panel.from_centre_mm:
                return panel, distance_mm - panel.from_centre_mm
        return self.wing_panels[0], distance_mm

    @cached_property
    def mean_chord(self) -> MeanChord:
        """The wing's mean aerodynamic chord."""
        return mean_chord(self.design.wing, self.wing_panels, self.wing_incidence_rad)

    @cached_property
    def dowels(self) -> tuple[Dowel, ...]:
        """The dowels that pass through both sides."""
        mounting = self.design.wing.mounting
        return () if mounting is None else (mounting.front, mounting.rear)

    # --- tail --------------------------------------------------------------------------------------------

    @cached_property
    def stabiliser_place(self) -> Place:
        """Carries the stabiliser's frame into the aeroplane; origin: leading edge on the centre plane, lower face."""
        stabiliser = self.design.tail.stabiliser
        x = stabiliser.station_mm
        if stabiliser.water_line_mm is not None:
            return at(x, 0.0, stabiliser.water_line_mm)
        rear = min(x + stabiliser.root_chord_mm, self.tail_mm)
        slope = self.slope_rad("top", x, rear) if rear > x else 0.0
        return at(x, 0.0, self.resting_mm(x, rear, slope)).after(about_y(slope))

    # --- thrust line ---------------------------------------------------------------------------------------

    @cached_property
    def thrust_place(self) -> Place:
        """The firewall's frame: origin on its front face and the thrust line, x aft along the thrust axis.

        Down thrust lowers the propeller (-x end), right thrust turns it to the right wing (+y).
        """
        firewall = self.design.fuselage.firewall
        return about_z(-firewall.right_thrust_rad).after(about_y(-firewall.down_thrust_rad))


@dataclass(frozen=True)
class GearPlateLayout:
    """The stretch of the floor that the gear plate takes."""

    from_mm: float
    to_mm: float
    thickness_mm: float


def _refined(x: Array) -> Array:
    grid = [np.linspace(a, b, max(ceil((b - a) / CURVE_STEP_MM), 1) + 1)[:-1] for a, b in pairwise(x)]
    return np.concatenate([*grid, x[-1:]])
