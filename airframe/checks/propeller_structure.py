"""Findings on the room between the swept disk and the structure: ahead, behind, and beyond the tips."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from airframe import units
from airframe.axes import frame
from airframe.checks import changes, rounding
from airframe.checks.finding import Finding, Remedy
from airframe.checks.propeller_gaps import axial_gap, radial_reach
from airframe.checks.surface import placed_meshes
from airframe.layout import Layout
from airframe.model import Aeroplane
from airframe.parts.equipment import PropellerDisk
from airframe.schema.design import Design
from airframe.schema.equipment import Motor, Propeller

SEARCH_MM = 200.0
"""Structure further from the disk than this, along its axis, is not measured."""
_RULE = "14 CFR 23.925(c) (pre-2017) asks 1/2 in along the axis and 1 in beyond the tips at full size"


@dataclass(frozen=True)
class Gap:
    """Between the disk and one part."""

    part: str
    axial_mm: float
    """Positive behind the disk, negative ahead, infinite where the part lies outside its radius."""
    reach_mm: float
    """The part's least distance from the axis, near the disk's plane; infinite where it is not near."""


def structure_findings(aeroplane: Aeroplane, disk: PropellerDisk) -> list[Finding]:
    """Along the axis, and beyond the tips."""
    gaps = measured(aeroplane, disk)
    return [_axial(gaps, aeroplane.layout), _radial(gaps, aeroplane.layout, disk)]


def measured(aeroplane: Aeroplane, disk: PropellerDisk) -> list[Gap]:
    """Every part near the disk; the disk is as thick as the propeller's hub is long.

    Motor and propeller are left out: they turn with it, or carry it.
    """
    design = aeroplane.design
    items = design.equipment.items()
    turning = {name for name, item in items if isinstance(item, Motor | Propeller)}
    half, radius = propeller_of(design).hub_length_mm / 2.0, disk.diameter_mm / 2.0
    aft = (-disk.axis[0], -disk.axis[1], -disk.axis[2])
    place = frame(aft, (0.0, 1.0, 0.0), disk.centre)
    slab = half + design.limits.propeller.axial_gap_mm
    result = []
    for part, vertices, faces in placed_meshes(aeroplane):
        own = (vertices - place.origin) @ place.rotation
        if part.name in turning or own[:, 0].min() > SEARCH_MM or own[:, 0].max() < -SEARCH_MM:
            continue
        result.append(Gap(part.name, axial_gap(own, faces, radius, half), radial_reach(own, faces, slab)))
    return result


def propeller_of(design: Design) -> Propeller:
    """The propeller whose disk it is. Raises StopIteration without one."""
    return next(item for item in design.equipment.values() if isinstance(item, Propeller) and item.fitted)


def _axial(gaps: list[Gap], layout: Layout) -> Finding:
    design = layout.design
    low, system = design.limits.propeller.axial_gap_mm, design.units
    source = f"{_RULE}; limits.propeller.axial_gap is our choice; exact distance from disk to mesh"
    within = sorted((gap for gap in gaps if isfinite(gap.axial_mm)), key=lambda gap: abs(gap.axial_mm))
    if not within:
        message = "Nothing lies ahead of the propeller or behind it, within its radius."
        return Finding("propeller.axial", "info", None, "mm", (low, None), message, source)
    nearest, lacking = within[0], [gap for gap in within if abs(gap.axial_mm) < low]
    where = "ahead of it" if nearest.axial_mm < 0.0 else "behind it"
    others = ", ".join(gap.part for gap in lacking[1:])
    message = (
        f"The nearest structure along the propeller's axis is {nearest.part}, "
        f"{units.length(abs(nearest.axial_mm), system)} {where}; {units.length(low, system)} is wanted"
    )
    message += f"; too near are also {others}." if others else "."
    return Finding(
        "propeller.axial",
        "fail" if lacking else "pass",
        round(abs(nearest.axial_mm), 4),
        "mm",
        (low, None),
        message,
        source,
        _more_room(lacking, low, layout) if lacking else (),
        tuple(gap.part for gap in lacking or within[:1]),
    )


def _more_room(lacking: list[Gap], low_mm: float, layout: Layout) -> tuple[Remedy, ...]:
    """A longer shaft; shorter cowls and belly pans, if only they are too near. Neither helps with what lies ahead."""
    if any(gap.axial_mm < 0.0 for gap in lacking):
        return ()
    missing = low_mm - min(gap.axial_mm for gap in lacking)
    return (*_longer_shaft(missing, layout.design), *_shorter_shells(lacking, low_mm, layout))


def _longer_shaft(missing_mm: float, design: Design) -> tuple[Remedy, ...]:
    motor = next(((n, m) for n, m in design.equipment.items() if isinstance(m, Motor) and m.fitted), None)
    if motor is None:
        return ()
    name, table = motor
    # A shaft no longer than the hub leaves the hub against the motor: only what is longer moves it forward.
    typed = rounding.more(max(table.shaft_length_mm, propeller_of(design).hub_length_mm) + missing_mm, design.units)
    setting = changes.setting(changes.item_key(name, "shaft_length"), typed)
    return (Remedy(f"take a motor shaft of {typed}", (setting,)),)


def _shorter_shells(lacking: list[Gap], low_mm: float, layout: Layout) -> tuple[Remedy, ...]:
    design, settings, words = layout.design, [], []
    shells = {shell.name: (number, shell) for number, shell in enumerate(design.fuselage.shells)}
    if any(gap.part not in shells for gap in lacking):
        return ()
    lean = abs(layout.thrust_place.turn((1.0, 0.0, 0.0))[0])
    for gap in lacking:
        number, shell = shells[gap.part]
        station = rounding.more(shell.front.station_mm + (low_mm - gap.axial_mm) / float(lean), design.units)
        settings.append(changes.setting(f"fuselage.shells.{number}.front.station", station))
        words.append(f"start {gap.part} at station {station}")
    return (Remedy(" and ".join(words), tuple(settings)),)


def _radial(gaps: list[Gap], layout: Layout, disk: PropellerDisk) -> Finding:
    """Beyond the tips: of parts that are not already too near along the axis."""
    design = layout.design
    limits, system = design.limits.propeller, design.units
    low, radius = limits.radial_gap_mm, disk.diameter_mm / 2.0
    source = f"{_RULE}; limits.propeller.radial_gap is our choice; exact distance from disk to mesh"
    beside = [gap for gap in gaps if isfinite(gap.reach_mm) and abs(gap.axial_mm) >= limits.axial_gap_mm]
    if not beside:
        message = "Nothing lies beside the propeller's tips."
        return Finding("propeller.radial", "info", None, "mm", (low, None), message, source)
    nearest = min(beside, key=lambda gap: gap.reach_mm)
    room = nearest.reach_mm - radius
    message = (
        f"The nearest structure beyond the propeller's tips is {nearest.part}, {units.length(room, system)} away; "
        f"{units.length(low, system)} is wanted."
    )
    passes = room >= low
    return Finding(
        "propeller.radial",
        "pass" if passes else "fail",
        round(room, 4),
        "mm",
        (low, None),
        message,
        source,
        () if passes else smaller_propeller(disk.diameter_mm - 2.0 * (low - room), design),
        (nearest.part,),
    )


def smaller_propeller(diameter_mm: float, design: Design) -> tuple[Remedy, ...]:
    """Take one of at most this diameter; nothing where no blade would be left."""
    name, table = next((n, p) for n, p in design.equipment.items() if isinstance(p, Propeller) and p.fitted)
    if diameter_mm < 2.0 * table.hub_diameter_mm + 2.0 * rounding.RESERVE_MM:
        return ()
    typed = rounding.less(diameter_mm, design.units)
    return (
        Remedy(
            f"take a propeller of {typed} diameter",
            (changes.setting(changes.item_key(name, "diameter"), typed),),
        ),
    )
