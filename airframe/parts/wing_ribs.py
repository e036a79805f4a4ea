"""Ribs under the wing's skin: where the design puts them, and one over each side of the fuselage."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, floor, tan

import numpy as np

from airframe import ruler
from airframe.axes import Array, Place
from airframe.drawing import Panel, Part, PartError, loop
from airframe.layout import Layout
from airframe.parts import common
from airframe.parts.wing_section import Section
from airframe.parts.wing_spar import SparLine

CENTRE_RIB = "centre rib"
LEAST_HEIGHT_MM = 1.5
"""A rib ends, front and rear, where the room under the skin falls below this."""
SAME_POINT_MM = 1e-3
"""Corners of a rib closer together than this are one."""
TOUCH_MM = 1e-6


@dataclass(frozen=True)
class Station:
    """Where one rib of the right half stands."""

    name: str
    section: Section
    y_mm: float
    """Of its middle, along the panel."""
    foot_mm: float
    """Height, in the panel's frame, of what it stands on."""


@dataclass(frozen=True)
class RibLines:
    """A rib's edges, own x from the panel's leading edge beside it, own y up from the section's lowest line."""

    outline: tuple[tuple[float, float], ...]
    glued: tuple[Array, ...]
    """Stretches (n, 2) of its edge that lie against a skin."""


def parts(layout: Layout, sections: tuple[Section, ...], spars: dict[int, SparLine]) -> list[Part]:
    """The ribs of both halves with their glue. Raises PartError for one that does not fit."""
    design = layout.design
    if design.wing.section == "flat plate":
        return []
    material = design.material(design.wing.rib_material or design.wing.material)
    adhesive = common.adhesive(design, material, design.material(design.wing.material))
    thickness = material.thickness_mm
    made: list[Part] = []
    for station in _stations(layout, sections, thickness):
        panel = station.section.panel
        lines = rib_lines(station, thickness, spars.get(panel.number))
        y = station.y_mm - thickness / 2.0
        own = common.upright_left_face(y, panel.leading_edge_mm(station.y_mm))
        place = panel.place.after(own)
        right = Part(station.name, common.WING, Panel(loop(lines.outline), thickness), place, material)
        made += common.both_sides(right)
        made.append(common.joint(station.name, common.both_sides_paths(_beads(place, lines, thickness)), adhesive))
    return made


def _beads(place: Place, lines: RibLines, thickness_mm: float) -> list[Array]:
    """One bead along each face of the rib, wherever it meets a skin."""
    faces = (0.0, -thickness_mm)
    return [place.apply(np.column_stack([run, np.full(len(run), z)])) for run in lines.glued for z in faces]


# --- where ribs stand -------------------------------------------------------------------------------------------


def _stations(layout: Layout, sections: tuple[Section, ...], thickness_mm: float) -> list[Station]:
    wing = layout.design.wing
    made = []
    if wing.centre_ribs:
        made.append(_centre_station(layout, sections[0], thickness_mm))
    for number, position in enumerate(sorted(wing.rib_positions), start=1):
        panel, y = layout.wing_panel_at(position)
        section = sections[panel.number - 1]
        name = f"wing rib {number}"
        low, high = _free(sections, section, thickness_mm)
        if not low <= y <= high:
            nearest = _nearest(sections, position, thickness_mm)
            raise PartError(name, f"at {ruler.exact(position)} it would cut into a joint or the tip; {nearest}")
        made.append(Station(name, section, y, section.floor_mm))
    _keep_apart(made, thickness_mm)
    return made


def _centre_station(layout: Layout, section: Section, thickness_mm: float) -> Station:
    """Outer face flush with the fuselage's, upright in the panel's frame, its foot down on the fuselage's edge."""
    wing = layout.design.wing
    dihedral = wing.panels[0].dihedral_rad
    stations = (wing.station_mm, wing.station_mm + wing.root_chord_mm)
    first, last = max(stations[0], layout.nose_mm), min(stations[1], layout.tail_mm)
    if first >= last:
        where = f"from station {ruler.span(stations[0], stations[1])}"
        reach = f"the fuselage reaches from {ruler.span(layout.nose_mm, layout.tail_mm)}"
        raise PartError(CENTRE_RIB, f"the wing's root, {where}, does not stand over the fuselage: {reach}")
    half_width = min(layout.half_width_mm(x) for x in (first, last))
    y = half_width / cos(dihedral) - thickness_mm / 2.0
    low, high = _free((section,), section, thickness_mm)
    if not low - TOUCH_MM <= y <= high + TOUCH_MM:
        sides = f"the fuselage's sides, {ruler.about(half_width)} off the centre"
        problem = f"{sides}, do not lie under the wing's first panel"
        room = f"has room for it from {ruler.span(low, high)}" if low <= high else "is too short for a rib"
        raise PartError(CENTRE_RIB, f"{problem}, which {room}; set centre_ribs = false, or lengthen that panel")
    # With dihedral the panel rises off the fuselage; a wing with a lower skin rests on that.
    gap = 0.0 if section.is_folded else max((y - thickness_mm / 2.0) * tan(dihedral), 0.0)
    return Station(CENTRE_RIB, section, y, section.floor_mm - gap)


def _free(sections: tuple[Section, ...], section: Section, thickness_mm: float) -> tuple[float, float]:
    """From where to where the middle of a rib may stand on a panel: off its joints, or flush with the wing's tip."""
    panel = section.panel
    root_height = float(section.root[:, 1].max())
    tip_height = float(section.tip[:, 1].max())
    low = thickness_mm + max(-root_height * panel.root_cut[2] / panel.root_cut[1], 0.0)
    if section is sections[-1]:
        return low, panel.span_mm - thickness_mm / 2.0
    return low, panel.span_mm - thickness_mm - max(tip_height * panel.tip_cut[2] / panel.tip_cut[1], 0.0)


def _nearest(sections: tuple[Section, ...], position_mm: float, thickness_mm: float) -> str:
    """The nearest place that would do, in words, to a mark of the ruler on the safe side."""
    places: list[tuple[float, str]] = []
    for section in sections:
        low, high = _free(sections, section, thickness_mm)
        start = section.panel.from_centre_mm
        if low < high:
            ends = (start + low, ruler.least), (start + high, ruler.most)
            places += [(abs(end - position_mm), told(end)) for end, told in ends]
    if not places:
        return "no panel is long enough for a rib"
    return f"the nearest place for it is {min(places)[1]} from the centre"


def _keep_apart(stations: list[Station], thickness_mm: float) -> None:
    ordered = sorted(stations, key=lambda s: s.section.panel.from_centre_mm + s.y_mm)
    for inner, outer in pairwise(ordered):
        gap = outer.section.panel.from_centre_mm + outer.y_mm - inner.section.panel.from_centre_mm - inner.y_mm
        if outer.section is inner.section and gap < thickness_mm - TOUCH_MM:
            apart = f"{ruler.about(gap)} from middle to middle, both {ruler.exact(thickness_mm)} thick"
            cure = f"move one {ruler.least(thickness_mm - gap)}, or leave it out"
            raise PartError(outer.name, f"it overlaps the {inner.name}: {apart}; {cure}")


# --- what a rib looks like ----------------------------------------------------------------------------------------


def rib_lines(station: Station, thickness_mm: float, spar: SparLine | None) -> RibLines:
    """The edges of one rib: as high as the room under the skin at both of its faces, notched for the spar.

    Raises PartError where there is no room for a rib, or the spar would cut it in two.
    """
    section = station.section
    top = _clipped(_room(section, station.y_mm, thickness_mm), section.floor_mm + LEAST_HEIGHT_MM)
    if top is None:
        cure = "set centre_ribs = false" if station.name == CENTRE_RIB else "leave it out"
        problem = f"there is less than {ruler.exact(LEAST_HEIGHT_MM)} of room under the skin"
        raise PartError(station.name, f"{problem}; {cure}")
    runs = [top]
    if spar is not None:
        low, high, depth = spar.notch(station.y_mm, thickness_mm)
        if depth < station.foot_mm + LEAST_HEIGHT_MM:
            most = floor((spar.height_mm - station.foot_mm - LEAST_HEIGHT_MM + depth) * 10.0) / 10.0
            cure = f"a spar {ruler.most(most)} high would not" if most > 0.0 else "move the spar"
            raise PartError(station.name, f"the spar cuts it in two; {cure}")
        runs = _parted(top, low, high)
        notch = [(low, depth), (high, depth)]
        ridge = np.vstack([runs[0], notch, runs[1]])
    else:
        ridge = top
    foot = np.array([[top[0, 0], station.foot_mm], [top[-1, 0], station.foot_mm]])
    shift = (section.panel.leading_edge_mm(station.y_mm), 0.0)
    outline = _cleaned(np.vstack([foot, ridge[::-1]]) - shift)
    glued = [run - shift for run in (*runs, *((foot,) if section.is_folded else ()))]
    return RibLines(tuple((float(x), float(z)) for x, z in outline), tuple(glued))


def _room(section: Section, y_mm: float, thickness_mm: float) -> Array:
    """(n, 2) the lower of the skin's undersides over the rib's two faces: both are convex, so is the lower of them."""
    first, second = (section.underside(y_mm + side * thickness_mm / 2.0) for side in (-1.0, 1.0))
    low, high = max(first[0, 0], second[0, 0]), min(first[-1, 0], second[-1, 0])
    # A set and not np.unique, whose first call imports the masked arrays: a tenth of a second `weigh`.
    x = np.array(sorted({low, high, *first[:, 0].tolist(), *second[:, 0].tolist()}))
    x = x[(x >= low) & (x <= high)]
    difference = np.interp(x, first[:, 0], first[:, 1]) - np.interp(x, second[:, 0], second[:, 1])
    k = np.flatnonzero(difference[:-1] * difference[1:] < 0.0)
    crossing = x[k] + (x[k + 1] - x[k]) * difference[k] / (difference[k] - difference[k + 1])
    x = np.sort(np.concatenate([x, crossing]))
    z = np.minimum(np.interp(x, first[:, 0], first[:, 1]), np.interp(x, second[:, 0], second[:, 1]))
    return np.column_stack([x, z])


def _clipped(top: Array, least_mm: float) -> Array | None:
    """The stretch of a convex line that lies above a height, with its ends on that height where it is cut."""
    above = np.flatnonzero(top[:, 1] > least_mm)
    if not len(above):
        return None
    i, j = int(above[0]), int(above[-1])
    kept = [*top[i : j + 1]]
    if i > 0:
        kept.insert(0, _at_height(top[i - 1], top[i], least_mm))
    if j < len(top) - 1:
        kept.append(_at_height(top[j], top[j + 1], least_mm))
    return np.array(kept)


def _at_height(a: Array, b: Array, z: float) -> Array:
    point: Array = a + (b - a) * (z - a[1]) / (b[1] - a[1])
    return point


def _parted(top: Array, low_mm: float, high_mm: float) -> list[Array]:
    """The line without the stretch from low to high."""
    ends = np.interp([low_mm, high_mm], top[:, 0], top[:, 1])
    before, after = top[top[:, 0] < low_mm], top[top[:, 0] > high_mm]
    return [np.vstack([before, [(low_mm, ends[0])]]), np.vstack([[(high_mm, ends[1])], after])]


def _cleaned(corners: Array) -> Array:
    """Without corners that coincide or lie on a straight edge."""
    apart = np.linalg.norm(corners - np.roll(corners, 1, axis=0), axis=1) > SAME_POINT_MM
    ring = corners[apart]
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    turn = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    kept: Array = ring[np.abs(turn) > SAME_POINT_MM * np.linalg.norm(before, axis=1)]
    return kept
