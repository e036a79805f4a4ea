"""What a message advises does, when it is followed to the letter."""

from __future__ import annotations

import re

import pytest

from airframe import ruler
from airframe.bends import centre_line
from airframe.config import from_text
from airframe.drawing import PartError, Wire
from airframe.layout import Layout
from airframe.parts import whole
from airframe.parts.common import SLACK_MM
from airframe.starter import starter_text

SHELL = (
    '{{name="cowl", opens="down", scores_per_corner=3,'
    ' front={{station="-26 mm", width="50 mm", crown="26.07 mm", edge="-2 mm", corner_radius="{0} mm"}},'
    ' rear={{station="0 mm", width="60 mm", crown="30 mm", edge="-2 mm", corner_radius="16 mm"}}}}'
)


def refusal(*settings: str) -> PartError | None:
    """Why the starter's aeroplane cannot be drawn with these changes; None if it can."""
    try:
        whole.build(Layout(from_text(starter_text(), settings)))
    except PartError as error:
        return error
    return None


@pytest.mark.parametrize(
    ("key", "bad", "number"),
    [
        ("gear.height", "20.03", r"([\d.]+) mm or more would do"),
        ("gear.track", "50.03", r"a track of ([\d.]+) mm or more"),
        ("gear.skid.height", "10", r"([\d.]+) mm or more would do"),
        ("wing.spar.height", "40", r"a height up to ([\d.]+) mm"),
        ("wing.mounting.front.station", "-50", r"between station ([\d.]+)"),
        ("wing.mounting.front.water_line", "60", r"between water line .* and ([\d.]+) mm"),
        ("wing.mounting.front.water_line", "-60", r"between water line (-[\d.]+) and"),
        ("fuselage.formers.0.rim", "100", r"([\d.]+) mm or less would"),
        ("fuselage.openings.0.high", "40", r"within ([\d.]+) mm of the centre"),
        ("fuselage.openings.0.to_station", "140", r"and ([\d.]+) mm$"),
        ("fuselage.firewall.doubler_behind", "600", r"make doubler_behind ([\d.]+) mm"),
        ("fuselage.firewall.gussets_behind.leg", "60", r"there are ([\d.]+) mm to the centre"),
        ("tail.horns.base", "400", r"; ([\d.]+) mm or less would do"),
        ("tail.horns.elevator_butt_line", "0", r"from ([\d.]+) to"),
        ("tail.horns.elevator_butt_line", "400", r"to ([\d.]+) mm$"),
        ("tail.rudder.root_clearance", "500", r"; ([\d.]+) mm or less would do"),
        ("tail.elevator.hinge.strip_length", "300", r"make them ([\d.]+) mm long"),
        ("tail.elevator.root_chord", "2", r"it needs ([\d.]+) mm"),
        ("gear.plate.buttress_height", "200", r"and ([\d.]+) mm of height"),
    ],
)
def test_advice_does_when_followed(key: str, bad: str, number: str) -> None:
    """The number in the message, written in the config, is not refused for the same reason again; in inches too."""
    for system, unit in (("metric", "mm"), ("imperial", "in")):
        wanted = re.compile(number.replace(" mm", f" {unit}"))
        first = refusal(f'units="{system}"', f'{key}="{bad} mm"')
        assert first is not None
        found = wanted.search(first.problem)
        assert found is not None, first.problem
        again = refusal(f'units="{system}"', f'{key}="{found[1]} {unit}"')
        assert again is None or wanted.search(again.problem) is None, again


def test_advice_on_a_shells_corner_does() -> None:
    """A corner radius of the stated most leaves a crown; a tenth more does not."""
    first = refusal(f"fuselage.shells=[{SHELL.format(60)}]")
    assert first is not None
    found = re.search(r"([\d.]+) mm or less would do", first.problem)
    assert found is not None
    assert refusal(f"fuselage.shells=[{SHELL.format(found[1])}]") is None
    assert refusal(f"fuselage.shells=[{SHELL.format(float(found[1]) + 0.1)}]") is not None


def test_bolts_may_stand_at_the_least_distance_from_the_shaft() -> None:
    """Holes of 3 and 7 mm with 1 mm between them are 6 mm apart: a bolt circle of 12 mm."""
    assert refusal('fuselage.firewall.bolt_circle="12 mm"') is None
    closer = refusal('fuselage.firewall.bolt_circle="11.9 mm"')
    assert closer is not None and "6.0 mm is the least" in closer.problem


def test_wing_that_is_not_over_the_fuselage_is_refused_in_plain_words() -> None:
    """Ahead of the nose or behind the tail a centre rib has nothing to stand on; the message tells both stretches."""
    for station, stretch in (("2 m", "2000.0 to 2185.0 mm"), ("-2 m", "-2000.0 to -1815.0 mm")):
        error = refusal(f'wing.station="{station}"')
        assert error is not None and error.part == "centre rib"
        assert stretch in error.problem and "the fuselage reaches from 0.0 to" in error.problem


def test_skid_that_touches_the_ground_ahead_of_its_bracket_is_refused() -> None:
    """The message names the key to change and both stations, no point in space."""
    error = refusal('gear.skid.contact_station="500 mm"')
    assert error is not None
    assert error.part == "skid" and "contact_station aft" in error.problem and "570 mm" in error.problem


def test_spar_has_room_in_every_panel() -> None:
    """The advice counts with the thinnest panel, which is named."""
    error = refusal('wing.spar.height="40 mm"')
    assert error is not None and error.part == "wing spar 2"


def test_fin_lower_than_its_rudders_clearance_should_be_higher() -> None:
    """There is no clearance that would do under a fin of 2 mm: 8 mm of clearance and 2 mm of rudder are the least."""
    error = refusal('tail.fin.height="2 mm"', 'tail.rudder.root_clearance="8 mm"')
    assert error is not None and error.problem.endswith("make the fin 10.0 mm high or more")
    after = refusal('tail.fin.height="10 mm"', 'tail.rudder.root_clearance="8 mm"')
    assert after is None or "clearance" not in after.problem


@pytest.mark.parametrize("value", [0.0, 0.05, 20.0, 20.04, 20.06, 83.25, -14.24, -2.14, 20.0 + 1e-9, 20.0 - 1e-9])
def test_limits_are_rounded_to_the_safe_side(value: float) -> None:
    """A lower limit is never printed lower, an upper one never higher, by more than the slack; neither by a mark."""
    for system, mark_mm, unit_mm in (("metric", 0.1, 1.0), ("imperial", 0.254, 25.4)):
        with ruler.reading(system):
            least, most = (float(told(value).split()[0]) * unit_mm for told in (ruler.least, ruler.most))
        assert -SLACK_MM <= least - value < mark_mm
        assert -SLACK_MM <= value - most < mark_mm


def test_advice_is_told_in_the_unit_of_the_design() -> None:
    """No millimetre is left in what an imperial design hears; 50.8 mm are 2 in, and nothing is read so afterwards."""
    error = refusal('gear.height="2 in"', 'units="imperial"')
    assert error is not None and "gear.height is 2 in" in error.problem
    assert " in or more would do" in error.problem and "mm" not in error.problem
    assert ruler.exact(50.8) == "50.8 mm"
    with ruler.reading("imperial"):
        told = (ruler.about(-0.01), ruler.span(25.4, 50.8), ruler.exact(1.5875), ruler.sides(254.0, 12.7))
        limits = (ruler.room(10.0, 20.0), ruler.ends(10.0, 20.0))
    assert told == ("0.00 in", "1.00 to 2.00 in", "0.0625 in", "10.00 by 0.50 in")
    assert limits == ("0.40 to 0.78 in", "0.40 and 0.78 in")


def test_a_bend_too_tight_is_told_in_the_unit_of_the_design() -> None:
    """Found deep in geometry that knows no design, it is told in inches all the same: 2 % of 2.5 mm are 0.002 in."""
    error = refusal('gear.bend_radius="0.001 in"', 'units="imperial"')
    assert error is not None and error.problem.endswith("is 0.001 in; 0.002 in is the least")
    with (
        ruler.reading("imperial"),
        pytest.raises(ValueError, match=r"from \(0\.00, 0\.00, 0\.00\) in .* 0\.79 in long"),
    ):
        centre_line(Wire(((0, 0, 0), (20, 0, 0), (20, 20, 0)), 2.0, 30.0))
