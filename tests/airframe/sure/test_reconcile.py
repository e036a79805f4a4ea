"""Reconciling: closed forms for one and two readings, odd lines of a log, and what is refused."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from airframe.drawing import PartError
from airframe.schema.certainty import Certainty
from airframe.sure.readings import readings
from airframe.sure.reconcile import Reconciliation, oddness, reconcile, updated
from airframe.sure.unknowns import unknowns
from tests import flock

EXACT = 1e-9
PURE = Certainty.model_validate({"scale_calibration": "0 %", "cutting": "0 %", "sheet": "10 %", "estimated": "10 %"})
"""A scale that rounds and does nothing else; parts that differ by their sheet alone."""
ROUNDING2 = 1.0 / 12.0
"""Variance of a reading in steps of 1 g, g^2."""


def taught(*rows: dict[str, object], certainty: Certainty = flock.CERTAINTY) -> Reconciliation:
    """The made-up aeroplane with these lines in its log."""
    drawn = flock.aeroplane()
    return reconcile(drawn, flock.log(drawn, *rows), certainty, {})


def test_without_a_log_nothing_is_learned() -> None:
    """Every entry weighs what it is drawn to weigh, and nothing is surer than before."""
    done = taught()
    assert done.residuals == ()
    assert done.learned_g == pytest.approx(done.before.nominal_g, rel=0)
    assert done.after.covariance == pytest.approx(done.before.covariance, rel=0)


def test_one_item_on_the_scale() -> None:
    """Drawn m, variance s^2, read y, variance r^2: (m r^2 + y s^2) / (r^2 + s^2), variance r^2 s^2 / (r^2 + s^2)."""
    drawn = flock.entries(flock.bought("camera", 100.0, 0.0))
    done = reconcile(drawn, flock.log(drawn, {"what": "camera", "mass": "120 g"}), PURE, {})
    s2 = 10.0**2
    assert done.learned_g[0] == pytest.approx((100.0 * ROUNDING2 + 120.0 * s2) / (ROUNDING2 + s2), rel=EXACT)
    variance = done.after.gains @ done.after.covariance @ done.after.gains.T
    assert variance[0, 0] == pytest.approx(ROUNDING2 * s2 / (ROUNDING2 + s2), rel=EXACT)
    assert done.residuals[0].sigmas == pytest.approx(20.0 / sqrt(s2 + ROUNDING2), rel=EXACT)


def test_ribs_on_the_scale_improve_every_part_of_their_sheet() -> None:
    """With one error for the whole sheet, m of it drawn and y read: the sheet is heavier by (y - m) m s^2 / (m^2 s^2 +
    r^2), in parts that never were on the scale too; and nothing of another material changes.
    """
    done = taught({"what": "skin *", "mass": "64 g"}, certainty=PURE)
    drawn = flock.aeroplane()
    m = sum(entry.drawn_g for entry in drawn if entry.part.name.startswith("skin"))
    factor = 1.0 + (64.0 - m) * m * 0.1**2 / (m**2 * 0.1**2 + ROUNDING2)
    for entry, learned_g in zip(drawn, done.learned_g, strict=True):
        expected = factor if entry.part.material is flock.FOAM else 1.0
        assert learned_g == pytest.approx(entry.drawn_g * expected, rel=EXACT), entry.part.name


def test_a_balance_point_tells_two_items_apart() -> None:
    """Two lumps of 100 g, 400 mm apart, weigh 200 g on the scale and balance at 210 mm: the aft one weighs 105 g, for
    105 * 400 / 200 = 210.
    """
    drawn = flock.entries(flock.bought("fore", 100.0, 0.0), flock.bought("aft", 100.0, 400.0))
    sharp = PURE.model_copy(update={"balance_reading_mm": 1e-3, "carried_place_mm": 1e-3, "scale_resolution_g": 1e-3})
    log = flock.log(drawn, {"what": "whole", "mass": "200 g", "balances_at": "210 mm"})
    done = reconcile(drawn, log, sharp, {})
    assert done.learned_g == pytest.approx([95.0, 105.0], abs=1e-3)
    mass, balance = done.residuals
    assert (mass.quantity, mass.drawn, mass.read) == ("mass", 200.0, 200.0)
    assert (balance.drawn, balance.read) == (200.0, 210.0)
    assert balance.learned == pytest.approx(210.0, abs=0.01)
    assert balance.sigmas > 0.0


def test_the_order_of_the_log_does_not_matter() -> None:
    """All readings at once, or one after the other, or backwards, teach the same (Bayes' rule)."""
    drawn = flock.aeroplane()
    known = unknowns(drawn, flock.CERTAINTY, {})
    rows = [
        {"what": "skin *", "mass": "61 g"},
        {"what": "rib *", "mass": "8 g"},
        {"what": "side left", "mass": "24 g"},
    ]
    log = readings(flock.log(drawn, *rows), drawn, known, flock.CERTAINTY)
    at_once = updated(known, log)
    one_by_one = known
    for reading in reversed(log):
        one_by_one = updated(one_by_one, [reading])
    assert one_by_one.mean == pytest.approx(at_once.mean, rel=1e-7, abs=1e-10)
    assert one_by_one.covariance == pytest.approx(at_once.covariance, rel=1e-7, abs=1e-12)


def test_a_residual_is_what_the_others_leave_unexplained() -> None:
    """The closed form equals leaving each reading out in fact and asking the rest to predict it."""
    drawn = flock.aeroplane()
    known = unknowns(drawn, flock.CERTAINTY, {})
    rows = [{"what": "skin *", "mass": "61 g"}, {"what": "wing", "mass": "67 g"}, {"what": "floor", "mass": "20 g"}]
    log = readings(flock.log(drawn, *rows), drawn, known, flock.CERTAINTY)
    for index, reading in enumerate(log):
        rest = updated(known, [other for other in log if other is not reading])
        off = reading.value - float(reading.row @ rest.mean)
        sigma = sqrt(float(reading.row @ rest.covariance @ reading.row) + reading.variance)
        assert oddness(known, log)[index] == pytest.approx(off / sigma, rel=1e-6)


HONEST: tuple[dict[str, object], ...] = (
    {"what": "skin *", "mass": "61 g"},
    {"what": "rib *", "mass": "7 g"},
    {"what": "tail", "mass": "28 g"},
    {"what": "floor", "mass": "19 g"},
)


def test_an_odd_line_is_pointed_at_and_left_out() -> None:
    """A side that weighs 9 g too much is named, with the grams and what to look for; it teaches nothing of the foam."""
    side = next(entry.drawn_g for entry in flock.aeroplane() if entry.part.name == "side left")
    done = taught(*HONEST, {"what": "side left", "mass": f"{round(side) + 9} g"})
    odd = [residual for residual in done.residuals if not residual.is_used]
    assert [residual.piece.row.what for residual in odd] == ["side left"]
    remark = odd[0].remark("metric")
    assert remark.startswith("side left weighs 7.9 g")
    assert "more than expected of its drawing: glue" in remark
    assert "a doubler that is not in the file?" in remark
    assert remark.endswith("sigmas), though taken as its mass.")
    assert done.after.mean == pytest.approx(taught(*HONEST).after.mean, rel=1e-9)
    assert all(residual.remark("metric") == "" for residual in done.residuals if residual.is_used)


def test_a_piece_too_light_and_a_balance_too_far_aft_are_worded_so() -> None:
    """What is missing, and what sits elsewhere."""
    light = taught(*HONEST, {"what": "side left", "mass": "3 g"}).residuals[-1].remark("metric")
    assert "less than expected of its drawing: something that was not on the scale" in light
    aft = taught(*HONEST, {"what": "whole", "mass": "516 g", "balances_at": "330 mm"}).residuals[-1].remark("imperial")
    assert "in further aft than expected: an item out of its place?" in aft


def test_a_balance_outside_the_piece_is_refused() -> None:
    """Whatever its parts weigh, a piece balances somewhere between its ends."""
    with pytest.raises(
        PartError, match=r"weighed 'tail': balances_at = 250 mm is outside it: .* station 660 mm to 795 mm"
    ):
        taught({"what": "tail", "mass": "27 g", "balances_at": "250 mm"})


def test_nothing_comes_out_weighing_less_than_nothing() -> None:
    """However wide the spreads, a learned mass stays above nothing."""
    wide = Certainty.model_validate({"line": "100 %", "bead": "100 %", "sheet": "100 %", "cutting": "100 %"})
    done = taught({"what": "wing", "together_with": ["glue, rib *"], "mass": "2 g"}, certainty=wide)
    assert float(np.min(done.learned_g)) > 0.0


def test_a_perfect_scale_read_twice_is_no_trouble() -> None:
    """A scale of no steps at all, and two pieces that are almost one, give finite answers."""
    perfect = PURE.model_copy(update={"scale_resolution_g": 0.0})
    done = taught({"what": "skin *", "mass": "61 g"}, {"what": "wing", "mass": "69 g"}, certainty=perfect)
    assert np.isfinite(done.learned_g).all()
