"""One value along a line: where a slack is kept, where it turns, how near it comes; arithmetic without aeroplanes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Slack = Callable[[float], float | None]
"""How far a condition is kept at a value, negative where it is not; None where nothing can be built."""
EDGE_SHARE = 1e-4
"""Of the whole line: how finely an edge is found. Values are rounded far more coarsely afterwards."""
JUMP_SHARE = 0.2
"""A slack that is at its edge still this share of what it was a step away does not pass through nothing: it jumps."""
EPSILON = 2.220446049250313e-16
"""Of a double: the finest that Brent's method can be asked for is four of it."""
NEAREST_TRIALS = 16
"""Values that the nearest miss is looked for with."""


@dataclass(frozen=True)
class Stretch:
    """Values next to each other at all of which the slack is kept, as far as was tried."""

    low: float
    high: float


@dataclass(frozen=True)
class Edge:
    """Where a slack turns."""

    at: float
    is_jump: bool
    """Whether it leaps there, or ends where nothing can be built, instead of passing through nothing."""


def points(low: float, high: float, count: int, now: float | None) -> list[float]:
    """Values in equal steps from one end to the other, and what it is now."""
    found = {low + (high - low) * (index / (count - 1)) for index in range(count)}
    return sorted(found | ({now} if now is not None and low <= now <= high else set()))


def stretches(values: Sequence[float], slacks: Sequence[float | None]) -> list[Stretch]:
    """Runs of values that keep the slack."""
    runs: list[list[float]] = []
    is_open = False
    for value, slack in zip(values, slacks, strict=True):
        is_kept = slack is not None and slack >= 0.0
        if is_kept and is_open:
            runs[-1].append(value)
        elif is_kept:
            runs.append([value])
        is_open = is_kept
    return [Stretch(run[0], run[-1]) for run in runs]


def crossings(values: Sequence[float], slacks: Sequence[float | None]) -> list[tuple[float, float]]:
    """Neighbours between which the slack changes its sign; a value where it is nothing is its own neighbour."""
    found = [(value, value) for value, slack in zip(values, slacks, strict=True) if slack == 0.0]
    pairs = list(zip(values, slacks, strict=True))
    for (a, old), (b, new) in pairwise(pairs):
        if old is not None and new is not None and old * new < 0.0:
            found.append((a, b))
    return found


def edge(slack: Slack, first: float, last: float, tolerance: float) -> Edge:
    """Where between two values the slack turns from kept to not kept, by Brent's method.

    What cannot be built counts as not kept. Source: Brent, Algorithms for Minimization without Derivatives, ch. 4.
    """
    from scipy.optimize import brentq

    if first == last:
        return Edge(first, False)
    ends = [slack(first), slack(last)]
    lost = -max(abs(end) for end in ends if end is not None) or -1.0

    def turned(value: float) -> float:
        found = slack(value)
        return lost if found is None else found

    if turned(first) * turned(last) >= 0.0:  # kept exactly at one of them: that is where it turns
        return Edge(first if ends[0] == 0.0 else last, False)
    at = float(brentq(turned, first, last, xtol=tolerance, rtol=4.0 * EPSILON))
    sides = [slack(max(min(first, last), at - tolerance)), slack(min(max(first, last), at + tolerance))]
    known = [abs(side) for side in sides if side is not None]
    least = min(abs(turned(first)), abs(turned(last)))
    return Edge(at, len(known) < len(sides) or max(known) > JUMP_SHARE * least)


def nearest_miss(slack: Slack, values: Sequence[float], slacks: Sequence[float | None]) -> float | None:
    """The value at which the slack comes nearest to being kept; None where nothing at all can be built."""
    from scipy.optimize import minimize_scalar

    known = [(found, index) for index, found in enumerate(slacks) if found is not None]
    if not known:
        return None
    best, index = max(known)
    low, high = values[max(index - 1, 0)], values[min(index + 1, len(values) - 1)]
    floor = min(found for found, _ in known) - 1.0

    def missed(value: float) -> float:
        found = slack(value)
        return -(floor if found is None else found)

    result = minimize_scalar(missed, bounds=(low, high), method="bounded", options={"maxiter": NEAREST_TRIALS})
    return float(result.x) if -float(result.fun) > best else values[index]
