"""Growth allowances by maturity: what an aeroplane tends to weigh more in the end than its parts list says.

Basic mass is the best estimate of what is listed; predicted mass is basic mass with the growth allowance added
(ANSI/AIAA S-120A-2015, definitions, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from airframe.drawing import Basis, Bead
from airframe.mass import Entry

SOURCE = (
    "growth allowance table in a public script that does not name its standard (secondary); columns E estimated, "
    "C calculated from released drawings, A actual (weighed); full-size and space practice, for want of one for models"
)
STRUCTURE, BATTERY, WIRING, ELECTRICAL = "structure", "battery", "wiring", "electrical"
ALLOWANCES: dict[str, dict[Basis, float]] = {
    STRUCTURE: {"estimated": 0.18, "calculated": 0.04, "weighed": 0.0},
    BATTERY: {"estimated": 0.20, "calculated": 0.05, "weighed": 0.0},
    WIRING: {"estimated": 0.50, "calculated": 0.05, "weighed": 0.0},
    ELECTRICAL: {"estimated": 0.30, "calculated": 0.10, "weighed": 0.0},
}
"""Shares of the mass by what the entry is and how it is known. Structure stands for mechanisms and propulsion too;
electrical is the row for units below 4.5 kg. Source: SOURCE."""


@dataclass(frozen=True)
class Growth:
    """Basic and predicted mass."""

    basic_g: float
    allowance_g: float

    @property
    def predicted_g(self) -> float:
        """Basic mass with the allowance."""
        return self.basic_g + self.allowance_g


def growth(entries: Sequence[Entry]) -> Growth:
    """Basic mass of the entries, and what it may be expected to grow by."""
    return Growth(
        sum(entry.mass_g for entry in entries),
        sum(entry.mass_g * ALLOWANCES[row(entry)][entry.basis] for entry in entries),
    )


def row(entry: Entry) -> str:
    """The row of the table that an entry falls under."""
    part = entry.part
    if part.material.look == "cell":
        return BATTERY
    if part.group == "electrical":
        return WIRING if isinstance(part.shape, Bead) else ELECTRICAL
    return ELECTRICAL if part.group == "controls" and part.mass_g is not None else STRUCTURE
