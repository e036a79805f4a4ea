"""From servo to surface in a design: what is hooked up, throws, torque and buckling."""

from __future__ import annotations

import copy
from math import dist, pi, radians
from typing import Any

import pytest

from airframe.config import from_dict
from airframe.flight import throws
from airframe.flight.controls import ControlRun, control, control_runs
from airframe.flight.surfaces import sheets
from airframe.layout import Layout
from airframe.schema.equipment import PushRod
from tests.electric import electric

RHO = 1.225


def layout(**changes: dict[str, Any]) -> Layout:
    """The electric starter with keys of its equipment changed; None takes a key away."""
    data = copy.deepcopy(electric())
    for name, keys in changes.items():
        table = data["equipment"][name.replace("_", " ")]
        table.update({key: value for key, value in keys.items() if value is not None})
        for key in [key for key, value in keys.items() if value is None]:
            del table[key]
    return Layout(from_dict(data))


def runs(built: Layout, speed_m_s: float = 12.0) -> dict[str, ControlRun]:
    """By the surface moved."""
    return {run.surface: run for run in control_runs(built, speed_m_s, RHO)}


def test_rods_join_servos_and_surfaces() -> None:
    """Elevator and rudder each have the rod and the servo of their name."""
    found = runs(layout())
    assert set(found) == {"elevator", "rudder"}
    for surface, run in found.items():
        assert surface in run.push_rod


def test_a_control_has_the_area_that_is_drawn() -> None:
    """The moving part is a share of the whole, and its mean chord lies between root and tip."""
    built = layout()
    surfaces = sheets(built)
    elevator = control(built, surfaces, "elevator")
    tail = built.design.tail
    root, tip = tail.elevator.root_chord_mm, tail.elevator.tip_chord_mm or tail.elevator.root_chord_mm
    assert not tail.elevator.split
    assert elevator.area_m2 == pytest.approx(tail.stabiliser.span_mm * (root + tip) / 2 * 1e-6)
    assert min(root, tip) * 1e-3 <= elevator.chord_m <= max(root, tip) * 1e-3
    assert 0.2 < elevator.chord_share < 0.6


def test_the_arm_needed_gives_the_throw() -> None:
    """A servo with just that arm reaches just the throw wanted; a longer arm reaches more."""
    needed = runs(layout())["elevator"].arm_needed_mm
    for factor, sign in ((1.0, 0.0), (1.15, 1.0), (0.8, -1.0)):
        servos = {"elevator_servo": {"arm": f"{needed * factor} mm"}, "rudder_servo": {"arm": f"{needed * factor} mm"}}
        run = runs(layout(**servos))["elevator"]
        assert run.throw_reached_rad is not None
        spare = run.throw_reached_rad - run.throw_wanted_rad
        assert abs(spare) < radians(1.0) if sign == 0.0 else spare * sign > 0.0


def test_margins() -> None:
    """Torque over torque, Euler's force over the rod's force; both fall with the square of speed."""
    built = layout()
    slow, fast = runs(built, 6.0)["elevator"], runs(built, 12.0)["elevator"]
    assert slow.torque_margin is not None and fast.torque_margin is not None
    assert slow.torque_margin.middle == pytest.approx(4 * fast.torque_margin.middle)
    assert slow.buckling_margin == pytest.approx(4 * fast.buckling_margin)
    rod = built.design.equipment[fast.push_rod]
    assert isinstance(rod, PushRod)
    length = dist(rod.from_point, rod.to_point) / 1000.0
    assert fast.buckling_n == pytest.approx(throws.buckling_force_n(rod.diameter_mm / 1000.0, length))
    assert fast.torque_margin.middle == pytest.approx(1.5 * 0.0980665 / fast.torque_needed_n_m.middle)


def test_work_balances_at_full_throw() -> None:
    """Rod force on the horn's full height would be the least: near full throw the lever is shorter."""
    run = runs(layout())["elevator"]
    height = layout().design.tail.horns.height_mm / 1000.0
    assert run.rod_force_n.middle >= run.hinge_moment_n_m.middle / height


def test_a_box_for_a_servo_says_nothing_of_torque() -> None:
    """Plain boxes are still found; what they do not state is None, and the arm is proposed."""
    plain = {"kind": "box", "torque": None, "arm": None, "travel": None}
    found = runs(layout(elevator_servo=plain, rudder_servo=plain))
    run = found["elevator"]
    assert run.servo is not None and "servo" in run.servo
    assert run.torque_margin is None and run.throw_reached_rad is None
    assert 5.0 < run.arm_needed_mm < 30.0


def test_an_arm_that_locks() -> None:
    """An arm of twice the horn's height passes the dead point before full travel: no throw is promised."""
    long_arm = {"arm": "60 mm", "travel": "60 deg"}
    assert runs(layout(elevator_servo=long_arm, rudder_servo=long_arm))["elevator"].throw_reached_rad is None


def test_small_servos_hold_a_slow_flyer() -> None:
    """Servos of about 1.5 kg cm hold a slow flyer's tail at 12 m/s with twice the torque or more (common practice, no
    source: 9 g servos fly such aeroplanes)."""
    for run in runs(layout()).values():
        assert run.torque_margin is not None
        assert run.torque_margin.low > 2.0
        assert 0.0 < run.throw_wanted_rad < pi / 4
