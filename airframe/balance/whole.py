"""The whole question of balance: every case answered, and how far each item moves the balance point."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from weakref import WeakKeyDictionary

from airframe.balance.answers import Answer, Overturn, answer
from airframe.balance.cases import carried, cases, optional_parts
from airframe.balance.lever import left_out_mm, moved_by_mm
from airframe.balance.space import Surroundings
from airframe.balance.target import Target, target
from airframe.checks.pairs import PairCache, Pairs
from airframe.drawing import PartError
from airframe.model import Aeroplane


@dataclass(frozen=True)
class Lever:
    """What one carried item does to the balance point of the aeroplane as designed."""

    item: str
    mass_g: float
    station_mm: float
    """Of its centre of mass."""
    is_fitted: bool
    share: float
    """Of the mass of the whole: how far the balance point moves for each mm that the item does."""
    left_out_moves_mm: float
    """How far the balance point moves, aft positive, when the item is left at home, or put in where it is not."""


@dataclass(frozen=True, eq=False)
class Balances:
    """Every case of one aeroplane."""

    target: Target
    answers: tuple[Answer, ...]
    """The design's own case first; empty without a battery."""
    levers: tuple[Lever, ...]
    """The strongest first."""
    cg_mm: tuple[float, float, float]
    """Of the aeroplane as designed."""
    mass_g: float
    half_span_mm: float

    @property
    def current(self) -> Answer | None:
        """The answer for the aeroplane as designed; None without a battery."""
        return next((one for one in self.answers if one.case.is_current), None)

    @property
    def tip_weight_g(self) -> float:
        """What would centre the balance point from the tip of the lighter wing: M y / half span."""
        return self.mass_g * abs(self.cg_mm[1]) / self.half_span_mm


def neutral_point_mm(aeroplane: Aeroplane) -> float:
    """Station of the neutral point, by the flight estimates. Raises PartError where nothing holds it level."""
    from airframe.flight.trim import NoTrimError

    try:
        return aeroplane.flight.neutral_point_mm
    except NoTrimError as error:
        raise PartError("balance", f"a static margin needs a neutral point, but {error}") from error


def balances(aeroplane: Aeroplane, overturn: Overturn | None = None, cache: PairCache | None = None) -> Balances:
    """Every battery option with every choice of optional items, and the levers of all that is carried.

    Without `overturn` they are found once for an aeroplane, however many ask. Raises PartError where the range is
    turned inside out, or an optional item is none of the design's.
    """
    if overturn is not None:
        return _found(aeroplane, overturn, cache)
    known = _FOUND.get(aeroplane)
    if known is None:
        known = _FOUND[aeroplane] = _found(aeroplane, None, cache)
    return known


_FOUND: WeakKeyDictionary[Aeroplane, Balances] = WeakKeyDictionary()
"""Of the aeroplanes that are still in somebody's hands; nothing in the answer holds its aeroplane."""


def _found(aeroplane: Aeroplane, overturn: Overturn | None, cache: PairCache | None) -> Balances:
    wanted, found = target(aeroplane.layout, partial(neutral_point_mm, aeroplane)), cases(aeroplane)
    around = Surroundings(Pairs(aeroplane, cache), (*aeroplane.parts, *optional_parts(aeroplane)))
    answers = tuple(answer(aeroplane, around, case, wanted, overturn) for case in found)
    whole = aeroplane.statement.whole
    return Balances(
        wanted, answers, _levers(aeroplane), aeroplane.cg_mm, whole.mass, aeroplane.layout.mean_chord.span_mm / 2.0
    )


def _levers(aeroplane: Aeroplane) -> tuple[Lever, ...]:
    whole, optional = aeroplane.statement.whole, aeroplane.design.balance.optional
    found = []
    for name, item in aeroplane.design.equipment.items():
        if not item.fitted and name not in optional:
            continue
        body = carried(aeroplane, name).body
        total = whole.mass if item.fitted else whole.mass + body.mass
        station, balance = float(body.centre[0]), float(whole.centre[0])
        change = left_out_mm(body.mass if item.fitted else -body.mass, station, whole.mass, balance)
        found.append(Lever(name, body.mass, station, item.fitted, moved_by_mm(body.mass, total, 1.0), change))
    return tuple(sorted(found, key=lambda lever: -lever.mass_g))
