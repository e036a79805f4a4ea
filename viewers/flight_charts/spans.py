"""The chart of span loading: how the lift is spread over wing and tail, and where the wing would stall first."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

import numpy as np

from airframe.axes import Array
from airframe.flight import sections
from airframe.flight.atmosphere import air
from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band
from airframe.flight.loading import Loading, loading
from airframe.flight.whole import Flight
from airframe.units import System
from viewers import plots
from viewers.flight_charts.scales import scales
from viewers.palette import INK

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def spans(flight: Flight, system: System, old: Flight | None = None, names: tuple[str, str] = ("", "")) -> Figure:
    """Lift along the span of wing and stabiliser at slow cruise, against the ellipse; a prototype's wing beside.

    `names` are of the design and its prototype. Raises NoTrimError.
    """
    words = "At slow cruise, an estimate without the fuselage. The ellipse of the same lift and span drags least."
    fig, (above, below) = plots.figure(
        "How the lift is spread over the span", words, (plots.WIDE_IN, 4.9), (2, 1), share_x=True
    )
    wing, tail = (_spread(flight, surface) for surface in ("wing", "stabiliser"))
    name = f"wing of {names[0]}" if old is not None else "wing"
    _line(above, below, wing, system, 0, name)
    y, lift = _whole(wing)
    _ellipse(above, y, lift, system)
    _line(above, below, tail, system, 2, "stabiliser with elevator")
    if old is not None:
        _line(above, below, _spread(old, "wing"), system, 3, f"wing of {names[1]}")
    unit = scales(system)
    plots.label(above, "", f"lift, {unit.spread_words}")
    plots.label(
        below,
        f"left wing                 from the centre, {unit.length.unit}                 right wing",
        "lift coefficient",
    )
    _stall(below, section_most_lift(flight), wing, unit.length.size * M_PER_MM)
    plots.legend(above, "center")
    return fig


def ellipse(y_m: Array, lift_n_m: Array) -> Array:
    """The half ellipse over the same span with the same lift; `y_m` runs from tip to tip, where the lift is nothing."""
    half = (y_m[-1] - y_m[0]) / 2.0
    share = (y_m - (y_m[-1] + y_m[0]) / 2.0) / half
    total = float(np.trapezoid(lift_n_m, y_m))
    curve: Array = 2.0 * total / (pi * half) * np.sqrt(np.maximum(1.0 - share**2, 0.0))
    return curve


def section_most_lift(flight: Flight) -> Band:
    """The largest lift coefficient of the wing's section at its speed of stalling; low confidence."""
    wing, still = flight.layout.design.wing, air(flight.layout.design.flight.altitude_mm * M_PER_MM)
    reynolds = still.reynolds(flight.stall_m_s.middle, flight.layout.mean_chord.length_mm * M_PER_MM)
    return sections.most_lift(wing.section, wing.camber_share, reynolds)


def _spread(flight: Flight, surface: str) -> Loading:
    trim = flight.cruise
    deflections = flight.air.deflections(trim.elevator_rad)
    return loading(flight.air.lattice, surface, trim.motion, deflections, flight.air.density_kg_m3)


def _whole(spread: Loading) -> tuple[Array, Array]:
    """Places across and lift, in order, with the bare tips at the ends."""
    order = np.argsort(spread.place_m[:, 1])
    y, lift, width = spread.place_m[order, 1], spread.lift_n_m[order], spread.width_m[order]
    y = np.concatenate([[y[0] - width[0] / 2.0], y, [y[-1] + width[-1] / 2.0]])
    return y, np.concatenate([[0.0], lift, [0.0]])


def _line(above: Axes, below: Axes, spread: Loading, system: System, number: int, name: str) -> None:
    unit = scales(system)
    y, lift = _whole(spread)
    plots.line(above, y / M_PER_MM / unit.length.size, lift / unit.spread_force.size, number, name)
    order = np.argsort(spread.place_m[:, 1])
    across = spread.place_m[order, 1] / M_PER_MM / unit.length.size
    plots.line(below, across, spread.coefficient[order], number)


def _ellipse(ax: Axes, y_m: Array, lift_n_m: Array, system: System) -> None:
    unit = scales(system)
    fine = y_m[0] + (y_m[-1] - y_m[0]) * (1.0 - np.cos(np.linspace(0.0, pi, 121))) / 2.0
    curve = ellipse(fine, np.interp(fine, y_m, lift_n_m))
    across = fine / M_PER_MM / unit.length.size
    ax.plot(across, curve / unit.spread_force.size, color=INK, linewidth=1.0, dashes=(2.0, 2.0), label="ellipse")


def _stall(ax: Axes, most: Band, wing: Loading, size_m: float) -> None:
    """Where the wing's section can bear no more, and where it comes nearest to that."""
    colour = plots.stroke(1).colour
    ax.axhspan(most.low, most.high, color=colour, alpha=plots.BAND_OPACITY, linewidth=0.0)
    ax.axhline(most.middle, color=colour, linewidth=1.0)
    ax.set_ylim(top=1.08 * most.high)
    words = f"the wing's section stalls at {most.middle:.2f} (band {most.low:.2f} to {most.high:.2f})"
    plots.note(ax, (0.0, most.middle), words, (0.0, 8.0), color=colour, ha="center")
    first = int(np.argmax(wing.coefficient))
    at = float(wing.place_m[first, 1]) / size_m, float(wing.coefficient[first])
    plots.note(ax, at, "nearest its stall", (0.0, -12.0), color=plots.stroke(0).colour, ha="center")
