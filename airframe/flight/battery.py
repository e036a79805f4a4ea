"""A lithium-polymer pack: cells in series behind one resistance; SI units, charge in coulomb."""

from __future__ import annotations

from dataclasses import dataclass

NOMINAL_V = 3.7
"""Of one cell at rest, between 4.2 full and 3.0 where harm begins (hobby-electronics guide, secondary)."""
CUT_OFF_V = 3.4
"""Of one cell under load, where flying stops: 3.3 to 3.5 V (trade practice, from memory)."""
OHM_COULOMB_PER_CELL = 0.012 * 3600.0
"""A cell of 1 Ah has about 12 mohm with its share of plug and leads, a larger one less (our choice, no source)."""
RESISTANCE_LOW, RESISTANCE_HIGH = 0.5, 2.5
"""A good new pack and a tired cold one, against that (our choice, no source)."""
USUAL_C_PER_S = 20.0 / 3600.0
"""A pack that states no limit is taken to bear twenty times its capacity an hour (common practice, no source)."""


@dataclass(frozen=True)
class Pack:
    """A pack as the motor sees it."""

    cells: int
    capacity_c: float
    resistance_ohm: float
    max_current_a: float | None = None
    cell_v: float = NOMINAL_V
    """Of one cell at rest; nominal unless a fresh or a spent pack is asked about."""

    @property
    def rest_v(self) -> float:
        """Without load."""
        return self.cells * self.cell_v

    def loaded_v(self, current_a: float) -> float:
        """At its leads while a current flows."""
        return self.rest_v - current_a * self.resistance_ohm

    def sag_v(self, current_a: float) -> float:
        """What the load takes off."""
        return self.rest_v - self.loaded_v(current_a)

    def current_at_cut_off_a(self) -> float:
        """What pulls each cell down to where flying stops; nothing if it rests there already."""
        return max(self.rest_v - self.cells * CUT_OFF_V, 0.0) / self.resistance_ohm

    def duration_s(self, current_a: float, usable_share: float) -> float:
        """How long a steady current may flow. Raises ValueError when none does."""
        if current_a <= 0.0:
            raise ValueError("no current flows: the battery lasts for ever")
        return self.capacity_c * usable_share / current_a


def estimated_resistance_ohm(cells: int, capacity_c: float) -> float:
    """Of a pack of which only cells and capacity are known; low confidence, half to two and a half times this."""
    return cells * OHM_COULOMB_PER_CELL / capacity_c


def estimated_limit_a(capacity_c: float) -> float:
    """The current that a pack bears which states no limit."""
    return capacity_c * USUAL_C_PER_S
