"""The numbers that are always beside the model: what each is, how it reads, and whether it keeps its limit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import degrees, isfinite
from typing import Any

from airframe import units
from airframe.axes import Array
from airframe.balance.target import Target, target
from airframe.checks.finding import Limit, Verdict, verdict
from airframe.checks.standing import THIRD, Standing, standing
from airframe.checks.tipping import worst_overturn_rad
from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.parts.common import WING
from airframe.units import System
from viewers.tables import inertia_number

M_PER_MM = 1e-3
KG_M2_PER_G_MM2 = 1e-9
MM2_PER_DM2 = 1e4
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


@dataclass(frozen=True)
class Extent:
    """How far the aeroplane reaches, mm."""

    length_mm: float
    span_mm: float


def quick(aeroplane: Aeroplane, extent: Extent, stands: Standing | None) -> tuple[Figure, ...]:
    """What follows from the weight statement at once. `stands` is None where it does not stand on three points."""
    return (*_balance(aeroplane), *_ground(aeroplane, stands), *_inertia(aeroplane), *_wing(aeroplane, extent))


def standing_of(aeroplane: Aeroplane) -> Standing | None:
    """The aeroplane on its gear; None without one, or where its three points lie in one line."""
    stands = standing(aeroplane)
    if stands is None:
        return None
    try:
        return stands if isfinite(worst_overturn_rad(stands)) else None
    except ValueError:
        return None


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


# --- the figures --------------------------------------------------------------------------------------


def _balance(aeroplane: Aeroplane) -> list[Figure]:
    wanted, x = _target(aeroplane), aeroplane.cg_mm[0]
    low, high = (None, None) if wanted is None else wanted.window_mm
    leading = aeroplane.design.wing.station_mm
    behind = tuple(None if end is None else (end - leading) * M_PER_MM for end in (low, high))
    chord = aeroplane.layout.mean_chord
    shares = tuple(
        None if end is None else 100.0 * (end - chord.leading_edge_mm) / chord.length_mm for end in (low, high)
    )
    judged = None if low is None or high is None else _in_range(aeroplane, x, (low, high))
    whole = aeroplane.statement.whole
    return [
        Figure("mass", "mass", whole.mass * M_PER_MM, "kg", _mass),
        Figure(
            "balance",
            "balance, behind the leading edge",
            aeroplane.cg_behind_leading_edge_mm * M_PER_MM,
            "m",
            _length,
            (behind[0], behind[1]),
            judged,
        ),
        Figure(
            "balance-share",
            "balance on the mean chord",
            100.0 * aeroplane.cg_share_of_mean_chord,
            "%",
            _percent,
            (shares[0], shares[1]),
            judged,
        ),
    ]


def _target(aeroplane: Aeroplane) -> Target | None:
    """The range, where it can be told without the flight estimates, which take longer."""
    wanted = aeroplane.design.balance
    if wanted.forward.margin is not None or wanted.aft.margin is not None:
        return None
    try:
        return target(aeroplane.layout, lambda: 0.0)
    except PartError:
        return None


def _in_range(aeroplane: Aeroplane, x_mm: float, window: tuple[float, float]) -> Verdict:
    """As the check of balance judges: of our own range only the aft end fails."""
    is_stated = bool({"forward", "aft"} & aeroplane.design.balance.model_fields_set)
    if x_mm < window[0]:
        return "fail" if is_stated else "caution"
    return "fail" if x_mm > window[1] else "pass"


def _ground(aeroplane: Aeroplane, stands: Standing | None) -> list[Figure]:
    gear, limits = aeroplane.design.gear, aeroplane.design.limits.ground
    if gear.arrangement == "none":
        return []
    is_nose = gear.arrangement == "nose wheel"
    most = degrees(limits.overturn_rad)
    angle = None if stands is None else degrees(worst_overturn_rad(stands))
    share = None if stands is None else 100.0 * stands.shares[THIRD]
    low, high = (
        (limits.nose_load_low_share, limits.nose_load_high_share)
        if is_nose
        else (limits.tail_load_low_share, limits.tail_load_high_share)
    )
    load: Limit = (100.0 * low, 100.0 * high)
    judged = None if share is None else verdict(share, load if is_nose else (None, None), load)
    tips = None if angle is None else verdict(angle, (None, most))
    third = "weight on the nose wheel" if is_nose else "weight on the tail"
    sides = [y for _, y, _ in aeroplane.contacts.values() if y != 0.0]
    track = (max(sides) - min(sides)) * M_PER_MM if len(sides) > 1 else None
    return [
        Figure("overturn", "overturn angle", angle, "deg", _degrees, (None, most), tips),
        Figure("track", "track", track, "m", _length),
        Figure("third-load", third, share, "%", _percent, load, judged),
    ]


def _inertia(aeroplane: Aeroplane) -> list[Figure]:
    tensor: Array = aeroplane.statement.whole.inertia
    names = ("roll", "pitch", "yaw")
    return [
        Figure(f"inertia-{name}", f"{name} inertia", float(tensor[i, i]) * KG_M2_PER_G_MM2, "kg m^2", _inertia_words)
        for i, name in enumerate(names)
    ]


def _wing(aeroplane: Aeroplane, extent: Extent) -> list[Figure]:
    area = aeroplane.layout.mean_chord.area_mm2 * M_PER_MM**2
    loading = aeroplane.wing_loading_g_dm2 / 10.0  # kg/m^2 are tens of g/dm^2
    return [
        Figure("wing-loading", f"{WING} loading", loading, "kg/m^2", _loading),
        Figure("wing-area", f"{WING} area", area, "m^2", _area),
        Figure("span", "span", extent.span_mm * M_PER_MM, "m", _length),
        Figure("length", "length", extent.length_mm * M_PER_MM, "m", _length),
    ]


# --- their words --------------------------------------------------------------------------------------


def _mass(value_kg: float, system: System) -> str:
    return units.mass(value_kg / M_PER_MM, system)


def _length(value_m: float, system: System) -> str:
    return units.length(value_m / M_PER_MM, system)


def _percent(value: float, system: System) -> str:
    return f"{value:.1f} %"


def _degrees(value: float, system: System) -> str:
    return f"{value:.1f} deg"


def _inertia_words(value_kg_m2: float, system: System) -> str:
    unit = "oz in²" if system == "imperial" else "g m²"
    return f"{inertia_number(value_kg_m2 / KG_M2_PER_G_MM2, system)} {unit}"


def _loading(value_kg_m2: float, system: System) -> str:
    if system == "imperial":
        return f"{value_kg_m2 * 1000.0 / units.MM2_PER_M2 / units.AREAL_WEIGHT.factors['oz/ft^2']:.1f} oz/ft²"
    return f"{value_kg_m2 * 10.0:.1f} g/dm²"


def _area(value_m2: float, system: System) -> str:
    if system == "imperial":
        return f"{value_m2 * units.MM2_PER_M2 / units.MM2_PER_FT2:.2f} ft²"
    return f"{value_m2 * units.MM2_PER_M2 / MM2_PER_DM2:.1f} dm²"
