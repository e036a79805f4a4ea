"""What a swing says of the inertia, beside the model."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from airframe import swing
from airframe.drawing import PartError
from airframe.inertia import combined
from airframe.schema.weighing import Swung
from airframe.sure.swung import Swing, swings
from airframe.sure.unknowns import unknowns
from tests import flock

DRAWN = flock.aeroplane()
STRINGS = {"string_length": "1200 mm", "string_spacing": "400 mm"}


def swung(**row: object) -> Swing:
    """One line of the log, beside the made-up aeroplane."""
    known = unknowns(DRAWN, flock.CERTAINTY, {})
    return swings([Swung.model_validate(row)], DRAWN, known, flock.CERTAINTY)[0]


@pytest.mark.parametrize(("axis", "index"), [("roll", 0), ("pitch", 1), ("yaw", 2)])
def test_a_period_as_expected_leaves_nothing_over(axis: str, index: int) -> None:
    """Ten swings of the period that the model expects give the model's own inertia back."""
    body = combined([entry.body for entry in DRAWN])
    time = 10 * swing.bifilar_period(float(body.inertia[index, index]), body.mass, 1200.0, 400.0)
    found = swung(axis=axis, time=f"{time} s", **STRINGS)
    assert found.modelled.value == pytest.approx(body.inertia[index, index])
    assert found.measured.value == pytest.approx(found.modelled.value)
    assert found.expected_period_s == pytest.approx(time / 10)
    assert found.sigmas == pytest.approx(0.0, abs=1e-9)
    assert found.remark == ""


def test_about_a_pivot_without_the_battery() -> None:
    """What was not aboard does not count, and the compound pendulum's formula is the one that is used."""
    body = combined([entry.body for entry in DRAWN if entry.part.name != "battery"])
    time = 20 * swing.compound_period(float(body.inertia[1, 1]), body.mass, 210.0)
    row = {"axis": "pitch", "method": "compound", "pivot_distance": "210 mm", "swings": 20, "without": ["battery"]}
    found = swung(time=f"{time} s", **row)
    assert found.measured.value == pytest.approx(body.inertia[1, 1])
    assert found.sigmas == pytest.approx(0.0, abs=1e-9)


def test_a_contradiction_is_worded() -> None:
    """Half as slow again is far outside; in roll the air that the wing carries along is named."""
    slow = swung(axis="roll", time="60 s", **STRINGS)
    assert slow.sigmas > 3.0
    assert "swings slower" in slow.remark and "air that the wing carries" in slow.remark
    quick = swung(axis="yaw", time="12 s", **STRINGS)
    assert quick.sigmas < -3.0
    assert "swings quicker" in quick.remark


def test_a_weighed_mass_and_a_wide_swing_are_taken_into_account() -> None:
    """Inertia goes with the mass that was swung; 20 degrees make the period 0.76 % long, so 1.5 %."""
    plain = swung(axis="yaw", time="28 s", mass="500 g", **STRINGS).measured
    assert swung(axis="yaw", time="28 s", mass="550 g", **STRINGS).measured.value == pytest.approx(1.1 * plain.value)
    wide = swung(axis="yaw", time="28 s", mass="500 g", amplitude="20 deg", **STRINGS).measured
    assert wide.value / plain.value == pytest.approx(1.0 - 0.0151, abs=2e-4)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"string_length": "1 m"}, "bifilar needs string_length and string_spacing"),
        ({**STRINGS, "pivot_distance": "200 mm"}, "no pivot_distance"),
        ({"method": "compound", **STRINGS}, "compound needs pivot_distance"),
    ],
)
def test_lengths_that_do_not_fit_the_method_are_refused(row: dict[str, object], words: str) -> None:
    """Each method needs its own lengths and no others."""
    with pytest.raises(ValidationError, match=words):
        Swung.model_validate({"axis": "yaw", "time": "28 s", **row})


def test_a_name_that_is_none_of_the_aeroplanes_is_refused() -> None:
    """As in the weighing log."""
    with pytest.raises(PartError, match=r"swung 'yaw', 'batery': .*did you mean 'battery'"):
        swung(axis="yaw", time="28 s", without=["batery"], **STRINGS)


def test_a_swing_quicker_than_any_body_is_refused() -> None:
    """A point 210 mm below its pivot takes 2 pi sqrt(0.21 / 9.80665) = 0.9194 s; no body takes less."""
    row = {"axis": "pitch", "method": "compound", "pivot_distance": "210 mm", "swings": 10}
    with pytest.raises(PartError, match=r"0\.900 s a swing is too quick: a mere point 210 mm .* takes 0\.919 s"):
        swung(time="9 s", **row)
    assert swung(time="9.3 s", **row).measured.value > 0.0


@pytest.mark.parametrize("amplitude", ["-5 deg", "60 deg"])
def test_an_amplitude_that_the_correction_does_not_reach_is_refused(amplitude: str) -> None:
    """The series for a wide swing is used up to 45 degrees."""
    with pytest.raises(ValidationError, match="amplitude"):
        Swung.model_validate({"axis": "yaw", "time": "28 s", "amplitude": amplitude, **STRINGS})
