"""Before and after: everything that a redesign changed, as data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from airframe.checks.finding import Finding
from airframe.compare.attribution import Attribution, attribution
from airframe.compare.cost import Cost, costs
from airframe.compare.dimensions import Change, changes
from airframe.compare.figures import Figure, figures
from airframe.compare.findings import FindingPair, side_by_side
from airframe.compare.parts import Pair, paired
from airframe.model import Aeroplane

if TYPE_CHECKING:
    from airframe.compare.motions import MotionChange


@dataclass(frozen=True, eq=False)
class Version:
    """One of the two aeroplanes."""

    aeroplane: Aeroplane
    data: Mapping[str, Any]
    """The tables of its config as written, merged with those it is based on (`airframe.config.read`)."""
    findings: Sequence[Finding] = ()
    """What the checks say of it."""


@dataclass(frozen=True, eq=False)
class Comparison:
    """Two aeroplanes side by side."""

    old: Aeroplane
    new: Aeroplane
    figures: tuple[Figure, ...]
    changes: tuple[Change, ...]
    """Of the configs."""
    pairs: tuple[Pair, ...]
    """Every part of either."""
    attribution: Attribution
    costs: tuple[Cost, ...]
    findings: tuple[FindingPair, ...]
    """What matters most first."""

    @cached_property
    def motions(self) -> tuple[MotionChange, ...]:
        """How it moves in flight when left alone, estimates; none where one of the two is not held in level flight."""
        from airframe.compare.motions import motion_changes
        from airframe.flight.trim import NoTrimError

        try:
            return motion_changes(self.old, self.new)
        except NoTrimError:
            return ()

    @property
    def unchanged(self) -> int:
        """How many parts are the same in both."""
        return sum(pair.fate == "unchanged" for pair in self.pairs)


def compare(old: Version, new: Version) -> Comparison:
    """Everything that differs between two aeroplanes. Raises PartError for what cannot be built."""
    before, after = old.aeroplane.statement, new.aeroplane.statement
    pairs = paired(before, after)
    return Comparison(
        old=old.aeroplane,
        new=new.aeroplane,
        figures=figures(old.aeroplane, new.aeroplane),
        changes=changes(old.data, new.data),
        pairs=pairs,
        attribution=attribution(pairs, before.whole, after.whole),
        costs=costs(before, after),
        findings=side_by_side(old.findings, new.findings),
    )
