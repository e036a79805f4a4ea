"""All figures of a power train in one table, each in the band that unmeasured parts leave it; SI units."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from airframe.flight import performance
from airframe.flight.bands import Band, around, exactly
from airframe.flight.battery import Pack, estimated_limit_a
from airframe.flight.performance import Climb
from airframe.flight.power import PowerTrain, operating_point
from airframe.flight.roots import NoRoot
from airframe.flight.speeds import Polar


@dataclass(frozen=True)
class Guess:
    """The likely power train, and others that it may turn out to be."""

    likely: PowerTrain
    others: tuple[PowerTrain, ...] = ()


@dataclass(frozen=True)
class Drags:
    """The likely aeroplane, and the slipperiest and the most draggy that it may turn out to be; lift alike."""

    likely: Polar
    slippery: Polar
    draggy: Polar


@dataclass(frozen=True)
class CurrentLimit:
    """What one thing in the circuit bears, against the current at full throttle standing still."""

    what: str
    limit_a: float
    is_stated: bool
    """False where the limit itself is an estimate."""
    use: Band
    """Current over limit; above 1 is too much."""


@dataclass(frozen=True)
class PowerFigures:
    """Estimates; None where it does not fly level on this power."""

    static_thrust_n: Band
    static_current_a: Band
    static_turns_rad_s: Band
    thrust_to_weight: Band
    limits: tuple[CurrentLimit, ...]
    top_speed_m_s: Band | None
    climb: Climb
    climb_rate_m_s: Band
    """Negative where it sinks even at full throttle."""
    cruise_speed_m_s: float
    cruise_current_a: Band | None
    """Its high end is full throttle where a guess does not fly level even so."""
    cruise_time_s: Band | None


def power_figures(guess: Guess, drags: Drags, usable_share: float) -> PowerFigures:
    """Full throttle standing still, then what it makes of the aeroplane."""
    density = drags.likely.density_kg_m3
    statics = [operating_point(train, 0.0, density) for train in (guess.likely, *guess.others)]
    thrust = _band([point.thrust_n for point in statics])
    current = _band([point.battery_current_a for point in statics])
    climb = performance.best_climb(guess.likely, drags.likely)
    rates = _flown(guess, drags, lambda t, p: performance.best_climb(t, p).rate_m_s)
    speed = performance.SLOW_CRUISE * drags.likely.stall_speed_m_s
    drawn = _flown(
        guess,
        drags,
        lambda t, p: performance.cruise(t, p, 1.0, speed).point.battery_current_a,
        lambda t, p: operating_point(t, speed, p.density_kg_m3).battery_current_a,
    )
    return PowerFigures(
        thrust,
        current,
        _band([point.turns_rad_s for point in statics]),
        thrust.times(1.0 / drags.likely.weight_n),
        tuple(_limits(guess.likely, current)),
        _flown(guess, drags, performance.top_speed_m_s),
        climb,
        rates or exactly(climb.rate_m_s),
        speed,
        drawn,
        None if drawn is None else _lasting(guess.likely.pack, drawn, usable_share),
    )


def _lasting(pack: Pack, drawn_a: Band, usable_share: float) -> Band:
    """How long the usable charge lasts; the most current for the shortest time."""
    ends = (pack.duration_s(current, usable_share) for current in (drawn_a.high, drawn_a.middle, drawn_a.low))
    return Band(*ends)


def _limits(train: PowerTrain, current: Band) -> list[CurrentLimit]:
    rows = []
    if train.controller_limit_a is not None:
        rows.append(("speed controller", train.controller_limit_a, True))
    pack = train.pack
    stated = pack.max_current_a is not None
    rows.append(("battery", pack.max_current_a or estimated_limit_a(pack.capacity_c), stated))
    return [CurrentLimit(what, limit, known, current.times(1.0 / limit)) for what, limit, known in rows]


Figure = Callable[[PowerTrain, Polar], float]


def _flown(guess: Guess, drags: Drags, figure: Figure, at_worst: Figure | None = None) -> Band | None:
    """A figure over every train and drag; None if the likely ones cannot do it.

    Others that cannot do their worst, such as full throttle that still does not hold it; without one they are passed
    over.
    """
    try:
        likely = figure(guess.likely, drags.likely)
    except ValueError:
        return None
    values = []
    for train in (guess.likely, *guess.others):
        for polar in (drags.slippery, drags.draggy):
            try:
                values.append(figure(train, polar))
            except NoRoot:
                if at_worst is not None:
                    values.append(at_worst(train, polar))
    return around(likely, values)


def _band(values: Sequence[float]) -> Band:
    return around(values[0], values[1:])
