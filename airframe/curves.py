"""Curves as polylines: the mean line of a wing section, a smooth line through points."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array


def camber_line(camber: float, position: float, count: int) -> Array:
    """`count` points (x, z) of the NACA four-digit mean line on a chord of 1, leading edge first.

    Two parabolas that meet at the top: Abbott & von Doenhoff, Theory of Wing Sections, ch. 6 (from memory).
    The points are spaced so that the line's slope falls by equal steps, which makes every score
    of a bent skin turn by about the same angle. `camber` may be 0; 0 < `position` < 1.
    """
    if not 0.0 < position < 1.0 or count < 2:
        raise ValueError("a camber line needs its highest point between 0 and 1, and two points or more")
    if camber == 0.0:
        return np.column_stack([np.linspace(0.0, 1.0, count), np.zeros(count)])
    m, p = camber, position
    share = np.linspace(1.0 / p, -1.0 / (1.0 - p), count)  # slope over 2 m
    x = np.where(share > 0.0, p - share * p**2, p - share * (1.0 - p) ** 2)
    x[0], x[-1] = 0.0, 1.0
    front = m / p**2 * (2.0 * p * x - x**2)
    rear = m / (1.0 - p) ** 2 * (1.0 - 2.0 * p + 2.0 * p * x - x**2)
    return np.column_stack([x, np.where(x < p, front, rear) + 0.0])


def smooth_curve(xs: ArrayLike, ys: ArrayLike, at: ArrayLike) -> Array:
    """Values at `at` of a smooth curve through the points, without overshoot between them.

    Piecewise cubic with the slopes of Fritsch & Butland (SIAM J. Sci. Stat. Comput. 5, 1984; from
    memory): the weighted harmonic mean of the neighbouring slopes, 0 at a turning point. `xs` ascend.
    """
    x, y, t = (np.asarray(v, dtype=np.float64) for v in (xs, ys, at))
    if len(x) < 2 or np.any(np.diff(x) <= 0.0):
        raise ValueError("a smooth curve needs two points or more, in ascending order")
    h, d = np.diff(x), np.diff(y) / np.diff(x)
    slopes = _monotone_slopes(h, d)
    i = np.clip(np.searchsorted(x, t, side="right") - 1, 0, len(h) - 1)
    s = (t - x[i]) / h[i]
    rise = s * s * (3.0 - 2.0 * s)
    start, end = s * (1.0 - s) ** 2 * h[i] * slopes[i], -s * s * (1.0 - s) * h[i] * slopes[i + 1]
    values: Array = y[i] * (1.0 - rise) + y[i + 1] * rise + start + end
    return values


def _monotone_slopes(h: Array, d: Array) -> Array:
    if len(d) == 1:
        return np.array([d[0], d[0]])
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        inner = (w1 + w2) / (w1 / d[:-1] + w2 / d[1:])
    inner = np.where(d[:-1] * d[1:] > 0.0, inner, 0.0)
    first = _end_slope(h[0], h[1], d[0], d[1])
    last = _end_slope(h[-1], h[-2], d[-1], d[-2])
    return np.array([first, *inner, last])


def _end_slope(h0: float, h1: float, d0: float, d1: float) -> float:
    """Three-point slope at an end, held back where it would overshoot."""
    slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    if slope * d0 <= 0.0:
        return 0.0
    if d0 * d1 <= 0.0 and abs(slope) > 3.0 * abs(d0):
        return 3.0 * float(d0)
    return float(slope)
