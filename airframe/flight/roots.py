"""Where a function of one number passes through zero, found between two brackets."""

from __future__ import annotations

from collections.abc import Callable

RELATIVE = 1e-12
"""Of the bracket: when it has shrunk to this, or to a rounding of its ends, the root is found."""
MOST_STEPS = 200


class NoRoot(ValueError):  # noqa: N818 - an answer more often than a mistake: "it never climbs"
    """The function has one sign at both ends of the bracket."""


def bracketed_root(function: Callable[[float], float], low: float, high: float, relative: float = RELATIVE) -> float:
    """A root between low and high: a parabola through the last three points where that is sure to help, else halves.

    T. R. Chandrupatla's rule, Advances in Engineering Software 28, 1997 (from memory). `relative` is how
    narrow the bracket becomes. Raises NoRoot when the ends do not enclose one.
    """
    a, b, at_a, at_b = high, low, function(high), function(low)
    if at_b == 0.0 or at_a == 0.0:
        return b if at_b == 0.0 else a
    if (at_a > 0.0) == (at_b > 0.0):
        raise NoRoot(f"no change of sign between {low:g} and {high:g}")
    narrow, share = relative * max(abs(low), abs(high)), 0.5
    for _ in range(MOST_STEPS):
        x = a + share * (b - a)
        at_x = function(x)
        if (at_x > 0.0) == (at_a > 0.0):
            c, at_c = a, at_a
        else:
            c, at_c, b, at_b = b, at_b, a, at_a
        a, at_a = x, at_x
        least = narrow / abs(b - a)
        if at_a == 0.0 or least > 0.5:
            break
        share = min(max(_next_share(a, b, c, at_a, at_b, at_c), least), 1.0 - least)
    return a if abs(at_a) < abs(at_b) else b


def _next_share(a: float, b: float, c: float, at_a: float, at_b: float, at_c: float) -> float:
    """Where from a to b to try next: by inverse parabola if the three points bend little, halfway otherwise."""
    xi, phi = (a - b) / (c - b), (at_a - at_b) / (at_c - at_b)
    if not (phi**2 < xi and (1.0 - phi) ** 2 < 1.0 - xi):
        return 0.5
    straight = at_a / (at_b - at_a) * at_c / (at_b - at_c)
    return straight + (c - a) / (b - a) * at_a / (at_c - at_a) * at_b / (at_c - at_b)
