"""Findings on the ground: whether it stands, tips over, noses over, and how it sits.

Rules that hold for all of them: what follows from geometry alone may fail; our own ranges, and whatever rests on an
assumed speed, thrust or coefficient, only caution. Every number is an estimate of a drawing, not of a flown aeroplane.
"""

from __future__ import annotations

from math import hypot

import numpy as np

from airframe import units
from airframe.checks import attitude, changes, nosing, overturn, remedies, rounding
from airframe.checks.finding import Finding, Remedy
from airframe.checks.nosing_remedies import REACH_MM, RESERVE_PERCENT, STEP_MM, Nose
from airframe.checks.standing import Standing, standing
from airframe.checks.surface import placed_meshes, shadow, side_triangles
from airframe.checks.thrust import thrust
from airframe.checks.tipping import SideArea
from airframe.model import Aeroplane
from airframe.parts.main_gear import WHEEL

SAG_MM = 5.0
"""Room that a lower gear must leave for its own giving way, beyond the propeller's clearance."""


OF_FEET = tuple(f"ground.{name}" for name in ("stands", "lateral", "overturn", "turn", "grass", "bump", "battery"))
"""Findings that follow from the feet and the balance point, whatever the outline of the model."""


def findings(aeroplane: Aeroplane, with_remedies: bool = True, with_outline: bool = True) -> list[Finding]:
    """Every finding on the ground; one that says so for an aeroplane without landing gear.

    Where remedies are not wanted, as while one is itself on trial, those of tipping over are not solved. Without the
    outline, which takes most of the time, only those of OF_FEET are found.
    """
    stands = standing(aeroplane)
    if stands is None:
        message = "Ground checks do not apply: there is no landing gear, it is hand launched and lands on its belly."
        return [Finding("ground", "info", None, "", (None, None), message, "gear.arrangement")]
    try:
        lies = _stands(stands, aeroplane)
    except ValueError as error:
        return [
            Finding(
                "ground.stands",
                "fail",
                None,
                "%",
                (0.0, None),
                f"It cannot stand: {error}.",
                "statics",
                (),
                _names(stands),
            )
        ]
    design, least_mm = aeroplane.design, _least_height_mm(aeroplane)
    side, nose = _side_and_nose(aeroplane, least_mm) if with_outline else (None, None)
    tips = overturn.findings(stands, design, aeroplane.statement, side, least_mm, with_remedies)
    if nose is None:
        return [lies, *tips]
    is_nose_wheel = design.gear.arrangement == "nose wheel"
    sits = attitude.strike(stands, design, nose.points) if is_nose_wheel else attitude.attitude(stands, design)
    return [lies, *tips, *nosing.findings(stands, nose), sits]


def _names(stands: Standing) -> tuple[str, ...]:
    return tuple(foot.name for foot in stands.feet)


def _stands(stands: Standing, aeroplane: Aeroplane) -> Finding:
    """Whether the balance point lies within the support triangle: then every foot carries weight."""
    shares, system = stands.shares, aeroplane.design.units
    loads = ", ".join(
        f"{foot.name} {units.force(share * stands.weight_n, system)} ({share:.0%})"
        for foot, share in zip(stands.feet, shares, strict=True)
    )
    stays = min(shares) >= 0.0
    if stays:
        message = f"It stands on all three points: {loads}."
    else:
        inside = min(line.inside_mm for line in stands.lines.values())
        message = f"It does not stand: the balance point lies {units.length(-inside, system)} outside its three points."
    return Finding(
        "ground.stands",
        "pass" if stays else "fail",
        round(100.0 * min(shares), 4),
        "%",
        (0.0, None),
        message,
        "statics: moments about the lines of the support triangle",
        () if stays else _under_it(stands, aeroplane),
        _names(stands),
    )


def _under_it(stands: Standing, aeroplane: Aeroplane) -> tuple[Remedy, ...]:
    station = remedies.first_that_passes(
        lambda value: min(stands.with_axle(value).shares) >= RESERVE_PERCENT / 100.0,
        stands.axle_mm,
        STEP_MM,
        REACH_MM,
    )
    if station is None:
        return ()
    typed = rounding.near(station, aeroplane.design.units)
    return (Remedy(f"move the main axle to station {typed}", (changes.setting("gear.axle_station", typed),)),)


def _side_and_nose(aeroplane: Aeroplane, least_mm: float) -> tuple[SideArea, Nose]:
    """What the outline of the whole model says: its side area, and the points that may strike the ground."""
    meshes = placed_meshes(aeroplane)
    area, x, z = shadow(side_triangles(vertices, faces) for _, vertices, faces in meshes)
    points = [vertices for part, vertices, _ in meshes if not part.name.startswith(WHEEL)]
    disk = aeroplane.propeller
    hub, pull = (disk.centre, disk.axis) if disk is not None else ((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0))
    nose = Nose(aeroplane.design, np.concatenate(points), thrust(aeroplane.layout), hub, pull, least_mm)
    return SideArea(area, (x, 0.0, z)), nose


def _least_height_mm(aeroplane: Aeroplane) -> float:
    """The lowest gear that keeps the propeller its room, thrust line level; half of the present one without any."""
    gear, disk = aeroplane.design.gear, aeroplane.propeller
    if disk is None:
        return gear.height_mm / attitude.TALLEST
    lowest: float = disk.diameter_mm / 2.0 * hypot(disk.axis[0], disk.axis[1]) - disk.centre[2]
    return lowest + aeroplane.design.limits.propeller.ground_clearance_mm + SAG_MM
