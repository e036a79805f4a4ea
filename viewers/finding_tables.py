"""Findings as a builder reads them: the verdict in a word, value and limit with their unit, and what would mend it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, log10
from typing import Any

from airframe import units
from airframe.checks.finding import WORST_FIRST, Finding, Limit, Verdict, rank, worst
from airframe.units import System
from viewers.tables import Column, Row, Table

WORDS: dict[Verdict, str] = {"fail": "FAIL", "caution": "caution", "pass": "pass", "info": "note"}
"""What stands for a verdict; only the one that must not be overlooked is in capitals."""
IMPERIAL: dict[str, tuple[str, float]] = {
    "mm": ("in", units.MM_PER_INCH),
    "m": ("ft", units.MM_PER_FOOT / 1000.0),
    "N": ("ozf", units.N_PER_OZF),
    "m/s": ("mph", units.M_S_PER_MPH),
    "mm^3": ("in^3", units.MM3_PER_IN3),
    "kg/m³": ("oz/ft³", units.KG_M3_PER_OZ_FT3),
}
"""For the metric unit of a finding: the imperial one, and how much of the metric one it is; g is an acceleration."""

LEAST_GENERAL = 1e-4
"""Below this the general format would put an exponent."""
MOST_DECIMALS = 7
"""What is smaller is rounding."""


@dataclass(frozen=True)
class Card:
    """One finding in words."""

    verdict: Verdict
    word: str
    code: str
    value: str
    """With its unit; empty where there is none."""
    limit: str
    message: str
    remedies: tuple[tuple[str, tuple[str, ...]], ...]
    """What would mend it, each with the --set lines that do it."""
    source: str


def cards(findings: Sequence[Finding], system: System) -> tuple[Card, ...]:
    """Every finding, worst first; equals in the order given."""
    ordered = sorted(findings, key=rank)
    return tuple(
        Card(
            verdict=finding.verdict,
            word=WORDS[finding.verdict],
            code=finding.code,
            value=value_text(finding.value, finding.unit, system),
            limit=limit_text(finding.limit, finding.unit, system) + missed_text(finding, system),
            message=finding.message,
            remedies=tuple(
                (remedy.text, tuple(f"--set {quoted(line)}" for line in remedy.settings)) for remedy in finding.remedies
            ),
            source=finding.source,
        )
        for finding in ordered
    )


def findings_table(findings: Sequence[Finding], system: System) -> Table:
    """One line a finding, worst first."""
    rows = tuple(Row((card.word, card.code, card.value, card.limit)) for card in cards(findings, system))
    columns = (Column("verdict"), Column("check"), Column("value", "right"), Column("limit"))
    return Table("findings", columns, rows)


def summary(findings: Sequence[Finding]) -> str:
    """How many of each verdict, worst first: "1 fails, 2 cautions, 17 pass"."""
    counts = {verdict: sum(finding.verdict == verdict for finding in findings) for verdict in WORST_FIRST}
    one = {"fail": "fails", "caution": "caution", "pass": "passes", "info": "note"}
    many = {"fail": "fail", "caution": "cautions", "pass": "pass", "info": "notes"}
    parts = [f"{count} {(one if count == 1 else many)[verdict]}" for verdict, count in counts.items() if count]
    return ", ".join(parts) or "nothing to check"


def quoted(setting: str) -> str:
    """A setting as it is typed in a shell: in single quotes, where they are needed."""
    is_plain = all(character.isalnum() or character in "._-=%/+" for character in setting)
    return setting if is_plain else "'" + setting.replace("'", "'\\''") + "'"


def value_text(value: float | None, unit: str, system: System) -> str:
    """A finding's value with its unit, as a builder of that system reads it; empty for None."""
    if value is None:
        return ""
    number, shown = _converted(value, unit, system)
    return f"{_number(number)} {shown}".rstrip()


def limit_text(limit: Limit, unit: str, system: System) -> str:
    """The limits in words: "at most 55 deg", "16 to 25 deg"; empty where there are none."""
    low, high = limit
    if low is not None and low == high:
        return f"should be {value_text(low, unit, system)}"
    if low is not None and high is not None:
        return f"{_number(_converted(low, unit, system)[0])} to {value_text(high, unit, system)}"
    if low is not None:
        return f"at least {value_text(low, unit, system)}"
    return f"at most {value_text(high, unit, system)}" if high is not None else ""


def missed_text(finding: Finding, system: System) -> str:
    """By how much a value is outside a limit that reads the same: ", missed by 0.003 in"; empty where they differ."""
    value, unit = finding.value, finding.unit
    for bound in finding.limit if finding.verdict != "pass" else ():
        if value is None or bound is None or value_text(value, unit, system) != value_text(bound, unit, system):
            continue
        if (value < bound) == (bound == finding.limit[0]) and value != bound:
            number, shown = _converted(abs(value - bound), unit, system)
            return f", missed by {_number(float(f'{number:.1g}'))} {shown}".rstrip()
    return ""


def _converted(value: float, unit: str, system: System) -> tuple[float, str]:
    if system == "imperial" and unit in IMPERIAL:
        name, factor = IMPERIAL[unit]
        return value / factor, name
    return value, unit


def _number(value: float) -> str:
    """Three figures, or all of a large number's; whole limits stay whole, and no number has an exponent."""
    if abs(value) >= 100.0:
        return f"{value:.0f}"
    if 0.0 < abs(value) < LEAST_GENERAL:
        decimals = min(2 - floor(log10(abs(value))), MOST_DECIMALS)
        text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    else:
        text = f"{value:.3g}"
    return text.lstrip("-") if float(text) == 0.0 else text


def as_json(name: str, findings: Sequence[Finding]) -> dict[str, Any]:
    """The findings as `check --json` prints them, worst first.

    {"name", "verdict": the worst, "findings": [{"code", "verdict", "value", "unit", "limit": [low, high], "message",
    "remedy", "source"}]}; value, limits and remedy may be null.
    """
    ordered = sorted(findings, key=rank)
    return {
        "name": name,
        "verdict": worst(tuple(findings)),
        "findings": [
            {
                "code": finding.code,
                "verdict": finding.verdict,
                "value": finding.value,
                "unit": finding.unit,
                "limit": list(finding.limit),
                "message": finding.message,
                "remedy": finding.remedy,
                "source": finding.source,
            }
            for finding in ordered
        ],
    }
