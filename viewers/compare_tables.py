"""A redesign beside its prototype as tables: what is in each cell, before anyone decides how to print it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from airframe import units
from airframe.checks.finding import Finding
from airframe.compare.attribution import NOTHING, Share
from airframe.compare.cost import Cost
from airframe.compare.dimensions import Change, Text
from airframe.compare.figures import Figure, Quantity
from airframe.compare.findings import FindingPair, Trend
from airframe.compare.parts import Pair
from airframe.compare.whole import Comparison
from airframe.parts.common import FINISH, GLUE
from airframe.units import System
from viewers.change_words import SHOWN_G, what_changed
from viewers.finding_tables import WORDS, value_text
from viewers.tables import Column, Row, Table, inertia_number

NONE = "–"
"""In a cell where there is nothing."""
TRENDS: dict[Trend, str] = {"worse": "worse", "better": "better", "same": "", "new": "new", "gone": "gone"}
CM2 = 100.0
"""mm^2."""
TRIFLE_G, TRIFLE_MM = 0.25, 0.1
"""A line of glue or finish that does less to mass and balance point is a trifle."""
MOST_DIFFERENCES = 3
"""A row of more numbers than this, such as a path, has no difference shown."""
MM2_PER_IN2 = units.MM_PER_INCH**2


def figures_table(comparison: Comparison) -> Table:
    """The headline numbers of both, and the difference."""
    system = _system(comparison)
    rows = tuple(_figure_row(figure, system) for figure in comparison.figures)
    return Table("side by side", (Column("figure"), *_sides(comparison), Column("difference", "right")), rows)


def changes_table(comparison: Comparison) -> Table:
    """What is written differently in the two configs."""
    system = _system(comparison)
    rows = tuple(
        Row((change.key, _words(change.old), _words(change.new), _difference(change, system)))
        for change in comparison.changes
    )
    columns = (Column("key"), *_sides(comparison, "left"), Column("difference", "right"))
    return Table("dimensions changed", columns, rows)


def parts_table(comparison: Comparison, every: bool = False) -> Table:
    """What became of the parts, group by group, with what it did to mass and balance point.

    A left-hand and a right-hand part of which the same is to be said share a line, and so do all parts of a group
    that changed in the same way and weigh what they did; of glue and finish, those that hardly matter do too, unless
    `every` is asked for. Unchanged parts are not listed.
    """
    system = _system(comparison)
    lines = _part_lines(comparison, system)
    lines = lines if every else _without_trifles(lines)
    rows: list[Row] = []
    for group, share in comparison.attribution.by_group.items():
        members = [line for line in lines if line.group == group]
        if members:
            rows.append(Row((group, "", *_mass_and_shift(share, system)), "group"))
            rows += [Row((line.name, line.words, *_mass_and_shift(line.share, system))) for line in members]
    rows.append(Row(("whole aeroplane", "", *_mass_and_shift(comparison.attribution.whole, system)), "total"))
    unit = "in" if system == "imperial" else "mm"
    columns = (
        Column("part"),
        Column("change"),
        Column("mass oz" if system == "imperial" else "mass g", "right"),
        Column(f"balance aft {unit}", "right"),
        Column(f"up {unit}", "right"),
    )
    return Table(f"parts: {fates(comparison)}", columns, tuple(rows))


def fates(comparison: Comparison) -> str:
    """How many parts were added, removed, changed, and left as they were."""
    counts = dict.fromkeys(("added", "removed", "changed", "unchanged"), 0)
    for pair in comparison.pairs:
        counts[pair.fate] += 1
    return ", ".join(f"{count} {fate}" for fate, count in counts.items() if count)


def attribution_table(comparison: Comparison) -> Table:
    """What each group's changes did to the whole; the lines add up to the difference."""
    system, found = _system(comparison), comparison.attribution
    rows = [Row((group, *_share_cells(share, system))) for group, share in found.by_group.items()]
    moved = replace(NOTHING, inertia_g_mm2=found.moved_g_mm2)
    blank = (NONE,) * 4
    rows.append(Row(("because the balance point moved", *blank, *_share_cells(moved, system)[4:])))
    rows.append(Row(("difference", *_share_cells(found.whole, system)), "total"))
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
    system = _system(comparison)
    rows = tuple(_cost_row(cost, system) for cost in comparison.costs)
    return Table("material", (Column("what"), *_sides(comparison), Column("difference", "right")), rows)


def findings_table(comparison: Comparison, every: bool = True) -> Table:
    """The findings of both, what matters most first; without `every`, only those that changed or ask for something."""
    system = _system(comparison)
    pairs = [pair for pair in comparison.findings if every or _is_told(pair)]
    rows = tuple(
        Row((pair.code, _finding(pair.old, system), _finding(pair.new, system), _trend(pair))) for pair in pairs
    )
    return Table("findings", (Column("check"), *_sides(comparison, "left"), Column("trend")), rows)


def findings_summary(comparison: Comparison) -> str:
    """How many findings were mended, spoilt, and are still complained of."""
    mended = sum(pair.is_mended for pair in comparison.findings)
    spoilt = sum(pair.is_spoilt for pair in comparison.findings)
    open_ = sum(pair.new is not None and pair.new.verdict in ("fail", "caution") for pair in comparison.findings)
    return f"{mended} mended, {spoilt} spoilt, {open_} to look at"


# --- cells -----------------------------------------------------------------------------------------------


def _system(comparison: Comparison) -> System:
    return comparison.new.design.units


def _sides(comparison: Comparison, align: str = "right") -> tuple[Column, Column]:
    """The two aeroplanes' names as headings."""
    names = comparison.old.design.name, comparison.new.design.name
    first, second = names if names[0] != names[1] else (f"{names[0]}, old", f"{names[1]}, new")
    return Column(first, "left" if align == "left" else "right"), Column(second, "left" if align == "left" else "right")


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
        return f"{value / units.MM2_PER_FT2:.2f} ft²" if is_imperial else f"{value * 1e-4:.1f} dm²"
    if quantity == "loading":
        return (
            f"{value * 1e-4 / units.AREAL_WEIGHT.factors['oz/ft^2']:.1f} oz/ft²"
            if is_imperial
            else f"{value:.1f} g/dm²"
        )
    return f"{inertia_number(value, system)} {'oz in²' if is_imperial else 'g m²'}"


def signed(text: str) -> str:
    """A difference with its sign; a nought has none, and neither has what is no number."""
    number = text.split(" ")[0]
    try:
        value = float(number)
    except ValueError:
        return text
    if value == 0.0:
        return text.lstrip("-")
    return text if text.startswith("-") else f"+{text}"


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


def _mass_and_shift(share: Share, system: System) -> tuple[str, ...]:
    return _signed_mass(share, system), *(_signed_length(float(share.balance_mm[k]), system) for k in (0, 2))


def _share_cells(share: Share, system: System) -> tuple[str, ...]:
    shift = (_signed_length(float(value), system) for value in share.balance_mm)
    moments = (signed(inertia_number(float(share.inertia_g_mm2[i, i]), system)) for i in range(3))
    return _signed_mass(share, system), *shift, *moments


def _signed_mass(share: Share, system: System) -> str:
    value = share.mass_g
    return signed(f"{value / units.G_PER_OUNCE:.3f}" if system == "imperial" else f"{value:.1f}")


def _signed_length(value_mm: float, system: System) -> str:
    return signed(f"{value_mm / units.MM_PER_INCH:.3f}" if system == "imperial" else f"{value_mm:.2f}")


def _cost_row(cost: Cost, system: System) -> Row:
    name = cost.name
    if cost.diameter_mm is not None:
        name = f"{name} {units.length(cost.diameter_mm, system)}"
    cells = [_amount(value, cost, system) for value in (cost.old, cost.new)]
    return Row((name, *cells, signed(_amount(cost.new - cost.old, cost, system))))


def _amount(value: float, cost: Cost, system: System) -> str:
    if cost.kind == "sheet":
        return f"{value / MM2_PER_IN2:.1f} in²" if system == "imperial" else f"{value / CM2:.0f} cm²"
    return units.length(value, system) if cost.kind == "wire" else units.mass(value, system)


def _finding(finding: Finding | None, system: System) -> str:
    if finding is None:
        return NONE
    return f"{WORDS[finding.verdict]} {value_text(finding.value, finding.unit, system)}".rstrip()


def _trend(pair: FindingPair) -> str:
    if pair.is_mended:
        return "mended"
    return "spoilt" if pair.is_spoilt else TRENDS[pair.trend]


def _is_told(pair: FindingPair) -> bool:
    asks = pair.new is not None and pair.new.verdict in ("fail", "caution")
    return asks or pair.is_mended or pair.is_spoilt or pair.trend in ("worse", "better")


# --- parts of which the same is to be said ------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class _Line:
    """One part, or several."""

    name: str
    group: str
    words: str
    share: Share
    count: int = 1


def _part_lines(comparison: Comparison, system: System) -> list[_Line]:
    """The lines of the parts table, the heaviest change of each group first."""
    shares = (part.share for part in comparison.attribution.parts)
    pairs = [(pair, share) for pair, share in zip(comparison.pairs, shares, strict=True) if pair.fate != "unchanged"]
    lines = _alike(_both_sides(_line(pair, share, system) for pair, share in pairs))
    return sorted(lines, key=lambda line: (-round(abs(line.share.mass_g), 1), line.count > 2))


def _line(pair: Pair, share: Share, system: System) -> _Line:
    return _Line(pair.name, pair.group, ", ".join(what_changed(pair, system)), share)


def _both_sides(lines: Iterable[_Line]) -> list[_Line]:
    """A right-hand part and its left-hand image, if the same became of both, in one line."""
    merged: dict[tuple[str, str, str], _Line] = {}
    for line in lines:
        stem = line.name.removesuffix(" right").removesuffix(" left")
        key = (line.group, stem, line.words)
        other = merged.get(key)
        merged[key] = line if other is None else _Line(f"{stem}, both", *key[::2], other.share + line.share, 2)
    return list(merged.values())


def _alike(lines: Iterable[_Line]) -> list[_Line]:
    """Parts of a group that only moved, all in the same way, in one line."""
    alike: dict[tuple[str, str], list[_Line]] = {}
    for line in lines:
        is_heavier = abs(line.share.mass_g) >= SHOWN_G
        alike.setdefault((line.group, line.name if is_heavier else line.words), []).append(line)
    return [_together(members) for members in alike.values()]


def _together(lines: list[_Line]) -> _Line:
    first = lines[0]
    if len(lines) == 1:
        return first
    count = sum(line.count for line in lines)
    name = f"{first.name} and {count - first.count} more"
    return _Line(name, first.group, first.words, sum((line.share for line in lines), start=NOTHING), count)


def _without_trifles(lines: list[_Line]) -> list[_Line]:
    """Of glue and finish, what moves neither scale nor balance point goes into one line at each group's end."""
    trifles: dict[str, list[_Line]] = {}
    for line in lines:
        if line.group in (GLUE, FINISH) and _is_trifle(line.share):
            trifles.setdefault(line.group, []).append(line)
    told = [line for line in lines if not any(line is one for some in trifles.values() for one in some)]
    return told + [_trifle(some) for some in trifles.values()]


def _trifle(lines: list[_Line]) -> _Line:
    if len(lines) == 1:
        return lines[0]
    count = sum(line.count for line in lines)
    return _Line(
        f"{count} more", lines[0].group, "hardly any", sum((line.share for line in lines), start=NOTHING), count
    )


def _is_trifle(share: Share) -> bool:
    return abs(share.mass_g) < TRIFLE_G and float(max(abs(share.balance_mm))) < TRIFLE_MM
