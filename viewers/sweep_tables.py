"""A sweep as a person reads it: the table, shortened where it is long, and what stands out in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import floor, log10
from textwrap import wrap

from airframe.parts.common import GROUPS
from airframe.sweep.codes import FINDINGS, SUMS
from airframe.sweep.measures import Measure, Value
from airframe.sweep.quantities import Unit
from airframe.sweep.rows import Row, Table
from airframe.units import System
from viewers import tables

MOST_ROWS = 40
"""More are shortened to the first and the last, and those that hold a lowest or a highest value."""
ENDS = 10
"""Rows shown at either end of a long table."""
LOWEST, HIGHEST, GAP = " ↓", " ↑", "…"
FIGURES = 5
"""Significant figures of a number; what a knife and a scale can do is fewer."""
SETTING_FIGURES = 6
"""Of a value that was set."""
LONGEST_MESSAGE, MOST_REASONS = 60, 3
WIDTH = 100
MEASURE_NOTE = (
    "the code of a check gives its value, with .verdict behind it its verdict; one item's is asked for as "
    "'fit.room: camera'"
)


def table(result: Table) -> tables.Table:
    """Every variant, or of many the ends and what stands out; the lowest and highest of each column are marked."""
    marks = {one.code: _extremes(result, one) for one in result.measures}
    shown = _shown(result, {row for pair in marks.values() for row in pair})
    rows: list[tables.Row] = []
    before = -1
    for index in shown:
        if index != before + 1:
            rows.append(tables.Row((GAP,) * (len(result.headings()))))
        rows.append(tables.Row(_cells(result, index, marks)))
        before = index
    *numbers, verdict, message = (raised(heading) for heading in result.headings())
    columns = [*(tables.Column(title, "right") for title in numbers), tables.Column(verdict), tables.Column(message)]
    return _without_empty(tables.Table("Variants", tuple(columns), tuple(rows)))


def _without_empty(full: tables.Table) -> tables.Table:
    """The table without columns of words in which nothing stands."""
    kept = [
        index
        for index, column in enumerate(full.columns)
        if column.align == "right" or any(row.cells[index] not in ("", GAP) for row in full.rows)
    ]
    rows = tuple(tables.Row(tuple(row.cells[index] for index in kept), row.kind) for row in full.rows)
    return tables.Table(full.title, tuple(full.columns[index] for index in kept), rows)


def notes(result: Table) -> tuple[str, ...]:
    """How many pass, and where the lowest and the highest value of each measure is."""
    counts = Counter("cannot be built" if row.message else row.verdict for row in result.rows)
    told = [f"{counts[word]} {word}" for word in ("pass", "caution", "fail", "info", "cannot be built") if counts[word]]
    many = f"{len(result.rows)} of {result.count} variants" if not result.is_whole else f"{result.count} variants"
    first = f"{many}: {', '.join(told)}" if told else many
    return (first, *_reasons(result), *(line for one in result.measures for line in _range(result, one)))


def _reasons(result: Table) -> list[str]:
    """Why variants cannot be built, in full, the most frequent reasons first."""
    counts = Counter(row.message for row in result.rows if row.message)
    told = [f"  {number} cannot be built: {message}" for message, number in counts.most_common(MOST_REASONS)]
    more = len(counts) - len(told)
    return [*told, f"  and {more} other reasons"] if more else told


def raised(unit: str) -> str:
    """A unit as it is set in type: "oz in²" for "oz in^2"."""
    return unit.replace("^2", "²").replace("^3", "³")


def why_none(result: Table) -> str:
    """Where not one variant can be built, why; empty where any can."""
    if not result.rows or any(not row.message for row in result.rows):
        return ""
    (message, _), *_ = Counter(row.message for row in result.rows).most_common(1)
    return f"none of the {len(result.rows)} variants can be built: {message}"


def measures_text() -> str:
    """Every code that can be measured, by its subject."""
    subjects: dict[str, list[str]] = {"mass, balance point and inertia": list(SUMS)}
    subjects["mass of a group"] = [f"parts.{group}.mass" for group in GROUPS]
    for code, (subject, _) in FINDINGS.items():
        subjects.setdefault(subject, []).append(code)
    blocks = [
        f"{subject}:\n"
        + "\n".join(
            wrap(
                ", ".join(found),
                WIDTH,
                initial_indent="  ",
                subsequent_indent="  ",
                break_long_words=False,
                break_on_hyphens=False,
            )
        )
        for subject, found in subjects.items()
    ]
    return "\n".join([*blocks, "", MEASURE_NOTE])


def number(value: float, unit: Unit, system: System) -> str:
    """A number in the unit that the design shows, to a few figures; never in powers of ten."""
    shown = unit.shown(value, system)
    if shown == 0.0:
        return "0"
    decimals = min(max(FIGURES - 1 - floor(log10(abs(shown))), 0), FIGURES - 1)
    text = f"{shown:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0.0 else text


def setting_text(value: float | str, unit: Unit, system: System) -> str:
    """What a key is, with its unit: "240 mm"."""
    if isinstance(value, str):
        return value
    return f"{unit.shown(value, system):.{SETTING_FIGURES}g} {raised(unit.name(system))}".rstrip()


def _range(result: Table, one: Measure) -> list[str]:
    low, high = _extremes(result, one) or (None, None)
    if low is None or high is None:
        return []
    name = raised(one.unit.name(result.system))
    lines = [f"  {one.code}"]
    for word, index in (("lowest", low), ("highest", high)):
        value = result.rows[index].answers[one.code]
        assert isinstance(value, (int, float))
        lines[0] += (
            f"{',' if word == 'highest' else ':'} {word} {number(value, one.unit, result.system)} {name}".rstrip()
        )
        lines[0] += f" at {_where(result, result.rows[index])}"
    return lines


def _where(result: Table, row: Row) -> str:
    """The variant in words: "gear.track 240 mm, fuselage.width 92 mm"."""
    pairs = zip(result.axes, row.values, strict=True)
    return ", ".join(f"{axis.key} {setting_text(value, axis.unit, result.system)}" for axis, value in pairs)


def _extremes(result: Table, one: Measure) -> tuple[int, ...]:
    """Rows of the lowest and the highest number of a measure; none where all are alike or there is none."""
    found = [(value, index) for index, value in enumerate(result.column(one.code)) if isinstance(value, (int, float))]
    if not found or min(found)[0] == max(found)[0]:
        return ()
    highest = max(value for value, _ in found)
    return min(found)[1], next(index for value, index in found if value == highest)


def _shown(result: Table, marked: set[int]) -> Sequence[int]:
    count = len(result.rows)
    if count <= MOST_ROWS:
        return range(count)
    return sorted({*range(ENDS), *range(count - ENDS, count), *marked})


def _cells(result: Table, index: int, marks: dict[str, tuple[int, ...]]) -> tuple[str, ...]:
    row = result.rows[index]
    system = result.system
    own = [
        value if isinstance(value, str) else f"{axis.unit.shown(value, system):.{SETTING_FIGURES}g}"
        for axis, value in zip(result.axes, row.values, strict=True)
    ]
    answers = []
    for one in result.measures:
        pair = marks[one.code]
        mark = "" if index not in pair else LOWEST if index == pair[0] else HIGHEST
        answers.append(_text(row.answers.get(one.code), one.unit, system) + (mark or "  "))
    message = row.message if len(row.message) <= LONGEST_MESSAGE else row.message[: LONGEST_MESSAGE - 1] + GAP
    return (*own, *answers, row.verdict or "", message)


def _text(value: Value, unit: Unit, system: System) -> str:
    if value is None:
        return "-"
    return value if isinstance(value, str) else number(value, unit, system)
