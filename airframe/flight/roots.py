"""Where a function of one number passes through zero, found between two brackets."""

from __future__ import annotations

from collections.abc import Callable

RELATIVE = 1e-12
"""Of the bracket: when it has shrunk to this, or to a rounding of its ends, the root is found."""
MOST_STEPS = 200


class NoRoot(ValueError):  # noqa: N818 - an answer more often than a mistake: "it never climbs"
    """The function has one sign at both ends of the bracket."""


def bracketed_root(function: Callable[[float], float], low: float, high: float) -> float:
    """A root between low and high by false position, halving where that is slow (Illinois rule, from memory).

    Raises NoRoot when the ends do not enclose one.
    """
    a, b, at_a, at_b = low, high, function(low), function(high)
    if at_a == 0.0:
        return a
    if at_b == 0.0:
        return b
    if (at_a > 0.0) == (at_b > 0.0):
        raise NoRoot(f"no change of sign between {low:g} and {high:g}")
    narrow = RELATIVE * max(abs(low), abs(high))
    for step in range(MOST_STEPS):
        if abs(b - a) <= narrow:
            break
        secant = b - at_b * (b - a) / (at_b - at_a)
        middle = 0.5 * (a + b) if step % 3 == 2 or not min(a, b) < secant < max(a, b) else secant
        at_middle = function(middle)
        if at_middle == 0.0:
            return middle
        if (at_middle > 0.0) == (at_b > 0.0):
            at_a *= 0.5
        else:
            a, at_a = b, at_b
        b, at_b = middle, at_middle
    return b
