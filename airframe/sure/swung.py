"""What swinging the aeroplane said of its inertia, beside what the model says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from airframe import swing
from airframe.drawing import PartError
from airframe.mass import Entry
from airframe.schema.certainty import Certainty
from airframe.schema.weighing import WHOLE, Swung
from airframe.sure.propagation import Estimate, sureness
from airframe.sure.spreads import ROUNDING
from airframe.sure.unknowns import Unknowns
from airframe.swing import Reading
from airframe.weighing import named

AXES = {"roll": 0, "pitch": 1, "yaw": 2}
ODD = 3.0
"""Standard deviations beyond which model and pendulum contradict each other (our choice)."""


@dataclass(frozen=True)
class Swing:
    """One line of the log of swings."""

    row: Swung
    modelled: Estimate
    """g mm^2."""
    measured: Estimate
    expected_period_s: float
    """By the model."""

    @property
    def sigmas(self) -> float:
        """How far the two are apart, in standard deviations of their difference."""
        return (self.measured.value - self.modelled.value) / sqrt(self.measured.sigma**2 + self.modelled.sigma**2)

    @property
    def remark(self) -> str:
        """What to make of it where the two contradict each other; empty otherwise."""
        if abs(self.sigmas) <= ODD:
            return ""
        if self.sigmas > 0.0:
            air = ", or air that the wing carries along" if self.row.axis == "roll" else ""
            return f"swings slower than its masses would: too wide a swing, a wrong length{air}?"
        return "swings quicker than its masses would: a wrong length, or twisting and swaying mixed?"


def swings(rows: Sequence[Swung], entries: Sequence[Entry], known: Unknowns, certainty: Certainty) -> tuple[Swing, ...]:
    """Every swing in the log. PartError for a name in `without` that is none of the aeroplane's, and for
    a swing that is quicker than any body's."""
    return tuple(_swing(row, entries, known, certainty) for row in rows)


def _swing(row: Swung, entries: Sequence[Entry], known: Unknowns, certainty: Certainty) -> Swing:
    parts = [entry.part for entry in entries]
    aboard = list(named(f"swung '{row.axis}'", WHOLE, (), row.without, parts))
    sure = sureness([entries[index] for index in aboard], known.of(aboard))
    modelled = sure.inertia_g_mm2[AXES[row.axis]]
    mass = Reading(sure.mass_g.value, sure.mass_g.sigma)
    if row.mass_g is not None:
        step = certainty.scale_resolution_g / ROUNDING
        mass = Reading(row.mass_g, sqrt(step**2 + (certainty.scale_calibration_share * row.mass_g) ** 2))
    time = swing.at_small_swing(swing.period(row.time_s, row.swings, certainty.reaction_s), row.amplitude_rad or 0.0)
    read = certainty.length_reading_mm
    if row.pivot_distance_mm is not None:
        distance = Reading(row.pivot_distance_mm, read)
        measured = swing.compound_inertia(time, mass, distance)
        expected = swing.compound_period(modelled.value, mass.value, distance.value)
        _check_slow_enough(row, measured.inertia, time.value)
    else:
        assert row.string_length_mm is not None and row.string_spacing_mm is not None
        length, spacing = Reading(row.string_length_mm, read), Reading(row.string_spacing_mm, read)
        measured = swing.bifilar_inertia(time, mass, length, spacing)
        expected = swing.bifilar_period(modelled.value, mass.value, length.value, spacing.value)
    return Swing(row, modelled, Estimate(measured.inertia, measured.sigma), expected)


def _check_slow_enough(row: Swung, inertia: float, period_s: float) -> None:
    """Nothing swings about a pivot quicker than a mere point, which has no inertia of its own, does."""
    assert row.pivot_distance_mm is not None
    if inertia > 0.0:
        return
    least = swing.compound_period(0.0, 1.0, row.pivot_distance_mm)
    raise PartError(
        f"swung '{row.axis}'",
        f"{period_s:.3f} s a swing is too quick: a mere point {row.pivot_distance_mm:g} mm below the pivot takes "
        f"{least:.3f} s; is it the time of all swings together, and the distance from pivot to balance point?",
    )
