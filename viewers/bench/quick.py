"""The numbers that follow from the weight statement at once: they keep up with a slider."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, isfinite

from airframe.axes import Array
from airframe.balance.target import Target, target
from airframe.checks.finding import Limit, Verdict, verdict
from airframe.checks.standing import THIRD, Standing, standing
from airframe.checks.tipping import worst_overturn_rad
from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.parts.common import WING
from viewers.bench.numbers import (
    KG_M2_PER_G_MM2,
    M_PER_MM,
    Figure,
    area_words,
    degrees_words,
    inertia_words,
    length_words,
    loading_words,
    mass_words,
    percent_words,
)


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
        Figure("mass", "mass", whole.mass * M_PER_MM, "kg", mass_words),
        Figure(
            "balance",
            "balance, behind the leading edge",
            aeroplane.cg_behind_leading_edge_mm * M_PER_MM,
            "m",
            length_words,
            (behind[0], behind[1]),
            judged,
        ),
        Figure(
            "balance-share",
            "balance on the mean chord",
            100.0 * aeroplane.cg_share_of_mean_chord,
            "%",
            percent_words,
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
    track = track_mm(aeroplane)
    return [
        Figure("overturn", "overturn angle", angle, "deg", degrees_words, (None, most), tips),
        Figure("track", "track", None if track is None else track * M_PER_MM, "m", length_words),
        Figure("third-load", third, share, "%", percent_words, load, judged),
    ]


def track_mm(aeroplane: Aeroplane) -> float | None:
    """Between the outermost wheels off the middle; None where there are none on two sides."""
    sides = [y for _, y, _ in aeroplane.contacts.values() if y != 0.0]
    return max(sides) - min(sides) if len(sides) > 1 else None


def _inertia(aeroplane: Aeroplane) -> list[Figure]:
    tensor: Array = aeroplane.statement.whole.inertia
    names = ("roll", "pitch", "yaw")
    return [
        Figure(f"inertia-{name}", f"{name} inertia", float(tensor[i, i]) * KG_M2_PER_G_MM2, "kg m^2", inertia_words)
        for i, name in enumerate(names)
    ]


def _wing(aeroplane: Aeroplane, extent: Extent) -> list[Figure]:
    area = aeroplane.layout.mean_chord.area_mm2 * M_PER_MM**2
    loading = aeroplane.wing_loading_g_dm2 / 10.0  # kg/m^2 are tens of g/dm^2
    return [
        Figure("wing-loading", f"{WING} loading", loading, "kg/m^2", loading_words),
        Figure("wing-area", f"{WING} area", area, "m^2", area_words),
        Figure("span", "span", extent.span_mm * M_PER_MM, "m", length_words),
        Figure("length", "length", extent.length_mm * M_PER_MM, "m", length_words),
    ]
