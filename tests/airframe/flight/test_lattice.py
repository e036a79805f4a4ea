"""The vortex lattice: symmetry, exact derivatives, induced drag twice, the ground."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from airframe.axes import Array
from airframe.flight.lattice import Lattice
from airframe.flight.panels import Edge, Sheet, cut, even, even_strips
from tests.plates import half, lift_slope, wing

SYMMETRY = 1e-10
AHEAD = (8.0, 0.0, 0.6, 0.0, 0.0, 0.0)


def _upright() -> Sheet:
    """A fin behind and above the wing whose rear half is a rudder."""
    low, high = (Edge(np.array([0.9, 0.0, z]), 0.2, even(4)) for z in (0.05, 0.3))
    left = np.tile([0.0, -1.0, 0.0], (4, 1))
    return Sheet("fin", low, high, even_strips(4), left, {"rudder": np.array([0.0, 0.0, -1.0, -1.0])})


def aeroplane() -> Lattice:
    """A wing with sweep and dihedral, a tail plane all of which moves, and a fin."""
    right = half(1.2, 0.25, 0.15, (8, 3), radians(10), radians(8))
    plane = half(0.5, 0.12, 0.12, (4, 2))
    behind = np.array([0.9, 0.0, 0.04])
    edges = (replace(edge, leading_m=edge.leading_m + behind) for edge in (plane.start, plane.end))
    start, end = edges
    tail = replace(plane, surface="tail", start=start, end=end, moving={"elevator": np.ones(2)})
    return Lattice(cut([right.mirrored(), right, tail.mirrored(), tail, _upright()]))


def test_symmetric_flight_makes_no_sideways_load() -> None:
    """No side force, rolling or yawing moment, and no slope of them either, from u, w, q and the elevator."""
    lattice = aeroplane()
    loads = lattice.loads((8.0, 0.0, 0.6, 0.0, 0.4, 0.0), lattice.deflections({"elevator": 0.1}), 1.2, (0.1, 0.0, 0.02))
    scale = np.abs(loads.wrench).max()
    assert np.abs(loads.wrench[[1, 3, 5]]).max() < SYMMETRY * scale
    columns = [0, 2, 4, 6 + lattice.controls.index("elevator")]
    assert np.abs(loads.slopes[np.ix_([1, 3, 5], columns)]).max() < SYMMETRY * np.abs(loads.slopes).max()


def test_mirrored_motion_makes_mirrored_loads() -> None:
    """Slip, roll, yaw and rudder the other way turn Y, L and N about and leave X, Z and M."""
    lattice = aeroplane()
    motion, angles = np.array([8.0, 0.5, 0.6, 0.9, 0.3, -0.4]), {"elevator": 0.1, "rudder": 0.2}
    about = (0.2, 0.0, 0.05)
    there = lattice.loads(motion, lattice.deflections(angles), 1.2, about).wrench
    mirror = np.array([1, -1, 1, -1, 1, -1])
    back = lattice.loads(motion * mirror, lattice.deflections(angles | {"rudder": -0.2}), 1.2, about).wrench
    np.testing.assert_allclose(back, there * mirror, atol=SYMMETRY * np.abs(there).max())


def test_slopes_are_those_of_finite_differences() -> None:
    """Loads are quadratic in motion and controls, so central differences are exact but for rounding."""
    lattice = aeroplane()
    state = np.array([8.0, 0.5, 0.6, 0.9, 0.3, -0.4, 0.1, 0.2])
    about = (0.21, 0.03, 0.05)

    def wrench(at: Array) -> Array:
        return lattice.loads(at[:6], at[6:], 1.2, about).wrench

    step = 1e-3
    differences = [(wrench(state + step * e) - wrench(state - step * e)) / (2 * step) for e in np.eye(8)]
    slopes = lattice.loads(state[:6], state[6:], 1.2, about).slopes
    np.testing.assert_allclose(slopes, np.transpose(differences), atol=1e-10 * np.abs(slopes).max())


def test_loads_do_not_depend_on_the_point_they_are_about() -> None:
    """The same flight told at another point: v + omega x arm there; the moment moves by arm x force."""
    lattice = aeroplane()
    velocity, rates = np.array([8.0, 0.5, 0.6]), np.array([0.9, 0.3, -0.4])
    arm = np.array([-0.3, 0.1, -0.2])  # body axes, from the origin: x forward, z down
    here = lattice.loads([*velocity, *rates], (0.0, 0.0), 1.2).wrench
    there = lattice.loads([*(velocity + np.cross(rates, arm)), *rates], (0.0, 0.0), 1.2, (0.3, 0.1, 0.2)).wrench
    np.testing.assert_allclose(there[:3], here[:3], rtol=1e-11)
    np.testing.assert_allclose(there[3:], here[3:] - np.cross(arm, here[:3]), rtol=1e-10)


def test_signs_of_the_controls() -> None:
    """Elevator down lifts the tail and noses down; rudder to the left pushes the tail right, the nose left."""
    lattice = aeroplane()
    slopes = lattice.loads((8.0, 0, 0, 0, 0, 0), (0.0, 0.0), 1.2, (0.1, 0.0, 0.0)).slopes
    elevator, rudder = (6 + lattice.controls.index(name) for name in ("elevator", "rudder"))
    assert slopes[2, elevator] < 0.0
    assert slopes[4, elevator] < 0.0
    assert slopes[1, rudder] > 0.0
    assert slopes[5, rudder] < 0.0


def test_signs_of_the_motions() -> None:
    """Damping in roll, pitch and yaw; dihedral rolls out of a slip; the fin turns the nose into it."""
    slopes = aeroplane().loads(AHEAD, (0.0, 0.0), 1.2, (0.1, 0.0, 0.0)).slopes
    moments = {name: slopes[3 + row, column] for row, column, name in ((0, 3, "Lp"), (1, 4, "Mq"), (2, 5, "Nr"))}
    assert max(moments.values()) < 0.0
    assert slopes[3, 1] < 0.0 < slopes[5, 1]
    assert slopes[3, 5] > 0.0  # the outer wing of a turn lifts more


def test_surfaces_add_up() -> None:
    """Forces counted surface by surface, in the flow of all, make the whole."""
    lattice = aeroplane()
    whole = lattice.loads(AHEAD, (0.0, 0.0), 1.2)
    parts = [lattice.loads(AHEAD, (0.0, 0.0), 1.2, only=lattice.panels.of(n)) for n in lattice.panels.names]
    together = parts[0] + parts[1] + parts[2]
    np.testing.assert_allclose(together.wrench, whole.wrench, atol=1e-12 * np.abs(whole.wrench).max())
    np.testing.assert_allclose(together.slopes, whole.slopes, atol=1e-12 * np.abs(whole.slopes).max())


@pytest.mark.parametrize("aspect", [3.0, 6.0, 12.0])
def test_drag_in_the_wake_is_drag_at_the_wing(aspect: float) -> None:
    """Momentum left in the wake against the force along the flow, leading-edge suction included: within 1e-3 of it."""
    lattice = Lattice(wing(aspect))
    w = 1e-3
    x, _, z = lattice.loads((1.0, 0.0, w, 0, 0, 0), (), 1.0).wrench[:3]
    assert lattice.wake_drag_n((1.0, 0.0, w, 0, 0, 0), (), 1.0) == pytest.approx(-(x + w * z), rel=1e-3)


def test_the_ground_adds_lift_and_takes_drag() -> None:
    """Half a span up the lift slope is a little greater, a tenth up much; far up it is the free one."""
    panels = wing(6.0)
    free = lift_slope(panels, 6.0)
    low, middle, high = (lift_slope(panels, 6.0, -height) for height in (0.1, 0.5, 100.0))
    assert low > 1.1 * free
    assert free < middle < low
    assert high == pytest.approx(free, rel=1e-4)
    motion = (1.0, 0, 0.1, 0, 0, 0)
    drags = [
        Lattice(panels, z).wake_drag_n(motion, (), 1.0) / lift_slope(panels, 6.0, z) ** 2 for z in (None, -0.5, -0.1)
    ]
    assert drags[0] > drags[1] > drags[2]


def test_an_unknown_control_is_named() -> None:
    """A misspelt control is refused, not ignored."""
    with pytest.raises(KeyError, match="flap"):
        aeroplane().deflections({"flap": 0.1})
