"""Round values: what a knife can cut, typed as a builder types it, read back as the same."""

from __future__ import annotations

from fractions import Fraction

import pytest

from airframe import units
from airframe.solve import steps
from airframe.solve.keys import key
from airframe.units import System
from tests.airframe.sweep.plans import small

TRACK, MASS, WIRE = "gear.track", "equipment.battery.mass", "gear.wire_diameter"


@pytest.mark.parametrize(
    ("name", "near", "system", "step"),
    [
        (TRACK, 214.3, "metric", Fraction(1)),
        (TRACK, 214.3, "imperial", Fraction(1, 16)),
        (WIRE, 3.0, "metric", Fraction(1, 10)),
        (WIRE, 3.0, "imperial", Fraction(1, 64)),
        (MASS, 90.0, "metric", Fraction(1)),
        (MASS, 5.0, "metric", Fraction(1, 10)),
    ],
)
def test_the_step_fits_the_knife_and_the_scale(name: str, near: float, system: System, step: Fraction) -> None:
    """A millimetre or a sixteenth of an inch; finer for what is thin or light."""
    assert steps.steps(key(small(), name), near, system)[0] == step


@pytest.mark.parametrize(
    ("count", "step", "system", "text"),
    [
        (214, Fraction(1), "metric", "214 mm"),
        (135, Fraction(1, 16), "imperial", "8 7/16 in"),
        (7, Fraction(1, 16), "imperial", "7/16 in"),
        (-24, Fraction(1, 16), "imperial", "-1 1/2 in"),
        (128, Fraction(1, 16), "imperial", "8 in"),
        (429, Fraction(1, 2), "metric", "214.5 mm"),
    ],
)
def test_a_round_value_reads_back_as_itself(count: int, step: Fraction, system: System, text: str) -> None:
    """What is typed is the value that was meant, fractions of an inch included."""
    track = key(small(), TRACK)
    assert steps.text(track, count, step, system) == text
    assert units.parse(text, units.LENGTH) == pytest.approx(steps.value(track, count, step, system), rel=1e-15)


def test_a_round_value_is_its_own_neighbour() -> None:
    """214 mm lies between 214 and 214, 214.3 mm between 214 and 215."""
    track = key(small(), TRACK)
    assert steps.counts(track, 214.0, Fraction(1), "metric") == (214, 214)
    assert steps.counts(track, 214.3, Fraction(1), "metric") == (214, 215)
