"""Names and words of motions."""

from __future__ import annotations

from math import inf, log, pi, sqrt

import numpy as np
import pytest

from airframe.flight.modes import Mode, modes, named
from airframe.flight.motion import LinearModel


def test_numbers_of_a_swing() -> None:
    """Root -1 + sqrt(3) i: |root| 2, half critical damping, 2 pi / sqrt(3) a swing, ln 2 to half."""
    mode = Mode("short period", complex(-1.0, sqrt(3.0)))
    assert mode.natural_rad_s == pytest.approx(2.0)
    assert mode.damping_ratio == pytest.approx(0.5)
    assert mode.period_s == pytest.approx(2.0 * pi / sqrt(3.0))
    assert mode.half_s == pytest.approx(log(2.0))
    assert mode.double_s == inf
    assert mode.settling_s == pytest.approx(log(20.0))


@pytest.mark.parametrize(
    ("mode", "words"),
    [
        (Mode("short period", complex(-5.0, 7.0)), "nods once in 0.9 s and settles within one swing"),
        (
            Mode("phugoid", complex(-0.1, 1.0)),
            "swoops up and down, trading speed for height, once in 6.3 s and settles in 5 swings "
            "(half is gone in 6.9 s)",
        ),
        (
            Mode("Dutch roll", complex(0.1, 2.0)),
            "wags its tail and rocks its wings once in 3.1 s and grows: doubled in 6.9 s",
        ),
        (Mode("roll", -10.0), "rolls on after a push: half is gone in 0.069 s"),
        (Mode("spiral", 0.02), "steepens any bank by itself: doubled in 35 s"),
        (Mode("short period", 3.0), "runs away nose up or nose down: doubled in 0.23 s"),
        (Mode("spiral", -0.02), "comes back from a bank by itself: half is gone in 35 s"),
        (Mode("spiral", 0.0), "keeps a bank: neither dies away nor grows"),
    ],
)
def test_words(mode: Mode, words: str) -> None:
    """A builder is told what there is to see."""
    assert mode.words == words


def _model(along: list[complex], across: list[complex]) -> LinearModel:
    """A model with these roots, each block in real form, mixed within its own states."""
    matrix = np.zeros((8, 8))
    for states, roots in (([0, 2, 4, 7], along), ([1, 3, 5, 6], across)):
        block, k = np.zeros((4, 4)), 0
        for root in roots:
            if root.imag:
                block[k : k + 2, k : k + 2] = [[root.real, root.imag], [-root.imag, root.real]]
                k += 2
            else:
                block[k, k] = root.real
                k += 1
        mix = np.eye(4) + 0.2 * np.triu(np.ones((4, 4)))
        matrix[np.ix_(states, states)] = mix @ block @ np.linalg.inv(mix)
    return LinearModel(matrix, np.zeros((8, 0)), 8.0)


def test_motions_without_a_swing_are_named_too() -> None:
    """A tail-heavy aeroplane's quick roots stand for the nod; roll and spiral may join to a slow weave."""
    found = modes(_model([-6 + 0j, -3 + 0j, -0.1 + 0.9j], [-1 + 5j, -0.5 + 0.4j]))
    assert [mode.name for mode in found] == ["short period", "short period", "phugoid", "Dutch roll", "roll and spiral"]
    assert named(found, "roll and spiral").root == pytest.approx(-0.5 + 0.4j)


def test_a_motion_that_is_not_there_is_named() -> None:
    """Asking for a motion that joined another is refused."""
    with pytest.raises(KeyError, match="spiral"):
        named(modes(_model([-6 + 4j, -0.1 + 0.9j], [-1 + 5j, -0.5 + 0.4j])), "spiral")
