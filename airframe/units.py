"""Quantities as a person types them ("84 mm", "3/16 in", "9 oz") and as a person reads them.

Inside the package lengths are millimetres, masses grams, angles radians; this file is the door.
Factors marked exact are exact by definition (international yard and pound, 1959).
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite, pi
from typing import Literal

MM_PER_INCH = 25.4  # exact
MM_PER_FOOT = 304.8  # exact
G_PER_OUNCE = 28.349523125  # exact, avoirdupois
G_PER_POUND = 453.59237  # exact
MM2_PER_M2 = 1e6
MM2_PER_FT2 = MM_PER_FOOT**2
MM2_PER_DM2 = 1e4
KG_M2_PER_G_DM2 = 0.1
MM2_PER_YD2 = (3 * MM_PER_FOOT) ** 2
MM3_PER_FT3 = MM_PER_FOOT**3
KG_M3_PER_OZ_FT3 = G_PER_OUNCE / MM3_PER_FT3 * 1e6
MM3_PER_IN3 = MM_PER_INCH**3
STANDARD_GRAVITY_M_S2 = 9.80665  # exact, ISO 80000-3
M_S_PER_MPH = 0.44704  # exact: 1609.344 m in 3600 s
M_S_PER_FT_S = 0.3048  # exact
N_PER_GF = STANDARD_GRAVITY_M_S2 / 1000.0
N_PER_OZF = G_PER_OUNCE * N_PER_GF
N_PER_LBF = G_PER_POUND * N_PER_GF

System = Literal["metric", "imperial"]


@dataclass(frozen=True)
class Dimension:
    """One kind of quantity: its name in words, and what one of each unit is in internal units."""

    name: str
    internal: str
    factors: dict[str, float]
    example: str

    @property
    def units(self) -> str:
        """The units a person may write, as a list in words."""
        return ", ".join(self.factors)

    @property
    def with_article(self) -> str:
        """The name with its article: "a length", "an angle"."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"


LENGTH = Dimension(
    "length",
    "mm",
    {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": MM_PER_FOOT},
    "84 mm",
)
MASS = Dimension("mass", "g", {"g": 1.0, "kg": 1000.0, "oz": G_PER_OUNCE, "lb": G_PER_POUND}, "12 g")
ANGLE = Dimension("angle", "rad", {"deg": pi / 180.0, "rad": 1.0}, "15 deg")
AREAL_WEIGHT = Dimension(
    "weight of a sheet by area",
    "g/mm^2",
    {
        "g/m^2": 1.0 / MM2_PER_M2,
        "kg/m^2": 1000.0 / MM2_PER_M2,
        "g/cm^2": 0.01,
        "oz/ft^2": G_PER_OUNCE / MM2_PER_FT2,
        "oz/yd^2": G_PER_OUNCE / MM2_PER_YD2,
        "lb/ft^2": G_PER_POUND / MM2_PER_FT2,
    },
    "440 g/m^2",
)
DENSITY = Dimension(
    "density",
    "g/mm^3",
    {
        "kg/m^3": 1e-6,
        "g/cm^3": 1e-3,
        "lb/ft^3": G_PER_POUND / MM3_PER_FT3,
        "oz/in^3": G_PER_OUNCE / MM3_PER_IN3,
    },
    "160 kg/m^3",
)
LINEAR_WEIGHT = Dimension(
    "weight by length",
    "g/mm",
    {
        "g/m": 1e-3,
        "g/cm": 0.1,
        "oz/ft": G_PER_OUNCE / MM_PER_FOOT,
        "oz/in": G_PER_OUNCE / MM_PER_INCH,
    },
    "6 g/m",
)
VOLUME = Dimension("volume", "mm^3", {"mm^3": 1.0, "cm^3": 1000.0, "in^3": MM3_PER_IN3}, "60 mm^3")
FRACTION = Dimension("share", "1", {"%": 0.01}, "6 %")
SPEED = Dimension("speed", "m/s", {"m/s": 1.0, "km/h": 1.0 / 3.6, "mph": M_S_PER_MPH, "ft/s": M_S_PER_FT_S}, "3 m/s")
DURATION = Dimension("time", "s", {"s": 1.0, "min": 60.0}, "28.4 s")
FORCE = Dimension("force", "N", {"N": 1.0, "gf": N_PER_GF, "ozf": N_PER_OZF, "lbf": N_PER_LBF}, "6 N")
TORQUE = Dimension(
    "torque",
    "N m",
    {"N m": 1.0, "N cm": 0.01, "mN m": 0.001, "kg cm": 10.0 * N_PER_GF, "oz in": N_PER_OZF * MM_PER_INCH / 1000.0},
    "1.5 kg cm",
)
"""kg and oz stand for kgf and ozf here, as servos are labelled."""
CURRENT = Dimension("current", "A", {"A": 1.0, "mA": 0.001}, "18 A")
RESISTANCE = Dimension("resistance", "ohm", {"ohm": 1.0, "mohm": 0.001}, "90 mohm")
CHARGE = Dimension("charge", "C", {"mAh": 3.6, "Ah": 3600.0}, "1300 mAh")
MOTOR_CONSTANT = Dimension("motor constant", "rad/s/V", {"rpm/V": 2.0 * pi / 60.0}, "1000 rpm/V")

DIMENSIONS = (
    LENGTH, MASS, ANGLE, AREAL_WEIGHT, DENSITY, LINEAR_WEIGHT, VOLUME, FRACTION, SPEED, DURATION, FORCE,
    TORQUE, CURRENT, RESISTANCE, CHARGE, MOTOR_CONSTANT,
)  # fmt: skip

_SPELLINGS = {
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "inch": "in", "inches": "in", "foot": "ft", "feet": "ft",
    "gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "kilogram": "kg", "kilograms": "kg",
    "ounce": "oz", "ounces": "oz", "pound": "lb", "pounds": "lb", "lbs": "lb",
    "degree": "deg", "degrees": "deg", "°": "deg", "radian": "rad", "radians": "rad", "percent": "%",
    "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "hour": "h", "hours": "h",
    "newton": "N", "newtons": "N",
    "nm": "N m", "n·m": "N m", "n*m": "N m", "ncm": "N cm", "mnm": "mN m",
    "kgcm": "kg cm", "kg-cm": "kg cm", "kg·cm": "kg cm", "kg*cm": "kg cm", "kgfcm": "kg cm",
    "ozin": "oz in", "oz-in": "oz in", "oz·in": "oz in", "oz*in": "oz in", "ozfin": "oz in",
    "amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "ohms": "ohm", "milliohm": "mohm", "milliohms": "mohm",
    "mah": "mAh", "ah": "Ah",
}  # fmt: skip

_NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
NUMBER_PATTERN = rf"(?:[0-9]+\s+[0-9]+\s*/\s*[0-9]+|[0-9]+\s*/\s*[0-9]+|{_NUMBER})"
"""A number without its sign: "84", "1.5", "3/16", "1 1/2"."""
_QUANTITY = re.compile(rf"\s*(?P<sign>[+-]?)(?P<number>{NUMBER_PATTERN})\s*(?P<unit>.*?)\s*", re.DOTALL)
_MARKS = {'"': "in", "''": "in", "\u2033": "in", "'": "ft", "\u2032": "ft"}
"""What the marks for inches and feet stand for; too easily lost between quotes to be accepted."""
MARK_SLACK = 0.02
"""Of a 64th of an inch, a hundredth of a millimetre: what is so near to a mark is meant to be it."""
LONGEST_TEXT = 80
"""Characters; no quantity needs more, and a number of thousands of digits is a mistake or mischief."""


class UnitError(ValueError):
    """A quantity that cannot be read; the message says what was given and what would do."""


def parse(text: object, dimension: Dimension) -> float:
    """The quantity in internal units.

    Accepts "84 mm", "1.5 in", "3/16 in", "1 1/2 in", and units in words ("inches"). Raises UnitError for
    anything else: a bare number, an unknown unit, a unit of another kind, or a number that is not finite.
    """
    if isinstance(text, (int, float)) and not isinstance(text, bool):
        raise UnitError(f'needs a unit ({dimension.units}), e.g. "{_with_unit(text, dimension)}"')
    if not isinstance(text, str):
        raise UnitError(f'needs {dimension.with_article} with its unit, e.g. "{dimension.example}"')
    match = _QUANTITY.fullmatch(text) if len(text) <= LONGEST_TEXT else None
    if match is None:
        raise UnitError(_unreadable(text, dimension))
    unit = _unit(match["unit"])
    if unit not in dimension.factors:
        raise UnitError(_wrong_unit(match["sign"] + match["number"], match["unit"], unit, dimension))
    value = _product(match["number"], dimension.factors[unit])
    if not isfinite(value):
        raise UnitError("is too large a number")
    return -value if match["sign"] == "-" else value


def written_in(text: str) -> tuple[Dimension, str] | None:
    """The kind of a quantity, and the unit it is written in; None for what is no quantity."""
    match = _QUANTITY.fullmatch(text) if len(text) <= LONGEST_TEXT else None
    unit = _unit(match["unit"]) if match is not None else ""
    kind = next((dimension for dimension in DIMENSIONS if unit in dimension.factors), None)
    return None if kind is None else (kind, unit)


def pattern(dimension: Dimension, sign: str = "[+-]?") -> str:
    """A regular expression, in the dialect JSON Schema asks for, of what `parse` reads in a dimension.

    The sign is a pattern too. Every text that it matches is read, unless its number is too large; the few
    odd spellings that are read but not matched are blanks within a unit ("g / m^2") and words within a
    compound ("grams/m^2").
    """
    powers = [unit.replace("^", mark) for unit in dimension.factors for mark in ("^", "**", "")]
    raised = [unit.replace("^2", "²").replace("^3", "³") for unit in dimension.factors]
    words = [word for word, unit in _SPELLINGS.items() if unit in dimension.factors]
    allowed = "|".join(_escaped(unit) for unit in dict.fromkeys([*powers, *raised, *words]))
    return rf"^\s*{sign}{NUMBER_PATTERN}\s*(?:{allowed})\s*$"


def _escaped(unit: str) -> str:
    """A unit as a pattern; the dialect knows no escaped blank or hyphen."""
    return re.escape(unit).replace(r"\ ", " ?").replace(r"\-", "-")


def _unit(text: str) -> str:
    plain = text.replace("²", "^2").replace("³", "^3").replace("**", "^").replace(" ", "")
    parts = [_SPELLINGS.get(part.lower(), part) for part in plain.split("/")]
    return re.sub(r"(?<=[a-z])([23])$", r"^\1", "/".join(parts))


def _product(number: str, factor: float) -> float:
    """Number times factor, correctly rounded, so that "3/16 in" is "4.7625 mm" to the last bit."""
    if "e" in number.lower():
        return float(number) * factor
    *whole, last = re.sub(r"\s*/\s*", "/", number).split()
    if "/" in last and int(last.split("/")[1]) == 0:
        raise UnitError("divides by zero")
    return float((Fraction(last) + (int(whole[0]) if whole else 0)) * Fraction(str(factor)))


def _with_unit(number: float, dimension: Dimension) -> str:
    """What a person who left the unit out may have meant."""
    if isinstance(number, float) and not isfinite(number):
        return dimension.example
    if abs(number) > 1e9:
        return dimension.example
    if dimension is FRACTION and 0 < abs(number) < 1:
        return f"{number * 100:g} %"
    return f"{number:g} {next(iter(dimension.factors))}"


def _unreadable(text: str, dimension: Dimension) -> str:
    if re.search(r"[0-9],[0-9]", text):
        return f'is not {dimension.with_article}: write the decimal comma as a point, e.g. "{dimension.example}"'
    return f'is not {dimension.with_article}; write a number and a unit, e.g. "{dimension.example}"'


def _wrong_unit(number: str, written: str, unit: str, dimension: Dimension) -> str:
    if not unit:
        return f'needs a unit ({dimension.units}), e.g. "{number} {next(iter(dimension.factors))}"'
    if _MARKS.get(unit) in dimension.factors:
        return f'write the unit in letters: "{number} {_MARKS[unit]}"'
    if unit.lower() in dimension.factors:
        return f'"{written}" is not a unit of {dimension.name}; did you mean "{number} {unit.lower()}"?'
    for other in DIMENSIONS:
        if unit in other.factors:
            return f'"{written}" is a unit of {other.name}; {dimension.with_article} is needed ({dimension.units})'
    if not unit[0].isalpha():
        return _unreadable(number + written, dimension)
    near = difflib.get_close_matches(unit, dimension.factors, n=1, cutoff=0.5)
    hint = f'; did you mean "{number} {near[0]}"?' if near else ""
    return f'"{written}" is not a unit of {dimension.name} ({dimension.units}){hint}'


# --- what a person reads ---------------------------------------------------------------------------


def length(value_mm: float, system: System = "metric") -> str:
    """A length for a person: "214 mm" or "8.43 in"."""
    if system == "imperial":
        return f"{_plain(value_mm / MM_PER_INCH, 2)} in"
    return f"{_plain(value_mm, 1 if abs(value_mm) < 100 else 0)} mm"


def distance(value_m: float, system: System = "metric") -> str:
    """A length beyond the model's own, for a person: "3.2 m" or "10.5 ft"."""
    return f"{value_m * 1000.0 / MM_PER_FOOT:.1f} ft" if system == "imperial" else f"{value_m:.1f} m"


def size(value_mm: float, system: System = "metric") -> str:
    """What wire, wood and sheet are sold by: "1.2 mm"; "3/64 in", or "0.039 in" where it is no 64th."""
    if system == "metric":
        return f"{value_mm:.3g} mm"
    marks = value_mm / MM_PER_INCH * 64.0
    if round(marks) < 1 or abs(marks - round(marks)) > MARK_SLACK:
        return f"{_plain(value_mm / MM_PER_INCH, 3)} in"
    whole, rest = divmod(Fraction(round(marks), 64), 1)
    return f"{' '.join(str(part) for part in (whole, rest) if part)} in"


def mass(value_g: float, system: System = "metric") -> str:
    """A mass for a person: "118 g" or "4.16 oz"."""
    if system == "imperial":
        return f"{_plain(value_g / G_PER_OUNCE, 2)} oz"
    return f"{_plain(value_g, 1)} g"


def volume(value_mm3: float, system: System = "metric") -> str:
    """A volume for a person: "118 mm^3" or "0.0072 in^3"."""
    if system == "imperial":
        return f"{value_mm3 / MM3_PER_IN3:.2g} in^3"
    return f"{_plain(value_mm3, 1 if abs(value_mm3) < 100 else 0)} mm^3"


def angle(value_rad: float) -> str:
    """An angle for a person: "15.0 deg"."""
    return f"{_plain(value_rad * 180.0 / pi, 1)} deg"


def speed(value_m_s: float, system: System = "metric") -> str:
    """A speed for a person: "3.0 m/s" or "6.7 mph"."""
    if system == "imperial":
        return f"{_plain(value_m_s / M_S_PER_MPH, 1)} mph"
    return f"{_plain(value_m_s, 1)} m/s"


def area(value_mm2: float, system: System = "metric") -> str:
    """An area for a person: "23.2 dm²" or "2.50 ft²"."""
    return f"{value_mm2 / MM2_PER_FT2:.2f} ft²" if system == "imperial" else f"{value_mm2 / MM2_PER_DM2:.1f} dm²"


def wing_loading(value_kg_m2: float, system: System = "metric", decimals: int = 0) -> str:
    """A mass on a wing's area for a person: "35 g/dm²", with decimals where asked for, or "7.2 oz/ft²"."""
    if system == "imperial":
        return f"{value_kg_m2 * 1e-3 / AREAL_WEIGHT.factors['oz/ft^2']:.1f} oz/ft²"
    return f"{10.0 * value_kg_m2:.{decimals}f} g/dm²"


def cubic_loading(value_kg_m3: float, system: System = "metric") -> str:
    """A mass on a wing's area to the power of 1.5 for a person: "7.2 kg/m³" or "7.2 oz/ft³", which are nearly equal."""
    if system == "imperial":
        return f"{value_kg_m3 / KG_M3_PER_OZ_FT3:.1f} oz/ft³"
    return f"{value_kg_m3:.1f} kg/m³"


def force(value_n: float, system: System = "metric") -> str:
    """A force for a person: "5.9 N" or "21.2 ozf"."""
    if system == "imperial":
        return f"{_plain(value_n / N_PER_OZF, 1)} ozf"
    return f"{_plain(value_n, 1)} N"


def duration(value_s: float) -> str:
    """A time for a person: "0.43 s", "5.7 s" or "549 s"."""
    return f"{value_s:.2g} s" if value_s < 10.0 else f"{value_s:.0f} s"


def _plain(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0.0 else text
