"""The random quantities behind a weight statement: shared by a material, by a scale, or an entry's own.

Masses are linear in them, m = nominal + gains @ u, so that whatever is linear in the masses propagates exactly.
Each u is a relative error with mean 0 before anything is weighed:

    material   how much heavier its weight per amount is than stated; one for all parts of that material
    scale      how much too light the kitchen scale shows things; one for all its readings
    entry      what is left for one part: size as cut, the bead along one joint, an item's guessed mass
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import isclose
from typing import Literal

import numpy as np

from airframe.axes import Array
from airframe.mass import Entry
from airframe.schema.certainty import Certainty
from airframe.sure.spreads import entry_share, material_share, place_mm, weighs_by_material

SCALE = "kitchen scale"
SAME_STATED = 1e-9
"""Relative: two stated weights nearer than this are one; anything more is a number of its own."""


@dataclass(frozen=True)
class Unknown:
    """One random quantity."""

    kind: Literal["material", "scale", "entry"]
    name: str
    stated: float = 0.0
    """What it is an error of: the material's weight per amount, or the entry's grams."""

    def is_same(self, other: Unknown) -> bool:
        """Whether it is the same error in another design: of the same thing, stated the same."""
        is_same_stated = isclose(self.stated, other.stated, rel_tol=SAME_STATED)
        return (self.kind, self.name) == (other.kind, other.name) and is_same_stated


@dataclass(frozen=True, eq=False)
class Learned:
    """What is known of errors that another aeroplane shares: of materials, of the scale, of bought items."""

    labels: tuple[Unknown, ...]
    mean: Array
    covariance: Array


NOTHING = Learned((), np.zeros(0), np.zeros((0, 0)))
"""Before anything was weighed."""


@dataclass(frozen=True, eq=False)
class Unknowns:
    """All random quantities of one weight statement of n entries; p of mass, and each entry's place."""

    labels: tuple[Unknown, ...]
    mean: Array
    """(p,); zeros until something was learned."""
    covariance: Array
    """(p, p)."""
    nominal_g: Array
    """(n,): the drawing's masses."""
    gains: Array
    """(n, p): grams of each entry for a unit of each quantity."""
    place_variance_mm2: Array
    """(n,): of each entry's centre along each axis, independent of everything else."""
    outlives: tuple[int, ...]
    """Which of the quantities mean something in another aeroplane too."""

    @property
    def masses_g(self) -> Array:
        """Expected mass of each entry; the same to the last digit whatever other entries there are."""
        errors: Array = (self.gains * self.mean).sum(axis=1)
        return self.nominal_g + errors

    @property
    def scale_index(self) -> int:
        """Which quantity is the scale's."""
        return next(index for index, label in enumerate(self.labels) if label.kind == "scale")

    def of(self, members: Sequence[int]) -> Unknowns:
        """The same quantities beside some of the entries only."""
        rows = list(members)
        return replace(
            self,
            nominal_g=self.nominal_g[rows],
            gains=self.gains[rows],
            place_variance_mm2=self.place_variance_mm2[rows],
        )

    def learned(self, is_same_aeroplane: bool = False) -> Learned:
        """What to tell the next aeroplane; or, of every part, a variant of this same aeroplane."""
        kept = list(range(len(self.labels)) if is_same_aeroplane else self.outlives)
        labels = tuple(self.labels[index] for index in kept)
        return Learned(labels, self.mean[kept], self.covariance[np.ix_(kept, kept)])


def unknowns(
    entries: Sequence[Entry], certainty: Certainty, stated: Mapping[str, float], learned: Learned = NOTHING
) -> Unknowns:
    """The random quantities of these entries, by their drawings, with what was learned before.

    `stated` gives relative uncertainties of items by name (see `spreads.stated_shares`).
    """
    families = {e.part.material.family: e.part.material for e in entries if weighs_by_material(e.part)}
    labels = [Unknown("material", name, m.weight / m.coats) for name, m in families.items()]
    spreads = [material_share(material, certainty) for material in families.values()]
    labels.append(Unknown("scale", SCALE, 1.0))
    spreads.append(certainty.scale_calibration_share)
    first = len(labels)
    labels += [Unknown("entry", entry.part.name, entry.drawn_g) for entry in entries]
    spreads += [entry_share(entry, certainty, stated) for entry in entries]
    columns = {name: index for index, name in enumerate(families)}
    bought = [first + i for i, entry in enumerate(entries) if not weighs_by_material(entry.part)]
    mean, covariance = _prior(labels, np.array(spreads), learned)
    return Unknowns(
        tuple(labels),
        mean,
        covariance,
        np.array([entry.drawn_g for entry in entries]),
        _gains(entries, columns, len(labels)),
        np.array([place_mm(entry.part, certainty) ** 2 for entry in entries]),
        (*range(first), *bought),
    )


def _gains(entries: Sequence[Entry], columns: Mapping[str, int], count: int) -> Array:
    scale = len(columns)
    gains = np.zeros((len(entries), count))
    for row, entry in enumerate(entries):
        gains[row, scale + 1 + row] = entry.drawn_g
        if weighs_by_material(entry.part):
            gains[row, columns[entry.part.material.family]] = entry.drawn_g
        elif entry.part.basis == "weighed":
            gains[row, scale] = entry.drawn_g
    return gains


def _prior(labels: Sequence[Unknown], spreads: Array, learned: Learned) -> tuple[Array, Array]:
    mean, covariance = np.zeros(len(labels)), np.diag(spreads**2)
    known = {(label.kind, label.name): index for index, label in enumerate(learned.labels)}
    pairs = [(index, known.get((label.kind, label.name))) for index, label in enumerate(labels)]
    here = [(i, k) for i, k in pairs if k is not None and labels[i].is_same(learned.labels[k])]
    if here:
        mine, theirs = [i for i, _ in here], [k for _, k in here]
        mean[mine] = learned.mean[theirs]
        covariance[np.ix_(mine, mine)] = learned.covariance[np.ix_(theirs, theirs)]
    return mean, covariance
