"""Quantities as builders type them, of known size: metric, inches and fractions mixed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from hypothesis import strategies as st

Value = TypeVar("Value")
Draw = Callable[[st.SearchStrategy[Any]], Any]
Table = dict[str, Any]

LENGTH_UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
MASS_UNITS = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237}
ANGLE_UNITS = {"deg": 1.0, "rad": 57.29577951308232}
SIXTEENTHS = 16


class Pen:
    """Draws numbers from Hypothesis and writes them the way a builder would."""

    def __init__(self, draw: Draw) -> None:
        self.draw = draw

    def number(self, low: float, high: float) -> float:
        """A plain number, to a hundredth."""
        return round(float(self.draw(st.floats(low, high))), 2)

    def count(self, low: int, high: int) -> int:
        """A whole number."""
        return int(self.draw(st.integers(low, high)))

    def one_of(self, choices: Sequence[Value]) -> Value:
        """One of these, the first one in the simplest example."""
        return choices[int(self.draw(st.integers(0, len(choices) - 1)))]

    def yes(self, one_in: int = 2) -> bool:
        """True once in so many times."""
        return int(self.draw(st.integers(0, one_in - 1))) == one_in - 1

    def mm(self, value: float) -> str:
        """This length, in any unit; now and then as sixteenths of an inch, rounded to them."""
        unit = self.one_of(("mm", "mm", "mm", *LENGTH_UNITS, "fraction"))
        if unit != "fraction" or value == 0.0:
            return f"{value / LENGTH_UNITS.get(unit, 1.0):.6g} {unit if value else 'mm'}"
        whole, rest = divmod(max(round(abs(value) / 25.4 * SIXTEENTHS), 1), SIXTEENTHS)
        sign = "-" if value < 0.0 else ""
        return f"{sign}{whole} {rest}/{SIXTEENTHS} in" if whole and rest else f"{sign}{whole or f'{rest}/16'} in"

    def length(self, low: float, high: float) -> str:
        """A length between two of so many mm."""
        return self.mm(self.number(low, high))

    def point(self, *lengths: float) -> list[str]:
        """These coordinates, typed."""
        return [self.mm(value) for value in lengths]

    def mass(self, low_g: float, high_g: float) -> str:
        """A mass."""
        unit = self.one_of(tuple(MASS_UNITS))
        return f"{self.number(low_g, high_g) / MASS_UNITS[unit]:.6g} {unit}"

    def angle(self, low_deg: float, high_deg: float) -> str:
        """An angle."""
        unit = self.one_of(tuple(ANGLE_UNITS))
        return f"{self.number(low_deg, high_deg) / ANGLE_UNITS[unit]:.6g} {unit}"

    def share(self, low: float, high: float) -> str:
        """A share, in percent."""
        return f"{self.number(low, high):g} %"

    def some(self, table: Table, **optional: Callable[[], Any]) -> Table:
        """The table with each of the optional keys filled in once in two times."""
        return table | {key: make() for key, make in optional.items() if self.yes()}
