"""Whatever stands in a weighing log, the answer is a sound aeroplane or one clear message."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe import mass
from airframe.drawing import PartError
from airframe.inertia import box, is_physical
from airframe.schema.certainty import Certainty
from airframe.schema.weighing import Weighed
from airframe.sure.causes import causes
from airframe.sure.propagation import sureness
from airframe.sure.reconcile import reconcile
from airframe.weighing import pieces
from tests import flock

DRAWN = flock.aeroplane()
PARTS = [entry.part for entry in DRAWN]
UNITS = [box(1.0, 1.0, 1.0).scaled(entry.amount) for entry in DRAWN]
NAMES = st.sampled_from(
    ["whole", "wing", "tail", "glue", "payload", "skin *", "rib *", "fin", "camera", "battery", "x"]
)
SHARES = st.sampled_from(["0 %", "0.1 %", "5 %", "100 %"])
ROWS = st.lists(
    st.fixed_dictionaries(
        {"what": NAMES, "mass": st.floats(0.0, 900.0).map(lambda value: f"{value:.1f} g")},
        optional={
            "together_with": st.lists(NAMES.filter(lambda name: name != "whole"), max_size=2),
            "without": st.lists(NAMES.filter(lambda name: name != "whole"), max_size=2),
            "balances_at": st.floats(-100.0, 900.0).map(lambda value: f"{value:.1f} mm"),
            "resolution": st.sampled_from(["0 g", "0.1 g", "5 g"]),
        },
    ),
    max_size=5,
)
CERTAINTIES = st.fixed_dictionaries(
    {}, optional=dict.fromkeys(("sheet", "line", "cutting", "bead", "estimated", "scale_calibration"), SHARES)
)


@settings(max_examples=300, deadline=None)
@given(ROWS, CERTAINTIES)
def test_any_log_is_learned_from_or_refused(rows: list[dict[str, Any]], shares: dict[str, str]) -> None:
    """Learned masses are positive, variances no less than nothing and no more than before, and the sums are sound."""
    certainty = Certainty.model_validate(shares)
    weighed = [Weighed.model_validate(row) for row in rows]
    try:
        done = reconcile(DRAWN, pieces(weighed, PARTS), certainty, {})
        statement = mass.statement(PARTS, UNITS, weighed, done.learned_g.tolist())
    except PartError as error:
        assert error.part.startswith("weighed '")
        assert error.problem
        return
    assert float(done.learned_g.min()) > 0.0
    assert float(np.linalg.eigvalsh(done.after.covariance).min()) >= -1e-9
    assert (np.diag(done.after.covariance) <= np.diag(done.before.covariance) + 1e-12).all()
    assert all(np.isfinite([one.learned, one.sigmas]).all() for one in done.residuals)
    assert statement.whole.mass > 0.0
    assert is_physical(statement.whole.inertia)
    sure = sureness(statement.entries, done.after)
    assert np.isfinite([sure.mass_g.sigma, *(one.sigma for one in sure.balance_mm)]).all()
    found = causes(statement.entries, done.after, certainty)
    assert not found or sum(cause.share for cause in found) == pytest.approx(1.0)
