"""How sure the weights are, as tables: value and interval, drawn beside learned and weighed, what to weigh next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import degrees
from typing import TYPE_CHECKING

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.materials import Material
from airframe.sure.causes import Cause
from airframe.sure.propagation import Estimate
from airframe.sure.reconcile import Residual
from airframe.sure.spreads import weighs_by_material
from airframe.units import System
from viewers.tables import Column, Headline, Row, Table, inertia_number, length_number, mass_number, weight_text

if TYPE_CHECKING:
    from airframe.mass import Entry
    from airframe.model import Aeroplane

_Words = Callable[[float, System], str]

MOST_CAUSES = 8
"""Of what to weigh next, no more than these are listed."""
NOTHING = "–"
"""Stands where there is no number."""
READING = (
    "± 1 sigma: two times in three the truth is no further off, 19 times in 20 no further than twice that; "
    "what is off by more than 3 sigmas is odd; variance is sigma squared"
)
"""How to read the tables, below them."""
_TO_DO = {
    "material": "weigh a piece of known size",
    "entry": "put it on the scale",
    "place": "measure where it sits",
    "scale": "try it with a known mass",
}


def headlines(aeroplane: Aeroplane) -> tuple[Headline, ...]:
    """Mass and balance point with their 95 % intervals, and the mass that it may grow to."""
    system, sure, growth = aeroplane.design.units, aeroplane.sureness, aeroplane.growth
    station = sure.balance_mm[0]
    behind = Estimate(station.value - aeroplane.design.wing.station_mm, station.sigma)
    grown = f"basic mass with {units.mass(growth.allowance_g, system)} of growth, by how well each part is known"
    return (
        Headline("mass", _with_spread(sure.mass_g, units.mass, system), _interval(sure.mass_g, units.mass, system)),
        Headline(
            "balance",
            _with_spread(behind, units.length, system),
            f"behind the leading edge; {_interval(behind, units.length, system)}",
        ),
        Headline("predicted mass", units.mass(growth.predicted_g, system), grown),
    )


def sure_table(aeroplane: Aeroplane, overturn: Callable[[Array], float] | None = None) -> Table:
    """Mass, balance point, inertia and, given its function, the overturn angle: value, uncertainty, 95 % interval."""
    system, sure = aeroplane.design.units, aeroplane.sureness
    mass, length = ("oz", "in") if system == "imperial" else ("g", "mm")
    rows = [_estimate_row(f"mass {mass}", sure.mass_g, mass_number, system)]
    for name, place in zip(("station", "butt line", "water line"), sure.balance_mm, strict=True):
        rows.append(_estimate_row(f"balance point, {name} {length}", place, length_number, system))
    unit = "oz in²" if system == "imperial" else "g m²"
    for name, moment in zip(("roll", "pitch", "yaw"), sure.inertia_g_mm2, strict=True):
        rows.append(_estimate_row(f"{name} inertia {unit}", moment, inertia_number, system))
    if overturn is not None:
        angle = sure.of_balance(lambda point: degrees(overturn(np.array(point))))
        rows.append(_estimate_row("overturn angle deg", angle, lambda value, _: f"{value:.1f}", system))
    columns = (Column("figure"), Column("value", "right"), Column("± 1 sigma", "right"), Column("95 %", "right"))
    return Table("how sure", columns, tuple(rows))


def parts_table(aeroplane: Aeroplane) -> Table:
    """Every entry as drawn, as learned from what was weighed, and as weighed, under its group."""
    system = aeroplane.design.units
    entries = aeroplane.statement.entries
    rows: list[Row] = []
    for group in aeroplane.statement.groups:
        members = [entry for entry in entries if entry.part.group == group]
        rows.append(Row((group, *_sums(members, system)), "group"))
        rows += [Row((entry.part.name, *_sums([entry], system))) for entry in members]
    return Table("drawn, learned, weighed", _side_by_side("part", system), (*rows, _total(entries, system)))


def groups_table(aeroplane: Aeroplane) -> Table:
    """The same, one line a group."""
    system = aeroplane.design.units
    entries = aeroplane.statement.entries
    rows = [
        Row((group, *_sums([entry for entry in entries if entry.part.group == group], system)))
        for group in aeroplane.statement.groups
    ]
    return Table("drawn, learned, weighed", _side_by_side("group", system), (*rows, _total(entries, system)))


def log_table(aeroplane: Aeroplane) -> Table | None:
    """Every line of the weighing log beside the drawing and what was learned; None without a log."""
    system, residuals = aeroplane.design.units, aeroplane.residuals
    if not residuals:
        return None
    columns = (
        Column("on the scale"),
        *(Column(title, "right") for title in ("drawn", "learned", "read", "off by sigmas")),
        Column("learned from"),
    )
    return Table("the scale speaks", columns, tuple(_log_row(residual, system) for residual in residuals))


def remarks(aeroplane: Aeroplane) -> tuple[str, ...]:
    """What is odd about lines of the log, and about swings, in whole sentences."""
    system = aeroplane.design.units
    odd = [residual.remark(system) for residual in aeroplane.residuals]
    odd += [f"In {swing.row.axis} it {swing.remark}" for swing in aeroplane.swings if swing.remark]
    return tuple(remark for remark in odd if remark)


def materials_table(aeroplane: Aeroplane) -> Table | None:
    """What the log taught of each material's weight; None where nothing was learned."""
    if not aeroplane.has_learned:
        return None
    system, known = aeroplane.design.units, aeroplane.reconciliation.after
    used = {e.part.material.family: e.part.material for e in aeroplane.statement.entries if weighs_by_material(e.part)}
    rows = []
    for index, label in enumerate(known.labels):
        if label.kind == "material":
            stated = replace(used[label.name], weight=label.stated)
            sigma = float(known.covariance[index, index]) ** 0.5
            rows.append(_material_row(label.name, stated, float(known.mean[index]), sigma, system))
    titles = ("stated", "learned", "heavier by %", "± 1 sigma %")
    columns = (Column("material"), *(Column(title, "right") for title in titles))
    return Table("what materials weigh", columns, tuple(rows))


def next_table(aeroplane: Aeroplane) -> Table:
    """What the uncertainty of the balance point's station comes from, the greatest first: what to weigh next."""
    rows = [_cause_row(cause) for cause in aeroplane.causes[:MOST_CAUSES]]
    columns = (
        Column("what"),
        Column("what to do"),
        Column("share of variance %", "right"),
        Column("gone if done %", "right"),
    )
    return Table("what to weigh next, to know the balance point better", columns, tuple(rows))


def swings_table(aeroplane: Aeroplane) -> Table | None:
    """Inertia by swinging beside the model's; None where nothing was swung."""
    system, swings = aeroplane.design.units, aeroplane.swings
    if not swings:
        return None
    unit = "oz in²" if system == "imperial" else "g m²"
    rows = [
        Row(
            (
                f"{swing.row.axis}, {swing.row.method}",
                _plus_minus(swing.modelled, system),
                _plus_minus(swing.measured, system),
                _signed(swing.sigmas),
                f"{swing.row.time_s / swing.row.swings:.3f}",
                f"{swing.expected_period_s:.3f}",
            )
        )
        for swing in swings
    ]
    titles = (f"model {unit}", f"measured {unit}", "off by sigmas", "period s", "expected s")
    columns = (Column("axis"), *(Column(title, "right") for title in titles))
    return Table("inertia by swinging", columns, tuple(rows))


# --- cells ------------------------------------------------------------------------------------------------


def _with_spread(estimate: Estimate, words: _Words, system: System) -> str:
    number, _, unit = words(estimate.value, system).rpartition(" ")
    return f"{number} ± {words(estimate.high - estimate.value, system).rpartition(' ')[0]} {unit}"


def _interval(estimate: Estimate, words: _Words, system: System) -> str:
    return f"95 %: {words(estimate.low, system)} to {words(estimate.high, system)}"


def _estimate_row(name: str, estimate: Estimate, number: _Words, system: System) -> Row:
    interval = f"{number(estimate.low, system)} to {number(estimate.high, system)}"
    return Row((name, number(estimate.value, system), number(estimate.sigma, system), interval))


def _plus_minus(estimate: Estimate, system: System) -> str:
    return f"{inertia_number(estimate.value, system)} ± {inertia_number(estimate.sigma, system)}"


def _side_by_side(first: str, system: System) -> tuple[Column, ...]:
    unit = "oz" if system == "imperial" else "g"
    titles = (f"drawn {unit}", f"learned {unit}", f"weighed {unit}", f"taken as {unit}")
    return (Column(first), *(Column(title, "right") for title in titles))


def _sums(entries: list[Entry], system: System) -> tuple[str, ...]:
    """Drawn, learned, weighed, counting. A sum is weighed as far as its entries are; nothing weighed is a dash."""
    learned = [entry.learned_g for entry in entries if entry.learned_g is not None]
    taught = sum(entry.drawn_g if entry.learned_g is None else entry.learned_g for entry in entries)
    weighed = [entry.weighed_g for entry in entries if entry.weighed_g is not None]
    return (
        mass_number(sum(entry.drawn_g for entry in entries), system),
        mass_number(taught, system) if learned else NOTHING,
        mass_number(sum(weighed), system) if weighed else NOTHING,
        mass_number(sum(entry.mass_g for entry in entries), system),
    )


def _total(entries: tuple[Entry, ...], system: System) -> Row:
    return Row(("whole aeroplane", *_sums(list(entries), system)), "total")


def _log_row(residual: Residual, system: System) -> Row:
    drawn, learned, read = (
        units.mass(value, system) if residual.quantity == "mass" else _station(value, system)
        for value in (residual.drawn, residual.learned, residual.read)
    )
    name = _short(residual) + (", balances at" if residual.quantity == "balance" else "")
    return Row((name, drawn, learned, read, _signed(residual.sigmas), "yes" if residual.is_used else "no: odd"))


def _short(residual: Residual) -> str:
    """What lay on the scale, in no more words than a column takes."""
    row = residual.piece.row
    more = f" with {row.together_with[0]}" if row.together_with else ""
    more += f" and {len(row.together_with) - 1} more" if len(row.together_with) > 1 else ""
    return row.what + more + (f" without {', '.join(row.without)}" if row.without else "")


def _station(value_mm: float, system: System) -> str:
    return f"{length_number(value_mm, system)} {'in' if system == 'imperial' else 'mm'}"


def _signed(value: float) -> str:
    text = f"{value:+.1f}"
    return "0.0" if float(text) == 0.0 else text


def _material_row(name: str, stated: Material, factor: float, sigma: float, system: System) -> Row:
    learned = replace(stated, weight=stated.weight * (1.0 + factor))
    return Row(
        (
            name,
            weight_text(stated, system),
            weight_text(learned, system),
            _signed(100.0 * factor),
            f"{100.0 * sigma:.1f}",
        )
    )


def _cause_row(cause: Cause) -> Row:
    names = {"material": f"weight of {cause.name}", "place": f"place of {cause.name}"}
    share, removed = (f"{100.0 * value:.1f}" for value in (cause.share, cause.removed_share))
    return Row((names.get(cause.kind, cause.name), _TO_DO[cause.kind], share, removed))
