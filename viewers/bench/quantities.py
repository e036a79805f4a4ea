"""Quantities as the page types them: in which unit, with how many digits."""

from __future__ import annotations

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
ALTITUDE = "altitude"
"""The key of the flying field's height above the sea."""
FAR = {"metric": "m", "imperial": "ft"}
"""For what is far beyond a model, such as that height."""
DIGITS, READ_DIGITS = 6, 4
"""Significant figures of a number in another unit than it was written in: for the page's slider, and to be read."""


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
