"""The spar: a strip along each panel of the wing, under its upper skin."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

import numpy as np

from airframe import ruler
from airframe.axes import Array, Place, frame
from airframe.drawing import Block, Part, PartError, points3
from airframe.layout import Layout
from airframe.parts import common
from airframe.parts.wing_section import Section
from airframe.schema.wing import Spar

SAMPLES = 9
"""Places along a panel where the spar's top is held under the skin."""


@dataclass(frozen=True)
class SparLine:
    """One panel's spar, in the panel's frame: a straight strip of rectangular section, ends square."""

    width_mm: float
    height_mm: float
    top_root: Array
    """(3,) middle of its upper face at y = 0, whether or not the strip reaches there."""
    top_tip: Array
    from_mm: float
    """Where the strip begins, along its own length from the root."""
    to_mm: float

    @property
    def axes(self) -> tuple[Array, Array, Array]:
        """Unit vectors: across (level, aft), along (to the tip), up."""
        along = self.top_tip - self.top_root
        along = along / np.linalg.norm(along)
        across = np.array([along[1], -along[0], 0.0]) / hypot(along[0], along[1])
        return across, along, np.cross(across, along)

    @property
    def place(self) -> Place:
        """Carries the strip, centred on its origin, into the panel's frame."""
        across, along, up = self.axes
        middle = self.top_root + along * (self.from_mm + self.to_mm) / 2.0 - up * self.height_mm / 2.0
        return frame(across, along, middle)

    def notch(self, y_mm: float, thickness_mm: float) -> tuple[float, float, float]:
        """Own x from and to, and depth z, of the notch it needs in a rib about y."""
        across, along, up = self.axes
        half_x = self.width_mm / 2.0 / float(across[0])
        faces = [self._top(y_mm + side * thickness_mm / 2.0) for side in (-1.0, 1.0)]
        x = [float(face[0]) for face in faces]
        tilt = half_x * abs(float(across[1] * along[2]))
        bottom = min(float(face[2]) for face in faces) - self.height_mm / float(up[2]) - tilt
        return min(x) - half_x, max(x) + half_x, bottom

    def _top(self, y_mm: float) -> Array:
        share = y_mm / float(self.top_tip[1] - self.top_root[1])
        point: Array = self.top_root + (self.top_tip - self.top_root) * share
        return point


def _full_length(section: Section, spar: Spar) -> SparLine:
    """One panel's spar as high up as its skin lets it, without ends. Raises PartError where it is off the section."""
    panel = section.panel
    span = panel.span_mm
    x0 = spar.position_share * panel.root_chord_mm
    x1 = panel.tip_offset_mm + spar.position_share * panel.tip_chord_mm
    half_x = spar.width_mm / 2.0 * hypot(x1 - x0, span) / span
    y = np.linspace(0.0, span, SAMPLES)
    room = np.array([_lowest(section, float(at), x0 + (x1 - x0) * at / span, half_x) for at in y])
    if not np.isfinite(room).all():
        raise PartError(f"wing spar {panel.number}", "it would stand out of the section; move it off the wing's edge")
    # Straight from root to tip, and nowhere through the skin.
    line = np.interp(y, (0.0, span), (room[0], room[-1]))
    z0, z1 = np.array([room[0], room[-1]]) - max(float((line - room).max()), 0.0)
    ends = np.array([x0, 0.0, z0]), np.array([x1, span, z1])
    return SparLine(spar.width_mm, spar.height_mm, *ends, 0.0, float(np.inf))


def _refuse_high(sections: tuple[Section, ...], lines: list[SparLine], height_mm: float) -> None:
    """Raise PartError, with what all panels have room for, if the spar stands out of one."""
    room = [
        float(min(line.top_root[2], line.top_tip[2])) - section.floor_mm
        for section, line in zip(sections, lines, strict=True)
    ]
    most = min(room)
    if height_mm > most + common.SLACK_MM:
        name = f"wing spar {sections[room.index(most)].panel.number}"
        fits = f"a height up to {ruler.most(most)} would fit" if most >= 0.1 else "move it off the edge"
        raise PartError(name, f"{ruler.exact(height_mm)} is more than there is room for under the skin; {fits}")


def _lowest(section: Section, y_mm: float, x_mm: float, half_x_mm: float) -> float:
    """Lowest point of the skin's underside over the spar's width: at one of its edges, for the skin is convex."""
    skin = section.underside(y_mm)
    edges = [x_mm - half_x_mm, x_mm + half_x_mm]
    return float(np.interp(edges, skin[:, 0], skin[:, 1], left=-np.inf, right=-np.inf).min())


def _shortened(line: SparLine, section: Section) -> SparLine:
    """Cut square so that none of its corners crosses the joint planes."""
    across, along, up = line.axes
    corners = np.array(
        [
            line.top_root + across * side * line.width_mm / 2.0 - up * depth
            for side in (-1.0, 1.0)
            for depth in (0.0, line.height_mm)
        ]
    )
    panel = section.panel
    root, tip = np.array(panel.root_cut), np.array(panel.tip_cut)
    tip_point = np.array([panel.tip_offset_mm, panel.span_mm, 0.0])
    start = float((-(corners @ root) / (along @ root)).max())
    end = float((((tip_point - corners) @ tip) / (along @ tip)).min())
    return SparLine(line.width_mm, line.height_mm, line.top_root, line.top_tip, start, end)


def spar_lines(layout: Layout, sections: tuple[Section, ...]) -> dict[int, SparLine]:
    """The spar of each panel of the right half, by the panel's number; none where the design has no spar.

    Raises PartError where there is no room for it under the skin.
    """
    spar = layout.design.wing.spar
    if spar is None:
        return {}
    lines = [_full_length(section, spar) for section in sections]
    _refuse_high(sections, lines, spar.height_mm)
    return {section.panel.number: _shortened(line, section) for section, line in zip(sections, lines, strict=True)}


def parts(layout: Layout, sections: tuple[Section, ...], lines: dict[int, SparLine]) -> list[Part]:
    """The spars of both halves, glued to the skin along both upper edges."""
    design, spar = layout.design, layout.design.wing.spar
    if spar is None:
        return []
    material = design.material(spar.material)
    adhesive = common.adhesive(design, material, design.material(design.wing.material))
    made: list[Part] = []
    for section in sections:
        line, name = lines[section.panel.number], f"wing spar {section.panel.number}"
        length = line.to_mm - line.from_mm
        if length <= 0.0:
            raise PartError(name, "the slant of the joints leaves nothing of it; lengthen the panel")
        place = section.panel.place.after(line.place)
        block = Block(points3([(line.width_mm, length, line.height_mm)])[0])
        made += common.both_sides(Part(name, common.WING, block, place, material))
        half, top = line.width_mm / 2.0, line.height_mm / 2.0
        edges = [place.apply([(x, -length / 2.0, top), (x, length / 2.0, top)]) for x in (-half, half)]
        made.append(common.joint(name, common.both_sides_paths(edges), adhesive))
    return made
