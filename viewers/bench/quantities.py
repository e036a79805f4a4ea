"""Quantities as the page types them: in which unit, in how round a step, between which bounds."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10

from airframe.units import Dimension, System, UnitError, parse

METRIC = {
    "length": "mm", "mass": "g", "angle": "deg", "share": "%", "weight of a sheet by area": "g/m^2",
    "density": "kg/m^3", "weight by length": "g/m", "volume": "mm^3", "speed": "m/s", "time": "s", "force": "N",
    "torque": "kg cm", "current": "A", "resistance": "mohm", "charge": "mAh", "motor constant": "rpm/V",
}  # fmt: skip
"""The unit that a builder uses for each kind of quantity."""
IMPERIAL = METRIC | {
    "length": "in", "mass": "oz", "weight of a sheet by area": "oz/ft^2", "density": "lb/ft^3",
    "weight by length": "oz/ft", "volume": "in^3", "speed": "mph", "force": "ozf", "torque": "oz in",
}  # fmt: skip
FAR = {"metric": "m", "imperial": "ft"}
"""For what is far beyond a model."""
STEPS_ACROSS = 100
"""About so many steps from one end of a slider to the other."""
LEAST_STEP = {"mm": 0.05, "deg": 0.5}
LARGEST_STEP = {"mm": 1.0, "deg": 1.0, "g": 1.0, "%": 1.0}
"""What is finer nobody cuts, and what is coarser jumps."""
SIXTEENTH, SIXTY_FOURTH = 1.0 / 16.0, 1.0 / 64.0
"""Of an inch: the steps of a rule, and of a drill index."""
DIGITS, READ_DIGITS = 6, 4
"""Significant figures of a number in another unit than it was written in: for the page's slider, and to be read."""
ROUNDING = 1e-9


@dataclass(frozen=True)
class Bounds:
    """Between which values a slider runs, in the code's units."""

    low: float
    high: float

    def clipped(self, low: float | None, high: float | None) -> Bounds:
        """The same within other bounds, where there are any."""
        least = self.low if low is None else max(self.low, low)
        return Bounds(least, max(least, self.high if high is None else min(self.high, high)))


def unit_of(dimension: Dimension, written: object, design: System, shown: System) -> str:
    """The unit a quantity is shown in: that of the page, unless the file says it in one of its own choice."""
    said = written_unit(written, dimension)
    if said is not None and said != usual(dimension, design):
        return said
    return usual(dimension, shown)


def usual(dimension: Dimension, system: System) -> str:
    """The unit that a builder uses."""
    return (IMPERIAL if system == "imperial" else METRIC)[dimension.name]


def written_unit(written: object, dimension: Dimension) -> str | None:
    """The unit that a quantity is written in; None for what is no text of this kind."""
    if not isinstance(written, str):
        return None
    # The longest ending that fits is the unit: "12 mm" ends in m, too.
    name = max((name for name in dimension.factors if written.rstrip().endswith(name)), key=len, default=None)
    try:
        parse(written, dimension)
    except UnitError:
        return None
    return name


def text(value: float, unit: str, dimension: Dimension, written: object) -> str:
    """A quantity in a unit: as it is written, where it is written in that one."""
    if isinstance(written, str) and written_unit(written, dimension) == unit:
        return written.strip()
    return f"{number(value / dimension.factors[unit], READ_DIGITS)} {unit}"


def number(value: float, digits: int = DIGITS) -> str:
    """A number without the dust of a conversion, and without an exponent."""
    plain = f"{value:.{digits}g}"
    if "e" in plain:
        plain = f"{float(plain):.12f}".rstrip("0").rstrip(".")
    return plain.lstrip("-") if float(plain) == 0.0 else plain


def step(low: float, high: float, unit: str) -> float:
    """A round step for a slider between two numbers of a unit."""
    if unit == "in":
        return SIXTEENTH if high - low >= STEPS_ACROSS * SIXTY_FOURTH else SIXTY_FOURTH
    rough = max(high - low, ROUNDING) / STEPS_ACROSS
    power = 10.0 ** floor(log10(rough))
    rounded = next(factor for factor in (1.0, 2.0, 5.0, 10.0) if rough <= factor * power * (1.0 + ROUNDING)) * power
    return round(max(min(rounded, LARGEST_STEP.get(unit, rounded)), LEAST_STEP.get(unit, 0.0)), 9)


def slider(
    bounds: Bounds, unit: str, dimension: Dimension | None, is_whole: bool = False
) -> tuple[float, float, float]:
    """Lowest, highest and step, in the unit; the ends are whole steps within the bounds."""
    factor = dimension.factors[unit] if dimension is not None else 1.0
    low, high = bounds.low / factor, bounds.high / factor
    by = max(1.0, round(step(low, high, unit))) if is_whole else step(low, high, unit)
    first, last = ceil(low / by - ROUNDING) * by, floor(high / by + ROUNDING) * by
    return (round(first, 9), round(max(first, last), 9), by)
