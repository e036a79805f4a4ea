"""The numbers that are always beside the model: what each is, how it reads, and whether it keeps its limit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from airframe import units
from airframe.checks.finding import Limit, Verdict
from airframe.drawing import COORDINATE_DECIMALS
from airframe.units import System
from viewers.tables import inertia_number

M_PER_MM = 1e-3
KG_M2_PER_G_MM2 = 1e-9
NOTHING = "–"
"""What stands for a number that cannot be told."""

Words = Callable[[float, System], str]


@dataclass(frozen=True)
class Figure:
    """One number, before anyone decides in which units it is read."""

    code: str
    label: str
    value: float | None
    """In `unit`; None where it cannot be told, or the aeroplane has no such thing."""
    unit: str
    words: Words
    limit: Limit = (None, None)
    verdict: Verdict | None = None
    band: tuple[float, float] | None = None
    """Of an estimate: the least and the most that would not surprise."""


def as_json(figures: Sequence[Figure], old: Sequence[Figure], system: System) -> list[dict[str, Any]]:
    """The numbers as the page shows them, with those of the prototype beside them where it has them."""
    before = {figure.code: figure for figure in old}
    return [_one(figure, before.get(figure.code), system) for figure in figures]


def column(figures: Sequence[Figure], codes: Sequence[str], system: System) -> list[str]:
    """The numbers of another variant in the order of these codes; a dash for what it has not."""
    known = {figure.code: text(figure, system) for figure in figures}
    return [known.get(code, NOTHING) for code in codes]


def text(figure: Figure, system: System) -> str:
    """The number in words; a dash where it cannot be told."""
    if figure.value is None:
        return NOTHING
    words = figure.words(figure.value, system)
    if figure.band is None:
        return words
    low, high = (figure.words(end, system) for end in figure.band)
    return f"{words} ({_shared(low, high)})"


def _one(figure: Figure, old: Figure | None, system: System) -> dict[str, Any]:
    has_change = old is not None and old.value is not None and figure.value is not None
    return {
        "code": figure.code,
        "label": figure.label,
        "text": text(figure, system),
        "value": figure.value,
        "unit": figure.unit,
        "prototype": None if old is None else text(old, system),
        "change": _change(figure, old, system) if old is not None and has_change else None,
        "verdict": figure.verdict,
        "limit": _limit(figure, system),
    }


def _change(figure: Figure, old: Figure, system: System) -> str:
    assert figure.value is not None and old.value is not None
    words = figure.words(abs(figure.value - old.value), system)
    is_none = not any(letter in "123456789" for letter in words.partition(" ")[0])
    return "no change" if is_none else ("+" if figure.value > old.value else "−") + words


def _limit(figure: Figure, system: System) -> str | None:
    low, high = figure.limit
    if low is not None and high is not None:
        return _shared(figure.words(low, system), figure.words(high, system))
    if low is not None:
        return f"at least {figure.words(low, system)}"
    return None if high is None else f"at most {figure.words(high, system)}"


def _shared(low: str, high: str) -> str:
    """ "53.6 to 77.2 mm": the unit once, where both have the same."""
    number, _, unit = low.partition(" ")
    return f"{number} to {high}" if unit == high.partition(" ")[2] else f"{low} to {high}"


# --- their words --------------------------------------------------------------------------------------


def mass_words(value_kg: float, system: System) -> str:
    """A mass in kilograms."""
    return units.mass(value_kg / M_PER_MM, system)


def length_words(value_m: float, system: System) -> str:
    """A length in metres; without the dust of the sums, so that it reads as on the drawing."""
    return units.length(round(value_m / M_PER_MM, COORDINATE_DECIMALS), system)


def percent_words(value: float, system: System) -> str:
    """A share in percent."""
    return f"{value:.1f} %"


def degrees_words(value: float, system: System) -> str:
    """An angle in degrees."""
    return f"{value:.1f} deg"


def inertia_words(value_kg_m2: float, system: System) -> str:
    """A moment of inertia in kg m^2."""
    unit = "oz in²" if system == "imperial" else "g m²"
    return f"{inertia_number(value_kg_m2 / KG_M2_PER_G_MM2, system)} {unit}"


def loading_words(value_kg_m2: float, system: System) -> str:
    """A wing loading in kg/m^2."""
    return units.wing_loading(value_kg_m2, system, decimals=1)


def area_words(value_m2: float, system: System) -> str:
    """An area in square metres."""
    return units.area(value_m2 * units.MM2_PER_M2, system)
