"""The motions that an aeroplane makes by itself, found in its linear model and told in words; SI units."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf, log, pi
from typing import Literal

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.flight.motion import STATES, LinearModel

Name = Literal["short period", "phugoid", "Dutch roll", "roll", "spiral", "roll and spiral"]

LENGTHWISE = tuple(STATES.index(name) for name in ("u", "w", "q", "pitch"))
SETTLED = 0.05
"""A swing is called settled when this share of it is left."""
SLOWEST_PER_S = 1e-6
"""What grows or dies more slowly than this stands still for a builder."""

_MOVES: dict[Name, str] = {
    "short period": "nods",
    "phugoid": "swoops up and down, trading speed for height,",
    "Dutch roll": "wags its tail and rocks its wings",
    "roll": "rolls on after a push",
    "spiral": "keeps a bank",
    "roll and spiral": "rolls and weaves",
}
_FADES: dict[Name, str] = {"spiral": "comes back from a bank by itself"}
"""What dies away without swinging, where that is another thing to see than standing still."""
_GROWS: dict[Name, str] = {
    "short period": "runs away nose up or nose down",
    "phugoid": "runs away from its speed",
    "Dutch roll": "swings its tail round",
    "roll": "rolls over by itself",
    "spiral": "steepens any bank by itself",
}
"""What grows without swinging."""


@dataclass(frozen=True)
class Mode:
    """One motion; a swing stands for both of its conjugate roots."""

    name: Name
    root: complex
    """1/s; a negative real part dies away."""

    @property
    def is_swing(self) -> bool:
        """Whether it goes to and fro."""
        return self.root.imag != 0.0

    @property
    def is_stable(self) -> bool:
        """Whether it dies away."""
        return self.root.real < 0.0

    @property
    def natural_rad_s(self) -> float:
        """Undamped frequency, |root|."""
        return abs(self.root)

    @property
    def damping_ratio(self) -> float:
        """Share of the critical damping: 1 no longer swings, negative grows."""
        return -self.root.real / abs(self.root)

    @property
    def period_s(self) -> float:
        """Of one swing; infinite without one."""
        return 2.0 * pi / abs(self.root.imag) if self.is_swing else inf

    @property
    def half_s(self) -> float:
        """Time to half its size; infinite where it does not die away."""
        return log(2.0) / -self.root.real if self.root.real < 0.0 else inf

    @property
    def double_s(self) -> float:
        """Time to twice its size; infinite where it does not grow."""
        return log(2.0) / self.root.real if self.root.real > 0.0 else inf

    @property
    def settling_s(self) -> float:
        """Time until a twentieth is left; infinite where it does not die away."""
        return self.half_s * log(1.0 / SETTLED) / log(2.0)

    @property
    def words(self) -> str:
        """What a builder would see."""
        move = _MOVES[self.name]
        if self.is_swing:
            return f"{move} once in {units.duration(self.period_s)}{self._swings}"
        if abs(self.root.real) < SLOWEST_PER_S:
            return f"{move}: neither dies away nor grows"
        return f"{(_FADES if self.is_stable else _GROWS).get(self.name, move)}: {self._change}"

    @property
    def _swings(self) -> str:
        if not self.is_stable:
            return f" and grows: {self._change}" if self.root.real > SLOWEST_PER_S else " and does not settle"
        swings = self.settling_s / self.period_s
        if swings <= 1.0:
            return " and settles within one swing"
        return f" and settles in {max(swings, 2.0):.0f} swings (half is gone in {units.duration(self.half_s)})"

    @property
    def _change(self) -> str:
        stable = self.is_stable
        return (
            f"{'half is gone' if stable else 'doubled'} in {units.duration(self.half_s if stable else self.double_s)}"
        )


def modes(model: LinearModel) -> tuple[Mode, ...]:
    """All motions, those along the plane of symmetry first, the quick before the slow.

    An aeroplane that is not quite symmetric mixes them; each root is named after what it mostly moves.
    """
    roots, share = model.roots, _lengthwise_share(model)
    upper = [i for i in range(len(roots)) if roots[i].imag >= 0.0]
    along: list[complex] = []
    across: list[complex] = []
    for i in sorted(upper, key=lambda i: -share[i]):
        root, room = complex(roots[i]), len(LENGTHWISE) - sum(1 + (r.imag > 0.0) for r in along)
        (along if room >= 1 + (root.imag > 0.0) else across).append(root)
    return (*_along(along), *_across(across))


def named(found: Iterable[Mode], name: Name) -> Mode:
    """The first motion of that name. Raises KeyError where there is none."""
    for mode in found:
        if mode.name == name:
            return mode
    raise KeyError(name)


def _lengthwise_share(model: LinearModel) -> Array:
    """(8,) how much of each motion lies in the plane of symmetry: all made angles, rates by the motion's own speed."""
    scale = np.ones((len(STATES), len(STATES)))
    scale[:3] = 1.0 / model.speed_m_s
    scale[3:6] = 1.0 / np.maximum(np.abs(model.roots), SLOWEST_PER_S)
    size = np.abs(model.shapes * scale) ** 2
    share: Array = size[list(LENGTHWISE)].sum(axis=0) / size.sum(axis=0)
    return share


def _along(roots: list[complex]) -> list[Mode]:
    """The two swings, or what stands for one of them: two motions without a swing."""
    ordered = sorted(roots, key=abs, reverse=True)
    counted = 0
    found = []
    for root in ordered:
        found.append(Mode("short period" if counted < 2 else "phugoid", root))
        counted += 1 + (root.imag > 0.0)
    return found


def _across(roots: list[complex]) -> list[Mode]:
    swings = sorted((root for root in roots if root.imag > 0.0), key=abs, reverse=True)
    straight = sorted((root for root in roots if root.imag == 0.0), key=abs, reverse=True)
    names: list[Name] = ["Dutch roll", "roll and spiral"]
    found = [Mode(name, root) for name, root in zip(names, swings, strict=False)]
    for place, root in enumerate(straight):
        last = place == len(straight) - 1
        found.append(Mode("roll" if place == 0 else "spiral" if last else "Dutch roll", root))
    return found
