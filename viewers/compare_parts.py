"""What became of the parts of a redesign, as a table: those of which the same is to be said in one line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from airframe.compare.attribution import NOTHING, Share
from airframe.compare.parts import Pair
from airframe.compare.whole import Comparison
from airframe.parts.common import FINISH, GLUE
from airframe.units import System
from viewers.change_words import SHOWN_G, what_changed
from viewers.compare_cells import mass_and_shift, system_of
from viewers.tables import Column, Row, Table

TRIFLE_G, TRIFLE_MM = 0.25, 0.1
"""A line of glue or finish that does less to mass and balance point is a trifle."""


def parts_table(comparison: Comparison, every: bool = False) -> Table:
    """What became of the parts, group by group, with what it did to mass and balance point.

    A left-hand and a right-hand part of which the same is to be said share a line, and so do all parts of a group
    that changed in the same way and weigh what they did; of glue and finish, those that hardly matter do too, unless
    `every` is asked for. Unchanged parts are not listed.
    """
    system = system_of(comparison)
    lines = _part_lines(comparison, system)
    lines = lines if every else _without_trifles(lines)
    rows: list[Row] = []
    for group, share in comparison.attribution.by_group.items():
        members = [line for line in lines if line.group == group]
        if members:
            rows.append(Row((group, "", *mass_and_shift(share, system)), "group"))
            rows += [Row((line.name, line.words, *mass_and_shift(line.share, system))) for line in members]
    rows.append(Row(("whole aeroplane", "", *mass_and_shift(comparison.attribution.whole, system)), "total"))
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
