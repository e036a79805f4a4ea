"""What a config may say of motor, battery, speed controller, servos and measurements, all of it optional."""

from __future__ import annotations

import copy
from math import pi

import jsonschema
import pytest

from airframe.config import from_dict
from airframe.model import Aeroplane
from airframe.schema import published
from airframe.schema.equipment import Battery, Item, Motor, Propeller, Servo, SpeedController
from tests.electric import STARTER, electric

VALIDATOR = jsonschema.Draft202012Validator(published.json_schema())


def test_every_key_is_read_in_si() -> None:
    """The values arrive in ampere, ohm, coulomb, N m and rad/s a volt."""
    design = from_dict(electric())
    items = design.equipment
    motor, propeller, battery = items["motor"], items["propeller"], items["battery"]
    controller, servo = items["speed controller"], items["elevator servo"]
    assert isinstance(motor, Motor) and isinstance(propeller, Propeller) and isinstance(battery, Battery)
    assert isinstance(controller, SpeedController) and isinstance(servo, Servo)
    assert motor.kv_rad_s_v == pytest.approx(960 * 2 * pi / 60)
    assert (motor.resistance_ohm, motor.no_load_current_a) == pytest.approx((0.095, 0.6))
    assert (propeller.thrust_coefficient, propeller.power_coefficient) == (0.1, 0.04)
    assert (controller.max_current_a, controller.resistance_ohm) == pytest.approx((18.0, 0.004))
    assert (servo.torque_n_m, servo.arm_mm) == pytest.approx((1.5 * 0.0980665, 12.0))
    assert servo.travel_rad == pytest.approx(40 * pi / 180)
    assert design.flight.measured_thrust_n == pytest.approx(0.620 * 9.80665)
    assert design.flight.altitude_mm == pytest.approx(300 * 304.8)


def test_what_a_battery_states_overrides_its_option() -> None:
    """Capacity and resistance come from the option, a limit given at the battery goes before the option's."""
    battery = from_dict(electric()).equipment["battery"]
    assert isinstance(battery, Battery)
    chosen = battery.chosen()
    assert chosen.capacity_c == pytest.approx(1.3 * 3600.0)
    assert (chosen.resistance_ohm, chosen.max_current_a) == pytest.approx((0.03, 20.0))


def test_a_single_battery_is_an_option_of_its_own() -> None:
    """Without options the battery's own numbers are the chosen ones."""
    data = electric()
    battery = {k: v for k, v in data["equipment"]["battery"].items() if k not in ("options", "use")}
    size = ["70 mm", "35 mm", "16 mm"]
    data["equipment"]["battery"] = battery | {"mass": "80 g", "size": size, "cells": 2, "capacity": "1 Ah"}
    read = from_dict(data).equipment["battery"]
    assert isinstance(read, Battery)
    assert (read.chosen().cells, read.chosen().capacity_c, read.chosen().max_current_a) == (2, 3600.0, 20.0)


def test_servo_and_controller_are_boxes_to_the_rest() -> None:
    """Naming the kind of a box and its electrical side changes no part."""
    design = from_dict(electric())
    assert isinstance(design.equipment["elevator servo"], Item)
    plain, told = Aeroplane(from_dict(copy.deepcopy(STARTER))), Aeroplane(design)
    assert plain.parts == told.parts


def test_the_published_schema_takes_them_all() -> None:
    """An editor accepts what the reader accepts."""
    VALIDATOR.validate(electric())


@pytest.mark.parametrize(
    ("table", "key", "value", "says"),
    [
        ("motor", "kv", "960 rpm", "rpm/V"),
        ("motor", "resistance", "0 ohm", "more than 0"),
        ("propeller", "thrust_coefficient", "0.1", "number"),
        ("elevator servo", "torque", "1.5 kg", '"kg" is a unit of mass'),
        ("elevator servo", "travel", "0 deg", "more than 0"),
        ("receiver", "torque", "1 kg cm", "no such key"),
    ],
)
def test_refused_in_words(table: str, key: str, value: str, says: str) -> None:
    """A wrong unit, an impossible value and a key of another kind are refused by name."""
    data = electric()
    data["equipment"][table][key] = value
    with pytest.raises(ValueError, match="config") as caught:
        from_dict(data)
    assert f"equipment.{table}.{key}" in str(caught.value).replace(chr(34), "").replace("'", "")
    assert says in str(caught.value)


def test_a_battery_named_for_a_measurement_needs_the_measurement() -> None:
    """measured_with alone says nothing."""
    data = electric()
    data["flight"] = {"measured_with": "2-cell"}
    with pytest.raises(ValueError, match="measured_with needs"):
        from_dict(data)


def test_a_measurement_is_made_with_a_battery_that_there_is() -> None:
    """A misspelt option is refused with the names there are; without any battery there is nothing to compare with."""
    data = electric()
    data["flight"]["measured_with"] = "4-cell"
    with pytest.raises(ValueError, match=r"measured_with = '4-cell' is not among the battery's options: 2-cell"):
        from_dict(data)
    data["equipment"]["battery"]["fitted"] = False
    assert from_dict(data).flight.measured_with == "4-cell"


@pytest.mark.parametrize(
    ("altitude", "metres"), [("1 km", None), ("-1000 ft", -304.8), ("2400 m", 2400.0), ("9 m", 9.0)]
)
def test_fields_lie_where_people_live(altitude: str, metres: float | None) -> None:
    """Below the sea and up in the mountains, in any unit of length."""
    data = electric()
    data["flight"]["altitude"] = altitude
    if metres is None:
        with pytest.raises(ValueError, match="not a unit of length"):
            from_dict(data)
    else:
        assert from_dict(data).flight.altitude_mm == pytest.approx(metres * 1000.0)
