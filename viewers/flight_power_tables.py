"""What the power does and the controls bear, as tables; every figure in its band."""

from __future__ import annotations

from math import degrees

from airframe import units
from airframe.checks.flight_controls import fastest_words
from airframe.flight.controls import ControlRun, guides_needed
from airframe.flight.power_figures import PowerFigures
from airframe.flight.whole import Flight
from airframe.units import System
from viewers.flight_cells import cells, ends, three
from viewers.tables import Column, Row, Table, length_number

NONE = "–"
"""In a cell for which something is not stated."""


def power_table(figures: PowerFigures, battery: str, system: System) -> Table:
    """Thrust, current against its limits, speed, climb and time in the air on one battery."""
    rows = [
        ("static thrust", *cells(figures.static_thrust_n, units.force, system)),
        ("thrust over weight", f"{figures.thrust_to_weight.middle:.2f}", ends(figures.thrust_to_weight, 2)),
        (
            "current, standing at full throttle",
            f"{figures.static_current_a.middle:.1f} A",
            f"{ends(figures.static_current_a, 1)} A",
        ),
    ]
    for limit in figures.limits:
        kind = "stated" if limit.is_stated else "estimated"
        word = "TOO MUCH" if limit.use.middle > 1.0 else "may be too much" if limit.use.high > 1.0 else "within"
        rows.append(
            (f"of the {limit.what}'s {limit.limit_a:.0f} A ({kind})", f"{100.0 * limit.use.middle:.0f} %", word)
        )
    if figures.top_speed_m_s is None:
        rows.append(("level flight", "not on this power", ""))
    else:
        rows.append(("top speed in level flight", *cells(figures.top_speed_m_s, units.speed, system)))
    rows.append(("best climb", *cells(figures.climb_rate_m_s, units.speed, system)))
    if figures.cruise_current_a is not None and figures.cruise_time_s is not None:
        minutes = figures.cruise_time_s.times(1.0 / 60.0)
        rows.append(
            (
                "current at slow cruise",
                f"{figures.cruise_current_a.middle:.1f} A",
                f"{ends(figures.cruise_current_a, 1)} A",
            )
        )
        rows.append(("time at slow cruise", f"{minutes.middle:.0f} min", f"{ends(minutes, 0)} min"))
    return three(f"power on the {battery} battery" if battery else "power", tuple(rows))


def controls_table(flight: Flight, system: System) -> Table:
    """Each control from servo to surface, at the fastest."""
    unit = "in" if system == "imperial" else "mm"
    rows = []
    for run in flight.control_runs:
        reached = NONE if run.throw_reached_rad is None else f"{degrees(run.throw_reached_rad):.0f}"
        torque = NONE if run.torque_margin is None else f"{run.torque_margin.low:.1f}"
        guides = _guides(run, flight.layout.design.limits.flight.push_rod_margin)
        figures = (f"{degrees(run.throw_wanted_rad):.0f}", reached, length_number(run.arm_needed_mm, system), torque)
        rows.append(Row((run.surface, *figures, f"{run.buckling_margin:.1f}", guides)))
    columns = (
        Column("surface"), Column("throw wanted deg", "right"), Column("reached deg", "right"),
        Column(f"arm for it {unit}", "right"), Column("servo torque times", "right"),
        Column("push-rod bears times", "right"), Column("guides"),
    )  # fmt: skip
    return Table(
        f"controls {fastest_words(flight, system)} (times: what it bears over what is asked, worst case)",
        columns,
        tuple(rows),
    )


def _guides(run: ControlRun, wanted: float) -> str:
    """What the push-rod needs to keep from bending, in a few words."""
    if run.buckling_margin >= wanted:
        return "none needed" if run.guides == 0 else f"has {run.guides}, enough"
    return f"wants {guides_needed(run, wanted)}, or thicker wire"
