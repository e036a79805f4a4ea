"""The wing: skins, their joints and tape; with ribs, spar and rubber bands it is whole."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from airframe import strips
from airframe.axes import Array, Place, Point
from airframe.drawing import Film, Panel, Part, PartError, points3
from airframe.layout import Layout
from airframe.parts import common, wing_bands, wing_ribs, wing_spar
from airframe.parts.wing_section import Section, sections


def parts(layout: Layout) -> list[Part]:
    """Every part of the wing with its glue. Raises PartError for what cannot be built."""
    made = sections(layout)
    result: list[Part] = []
    for section in made:
        result += _skin(layout, section)
    spars = wing_spar.spar_lines(layout, made)
    result += wing_ribs.parts(layout, made, spars)
    result += wing_spar.parts(layout, made, spars)
    result += wing_bands.parts(layout, made[0])
    result += _joints(layout, made)
    result += _tapes(layout, made)
    return result


# --- skins ----------------------------------------------------------------------------------------------------


def _skin(layout: Layout, section: Section) -> list[Part]:
    """One piece a panel and side, its ends cut to lie in the joint planes."""
    panel = section.panel
    name = f"wing skin {panel.number}"
    cuts = section.cut(from_tip=True), section.cut(from_tip=False)
    drawing, own = _strip(name, cuts, (panel.tip_cut, panel.root_cut), section.thickness_mm)
    material = layout.design.material(layout.design.wing.material)
    return common.both_sides(Part(name, common.WING, drawing, panel.place.after(own), material))


def _strip(
    name: str, edges: tuple[Array, Array], planes: tuple[Point, Point], thickness_mm: float
) -> tuple[Panel, Place]:
    """A piece of skin from an outboard to an inboard edge, each in its plane; its outer face looks out of the wing."""
    try:
        return strips.strip_panel(*edges, thickness_mm, *planes)
    except strips.FlatnessError as error:
        raise PartError(name, str(error)) from error


# --- joints ---------------------------------------------------------------------------------------------------


def _joints(layout: Layout, made: tuple[Section, ...]) -> list[Part]:
    """Glue between the halves, between the panels, and along a folded section's trailing edges."""
    design = layout.design
    adhesive = common.adhesive(design, design.material(design.wing.material))
    centre = made[0].panel.place.apply(made[0].cut(from_tip=False))
    glue = [common.joint("wing centre joint", [points3(centre.tolist())], adhesive)]
    for inner, outer in pairwise(made):
        line = inner.panel.place.apply(inner.cut(from_tip=True))
        name = f"wing joint {inner.panel.number}-{outer.panel.number}"
        glue.append(common.joint(name, common.both_sides_paths([line]), adhesive))
    if made[0].is_folded:
        edges = [section.panel.place.apply(_trailing_edge(section)) for section in made]
        glue.append(common.joint("wing trailing edges", common.both_sides_paths(edges), adhesive))
    return glue


def _trailing_edge(section: Section) -> Array:
    """Where the upper skin's inner corner lies on the lower skin."""
    ends = [(y, section.underside(y)[-1]) for y in (0.0, section.panel.span_mm)]
    return np.array([(inner[0], y, section.floor_mm) for y, inner in ends])


# --- tape -----------------------------------------------------------------------------------------------------


def _tapes(layout: Layout, made: tuple[Section, ...]) -> list[Part]:
    """Tape over every joint, half its width on each panel that meets there; inside too where a hand can reach."""
    wing = layout.design.wing
    if wing.joint_tape is None:
        return []
    result = _tape(layout, made[0], "tape, centre joint", from_tip=False)
    for inner, outer in pairwise(made):
        joint = f"tape, joint {inner.panel.number}-{outer.panel.number}"
        result += _tape(layout, inner, f"{joint} inboard", from_tip=True)
        result += _tape(layout, outer, f"{joint} outboard", from_tip=False)
    return result


def _tape(layout: Layout, section: Section, name: str, from_tip: bool) -> list[Part]:
    wing = layout.design.wing
    assert wing.joint_tape is not None
    inset = min(wing.joint_tape_width_mm, section.shortest_mm) / 2.0
    joint, edge = section.cut(from_tip), section.cut(from_tip, inset)
    plane = section.panel.tip_cut if from_tip else section.panel.root_cut
    drawing, own = _strip(name, (joint, edge) if from_tip else (edge, joint), (plane, plane), section.thickness_mm)
    film = Film(drawing, "outer" if section.is_folded else "both")
    place = section.panel.place.after(own)
    return common.both_sides(Part(name, common.FINISH, film, place, layout.design.material(wing.joint_tape)))
