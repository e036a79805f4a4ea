"""Tables ready to be set in type, and the numbers that stand in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from airframe import units
from airframe.materials import Material
from airframe.units import System

Align = Literal["left", "right"]
Kind = Literal["part", "group", "total"]


@dataclass(frozen=True)
class Column:
    """A heading, with the unit of the numbers under it."""

    title: str
    align: Align = "left"


@dataclass(frozen=True)
class Row:
    """One line of text cells; groups and totals stand out."""

    cells: tuple[str, ...]
    kind: Kind = "part"


@dataclass(frozen=True)
class Table:
    """A table ready to be set in type."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Headline:
    """A figure that a builder looks for first."""

    label: str
    value: str
    detail: str = ""


def mass_number(value_g: float, system: System) -> str:
    """A mass without its unit: grams to 0.1, ounces to 0.01."""
    return f"{value_g / units.G_PER_OUNCE:.2f}" if system == "imperial" else f"{value_g:.1f}"


def length_number(value_mm: float, system: System) -> str:
    """A length without its unit: mm to 0.1, inches to 0.01; never "-0.0"."""
    text = f"{value_mm / units.MM_PER_INCH:.2f}" if system == "imperial" else f"{value_mm:.1f}"
    return text.lstrip("-") if float(text) == 0.0 else text


def inertia_number(value_g_mm2: float, system: System) -> str:
    """A moment of inertia without its unit: g m^2, or oz in^2."""
    if system == "imperial":
        return f"{value_g_mm2 / (units.G_PER_OUNCE * units.MM_PER_INCH**2):.1f}"
    return f"{value_g_mm2 / units.MM2_PER_M2:.2f}"


def weight_text(material: Material, system: System) -> str:
    """A material's weight per amount, the way it is best measured."""
    dimension, unit = {
        "sheet": (units.AREAL_WEIGHT, ("g/m^2", "oz/ft^2")),
        "film": (units.AREAL_WEIGHT, ("g/m^2", "oz/ft^2")),
        "solid": (units.DENSITY, ("kg/m^3", "lb/ft^3")),
        "line": (units.LINEAR_WEIGHT, ("g/m", "oz/ft")),
    }[material.kind]
    name = unit[1 if system == "imperial" else 0]
    amount = material.weight * (material.thickness_mm if material.kind == "sheet" else 1.0)
    value = amount / dimension.factors[name]
    number = f"{value:.0f}" if value >= 100.0 else f"{value:.3g}"
    return f"{number} {name.replace('^2', '²').replace('^3', '³')}"
