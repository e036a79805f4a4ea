"""What a power train makes of an aeroplane: top speed, climb, cruise and endurance; SI units."""

from __future__ import annotations

from dataclasses import dataclass

from airframe.flight.power import (
    OperatingPoint,
    PowerTrain,
    end_of_thrust_m_s,
    operating_point,
    throttle_for,
    volts_to_spare,
)
from airframe.flight.roots import NoRoot, bracketed_root
from airframe.flight.speeds import Polar

SLOW_CRUISE = 1.3
"""Times the stall speed: slow, with room to turn (our choice, after landing approaches of large aeroplanes)."""
STEPS = 24
"""Speeds tried between stall and the end of thrust before the best of them is refined."""


@dataclass(frozen=True)
class Climb:
    """The fastest climb at full throttle."""

    speed_m_s: float
    rate_m_s: float
    """Negative if it sinks even so."""


@dataclass(frozen=True)
class Cruise:
    """Level flight at a part of the throttle."""

    point: OperatingPoint
    duration_s: float
    distance_m: float


def speeds_to_try(train: PowerTrain, polar: Polar, count: int = STEPS) -> list[float]:
    """Speeds from the stall to where the propeller pulls no more, evenly spaced; the stall alone if that is beyond."""
    stall = polar.stall_speed_m_s
    end = end_of_thrust_m_s(train, polar.density_kg_m3)
    if end <= stall:
        return [stall]
    return [stall + (end - stall) * step / (count - 1) for step in range(count)]


def top_speed_m_s(train: PowerTrain, polar: Polar) -> float:
    """The fastest level flight. Raises NoRoot if full throttle does not carry it at any speed."""

    def spare(speed: float) -> float:
        return volts_to_spare(train, polar.drag_n(speed), speed, polar.density_kg_m3)

    tried = speeds_to_try(train, polar)
    for slower, faster in zip(reversed(tried[:-1]), reversed(tried[1:]), strict=True):
        if spare(slower) > 0.0:
            return bracketed_root(spare, slower, faster)
    raise NoRoot("full throttle does not carry it in level flight")


def best_climb(train: PowerTrain, polar: Polar) -> Climb:
    """The fastest climb at full throttle: spare power over weight, path nearly level; steep ones come out too fast."""

    def rate(speed: float) -> float:
        spare = operating_point(train, speed, polar.density_kg_m3).thrust_n - polar.drag_n(speed)
        return spare * speed / polar.weight_n

    tried = speeds_to_try(train, polar)
    rates = [rate(speed) for speed in tried]
    best = max(range(len(tried)), key=rates.__getitem__)
    if not 0 < best < len(tried) - 1:
        return Climb(tried[best], rates[best])
    left, middle, right = rates[best - 1 : best + 2]
    shift = 0.5 * (left - right) / (left - 2.0 * middle + right)
    speed = tried[best] + shift * (tried[best + 1] - tried[best])
    return Climb(speed, rate(speed))


def cruise(train: PowerTrain, polar: Polar, usable_share: float, speed_m_s: float | None = None) -> Cruise:
    """Level flight at a speed, slow cruise unless given, until the usable share of the charge is flown out.

    Raises NoRoot if full throttle does not carry it at that speed, ValueError below the stall.
    """
    speed = SLOW_CRUISE * polar.stall_speed_m_s if speed_m_s is None else speed_m_s
    if speed < polar.stall_speed_m_s:
        raise ValueError(f"at {speed:.1f} m/s the wing does not carry it")
    point = throttle_for(train, polar.drag_n(speed), speed, polar.density_kg_m3)
    duration = train.pack.duration_s(point.battery_current_a, usable_share)
    return Cruise(point, duration, duration * speed)
