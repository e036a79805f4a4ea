"""What glue, wire and screws ask: enough joint, plywood where foam gives way, bends not too tight."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, pi

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.checks.changes import Change, altered, round_up, settings
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.fit_fastenings import screw_parts
from airframe.checks.pairs import NOISE_MM3, Pairs
from airframe.drawing import Bead, Panel, Part, PartError, Wire
from airframe.layout import Layout
from airframe.parts import firewall
from airframe.parts.common import GLUE
from airframe.schema.equipment import Screws

PRACTICE = "common practice, no source"
BEND_SOURCE = "the trade bends music wire at 1 to 2 diameters, from memory; limits.making.wire_bend_ratio"
GLUE_SOURCE = "our choice: glue over longest side, limits.making.glue_share"
STEP_MM = 3.0
"""Glue lines are followed in steps of about this length."""
NEAR_MM = 1.0
"""Glue this near the box that a part just fits in counts as its own."""
DOUBLERS = ("birch plywood 1.5 mm", 40.0)
REINFORCEMENT = "birch plywood 0.8 mm"
BITE_SHARE = 0.75
"""A screw that shares this much of its shank with a sheet has no hole there, or one much too small: our choice."""
LOOSE = ("lid",)
"""Parts with these words in their names are taken off and not glued."""
STRUCTURE = ("wing", "tail", "fuselage", "landing gear")


def findings(pairs: Pairs) -> list[Finding]:
    """Wire, glue, firewall, dowels, screws."""
    return [
        *_wires(pairs),
        *_glue(pairs),
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
    radius, d = units.length(wire.bend_radius_mm, design.units), units.length(wire.diameter_mm, design.units)
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


# --- glue -------------------------------------------------------------------------------------------------


def _glue(pairs: Pairs) -> Iterator[Finding]:
    """Every built sheet part: length of glue that lies on it over its longest side."""
    least = pairs.aeroplane.design.limits.making.glue_share
    steps, lengths = _glue_steps(pairs.aeroplane.parts)
    leanest: tuple[float, str] | None = None
    is_amiss = False
    for part in pairs.aeroplane.parts:
        if not isinstance(part.shape, Panel) or part.group not in STRUCTURE or any(w in part.name for w in LOOSE):
            continue
        share = glued_share(pairs, part, steps, lengths)
        if leanest is None or share < leanest[0]:
            leanest = (share, part.name)
        if share < least - 1e-9:
            is_amiss = True
            yield _too_little(pairs, part, share, least)
    if leanest is not None and not is_amiss:
        value = 100.0 * leanest[0]
        text = f"every part is held by enough glue; the {leanest[1]} by least, {value:.0f} % of its longest side"
        yield Finding("making.glue", "pass", value, "%", (100.0 * least, None), text, GLUE_SOURCE, (), (leanest[1],))


def _glue_steps(parts: tuple[Part, ...]) -> tuple[Array, Array]:
    """Middles (n, 3) of short steps along every glue line, and their lengths (n,)."""
    middles, lengths = [np.zeros((0, 3))], [np.zeros(0)]
    for part in parts:
        if part.group != GLUE or not isinstance(part.shape, Bead):
            continue
        for path in part.shape.paths:
            for a, b in pairwise(part.place.apply(path)):
                length = float(np.linalg.norm(b - a))
                count = max(ceil(length / STEP_MM), 1)
                shares = (np.arange(count) + 0.5) / count
                middles.append(a + shares[:, None] * (b - a))
                lengths.append(np.full(count, length / count))
    return np.vstack(middles), np.concatenate(lengths)


def glued_share(pairs: Pairs, part: Part, steps: Array, lengths: Array) -> float:
    """Length of the glue on a part over the longest side of the box it just fits in, in its own frame.

    Glue counts where its line lies in that box, or within 1 mm of it: exact for flat parts, generous for bent ones.
    """
    corners = pairs.aeroplane.record(part).vertices.astype(np.float64)
    low, high = corners.min(axis=0), corners.max(axis=0)
    own = (steps - np.array(part.place.origin)) @ np.array(part.place.rotation)
    on_it = np.all((own >= low - NEAR_MM) & (own <= high + NEAR_MM), axis=1)
    return float(lengths[on_it].sum() / (high - low).max())


def _too_little(pairs: Pairs, part: Part, share: float, least: float) -> Finding:
    text = f"the {part.name} is held by glue along {100.0 * share:.0f} % of its longest side"
    verdict: Verdict = "fail" if share == 0.0 else "caution"
    remedies = tuple(_glue_remedies(pairs.aeroplane.layout, part, share, least))
    return Finding(
        f"making.glue: {part.name}",
        verdict,
        100.0 * share,
        "%",
        (100.0 * least, None),
        text,
        GLUE_SOURCE,
        remedies,
        (part.name,),
    )


def _glue_remedies(layout: Layout, part: Part, share: float, least: float) -> Iterator[Remedy]:
    """More strips on a hinge; elsewhere a wider joint, which no key gives."""
    tail, system = layout.design.tail, layout.design.units
    for name in ("elevator", "rudder"):
        if part.name.split(" ")[0] == name and "horn" not in part.name and share > 0.0:
            length = getattr(tail, name).hinge.strip_length_mm * least / share
            change = Change(("tail", name, "hinge", "strip_length_mm"), float(ceil(length)))
            text = f"make the {name}'s hinge strips {change.written(system)} long"
            yield Remedy(text, settings([change], system))


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
            for _, sheet, meeting in pairs.meetings(own, sheets)
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
