"""A redesign beside its prototype as tables: what is in each cell, before anyone decides how to print it."""

from __future__ import annotations

from dataclasses import replace

from airframe import units
from airframe.checks.finding import Finding
from airframe.compare.attribution import NOTHING
from airframe.compare.cost import Cost
from airframe.compare.dimensions import Change, Text
from airframe.compare.figures import Figure, Quantity
from airframe.compare.findings import FindingPair, Trend
from airframe.compare.whole import Comparison
from airframe.units import System
from viewers.compare_cells import NONE, share_cells, sides, signed, system_of
from viewers.finding_tables import WORDS, missed_text, value_text
from viewers.tables import Column, Row, Table, inertia_number

TRENDS: dict[Trend, str] = {"worse": "worse", "better": "better", "same": "", "new": "new", "gone": "gone"}
CM2 = 100.0
"""mm^2."""
MOST_DIFFERENCES = 3
"""A row of more numbers than this, such as a path, has no difference shown."""
MM2_PER_IN2 = units.MM_PER_INCH**2


def figures_table(comparison: Comparison) -> Table:
    """The headline numbers of both, and the difference."""
    system = system_of(comparison)
    rows = tuple(_figure_row(figure, system) for figure in comparison.figures)
    return Table("side by side", (Column("figure"), *sides(comparison), Column("difference", "right")), rows)


def changes_table(comparison: Comparison) -> Table:
    """What is written differently in the two configs."""
    system = system_of(comparison)
    rows = tuple(
        Row((change.key, _words(change.old), _words(change.new), _difference(change, system)))
        for change in comparison.changes
    )
    columns = (Column("key"), *sides(comparison, "left"), Column("difference", "right"))
    return Table("dimensions changed", columns, rows)


def attribution_table(comparison: Comparison) -> Table:
    """What each group's changes did to the whole; the lines add up to the difference."""
    system, found = system_of(comparison), comparison.attribution
    rows = [Row((group, *share_cells(share, system))) for group, share in found.by_group.items()]
    moved = replace(NOTHING, inertia_g_mm2=found.moved_g_mm2)
    blank = (NONE,) * 4
    rows.append(Row(("because the balance point moved", *blank, *share_cells(moved, system)[4:])))
    rows.append(Row(("difference", *share_cells(found.whole, system)), "total"))
    length, inertia = ("in", "oz in²") if system == "imperial" else ("mm", "g m²")
    columns = (
        Column("group"),
        Column("mass oz" if system == "imperial" else "mass g", "right"),
        *(Column(f"{way} {length}", "right") for way in ("aft", "right", "up")),
        *(Column(f"{axis} {inertia}", "right") for axis in ("roll", "pitch", "yaw")),
    )
    return Table("what the changes did to mass, balance point and inertia", columns, tuple(rows))


def costs_table(comparison: Comparison) -> Table:
    """Sheet, wire and bought items of both."""
    system = system_of(comparison)
    rows = tuple(_cost_row(cost, system) for cost in comparison.costs)
    return Table("material", (Column("what"), *sides(comparison), Column("difference", "right")), rows)


def findings_table(comparison: Comparison, every: bool = True) -> Table:
    """The findings of both, what matters most first; without `every`, only those that changed or ask for something."""
    system = system_of(comparison)
    pairs = [pair for pair in comparison.findings if every or _is_told(pair, system)]
    rows = tuple(
        Row((pair.code, _finding(pair.old, system), _finding(pair.new, system), _trend(pair, system))) for pair in pairs
    )
    return Table("findings", (Column("check"), *sides(comparison, "left"), Column("trend")), rows)


# --- cells -----------------------------------------------------------------------------------------------


def _figure_row(figure: Figure, system: System) -> Row:
    values = (figure.old, figure.new)
    cells = [NONE if value is None else _quantity(value, figure.quantity, system) for value in values]
    change = figure.difference
    return Row((figure.name, *cells, NONE if change is None else signed(_quantity(change, figure.quantity, system))))


def _quantity(value: float, quantity: Quantity, system: System) -> str:
    is_imperial = system == "imperial"
    if quantity == "mass":
        return units.mass(value, system)
    if quantity == "length":
        return f"{value / units.MM_PER_INCH:.2f} in" if is_imperial else f"{value:.1f} mm"
    if quantity == "share":
        return f"{100.0 * value:.1f} %"
    if quantity == "area":
        return units.area(value, system)
    if quantity == "loading":
        return units.wing_loading(value * units.KG_M2_PER_G_DM2, system, decimals=1)
    return f"{inertia_number(value, system)} {'oz in²' if is_imperial else 'g m²'}"


def _words(text: Text | None) -> str:
    if text is None:
        return NONE
    return text.words if text.is_stated else f"{text.words} (default)"


def _difference(change: Change, system: System) -> str:
    if not change.difference or len(change.difference) > MOST_DIFFERENCES:
        return change.kind if change.kind != "changed" else ""
    if change.dimension is None:
        return ", ".join(signed(f"{value:g}") for value in change.difference)
    unit, factor = _unit(change, system)
    numbers = [signed(f"{round(value / factor, 3):g}") for value in change.difference]
    return f"{', '.join(numbers)} {unit}"


def _unit(change: Change, system: System) -> tuple[str, float]:
    """The unit that a difference is shown in."""
    assert change.dimension is not None
    factors = change.dimension.factors
    preferred = {"metric": ("mm", "g", "deg"), "imperial": ("in", "oz", "deg", "mph", "ozf", "oz/ft^2", "lb/ft^3")}
    name = next((unit for unit in preferred[system] if unit in factors), next(iter(factors)))
    return name, factors[name]


def _cost_row(cost: Cost, system: System) -> Row:
    name = cost.name
    if cost.diameter_mm is not None:
        name = f"{name} {units.size(cost.diameter_mm, system)}"
    cells = [_amount(value, cost, system) for value in (cost.old, cost.new)]
    return Row((name, *cells, signed(_amount(cost.new - cost.old, cost, system))))


def _amount(value: float, cost: Cost, system: System) -> str:
    if cost.kind == "sheet":
        return f"{value / MM2_PER_IN2:.1f} in²" if system == "imperial" else f"{value / CM2:.0f} cm²"
    return units.length(value, system) if cost.kind == "wire" else units.mass(value, system)


def _finding(finding: Finding | None, system: System) -> str:
    if finding is None:
        return NONE
    told = f"{WORDS[finding.verdict]} {value_text(finding.value, finding.unit, system)}".rstrip()
    return told + missed_text(finding, system)


def _trend(pair: FindingPair, system: System) -> str:
    """A trend never comes from digits that nobody sees."""
    if pair.is_mended:
        return "mended"
    if pair.is_spoilt:
        return "spoilt"
    return "" if _finding(pair.old, system) == _finding(pair.new, system) else TRENDS[pair.trend]


def _is_told(pair: FindingPair, system: System) -> bool:
    asks = pair.new is not None and pair.new.verdict in ("fail", "caution")
    return asks or _trend(pair, system) in ("mended", "spoilt", "worse", "better")
