"""What can be said of a design in flight, in the order a builder asks; all of it estimates."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

import numpy as np

from airframe.axes import Point
from airframe.flight import controls, loading, parasite, polars, responses, tail_air, trim
from airframe.flight.air import Air, around
from airframe.flight.axes import M_PER_MM, body_mass
from airframe.flight.bands import Band
from airframe.flight.controls import ControlRun
from airframe.flight.level import TIMES_STALL, LevelPoint, level_flight
from airframe.flight.loading import Slowest
from airframe.flight.modes import Mode, modes
from airframe.flight.motion import LinearModel
from airframe.flight.near_ground import NearGround, near_ground
from airframe.flight.parasite import Outside
from airframe.flight.performance import SLOW_CRUISE
from airframe.flight.plan import EquivalentDihedral, equivalent_dihedral, spiral_rule
from airframe.flight.power_figures import Drags, PowerFigures, power_figures
from airframe.flight.responses import Response, RudderKick
from airframe.flight.roots import NoRoot
from airframe.flight.solved import Lattices
from airframe.flight.surfaces import sheets
from airframe.flight.tail_air import TailAir
from airframe.flight.trains import NotStated, train_guess
from airframe.flight.trim import NoTrimError, ThrustLine, Trim
from airframe.inertia import Body
from airframe.layout import Layout

NEUTRAL_POINT_SHARE = 0.05
"""How far off the neutral point may be, in mean chords: propeller, gaps and low speed are not in it (our choice)."""


class Flight:
    """The flight estimates of one design with its mass; nothing is computed until asked for."""

    def __init__(self, layout: Layout, whole: Body, lattices: Lattices | None = None) -> None:
        self.layout = layout
        self.whole = whole
        self._lattices = lattices or Lattices()
        self._power: dict[str | None, PowerFigures | str] = {}
        self._slowest: dict[float | None, Slowest] = {}

    def weighing(self, whole: Body) -> Flight:
        """The same shape with other masses: its surfaces, fuselage and lattice are not measured again."""
        other = Flight(self.layout, whole, self._lattices)
        other._bare = self._bare.balanced_at(whole.centre * M_PER_MM)
        other._outside = self._outside
        other.thrust = self.thrust
        return other

    @property
    def mass_kg(self) -> float:
        """Of the whole."""
        return self.whole.mass / 1000.0

    @cached_property
    def drags(self) -> Drags:
        """Polars: likely, slippery, draggy."""
        return polars.drags(self.layout, self.mass_kg, self.span_efficiency, self._outside)

    @cached_property
    def _outside(self) -> Outside:
        """All but the wing, as the air meets it."""
        return parasite.outside(self.layout)

    @cached_property
    def span_efficiency(self) -> float | None:
        """Of the wake at slow cruise; None where nothing holds it level."""
        try:
            held = trim.level(self._bare, self.mass_kg, self.cruise_m_s, self.thrust)
            return loading.span_efficiency(self._bare, held)
        except NoTrimError:
            return None

    @cached_property
    def stall_m_s(self) -> Band:
        """The least speed of level flight."""
        return polars.stall_speed_m_s(self.layout, self.mass_kg)

    @property
    def cruise_m_s(self) -> float:
        """Slow cruise, at which trim and motions are asked for."""
        return SLOW_CRUISE * self.stall_m_s.middle

    @cached_property
    def air(self) -> Air:
        """All that the air does to it, about its balance point; skin and nose drag as at slow cruise."""
        polar = self.drags.likely
        area = polar.profile_drag(polar.lift_coefficient(self.cruise_m_s)) * polar.area_m2
        return replace(self._bare, drag_area_m2=area)

    @cached_property
    def _bare(self) -> Air:
        """Without the drag of skin and edges."""
        height = self.layout.design.flight.altitude_mm * M_PER_MM
        air = around(self.layout, self.whole.centre, height, lattices=self._lattices)
        return replace(air, tail_share=tail_air.gaps_share(self.layout).middle)

    @cached_property
    def thrust(self) -> ThrustLine:
        """Where the propeller pulls."""
        return trim.thrust_line(self.layout)

    def trimmed(self, speed_m_s: float) -> Trim:
        """Level flight at a speed. Raises NoTrimError."""
        return trim.level(self.air, self.mass_kg, speed_m_s, self.thrust)

    @cached_property
    def cruise(self) -> Trim:
        """Level flight at slow cruise. Raises NoTrimError."""
        return self.trimmed(self.cruise_m_s)

    @property
    def throw_up_rad(self) -> float:
        """Up elevator that the design states."""
        return self.layout.design.tail.elevator.throw_up_rad

    @cached_property
    def level(self) -> tuple[LevelPoint, ...]:
        """Level flight from the stall up."""
        speeds = [self.stall_m_s.middle * times for times in TIMES_STALL]
        return level_flight(self.air, self.mass_kg, self.thrust, self.drags, speeds, self.throw_up_rad)

    def slowest(self, station_mm: float | None = None) -> Slowest:
        """The slowest level flight with the balance point where it is, or at another station. Raises NoTrimError.

        By the first section of the wing to stall in the lattice's loading, or by the elevator's throw.
        """
        if station_mm not in self._slowest:
            x = self.whole.centre[0] if station_mm is None else station_mm
            air = self.air.balanced_at(np.array([x, *self.whole.centre[1:]]) * M_PER_MM)
            most = polars.section_most_lift(self.layout, self.mass_kg).middle
            self._slowest[station_mm] = loading.slowest(air, self.mass_kg, self.thrust, most, self.throw_up_rad)
        return self._slowest[station_mm]

    @cached_property
    def near_ground(self) -> NearGround:
        """What the ground does to it on landing. Raises NoTrimError."""
        return near_ground(self.layout, self.air, self.mass_kg, self.stall_m_s.middle, self.thrust)

    @cached_property
    def tail_air(self) -> TailAir:
        """What gaps, wake and slipstream leave to the tail, at slow cruise. Raises NoTrimError."""
        span = self.air.stabiliser.span_m
        return tail_air.tail_air(
            self.layout, self.cruise.thrust_n, self.cruise_m_s, self.drags.likely.density_kg_m3, span
        )

    @cached_property
    def neutral_points_mm(self) -> Band:
        """The neutral point with the tail in its slowest and its fastest air. Raises NoTrimError."""
        share = self.tail_air.share
        ends = (replace(self.air, tail_share=end) for end in (share.low, share.high))
        low, high = (
            trim.neutral_point_mm(air, trim.level(air, self.mass_kg, self.cruise_m_s, self.thrust)) for air in ends
        )
        return Band(low, self.neutral_point_mm, high)

    @cached_property
    def neutral_point_mm(self) -> float:
        """Station of the neutral point, stick fixed, at slow cruise."""
        return trim.neutral_point_mm(self.air, self.cruise)

    def static_margin(self, cg_mm: Point | None = None) -> float:
        """Neutral point behind the balance point, in mean aerodynamic chords."""
        x = float(self.whole.centre[0]) if cg_mm is None else cg_mm[0]
        return (self.neutral_point_mm - x) / self.layout.mean_chord.length_mm

    def station_for_margin(self, margin: float) -> float:
        """Where the balance point gives a static margin."""
        return self.neutral_point_mm - margin * self.layout.mean_chord.length_mm

    @cached_property
    def dihedral(self) -> EquivalentDihedral:
        """The single V angle that does as much."""
        return equivalent_dihedral(sheets(self.layout))

    @property
    def spiral_rule(self) -> float:
        """The rule of thumb at slow cruise: above 5 a bank dies away."""
        volumes, span = self.air.volumes, self.air.wing.span_m
        lift = self.drags.likely.lift_coefficient(self.cruise_m_s)
        return spiral_rule(volumes.vertical_arm_m, span, self.dihedral.elliptic_rad, lift)

    @cached_property
    def modes(self) -> tuple[Mode, ...]:
        """The motions at slow cruise, by the linear model with the full inertia tensor."""
        return modes(self.model)

    @cached_property
    def model(self) -> LinearModel:
        """The linear model at slow cruise, with the full inertia tensor. Raises NoTrimError."""
        return trim.linear(self.air, body_mass(self.whole), self.cruise, self.thrust)

    @cached_property
    def rudder_kick(self) -> RudderKick:
        """How it turns by rudder alone at slow cruise. Raises NoTrimError."""
        throw = self.layout.design.tail.rudder.throw_rad
        return responses.rudder_kick(self.model, self.air.lattice.controls.index("rudder"), throw)

    @cached_property
    def responses(self) -> tuple[Response, ...]:
        """Rudder kick, stick pull, gusts from below and from the side, at slow cruise. Raises NoTrimError."""
        elevator, system = self.air.lattice.controls.index("elevator"), self.layout.design.units
        pull = responses.stick_pull(self.model, elevator, self.throw_up_rad, system)
        gusts = responses.gust_from_below(self.model, system), responses.gust_from_the_side(self.model, system)
        return self.rudder_kick.response, pull, *gusts

    @property
    def rudder_figure(self) -> float:
        """Vertical tail volume times the spiral rule: 0.10 to 0.20 turns well by rudder alone (rule, from memory)."""
        return self.air.volumes.vertical * self.spiral_rule

    def power(self, option: str | None = None) -> PowerFigures | str:
        """Figures on one battery option; or, in words, what of that which they need is not stated, or cannot be."""
        if option not in self._power:
            self._power[option] = self._power_on(option)
        return self._power[option]

    def _power_on(self, option: str | None) -> PowerFigures | str:
        try:
            guess = train_guess(self.layout.design, option)
        except NotStated as missing:
            return str(missing)
        drags = self.drags
        try:
            return power_figures(guess, drags, self.layout.design.flight.usable_capacity_share)
        except NoRoot as never:
            return str(never)

    @cached_property
    def control_runs(self) -> tuple[ControlRun, ...]:
        """Each control from servo to surface, at the fastest."""
        density = self.drags.likely.density_kg_m3
        return tuple(controls.control_runs(self.layout, self.fastest_m_s, density))

    @property
    def fastest_m_s(self) -> float:
        """The top of level flight, the high end of its band; twice slow cruise where the power is not known."""
        top = self.top_speed_m_s
        return 2.0 * self.cruise_m_s if top is None else top.high

    @property
    def top_speed_m_s(self) -> Band | None:
        """Of level flight on the battery in use; None where the power is not stated, or does not carry it."""
        figures = self.power()
        return None if isinstance(figures, str) else figures.top_speed_m_s
