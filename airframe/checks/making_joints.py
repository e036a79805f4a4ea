"""What wire and screws ask: plywood where foam gives way, bends not too tight."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf, pi

import numpy as np

from airframe import units
from airframe.checks.changes import Change, altered, settings
from airframe.checks.finding import PRACTICE, Finding, Remedy, Verdict
from airframe.checks.fit_fastenings import screw_parts
from airframe.checks.pairs import NOISE_MM3, Pairs
from airframe.checks.rounding import round_up
from airframe.drawing import Panel, PartError, Wire
from airframe.layout import Layout
from airframe.parts import firewall
from airframe.schema.equipment import Screws

BEND_SOURCE = "the trade bends music wire at 1 to 2 diameters, from memory; limits.making.wire_bend_ratio"
DOUBLERS = ("birch plywood 1.5 mm", 40.0)
REINFORCEMENT = "birch plywood 0.8 mm"
BITE_SHARE = 0.75
"""A screw that shares this much of its shank with a sheet has no hole there, or one much too small: our choice."""
STRUCTURE = ("wing", "tail", "fuselage", "landing gear")


def findings(pairs: Pairs) -> list[Finding]:
    """Wire, firewall, dowels, screws."""
    return [
        *_wires(pairs),
        *_firewall(pairs.aeroplane.layout),
        *_dowels(pairs.aeroplane.layout),
        *_screws(pairs),
    ]


# --- wire -------------------------------------------------------------------------------------------------


def _wires(pairs: Pairs) -> Iterator[Finding]:
    """The gear's wires share one bend radius: the thickest of them decides."""
    design = pairs.aeroplane.design
    bent = {
        part.name: part.shape
        for part in pairs.aeroplane.parts
        if isinstance(part.shape, Wire) and len(part.shape.points) > 2 and part.group == "landing gear"
    }
    least = design.limits.making.wire_bend_ratio
    if not bent:
        yield Finding(
            "making.wire", "info", None, "", (None, None), "does not apply: no gear of bent wire", BEND_SOURCE
        )
        return
    name = min(bent, key=lambda one: bend_ratio(bent[one]))
    ratio, wire = bend_ratio(bent[name]), bent[name]
    radius, d = units.length(wire.bend_radius_mm, design.units), units.size(wire.diameter_mm, design.units)
    text = f"the {name}, {d} wire, is bent to an inside radius of {radius}: {ratio:.1f} diameters"
    change = Change(("gear", "bend_radius_mm"), round_up(least * wire.diameter_mm, design.units))
    remedy = Remedy(f"bend it to a radius of {change.written(design.units)}", settings([change], design.units))
    is_well = ratio >= least - 1e-9
    verdict: Verdict = "pass" if is_well else "fail"
    remedies = () if is_well else (remedy,)
    yield Finding("making.wire", verdict, ratio, "", (least, None), text, BEND_SOURCE, remedies, (name,))


def bend_ratio(wire: Wire) -> float:
    """Inside bend radius in wire diameters."""
    return wire.bend_radius_mm / wire.diameter_mm


# --- firewall and dowels ------------------------------------------------------------------------------------


def _firewall(layout: Layout) -> Iterator[Finding]:
    design = layout.design
    plate = design.fuselage.firewall
    is_foam = design.material(design.fuselage.material).look == "foam"
    code, parts = "making.firewall", ("firewall",)
    if plate.doubler_material is not None or not is_foam:
        text = "the firewall is glued to plywood doublers inside the sides" if is_foam else "the sides are not of foam"
        yield Finding(code, "pass", None, "", (None, None), text, PRACTICE, (), parts)
        return
    text = "the firewall is glued to bare foam, which tears out under the motor's pull: it wants plywood doublers"
    yield Finding(code, "fail", None, "", (None, None), text, PRACTICE, tuple(_doublers(layout)), parts)


def _doublers(layout: Layout) -> Iterator[Remedy]:
    """Doublers as long as there is room for, up to the usual length."""
    material, longest = DOUBLERS
    system = layout.design.units
    for length in np.arange(longest, 9.0, -5.0):
        changes = [Change(("fuselage", "firewall", "doubler_material"), material)]
        if length != layout.design.fuselage.firewall.doubler_behind_mm:
            changes.append(Change(("fuselage", "firewall", "doubler_behind_mm"), float(length)))
        try:
            firewall.parts(Layout(altered(layout.design, *changes)))
        except PartError:
            continue
        text = f"glue doublers of {material}, {units.length(float(length), system)} long, inside the sides behind it"
        yield Remedy(text, settings(changes, system))
        return


def _dowels(layout: Layout) -> Iterator[Finding]:
    mounting = layout.design.wing.mounting
    is_foam = layout.design.material(layout.design.fuselage.material).look == "foam"
    code, parts = "making.dowels", ("front wing dowel", "rear wing dowel")
    if mounting is None or not is_foam:
        text = "does not apply: no dowels in foam"
        yield Finding(code, "info", None, "", (None, None), text, PRACTICE)
    elif mounting.reinforcement is not None:
        text = "the dowels pass through plywood inside the sides"
        yield Finding(code, "pass", None, "", (None, None), text, PRACTICE, (), parts)
    else:
        text = "the dowels pass through bare foam, which the rubber bands pull oval: they want plywood"
        change = Change(("wing", "mounting", "reinforcement"), REINFORCEMENT)
        remedy = Remedy(f"glue {REINFORCEMENT} inside the sides round them", settings([change], layout.design.units))
        yield Finding(code, "caution", None, "", (None, None), text, PRACTICE, (remedy,), parts)


# --- screws -----------------------------------------------------------------------------------------------


def _screws(pairs: Pairs) -> Iterator[Finding]:
    """Screws that cut their own thread in sheet: in plywood worth knowing, in foam worth nothing."""
    design = pairs.aeroplane.design
    sheets = [part for part in pairs.aeroplane.parts if isinstance(part.shape, Panel) and part.group in STRUCTURE]
    for name, item in design.equipment.items():
        if not isinstance(item, Screws) or not item.fitted:
            continue
        own = [part for part in pairs.aeroplane.parts if part.name in screw_parts(name, item)]
        bitten = {
            sheet.name: sheet.material
            for _, sheet, meeting in pairs.meetings(own, sheets, settle_mm3=inf)
            if meeting.overlap_mm3 > NOISE_MM3 + BITE_SHARE * shank_mm3(item)
        }
        if not bitten:
            continue
        foam = [sheet for sheet, material in bitten.items() if material.look == "foam"]
        verdict: Verdict = "caution" if foam else "info"
        held = f"screws do not hold in foam ({', '.join(foam)})" if foam else "bolts through it hold better"
        text = f"the {name} cut their own thread in the {', the '.join(bitten)}: {held}"
        yield Finding(f"making.screws: {name}", verdict, None, "", (None, None), text, PRACTICE, (), (name, *bitten))


def shank_mm3(item: Screws) -> float:
    """Volume of one shank."""
    return pi / 4.0 * item.diameter_mm**2 * item.length_mm
