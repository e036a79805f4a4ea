"""Propagation of uncertainty against closed forms, and against aeroplanes drawn at random.

Source of the law: JCGM 100:2008 (GUM), 5.1.2 and 5.2.2, from memory; each closed form is worked out
beside its assertion.
"""

from __future__ import annotations

from math import atan2, erf, sqrt

import numpy as np
import pytest

from airframe.axes import Array, Point
from airframe.mass import Entry
from airframe.sure.causes import causes
from airframe.sure.propagation import Estimate, Sureness, chance_of_reaching, sureness
from airframe.sure.sampling import Sample, sample
from airframe.sure.unknowns import Unknown, Unknowns, unknowns
from tests import flock

EXACT = 1e-12
CERTAINTY = flock.CERTAINTY


def known(masses: list[float], gains: list[list[float]], spreads: list[float], place_mm: float = 0.0) -> Unknowns:
    """Random quantities set by hand: spreads of independent errors, and grams of each entry for a unit of each."""
    return Unknowns(
        tuple(Unknown("scale" if i == 0 else "entry", str(i)) for i in range(len(spreads))),
        np.zeros(len(spreads)),
        np.diag(np.array(spreads) ** 2),
        np.array(masses),
        np.array(gains),
        np.full(len(masses), place_mm**2),
        (),
    )


def lumps(*masses_and_stations: tuple[float, float]) -> tuple[Entry, ...]:
    """Bought lumps on the x axis."""
    return flock.entries(*(flock.bought(f"lump {i}", m, x) for i, (m, x) in enumerate(masses_and_stations)))


def test_independent_masses_add_in_quadrature() -> None:
    """sigma^2 of a sum is the sum of the sigmas^2: 100 g at 3 % and 200 g at 2 % are 300 g within 5 g (3-4-5)."""
    sure = sureness(lumps((100, 0), (200, 0)), known([100, 200], [[0, 100, 0], [0, 0, 200]], [0, 0.03, 0.02]))
    assert sure.mass_g.value == pytest.approx(300.0, rel=EXACT)
    assert sure.mass_g.sigma == pytest.approx(5.0, rel=EXACT)
    assert (sure.mass_g.low, sure.mass_g.high) == pytest.approx((290.2, 309.8), abs=0.001)


def test_a_shared_error_adds_up_straight() -> None:
    """n parts of m with one sheet's error s: n m s, where n independent ones would give sqrt(n) m s."""
    drawn = flock.entries(*(flock.part(f"p{i}", "wing", (10.0 * i, 0, 0), (100.0, 100.0, 5.0)) for i in range(16)))
    mass_g = drawn[0].mass_g
    of = unknowns(drawn, CERTAINTY.model_copy(update={"cutting_share": 0.0, "sheet_share": 0.08}), {})
    assert sureness(drawn, of).mass_g.sigma == pytest.approx(16 * mass_g * 0.08, rel=EXACT)
    of = unknowns(drawn, CERTAINTY.model_copy(update={"cutting_share": 0.02, "sheet_share": 0.0}), {})
    assert sureness(drawn, of).mass_g.sigma == pytest.approx(4 * mass_g * 0.02, rel=EXACT)


def test_one_sheet_for_everything_leaves_the_balance_alone() -> None:
    """Where all is cut from one sheet, its weight moves mass and inertia in proportion, and the balance not at all."""
    drawn = flock.entries(*(flock.part(f"p{i}", "wing", (70.0 * i, i, -i), (90.0, 60.0, 5.0)) for i in range(5)))
    exact = {"cutting_share": 0.0, "built_place_mm": 0.0, "sheet_share": 0.08}
    sure = sureness(drawn, unknowns(drawn, CERTAINTY.model_copy(update=exact), {}))
    assert [one.sigma for one in sure.balance_mm] == pytest.approx([0.0] * 3, abs=1e-9)
    assert [one.sigma / one.value for one in sure.inertia_g_mm2] == pytest.approx([0.08] * 3, rel=EXACT)


def test_the_balance_point_of_two_masses() -> None:
    """x = b m2 / (m1 + m2), so dx = b m1 m2 (e2 - e1) / M^2: with 100 g and 300 g, 400 mm apart, each known to 4 %,
    sigma = 400 * 3/16 * 0.04 * sqrt(2) = 4.243 mm.
    """
    sure = sureness(lumps((100, 0), (300, 400)), known([100, 300], [[0, 100, 0], [0, 0, 300]], [0, 0.04, 0.04]))
    assert sure.balance_mm[0].value == pytest.approx(300.0, rel=EXACT)
    assert sure.balance_mm[0].sigma == pytest.approx(3.0 * sqrt(2.0), rel=EXACT)


def test_places_count_by_their_share_of_the_mass() -> None:
    """sigma^2 = sum (m_i / M)^2 s^2 along each axis: 3 mm on 100 g and 300 g are 3 sqrt(1 + 9) / 4 mm."""
    sure = sureness(lumps((100, 0), (300, 400)), known([100, 300], [[0], [0]], [0], place_mm=3.0))
    assert [one.sigma for one in sure.balance_mm] == pytest.approx([3.0 * sqrt(10.0) / 4.0] * 3, rel=EXACT)


def test_the_bias_of_the_balance_point() -> None:
    """E[b m2 / (m1 + m2)] to second order, worked from the second derivatives d2x/dm1^2 = 2 b m2 / M^3 and
    d2x/dm2^2 = -2 b m1 / M^3: bias = b (m2 s1^2 - m1 s2^2) / M^3 with s in grams.
    """
    spreads = [0, 0.1, 0.05]
    sure = sureness(lumps((100, 0), (300, 400)), known([100, 300], [[0, 100, 0], [0, 0, 300]], spreads))
    assert sure.balance_bias_mm[0] == pytest.approx(400 * (300 * 10.0**2 - 100 * 15.0**2) / 400.0**3, rel=EXACT)


def test_inertia_of_two_masses() -> None:
    """I = b^2 m1 m2 / M and their own: dI/dm1 = b^2 (m2 / M)^2 + k^2; and 2 m d for each mm that one moves.

    k^2 of a box of 30 x 20 x 20 about y is (30^2 + 20^2) / 12.
    """
    drawn = lumps((100, 0), (300, 400))
    k2 = (30.0**2 + 20.0**2) / 12.0
    by_mass = np.array([100 * (300.0**2 + k2), 300 * (100.0**2 + k2)])
    sure = sureness(drawn, known([100, 300], [[0, 100, 0], [0, 0, 300]], [0, 0.04, 0.02]))
    assert sure.inertia_g_mm2[1].sigma == pytest.approx(float(np.hypot(*(by_mass * [0.04, 0.02]))), rel=EXACT)
    moved = sureness(drawn, known([100, 300], [[0], [0]], [0], place_mm=2.0)).inertia_g_mm2
    assert moved[1].sigma == pytest.approx(sqrt(2.0) * 2 * 100 * 300 * 2.0, rel=EXACT)
    assert moved[0].sigma == pytest.approx(0.0, abs=1e-6)


def test_an_angle_that_hangs_on_the_balance_point() -> None:
    """atan(z / y) has the gradient (-z, y) / (y^2 + z^2): 0.5 mm across and 1.5 mm up at (0, 50, 150) mm."""
    estimate = Estimate(0.0, 0.0)
    centre = (estimate, Estimate(50.0, 0.5), Estimate(150.0, 1.5))
    sure = Sureness(estimate, centre, np.diag([0.0, 0.25, 2.25]), (0.0, 0.0, 0.0), (estimate,) * 3)

    def angle(point: Point) -> float:
        return atan2(point[2], point[1])

    found = sure.of_balance(angle)
    assert found.value == atan2(150.0, 50.0)
    assert found.sigma == pytest.approx(np.hypot(150 * 0.5, 50 * 1.5) / (50.0**2 + 150.0**2), rel=1e-6)


def test_chances_of_a_normal_distribution() -> None:
    """Within one sigma 68.27 %, within two 95.45 % (any table); a certain value is in or out."""
    assert Estimate(10.0, 2.0).chance_within(8.0, 12.0) == pytest.approx(0.6827, abs=5e-5)
    assert Estimate(10.0, 2.0).chance_within(6.0, 14.0) == pytest.approx(0.9545, abs=5e-5)
    assert Estimate(10.0, 0.0).chance_within(8.0, 12.0) == 1.0
    assert Estimate(13.0, 0.0).chance_within(8.0, 12.0) == 0.0


@pytest.mark.parametrize(
    ("reach", "target", "z_low", "z_high"),
    [
        ((70.0, 80.0), (78.0, 90.0), -1.0, 10.0),
        ((80.0, 70.0), (60.0, 66.0), -10.0, -2.0),
        ((70.0, 80.0), (70.0, 80.0), -5.0, 5.0),
    ],
)
def test_the_chance_that_the_battery_can_reach_the_target(
    reach: tuple[float, float], target: tuple[float, float], z_low: float, z_high: float
) -> None:
    """The error must lie between target low - reach high and target high - reach low; sigma is 2 mm."""
    expected = 0.5 * (erf(z_high / sqrt(2.0)) - erf(z_low / sqrt(2.0)))
    assert chance_of_reaching(2.0, reach, target) == pytest.approx(expected, rel=1e-9)


def test_the_chance_of_reaching_against_drawing_at_random() -> None:
    """So it comes out when errors are drawn and the moved interval is laid beside the target."""
    errors = np.random.default_rng(3).normal(0.0, 4.0, 200_000)
    hits = (70.0 + errors <= 66.0 + 8.0) & (75.0 + errors >= 66.0)
    assert chance_of_reaching(4.0, (70.0, 75.0), (66.0, 74.0)) == pytest.approx(hits.mean(), abs=0.004)


# --- against drawing at random --------------------------------------------------------------------------------


DRAWN = flock.aeroplane()
OF = unknowns(DRAWN, CERTAINTY, {})
DRAWS = 10_000


def drawn_at_random() -> Sample:
    """As the sampler makes them."""
    return sample(DRAWN, OF, DRAWS, np.random.default_rng(41))


def assert_spread(drawn: Array, estimate: Estimate) -> None:
    """Within 4 standard errors of a standard deviation, 1 / sqrt(2 n), and 1 % for what first order leaves."""
    assert drawn.std() == pytest.approx(estimate.sigma, rel=4 / sqrt(2 * DRAWS) + 0.01)


def assert_agree(drawn: Array, estimate: Estimate, bias: float = 0.0) -> None:
    """Spread as above; mean within 4 standard errors."""
    assert_spread(drawn, estimate)
    assert drawn.mean() == pytest.approx(estimate.value + bias, abs=4 * estimate.sigma / sqrt(DRAWS))


def test_first_order_agrees_with_drawing_at_random() -> None:
    """Mass, balance point and inertia spread as propagated, in ten thousand aeroplanes with nothing linearised."""
    sure, drawn = sureness(DRAWN, OF), drawn_at_random()
    assert_agree(drawn.mass_g, sure.mass_g)
    for axis in range(3):
        assert_agree(drawn.balance_mm[:, axis], sure.balance_mm[axis], sure.balance_bias_mm[axis])
    # To second order the inertia's mean is not its value: places add their squares, the centre's wandering takes away.
    for axis in range(3):
        assert_spread(drawn.inertia_g_mm2[:, axis], sure.inertia_g_mm2[axis])


def test_the_bias_shows_in_wide_draws() -> None:
    """With two masses known to 20 % the mean of the balance point is off by the bias, not by nothing."""
    drawn = lumps((100, 0), (300, 400))
    wide = known([100, 300], [[0, 100, 0], [0, 0, 300]], [0, 0.2, 0.05])
    sure = sureness(drawn, wide)
    mean = sample(drawn, wide, 200_000, np.random.default_rng(5)).balance_mm[:, 0].mean()
    error = sure.balance_mm[0].sigma / sqrt(200_000)
    assert abs(sure.balance_bias_mm[0]) > 10 * error
    assert mean - sure.balance_mm[0].value == pytest.approx(sure.balance_bias_mm[0], abs=4 * error)


def test_correlated_quantities_are_drawn_as_they_are() -> None:
    """Errors that move against each other do so in the draws: var(m1 + m2) = s1^2 + s2^2 + 2 r s1 s2, here r = -0.9."""
    joint = known([100, 300], [[0, 100, 0], [0, 0, 300]], [0, 0.1, 0.1])
    joint.covariance[1, 2] = joint.covariance[2, 1] = -0.009
    sure = sureness(lumps((100, 0), (300, 400)), joint)
    drawn = sample(lumps((100, 0), (300, 400)), joint, DRAWS, np.random.default_rng(9))
    assert sure.mass_g.sigma == pytest.approx(sqrt(10.0**2 + 30.0**2 - 2 * 0.9 * 300.0), rel=EXACT)
    assert_agree(drawn.mass_g, sure.mass_g)


# --- what it comes from ---------------------------------------------------------------------------------------


def test_the_shares_of_the_variance_add_up_to_one() -> None:
    """Materials, the scale, single entries and places share out all of it, none less than nothing while unlearned."""
    found = causes(DRAWN, OF, CERTAINTY)
    assert sum(cause.share for cause in found) == pytest.approx(1.0, rel=1e-12)
    assert min(cause.share for cause in found) >= 0.0
    assert [cause.share for cause in found] == sorted((cause.share for cause in found), reverse=True)


def test_the_shares_of_two_masses() -> None:
    """dx = b m1 m2 (e2 - e1) / M^2: 3 % and 4 % share the variance 9 to 16; weighing one takes nearly its share."""
    drawn = lumps((100, 0), (300, 400))
    found = causes(drawn, known([100, 300], [[0, 100, 0], [0, 0, 300]], [0, 0.03, 0.04]), CERTAINTY)
    assert {cause.name: cause.share for cause in found if cause.kind == "entry"} == pytest.approx(
        {"1": 0.36, "2": 0.64}
    )
    rounding = 1.0 / 12.0
    removed = {cause.name: cause.removed_share for cause in found if cause.kind == "entry"}
    assert removed == pytest.approx({"1": 0.36 * 9.0 / (9.0 + rounding), "2": 0.64 * 144.0 / (144.0 + rounding)})
