"""Quantities as a person types them, against an independent unit library as the oracle."""

from __future__ import annotations

import re
from fractions import Fraction
from math import isclose, pi

import pint  # noqa: TID251 - the oracle
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from airframe import units
from airframe.units import (
    ANGLE,
    AREAL_WEIGHT,
    CHARGE,
    CURRENT,
    DENSITY,
    DIMENSIONS,
    FORCE,
    FRACTION,
    LENGTH,
    LINEAR_WEIGHT,
    MASS,
    MOTOR_CONSTANT,
    RESISTANCE,
    SPEED,
    TORQUE,
)

ORACLE = pint.UnitRegistry()
OUNCE_AND_SO_ON = {"oz": "ounce", "lb": "pound", "%": "percent"}
TORQUES = {
    "N m": "N*m", "N cm": "N*cm", "mN m": "mN*m", "kg cm": "force_kilogram*cm", "oz in": "force_ounce*inch",
}  # fmt: skip
"""Torques as the oracle spells them; on a servo's label kg and oz are forces."""
EVERY_UNIT = [(dimension, unit) for dimension in DIMENSIONS for unit in dimension.factors]
RELATIVE = 1e-12
"""Of a quantity: a few roundings of double precision."""


def oracle(number: float, unit: str, dimension: units.Dimension) -> float:
    """The quantity in internal units by the other library."""
    spelled = TORQUES.get(unit) or re.sub(r"[a-z%]+", lambda m: OUNCE_AND_SO_ON.get(m[0], m[0]), unit)
    internal = {FRACTION.name: "dimensionless", TORQUE.name: "N*m"}.get(dimension.name, dimension.internal)
    return float(ORACLE.Quantity(number, spelled).to(internal).magnitude)


@pytest.mark.parametrize(("dimension", "unit"), EVERY_UNIT, ids=lambda value: getattr(value, "name", value))
def test_every_factor(dimension: units.Dimension, unit: str) -> None:
    """One of each unit is what the oracle says it is."""
    assert isclose(units.parse(f"1 {unit}", dimension), oracle(1.0, unit, dimension), rel_tol=RELATIVE)


@given(
    st.sampled_from(EVERY_UNIT),
    st.floats(-1e9, 1e9, allow_nan=False),
    st.sampled_from(["", " ", "  ", "\t"]),
    st.sampled_from(["", " "]),
)
@example((LENGTH, "mm"), 1e-7, "", "")
def test_any_number_in_any_unit(choice: tuple[units.Dimension, str], number: float, gap: str, around: str) -> None:
    """Whatever the number and the blanks, the quantity is the oracle's."""
    dimension, unit = choice
    read = units.parse(f"{around}{number!r}{gap}{unit}{around}", dimension)
    assert isclose(read, oracle(number, unit, dimension), rel_tol=RELATIVE, abs_tol=0.0)


@given(st.integers(0, 99), st.integers(0, 99), st.integers(1, 99), st.sampled_from(["", "+", "-"]))
def test_fractions(whole: int, numerator: int, denominator: int, sign: str) -> None:
    """A mixed fraction is correctly rounded, and its sign holds for the whole of it."""
    expected = float((whole + Fraction(numerator, denominator)) * Fraction("25.4")) * (-1 if sign == "-" else 1)
    assert units.parse(f"{sign}{whole} {numerator}/{denominator} in", LENGTH) == expected


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("3/16 in", LENGTH, 4.7625),
        ("1 1/2 in", LENGTH, 38.1),
        ("-3/4 in", LENGTH, -19.05),
        ("-0 1/2 in", LENGTH, -12.7),
        ("+2 in", LENGTH, 50.8),
        (".5m", LENGTH, 500.0),
        ("3 inches", LENGTH, 76.2),
        ("2 Feet", LENGTH, 609.6),
        ("9 oz", MASS, 9 * 28.349523125),
        ("180°", ANGLE, pi),
        ("180 degrees", ANGLE, pi),
        ("440 g/m²", AREAL_WEIGHT, 440e-6),
        ("440 g/m2", AREAL_WEIGHT, 440e-6),
        ("440 g / m ** 2", AREAL_WEIGHT, 440e-6),
        ("160 kg/m³", DENSITY, 160e-6),
        ("6 grams/m", LINEAR_WEIGHT, 6e-3),
        ("6%", FRACTION, 0.06),
        ("6 percent", FRACTION, 0.06),
        ("10.8 km/h", SPEED, 3.0),
        ("3 metres/second", SPEED, 3.0),
        ("100 gf", FORCE, 0.980665),
        ("2 newtons", FORCE, 2.0),
        ("2 Nm", TORQUE, 2.0),
        ("1.5 kg-cm", TORQUE, 0.14709975),
        ("1.5 kgcm", TORQUE, 0.14709975),
        ("2 kg cm", TORQUE, 0.196133),
        ("20 oz-in", TORQUE, 20 * 0.028349523125 * 9.80665 * 0.0254),
        ("18 amps", CURRENT, 18.0),
        ("90 milliohms", RESISTANCE, 0.09),
        ("1300 mah", CHARGE, 4680.0),
        ("1.3 Ah", CHARGE, 4680.0),
        ("30 rpm/V", MOTOR_CONSTANT, pi),
    ],
)
def test_spellings(text: str, dimension: units.Dimension, expected: float) -> None:
    """The spellings people use are read; the values are exact by definition of the units."""
    assert isclose(units.parse(text, dimension), expected, rel_tol=RELATIVE)


def test_one_size_in_two_units() -> None:
    """Equal sizes are equal to the last bit, so that parts of one size share a shape."""
    assert units.parse("3/16 in", LENGTH) == units.parse("4.7625 mm", LENGTH) == 4.7625
    assert units.parse("30 in", LENGTH) == units.parse("2.5 ft", LENGTH) == units.parse("76.2 cm", LENGTH) == 762.0


@pytest.mark.parametrize(
    ("given_", "dimension", "says"),
    [
        (92, LENGTH, 'needs a unit (mm, cm, m, in, ft), e.g. "92 mm"'),
        ("92", LENGTH, 'needs a unit (mm, cm, m, in, ft), e.g. "92 mm"'),
        (0.06, FRACTION, 'needs a unit (%), e.g. "6 %"'),
        (float("nan"), LENGTH, 'e.g. "84 mm"'),
        (10**400, LENGTH, 'e.g. "84 mm"'),
        (True, LENGTH, "needs a length with its unit"),
        (None, ANGLE, "needs an angle with its unit"),
        (["1 mm"], LENGTH, "needs a length with its unit"),
        ('3.5"', LENGTH, 'write the unit in letters: "3.5 in"'),
        ("2'", LENGTH, 'write the unit in letters: "2 ft"'),
        ("2″", LENGTH, 'write the unit in letters: "2 in"'),
        ("mm", LENGTH, "is not a length"),
        ("", LENGTH, "is not a length"),
        ("inf mm", LENGTH, "is not a length"),
        ("nan mm", LENGTH, "is not a length"),
        ("1_000 mm", LENGTH, "is not a length"),
        ("1e999999999 mm", LENGTH, "is too large a number"),
        ("1,5 mm", LENGTH, "write the decimal comma as a point"),
        ("1e400 mm", LENGTH, "is too large a number"),
        ("9" * 5000 + " mm", LENGTH, "is not a length"),
        ("1/0 in", LENGTH, "divides by zero"),
        ("1 0/0 in", LENGTH, "divides by zero"),
        ("1/2/3 in", LENGTH, "is not a length"),
        ("1 mm\n2 mm", LENGTH, "is not a unit of length"),
        ("٣ mm", LENGTH, "is not a length"),
        ("9 oz", LENGTH, '"oz" is a unit of mass; a length is needed'),
        ("15 deg", MASS, '"deg" is a unit of angle; a mass is needed'),
        ("6 g", AREAL_WEIGHT, '"g" is a unit of mass; a weight of a sheet by area is needed'),
        ("84 MM", LENGTH, 'did you mean "84 mm"?'),
        ("84 mmm", LENGTH, 'did you mean "84 mm"?'),
        ("84 µm", LENGTH, '"µm" is not a unit of length'),
        ("-5 furlong", LENGTH, '"furlong" is not a unit of length (mm, cm, m, in, ft)'),
    ],
)
def test_refused(given_: object, dimension: units.Dimension, says: str) -> None:
    """What cannot be read is refused in words that say what would do."""
    with pytest.raises(units.UnitError) as caught:
        units.parse(given_, dimension)
    assert says in str(caught.value)


@given(st.one_of(st.text(max_size=30), st.integers(), st.floats(), st.binary(max_size=3), st.none()))
def test_nothing_else_is_ever_raised(value: object) -> None:
    """Any value at all is a finite number or a UnitError."""
    for dimension in DIMENSIONS:
        try:
            read = units.parse(value, dimension)
        except units.UnitError:
            continue
        assert abs(read) < float("inf")


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda d: d.name)
def test_the_published_pattern_matches_only_what_is_read(dimension: units.Dimension) -> None:
    """Any text that the JSON Schema lets through is read."""

    @given(st.from_regex(re.compile(units.pattern(dimension), re.ASCII), fullmatch=True).map(lambda t: t[:60]))
    def check(text: str) -> None:
        if not re.fullmatch(units.pattern(dimension), text):
            return
        try:
            units.parse(text, dimension)
        except units.UnitError as error:
            assert "divides by zero" in str(error) or "too large" in str(error)

    check()


@pytest.mark.parametrize(("dimension", "unit"), EVERY_UNIT, ids=lambda value: getattr(value, "name", value))
def test_the_published_pattern_takes_every_unit(dimension: units.Dimension, unit: str) -> None:
    """The JSON Schema's pattern takes each unit, a fraction, an exponent; not a bare number or a wrong sign."""
    pattern = re.compile(units.pattern(dimension, "[+]?"))
    for text in (f"1 {unit}", f"3/16 {unit}", f"1 1/2{unit}", f"+1e-3 {unit}"):
        assert pattern.search(text)
    for text in ("1", f"-1 {unit}", unit, f"1 {unit}x"):
        assert not pattern.search(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (units.length(214.3), "214 mm"),
        (units.length(4.7625), "4.8 mm"),
        (units.length(-0.01), "0.0 mm"),
        (units.length(214.3, "imperial"), "8.44 in"),
        (units.distance(3.21), "3.2 m"),
        (units.distance(3.21, "imperial"), "10.5 ft"),
        (units.mass(118.04), "118.0 g"),
        (units.mass(118.0, "imperial"), "4.16 oz"),
        (units.angle(pi / 12), "15.0 deg"),
        (units.speed(3.0), "3.0 m/s"),
        (units.speed(3.0, "imperial"), "6.7 mph"),
        (units.force(5.9), "5.9 N"),
        (units.force(5.9, "imperial"), "21.2 ozf"),
        (units.size(1.2), "1.2 mm"),
        (units.size(25.4 * 3 / 64, "imperial"), "3/64 in"),
        (units.size(25.4 * 1.5, "imperial"), "1 1/2 in"),
        (units.size(1.19, "imperial"), "3/64 in"),
        (units.size(50.8, "imperial"), "2 in"),
        (units.size(1.0, "imperial"), "0.039 in"),
        (units.size(0.1, "imperial"), "0.004 in"),
        (units.duration(0.431), "0.43 s"),
        (units.duration(549.3), "549 s"),
    ],
)
def test_what_a_person_reads(text: str, expected: str) -> None:
    """Results are shown in the system asked for, rounded, never as minus nothing."""
    assert text == expected
