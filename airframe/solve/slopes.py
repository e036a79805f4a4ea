"""How much a centimetre, a gram, a degree of a key changes a result: the slope, its amounts, all slopes of a design.

Central differences at two steps. Where the two do not agree, or the slope is another on either side, the result is not
smooth there and no number is given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from airframe import units
from airframe.solve.keys import Key
from airframe.sweep.measures import Measure
from airframe.units import System

AGREE_SHARE = 0.05
"""So much of the larger slope two steps may differ by."""
ONE_SIDED_SHARE = 0.25
"""So much of the slope the slopes on both sides may differ by, unless halving the step halves the difference."""
HALVED_SHARE = 0.7
"""A difference of the slopes on both sides that half the step leaves no more of comes of a bend, not of a corner."""


@dataclass(frozen=True)
class Amount:
    """What a slope is told for: one centimetre, one gram, one degree."""

    name: str
    inside: float


CENTIMETRE, MILLIMETRE = Amount("1 cm", 10.0), Amount("1 mm", 1.0)
INCH, SIXTEENTH = Amount("1 in", units.MM_PER_INCH), Amount("1/16 in", units.MM_PER_INCH / 16.0)
ORDER = {"mm": 0, "g": 1, "rad": 2}
"""By the unit inside: which come first."""
THIN_SHARE = 0.5
"""Of the larger amount: sizes below it, of wires and strips, are told for the smaller one."""


@dataclass(frozen=True)
class Slope:
    """How much one key moves one result."""

    key: Key
    measure: Measure
    per: Amount
    change: float | None
    """Of the result, in its unit inside, for one amount more of the key; None where it is not smooth or not built."""
    why_not: str = ""


@dataclass(frozen=True)
class Sensitivity:
    """Every slope of one design."""

    name: str
    system: System
    measures: tuple[Measure, ...]
    now: tuple[float | None, ...]
    """Each result as it is."""
    slopes: tuple[Slope, ...]
    is_taught: bool = False
    """Whether a weighing log speaks of the design as it is."""

    def ranked(self, code: str, per: str) -> list[Slope]:
        """Those of one result for one amount that move it at all, the greatest first."""
        own = [one for one in self.slopes if one.measure.code == code and one.per.name == per and one.change]
        return sorted(own, key=lambda one: -abs(one.change or 0.0))

    def idle(self, code: str) -> int:
        """How many keys do not move a result."""
        return sum(one.measure.code == code and one.change == 0.0 for one in self.slopes)

    def rough(self, code: str) -> list[Slope]:
        """Those that have no slope."""
        return [one for one in self.slopes if one.measure.code == code and one.change is None]

    def amounts(self) -> list[str]:
        """The amounts that occur: of lengths, of masses, of the rest."""
        found = {one.per.name: ORDER.get(one.key.unit.inside, len(ORDER)) for one in self.slopes}
        thin = (MILLIMETRE.name, SIXTEENTH.name)
        return sorted(found, key=lambda name: (found[name], name in thin))


def amount(key: Key, system: System) -> Amount:
    """What a slope of the key is told for."""
    is_imperial = system == "imperial"
    match key.unit.inside:
        case "mm":
            large, small = (INCH, SIXTEENTH) if is_imperial else (CENTIMETRE, MILLIMETRE)
            is_thin = key.least >= 0.0 and abs(key.now or 0.0) < large.inside * THIN_SHARE
            return small if is_thin else large
        case "g":
            return Amount("1 oz", units.G_PER_OUNCE) if is_imperial else Amount("1 g", 1.0)
        case "rad":
            return Amount("1 deg", units.ANGLE.factors["deg"])
        case "1":
            return Amount("1 %", units.FRACTION.factors["%"])
        case _:
            return Amount("a tenth more", abs(key.now or 1.0) / 10.0)


def slope(values: Sequence[float], step: float, rounded: float) -> float | None:
    """Change for each unit of the key, from values at five places a half step apart; None where it is not smooth.

    `rounded` is what each value may be off by. A value that stands apart from the four round it is left out: what a
    part was weighed at holds for the part as it is, and a changed one counts as drawn.
    """
    far_below, below, here, above, far_above = values
    whole, half = (far_above - far_below) / (2.0 * step), (above - below) / step
    noise = 4.0 * rounded / step
    most = max(abs(whole), abs(half))
    bent_whole, bent_half = (
        abs(up - 2.0 * here + down) / length
        for up, down, length in ((far_above, far_below, step), (above, below, step / 2.0))
    )
    agree = abs(whole - half) <= AGREE_SHARE * most + noise
    is_no_corner = bent_half <= ONE_SIDED_SHARE * most + noise or bent_half <= HALVED_SHARE * bent_whole
    left, right = (below - far_below) / (step / 2.0), (far_above - above) / (step / 2.0)
    stands_apart = all(abs(one - whole) <= ONE_SIDED_SHARE * most + noise for one in (left, right))
    if not (agree and (is_no_corner or stands_apart)):
        return None
    return 0.0 if most <= noise / 2.0 else whole
