"""The least or the most of one result over a few keys, with conditions kept: looked for, rounded, built.

COBYQA (Ragonneau and Zhang, Model-based derivative-free optimisation methods, 2022; SciPy's) is run from the present
values and from the best of a few values spread by a seed. It needs no slopes, which findings do not always have. On
three keys of a demo two such searches came further in 98 variants than SciPy's differential evolution in 264.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np

from airframe.axes import Array
from airframe.checks.finding import Finding
from airframe.config import ConfigError, Problem
from airframe.solve import steps
from airframe.solve.keys import Key, Range
from airframe.solve.trials import Trials, Tried
from airframe.units import System

MOST_KEYS = 5
"""More make a search of minutes, and answers that nobody can judge."""
SPREAD = 5
"""Variants spread over the whole, for each key and once more."""
STARTS = 2
"""The best of them that the search starts from."""
TRIALS_A_KEY = 30
"""Variants that one search may build, for each key."""
FIRST_STEP, LAST_STEP = 0.15, 1e-3
"""Of each key's range: what the search begins and ends with. Values are rounded afterwards."""
MOST_RINGED = 3
"""Keys of which the next round values are tried too, where the nearest will not do: with more they are too many."""
AGAIN = 2
"""Searches from the best place of all: where a result has corners one search stops short."""
SEED = 20
UNBUILT = -1.0
"""The slack of what cannot be built: one whole limit short."""


@dataclass(frozen=True)
class Best:
    """What came of looking for the least or the most."""

    keys: tuple[Key, ...]
    ends: tuple[Range, ...]
    is_most: bool
    now: Tried
    settings: tuple[str, ...]
    """The answer, or where there is none what comes nearest to one; empty if nothing can be built."""
    tried: Tried | None
    is_kept: bool
    """Whether every condition is kept, as built with these very settings."""
    costs: tuple[Finding, ...] = ()
    count: int = 0


class Search:
    """A goal over keys, each scaled to its range from 0 to 1."""

    def __init__(self, trials: Trials, keys: Sequence[Key], ends: Sequence[Range], is_most: bool) -> None:
        self.trials = trials
        self.keys = tuple(keys)
        self.low = np.array([low for low, _ in ends])
        self.width = np.array([high - low for low, high in ends])
        self.sign = -1.0 if is_most else 1.0
        self.best = np.full(len(self.keys), 0.5)
        """The best place of all that were tried."""
        self._worst = 0.0

    def tried(self, shares: Array) -> Tried:
        """What came of values, each as a share of its range."""
        tried = self._at(shares)
        if self.rank(tried) < self.rank(self._at(self.best)):
            self.best = np.array(shares)
        return tried

    def _at(self, shares: Array) -> Tried:
        values = self.low + np.clip(shares, 0.0, 1.0) * self.width
        return self.trials.at([key.exactly(float(value)) for key, value in zip(self.keys, values, strict=True)])

    def cost(self, shares: Array) -> float:
        """What is to be the least; of what cannot be built, more than anything that can."""
        tried = self.tried(shares)
        if tried.goal is None:
            return self._worst + abs(self._worst) + 1.0
        self._worst = max(self._worst, self.sign * tried.goal)
        return self.sign * tried.goal

    def slacks(self, shares: Array) -> list[float]:
        """How far each condition is kept."""
        tried = self.tried(shares)
        return list(tried.slacks) if not tried.problem else [UNBUILT] * max(1, len(self.trials.conditions))

    def rank(self, tried: Tried) -> tuple[float, float]:
        """Smaller is better: first by how far conditions are missed, then by the goal."""
        if tried.problem or tried.goal is None:
            return -UNBUILT, float("inf")
        return (0.0 if self.trials.keeps(tried) else -min(tried.slacks)), self.sign * tried.goal


def optimum(trials: Trials, keys: Sequence[Key], ends: Sequence[Range], is_most: bool) -> Best:
    """The best values of several keys, rounded to steps and built. Raises ConfigError for what cannot be asked."""
    _check(trials, keys)
    search, system = Search(trials, keys, ends, is_most), trials.base.design.units
    now = trials.at(())
    for start in _starts(search):
        _search(search, start)
    for _ in range(AGAIN):
        _search(search, search.best)
    best = search.best
    values = search.low + np.clip(best, 0.0, 1.0) * search.width
    settings = _rounded(search, [float(value) for value in values], system)
    tried = trials.at(settings)
    if tried.problem:
        return Best(tuple(keys), tuple(ends), is_most, now, (), None, False, (), trials.count)
    is_kept = trials.keeps(tried)
    costs = trials.costs(settings) if is_kept and not now.problem else ()
    return Best(tuple(keys), tuple(ends), is_most, now, settings, tried, is_kept, costs, trials.count)


def _check(trials: Trials, keys: Sequence[Key]) -> None:
    problems = [
        Problem(f"--subject-to '{one.text}'", None, "", None, "an exact value leaves no room; use <= or >= here")
        for one in trials.conditions
        if one.op == "="
    ]
    if len(keys) > MOST_KEYS:
        problems.append(Problem("solve", None, "", None, f"{len(keys)} keys are too many; at most {MOST_KEYS}"))
    if len({key.path for key in keys}) < len(keys):
        problems.append(Problem("solve", None, "", None, "a key is given twice"))
    if problems:
        raise ConfigError(problems)


def _starts(search: Search) -> list[Array]:
    """The present values where they lie within, and the best of those that are spread over the whole."""
    from scipy.stats import qmc

    count = len(search.keys)
    spread = list(qmc.LatinHypercube(count, seed=SEED).random(SPREAD * (count + 1)))
    spread.append(np.full(count, 0.5))
    if all(key.now is not None for key in search.keys):
        shares = (np.array([key.now for key in search.keys]) - search.low) / search.width
        spread.append(np.clip(shares, 0.0, 1.0))
    return sorted(spread, key=lambda shares: search.rank(search.tried(shares)))[:STARTS]


def _search(search: Search, start: Array) -> None:
    """One search from a place; what it comes by is remembered."""
    from scipy.optimize import Bounds, NonlinearConstraint, minimize

    count = len(start)
    kept = NonlinearConstraint(search.slacks, 0.0, np.inf) if search.trials.conditions else ()
    options: dict[str, Any] = {
        "maxfev": TRIALS_A_KEY * count,
        "initial_tr_radius": FIRST_STEP,
        "final_tr_radius": LAST_STEP,
    }
    minimize(
        search.cost, start, method="COBYQA", bounds=Bounds(np.zeros(count), np.ones(count)), constraints=kept,
        options=options,
    )  # fmt: skip


def _rounded(search: Search, values: Sequence[float], system: System) -> tuple[str, ...]:
    """The best of the round values about the optimum, the coarsest steps at which one keeps everything."""
    best: tuple[str, ...] = ()
    fineness = max(len(steps.steps(key, value, system)) for key, value in zip(search.keys, values, strict=True))
    rings = (0, 1) if len(values) <= MOST_RINGED else (0,)
    for fine, ring in product(range(fineness), rings):
        choices = [_texts(search, index, value, fine, ring, system) for index, value in enumerate(values)]
        combined = list(product(*choices))
        best = min([*combined, *((best,) if best else ())], key=lambda one: search.rank(search.trials.at(one)))
        if search.trials.keeps(search.trials.at(best)):
            return best
    return best


def _texts(search: Search, index: int, value: float, fine: int, ring: int, system: System) -> list[str]:
    """One key's round values below and above, and so many more on either side, as settings; within its range."""
    key = search.keys[index]
    all_steps = steps.steps(key, value, system)
    step = all_steps[min(fine, len(all_steps) - 1)]
    low, high = search.low[index], search.low[index] + search.width[index]
    below, above = steps.counts(key, value, step, system)
    counts = range(below - ring, above + ring + 1)
    room = steps.value(key, 1, step, system) * 1e-6
    kept = [one for one in counts if low - room <= steps.value(key, one, step, system) <= high + room]
    return [key.setting(steps.text(key, one, step, system)) for one in kept or list(counts)[:1]]
