"""Cells that tables of a redesign beside its prototype share: headings of both, differences with their sign."""

from __future__ import annotations

from airframe import units
from airframe.compare.attribution import Share
from airframe.compare.whole import Comparison
from airframe.units import System
from viewers.tables import Column, inertia_number

NONE = "–"
"""In a cell where there is nothing."""


def system_of(comparison: Comparison) -> System:
    """The units that both are shown in: the redesign's."""
    return comparison.new.design.units


def sides(comparison: Comparison, align: str = "right") -> tuple[Column, Column]:
    """The two aeroplanes' names as headings."""
    names = comparison.old.design.name, comparison.new.design.name
    first, second = names if names[0] != names[1] else (f"{names[0]}, old", f"{names[1]}, new")
    return Column(first, "left" if align == "left" else "right"), Column(second, "left" if align == "left" else "right")


def signed(text: str) -> str:
    """A difference with its sign; a nought has none, and neither has what is no number."""
    number = text.split(" ")[0]
    try:
        value = float(number)
    except ValueError:
        return text
    if value == 0.0:
        return text.lstrip("-")
    return text if text.startswith("-") else f"+{text}"


def mass_and_shift(share: Share, system: System) -> tuple[str, ...]:
    """What one share did to mass, and to the balance point fore and aft, and up and down."""
    return _signed_mass(share, system), *(_signed_length(float(share.balance_mm[k]), system) for k in (0, 2))


def share_cells(share: Share, system: System) -> tuple[str, ...]:
    """What one share did to mass, balance point along all three axes, and inertia about them."""
    shift = (_signed_length(float(value), system) for value in share.balance_mm)
    moments = (signed(inertia_number(float(share.inertia_g_mm2[i, i]), system)) for i in range(3))
    return _signed_mass(share, system), *shift, *moments


def _signed_mass(share: Share, system: System) -> str:
    value = share.mass_g
    return signed(f"{value / units.G_PER_OUNCE:.3f}" if system == "imperial" else f"{value:.1f}")


def _signed_length(value_mm: float, system: System) -> str:
    return signed(f"{value_mm / units.MM_PER_INCH:.3f}" if system == "imperial" else f"{value_mm:.2f}")
