"""Whether the bevels of elevator and rudder are deep enough for their throw."""

from __future__ import annotations

from collections.abc import Iterator
from math import acos, atan2, ceil, degrees, hypot, pi, radians, tan

from airframe import units
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.layout import Layout

RESERVE_RAD = radians(1.0)
"""What a remedy cuts deeper than the throw."""
SOURCE = "geometry; a bevel as steep as the throw is common practice, no source"


def throw_allowed_rad(bevel_rad: float, gap_mm: float, thickness_mm: float) -> float:
    """How far a surface swings towards its bevel before the bevel's far edge meets the fixed surface's end face.

    Hinged in the middle of the gap g on one face, thickness t, bevel b: the far edge is at g/2 + t tan b aft of the
    hinge and t across. Turned by a it is at A cos a - t sin a, A = g/2 + t tan b; the end face is at -g/2:
    R cos(a + d) = -g/2 with R^2 = A^2 + t^2, tan d = t / A. Without a gap, a = b.
    """
    reach = gap_mm / 2.0 + thickness_mm * tan(bevel_rad)
    radius = hypot(reach, thickness_mm)
    return min(acos(-gap_mm / 2.0 / radius) - atan2(thickness_mm, reach), pi / 2.0)


def findings(layout: Layout) -> Iterator[Finding]:
    """Elevator and rudder, each towards its bevel."""
    tail = layout.design.tail
    t = layout.design.material(tail.material).thickness_mm
    named = (
        ("elevator", tail.elevator.throw_down_rad, tail.elevator.hinge),
        ("rudder", tail.rudder.throw_rad, tail.rudder.hinge),
    )
    for name, throw, hinge in named:
        allowed = throw_allowed_rad(hinge.bevel_rad, hinge.gap_mm, t)
        verdict: Verdict = "pass" if hinge.bevel_rad >= throw - 1e-9 else ("caution" if allowed >= throw else "fail")
        side = "down" if name == "elevator" else "to the right"
        cut, asked = units.angle(hinge.bevel_rad), units.angle(throw)
        text = f"the {name}'s bevel of {cut} lets it swing {units.angle(allowed)} {side}; {asked} is asked for"
        bevel = Change(("tail", name, "hinge", "bevel_rad"), radians(ceil(degrees(throw) - 1e-9)) + RESERVE_RAD)
        system = layout.design.units
        remedy = Remedy(f"cut the {name}'s bevel at {bevel.written(system)}", settings([bevel], system))
        remedies = () if verdict == "pass" else (remedy,)
        limit = (degrees(throw), None)
        yield Finding(f"moving.bevel: {name}", verdict, degrees(allowed), "deg", limit, text, SOURCE, remedies, (name,))
