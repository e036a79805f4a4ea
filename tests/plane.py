"""A small valid plane as TOML text, and what is said when something about it is wrong."""

from __future__ import annotations

import pytest

from airframe.config import ConfigError, from_text

PLANE = """\
name = "Plane"
gear = { arrangement = "none" }
[fuselage]
width = "60 mm"
stations = [
    { station = "0 mm", top = "30 mm", bottom = "-30 mm" },
    { station = "600 mm", top = "20 mm", bottom = "-10 mm" },
]

[wing]
root_chord = "180 mm"
station = "120 mm"
panels = [
    { span = "300 mm" },
    { span = "150 mm", dihedral = "10 deg" },
]

[wing.spar]
width = "5 mm"

[tail.stabiliser]
span = "300 mm"
root_chord = "80 mm"
station = "500 mm"
[tail.elevator]
root_chord = "40 mm"
[tail.fin]
height = "120 mm"
root_chord = "90 mm"
station = "480 mm"
[tail.rudder]
root_chord = "50 mm"

[equipment.battery]
kind = "battery"
mass = "90 g"
size = ["60 mm", "30 mm", "20 mm"]
station = "40 mm"
water_line = "-20 mm"

[equipment."spare camera"]
mass = "40 g"
size = ["30 mm", "30 mm", "30 mm"]
station = "200 mm"

[[weighed]]
what = "wing"
mass = "100 g"
"""


def said(text: str, *set_values: str) -> list[str]:
    """What is said of the text added to a plane (or of the plane with settings): a line for each problem."""
    with pytest.raises(ConfigError) as caught:
        from_text(PLANE + text, set_values, "c.toml")
    assert str(caught.value).splitlines() == [str(problem) for problem in caught.value.problems]
    return str(caught.value).splitlines()
