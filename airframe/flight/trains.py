"""The power train that a design states, with guesses for what it leaves out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from airframe.flight import propeller_trends
from airframe.flight.atmosphere import air
from airframe.flight.battery import RESISTANCE_HIGH, RESISTANCE_LOW, Pack, estimated_resistance_ohm
from airframe.flight.motor import MotorModel
from airframe.flight.power import PowerTrain, anchored
from airframe.flight.power_figures import Guess
from airframe.flight.propeller import PropellerModel, ideal_power
from airframe.schema.design import Design
from airframe.schema.equipment import Battery, BatteryOption, Motor, Propeller, SpeedController

STIFFNESS_PER_G = 2.3e-5
"""A small outrunner's torque constant squared over its resistance, for each gram (our choice, no source)."""
STIFFNESS_SPREAD = (0.6, 1.6)
IDLE_A_PER_G = 0.014
"""What a small outrunner draws idling, for each gram (our choice, no source)."""

Thing = TypeVar("Thing", Motor, Propeller, Battery, SpeedController)


class NotStated(ValueError):  # noqa: N818 - not a fault of the design
    """The design does not say enough for an answer, or what was measured cannot be; the message names the keys."""


@dataclass(frozen=True)
class _Stated:
    """What a design has in its circuit."""

    motor: Motor
    propeller: Propeller
    battery: BatteryOption
    controller: SpeedController | None


def train_guess(design: Design, option: str | None = None) -> Guess:
    """The power train with a battery option, the one in use unless given; anchored on what was measured.

    Each guess departs from the likely train in one thing. Raises NotStated for a design without a motor, a
    propeller or a battery, without the motor's Kv, the battery's cells or capacity, and for coefficients or a
    measurement that nothing explains.
    """
    likely, *others = _drawn(_stated(design, option))
    flight = design.flight
    if flight.measured_thrust_n is None and flight.measured_current_a is None:
        return Guess(likely, tuple(others))
    measured = _stated(design, flight.measured_with)
    return _anchored(design, [likely, *others], _drawn(measured))


def estimated_motor(kv_rad_s_v: float, mass_g: float, stiffness: float = 1.0) -> MotorModel:
    """A motor of which only Kv and mass are known; `stiffness` against the usual."""
    return MotorModel(kv_rad_s_v, 1.0 / (kv_rad_s_v**2 * STIFFNESS_PER_G * mass_g * stiffness), IDLE_A_PER_G * mass_g)


def _anchored(design: Design, trains: list[PowerTrain], measured: list[PowerTrain]) -> Guess:
    """Each train with the propeller that explains the measurement; guesses that cannot explain it were wrong."""
    flight, density = design.flight, air(design.flight.altitude_mm / 1000.0).density_kg_m3
    readings = (flight.measured_thrust_n, flight.measured_current_a, density)
    try:
        likely = replace(trains[0], propeller=anchored(measured[0], *readings).propeller)
    except ValueError as error:
        wrong = "what was measured does not go with this motor, battery and propeller"
        check = "check measured_thrust and measured_current in [flight], their units too, and the motor's kv"
        raise NotStated(f"{wrong} ({error}); {check}") from error
    others = []
    for train, same in zip(trains[1:], measured[1:], strict=False):
        try:
            others.append(replace(train, propeller=anchored(same, *readings).propeller))
        except ValueError:
            continue
    return Guess(likely, tuple(others))


def _drawn(stated: _Stated) -> list[PowerTrain]:
    """The likely train first. Raises NotStated for coefficients that no propeller has."""
    try:
        return list(_trains(stated))
    except ValueError as error:
        cure = "check its thrust_coefficient and power_coefficient"
        raise NotStated(f"no propeller is as this one is stated ({error}); {cure}") from error


def _trains(stated: _Stated) -> Iterator[PowerTrain]:
    """The likely train first, then one departure at a time."""
    motors, packs, propellers = list(_motors(stated.motor)), list(_packs(stated.battery)), _propellers(stated.propeller)
    controller = stated.controller
    ohm = controller.resistance_ohm if controller is not None and controller.resistance_ohm is not None else 0.0
    limit = controller.max_current_a if controller is not None else None
    likely = PowerTrain(motors[0], packs[0], propellers[0], ohm, limit)
    yield likely
    yield from (replace(likely, propeller=one) for one in propellers[1:])
    yield from (replace(likely, motor=one) for one in motors[1:])
    yield from (replace(likely, pack=one) for one in packs[1:])


def _motors(motor: Motor) -> Iterator[MotorModel]:
    assert motor.kv_rad_s_v is not None
    for stiffness in (1.0, *STIFFNESS_SPREAD):
        guess = estimated_motor(motor.kv_rad_s_v, motor.mass_g, stiffness)
        idle = guess.no_load_current_a if motor.no_load_current_a is None else motor.no_load_current_a
        if motor.resistance_ohm is not None:
            yield MotorModel(motor.kv_rad_s_v, motor.resistance_ohm, idle)
            return
        yield replace(guess, no_load_current_a=idle)


def _packs(battery: BatteryOption) -> Iterator[Pack]:
    assert battery.cells is not None and battery.capacity_c is not None
    if battery.resistance_ohm is not None:
        yield Pack(battery.cells, battery.capacity_c, battery.resistance_ohm, battery.max_current_a)
        return
    usual = estimated_resistance_ohm(battery.cells, battery.capacity_c)
    for share in (1.0, RESISTANCE_LOW, RESISTANCE_HIGH):
        yield Pack(battery.cells, battery.capacity_c, usual * share, battery.max_current_a)


def _propellers(propeller: Propeller) -> list[PropellerModel]:
    """The given coefficients, or the trend's; to one given alone belongs the trend's figure of merit."""
    diameter, pitch = propeller.diameter_mm / 1000.0, propeller.pitch_mm / 1000.0
    thrust, power = propeller.thrust_coefficient, propeller.power_coefficient
    guess = propeller_trends.estimated(diameter, pitch, propeller.blades)
    models = [guess.likely, *guess.others]
    if thrust is not None and power is not None:
        return [PropellerModel(diameter, pitch, thrust, power)]
    if thrust is not None:
        return [PropellerModel(diameter, pitch, thrust, ideal_power(thrust) / one.figure_of_merit) for one in models]
    if power is not None:
        pulls = [one.static_thrust * (power / one.static_power) ** (2.0 / 3.0) for one in models]
        return [PropellerModel(diameter, pitch, pull, power) for pull in pulls]
    return models


def _stated(design: Design, option: str | None) -> _Stated:
    motor, propeller = _first(design, Motor), _first(design, Propeller)
    battery, controller = _first(design, Battery), _first(design, SpeedController)
    missing = [
        kind for kind, item in (("motor", motor), ("propeller", propeller), ("battery", battery)) if item is None
    ]
    if motor is None or propeller is None or battery is None:
        raise NotStated(f"the design has no {' and no '.join(missing)}")
    if option is not None and option not in battery.options:
        there = f"there are {', '.join(battery.options)}" if battery.options else "the battery has none"
        raise NotStated(f"there is no battery option '{option}'; {there}")
    chosen = battery.chosen() if option is None else battery.model_copy(update={"use": option}).chosen()
    keys = {"the motor's kv": motor.kv_rad_s_v, "the motor's mass": motor.mass_g or None}
    keys |= {"the battery's cells": chosen.cells, "the battery's capacity": chosen.capacity_c}
    unsaid = [words for words, value in keys.items() if value is None]
    if unsaid:
        raise NotStated(f"state {', '.join(unsaid)}")
    return _Stated(motor, propeller, chosen, controller)


def _first(design: Design, kind: type[Thing]) -> Thing | None:
    """The first fitted item of a kind."""
    return next((item for item in design.equipment.values() if isinstance(item, kind) and item.fitted), None)
