"""Where motor, battery and propeller meet: current, turns and thrust at a speed and a throttle; SI units."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import pi, sqrt

from airframe.flight.battery import Pack
from airframe.flight.motor import MotorModel
from airframe.flight.propeller import PropellerModel
from airframe.flight.roots import NoRoot, bracketed_root

SEA_LEVEL_KG_M3 = 1.225
"""Standard air (ICAO Doc 7488)."""
_SLOWEST = 1e-6
"""Of the free turns: where the search for the turns begins."""
_KEPT = 4096
"""Operating points remembered: the same train is asked again for every guess of the drag, and by the charts."""
_SCALES = tuple(0.05 * 1.2**step for step in range(26))
"""Thrust coefficients tried against the given one, 0.05 to 4.8 times, until there is pull enough."""
TURN = 2.0 * pi


@dataclass(frozen=True)
class PowerTrain:
    """Battery, speed controller, motor and propeller in a row."""

    motor: MotorModel
    pack: Pack
    propeller: PropellerModel
    controller_ohm: float = 0.0
    controller_limit_a: float | None = None


@dataclass(frozen=True)
class OperatingPoint:
    """One steady state of a power train."""

    speed_m_s: float
    throttle: float
    turns_rad_s: float
    motor_current_a: float
    battery_current_a: float
    battery_v: float
    thrust_n: float
    shaft_power_w: float

    @property
    def electrical_power_w(self) -> float:
        """What leaves the battery's leads."""
        return self.battery_v * self.battery_current_a

    @property
    def efficiency(self) -> float:
        """Thrust times speed over what leaves the battery; nothing standing still."""
        return self.thrust_n * self.speed_m_s / self.electrical_power_w if self.battery_current_a > 0.0 else 0.0


@lru_cache(maxsize=_KEPT)
def operating_point(
    train: PowerTrain, speed_m_s: float = 0.0, density_kg_m3: float = SEA_LEVEL_KG_M3, throttle: float = 1.0
) -> OperatingPoint:
    """The turns at which the motor gives what the propeller takes.

    The controller chops: the motor sees the throttle's share of the battery's voltage, the battery the same share
    of the motor's current; it never brakes. Throttle from above 0 to 1. Raises NoRoot where it does not turn.
    """

    def spare_torque(turns: float) -> float:
        current = _motor_current(train, turns, throttle)
        return train.motor.torque_n_m(current) - train.propeller.power_w(turns, speed_m_s, density_kg_m3) / turns

    free = throttle * train.pack.rest_v * train.motor.kv_rad_s_v
    if spare_torque(_SLOWEST * free) <= 0.0:
        raise NoRoot("the battery does not turn the motor: it idles at more current than can flow")
    fastest = free
    while spare_torque(fastest) > 0.0:
        fastest *= 2.0
    turns = bracketed_root(spare_torque, _SLOWEST * free, fastest)
    current = _motor_current(train, turns, throttle)
    drawn = throttle * current
    return OperatingPoint(
        speed_m_s,
        throttle,
        turns,
        current,
        drawn,
        train.pack.loaded_v(drawn),
        train.propeller.thrust_n(turns, speed_m_s, density_kg_m3),
        train.propeller.power_w(turns, speed_m_s, density_kg_m3),
    )


def throttle_for(
    train: PowerTrain, thrust_n: float, speed_m_s: float, density_kg_m3: float = SEA_LEVEL_KG_M3
) -> OperatingPoint:
    """The operating point that gives a positive thrust at a speed. Raises NoRoot if full throttle gives less.

    The propeller's turns ask for a motor current I; the throttle t that lets it flow is the lesser root of
    t rest - turns / Kv = I (R + t^2 R_pack).
    """
    if volts_to_spare(train, thrust_n, speed_m_s, density_kg_m3) < 0.0:
        raise NoRoot("full throttle gives less thrust")
    turns, current = _asked(train, thrust_n, speed_m_s, density_kg_m3)
    wanted = turns / train.motor.kv_rad_s_v + current * (train.motor.resistance_ohm + train.controller_ohm)
    sag, rest = current * train.pack.resistance_ohm, train.pack.rest_v
    throttle = 2.0 * wanted / (rest + sqrt(rest**2 - 4.0 * sag * wanted))
    drawn = throttle * current
    power = train.propeller.power_w(turns, speed_m_s, density_kg_m3)
    return OperatingPoint(speed_m_s, throttle, turns, current, drawn, train.pack.loaded_v(drawn), thrust_n, power)


def volts_to_spare(train: PowerTrain, thrust_n: float, speed_m_s: float, density_kg_m3: float) -> float:
    """What full throttle has over the voltage that a positive thrust asks for at a speed; from 0 on it is enough."""
    turns, current = _asked(train, thrust_n, speed_m_s, density_kg_m3)
    resistance = train.motor.resistance_ohm + train.controller_ohm + train.pack.resistance_ohm
    return train.pack.rest_v - turns / train.motor.kv_rad_s_v - current * resistance


def end_of_thrust_m_s(train: PowerTrain, density_kg_m3: float) -> float:
    """The speed at which full throttle pulls no more. Raises NoRoot for a motor that does not turn.

    There the propeller advances as a screw and its power is lost at the third power of its turns: motor torque and
    loss meet where a quadratic of the turns is zero.
    """
    motor, propeller = train.motor, train.propeller
    resistance = motor.resistance_ohm + train.controller_ohm + train.pack.resistance_ohm
    turn_speed = propeller.no_thrust_advance * propeller.diameter_m / TURN
    loss = propeller.power_w(1.0, turn_speed, density_kg_m3)
    steady = train.pack.rest_v - motor.no_load_current_a * resistance
    if steady <= 0.0:
        raise NoRoot("the battery does not turn the motor: it idles at more current than can flow")
    square, slope = loss * motor.kv_rad_s_v * resistance, 1.0 / motor.kv_rad_s_v
    return turn_speed * 2.0 * steady / (slope + sqrt(slope**2 + 4.0 * square * steady))


def anchored(
    train: PowerTrain,
    thrust_n: float | None = None,
    current_a: float | None = None,
    density_kg_m3: float = SEA_LEVEL_KG_M3,
) -> PowerTrain:
    """The train with a propeller that gives the measured static thrust at the measured current, full throttle.

    With one of the two only, the propeller keeps its figure of merit. Raises ValueError when no propeller could
    do it: then a measurement, or the motor's constants, are wrong.
    """
    if current_a is not None:
        return replace(train, propeller=_for_current(train, thrust_n, current_a, density_kg_m3))
    return train if thrust_n is None else _for_thrust(train, thrust_n, density_kg_m3)


def _asked(train: PowerTrain, thrust_n: float, speed_m_s: float, density_kg_m3: float) -> tuple[float, float]:
    """Turns, and the motor's current for the propeller's torque at them."""
    turns = train.propeller.turns_rad_s(thrust_n, speed_m_s, density_kg_m3)
    torque = train.propeller.power_w(turns, speed_m_s, density_kg_m3) / turns
    return turns, train.motor.no_load_current_a + torque * train.motor.kv_rad_s_v


def _motor_current(train: PowerTrain, turns_rad_s: float, throttle: float) -> float:
    """The battery carries the throttle's share of the current and shows the motor the same share of its sag."""
    resistance = train.motor.resistance_ohm + train.controller_ohm + throttle**2 * train.pack.resistance_ohm
    return max(throttle * train.pack.rest_v - turns_rad_s / train.motor.kv_rad_s_v, 0.0) / resistance


def _for_current(train: PowerTrain, thrust_n: float | None, current_a: float, density_kg_m3: float) -> PropellerModel:
    """The propeller at the turns that the measured current leaves to the motor."""
    motor, propeller = train.motor, train.propeller
    if current_a <= motor.no_load_current_a:
        raise ValueError(f"a current of {current_a:.3g} A is no more than the motor idles at")
    volts = train.pack.loaded_v(current_a) - current_a * train.controller_ohm
    turns = motor.speed_rad_s(volts, current_a)
    if turns <= 0.0:
        raise ValueError(f"a current of {current_a:.3g} A is more than battery and motor let through")
    unit = density_kg_m3 * (turns / TURN) ** 2 * propeller.diameter_m**4
    power = motor.torque_n_m(current_a) * turns / (unit * turns / TURN * propeller.diameter_m)
    same_merit = propeller.static_thrust * (power / propeller.static_power) ** (2.0 / 3.0)
    thrust = same_merit if thrust_n is None else thrust_n / unit
    return PropellerModel(propeller.diameter_m, propeller.pitch_m, thrust, power)


def _for_thrust(train: PowerTrain, thrust_n: float, density_kg_m3: float) -> PowerTrain:
    """The least broad propeller of the same figure of merit that gives the measured thrust."""

    def spare(scale: float) -> float:
        return operating_point(_scaled(train, scale), 0.0, density_kg_m3).thrust_n - thrust_n

    below = _SCALES[0]
    for scale in _SCALES:
        if spare(scale) >= 0.0:
            return _scaled(train, bracketed_root(spare, below, scale)) if scale > below else _scaled(train, scale)
        below = scale
    raise ValueError(f"a thrust of {thrust_n:.3g} N is more than this motor gives to a propeller of this diameter")


def _scaled(train: PowerTrain, scale: float) -> PowerTrain:
    """Broader or narrower blades at the same figure of merit."""
    old = train.propeller
    new = replace(old, static_thrust=old.static_thrust * scale, static_power=old.static_power * scale**1.5)
    return replace(train, propeller=new)
