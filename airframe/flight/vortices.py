"""Velocities that horseshoe vortices induce, per unit circulation; SI units.

Biot and Savart's law for straight vortices: Katz & Plotkin, Low-Speed Aerodynamics, ch. 2 (from memory). Legs run
aft along x to infinity. Results come component by component, which keeps the sums over all pairs fast.
"""

from __future__ import annotations

import numpy as np

from airframe.axes import Array

TINY = 1e-12
"""A point this near the line of a bound vortex (share of the squared distances) feels nothing of it."""
UPSIDE_DOWN = np.array([1.0, 1.0, -1.0])


def horseshoes(points: Array, start: Array, end: Array, core_m: Array | float = 0.0) -> Array:
    """(3, points, vortices) velocity of every horseshoe at every point, 1/m.

    `core_m`, (points, vortices) or one for all, blunts the legs for points close beside them.
    """
    to_start = points.T[:, :, None] - start.T[:, None, :]
    to_end = points.T[:, :, None] - end.T[:, None, :]
    far_start, far_end = _length(to_start), _length(to_end)
    velocity = _bound(to_start, to_end, far_start, far_end)
    for sign, offset, distance in ((1.0, to_end, far_end), (-1.0, to_start, far_start)):
        reach = sign * _leg_reach(offset, distance, core_m)
        velocity[1] -= offset[2] * reach
        velocity[2] += offset[1] * reach
    velocity /= 4.0 * np.pi
    return velocity


def above_ground(points: Array, start: Array, end: Array, ground_z_m: float, core_m: Array | float = 0.0) -> Array:
    """(3, points, vortices) velocity of the horseshoes and of their images under a ground along x at a height.

    The image's velocity at a point is the mirror image of the vortices' velocity at the mirrored point.
    """
    mirrored = points * UPSIDE_DOWN + (0.0, 0.0, 2.0 * ground_z_m)
    image = horseshoes(mirrored, start, end) * UPSIDE_DOWN[:, None, None]
    both: Array = horseshoes(points, start, end, core_m) + image
    return both


def _length(vectors: Array) -> Array:
    x, y, z = vectors
    length: Array = np.sqrt(x * x + y * y + z * z)
    return length


def _bound(a: Array, b: Array, far_a: Array, far_b: Array) -> Array:
    """Of the bound vortices, from the offsets of their ends, still without 1 / 4 pi."""
    product = far_a * far_b
    below = product * (product + a[0] * b[0] + a[1] * b[1] + a[2] * b[2])
    across = np.stack([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])
    on_line = across[0] ** 2 + across[1] ** 2 + across[2] ** 2 <= TINY * product**2
    below[on_line] = np.inf
    across *= (far_a + far_b) / below
    return across


def _leg_reach(offset: Array, distance: Array, core_m: Array | float) -> Array:
    """What the offset beside a leg that runs aft is to be multiplied by; ahead of it, the form that does not cancel."""
    x, y, z = offset
    ahead = x < 0.0
    over = np.where(ahead, 1.0, distance + x)
    beside = np.where(ahead, distance - x, y * y + z * z + np.square(core_m))
    reach: Array = over / (beside * distance)
    return reach
