"""The lifting surfaces of a design as sheets for the lattice; metres, aeroplane's frame.

What the lattice does not see: the fuselage, thickness, and the gaps at the hinges, which are taken as sealed.
"""

from __future__ import annotations

from math import asin, pi

import numpy as np
from numpy.typing import ArrayLike

from airframe.axes import Array, Place
from airframe.flight.axes import M_PER_MM
from airframe.flight.lattice import Lattice
from airframe.flight.panels import CONTROL_SHARE, Edge, Sheet, cut, even, even_strips, towards_tip
from airframe.layout import Layout
from airframe.parts.tail_lines import Surface, TailLines, tail_lines
from airframe.parts.wing_section import Section, sections

WING_STRIPS, WING_ROWS = 16, 6
"""Of a half wing: its lift slope is then within 1e-3 of that of a lattice twice as fine each way."""
TAIL_STRIPS, FIXED_ROWS, MOVING_ROWS = 6, 3, 3
"""Of half a stabiliser, or of the fin."""
LEAST_STRIP_MM = 1.0
"""A gap or clearance narrower than this gets no strip of its own."""
UP, LEFT = (0.0, 0.0, 1.0), (0.0, -1.0, 0.0)


def lattice(layout: Layout, ground_mm: float | None = None) -> Lattice:
    """The lattice of wing and tail, perhaps over a ground at a water line. Raises PartError as the parts do."""
    return Lattice(cut(sheets(layout)), None if ground_mm is None else ground_mm * M_PER_MM)


def sheets(layout: Layout) -> tuple[Sheet, ...]:
    """Wing, stabiliser with elevator, fin with rudder. Raises PartError for what cannot be drawn."""
    return (*wing_sheets(layout), *tail_sheets(layout))


def tail_sheets(layout: Layout) -> tuple[Sheet, ...]:
    """Stabiliser with elevator, and fin with rudder."""
    lines, place = tail_lines(layout), layout.stabiliser_place
    right = _stabiliser(lines, place)
    return (*(sheet.mirrored() for sheet in right), *right, *_upright(lines, place))


def wing_sheets(layout: Layout) -> tuple[Sheet, ...]:
    """Both halves of the wing, through the fuselage."""
    found = sections(layout)
    half = found[-1].panel.from_centre_mm + found[-1].panel.span_mm
    lift_m = M_PER_MM * float(np.mean(_mean_line(found[0])[:, 1])) * np.array(UP)
    right = [_wing_panel(section, half, lift_m) for section in found]
    return (*(sheet.mirrored() for sheet in right), *right)


# --- wing ------------------------------------------------------------------------------------------------------


def _wing_panel(section: Section, half_mm: float, lift_m: Array) -> Sheet:
    """One panel of the right half; `lift_m` takes it from the section's lowest line to its mean height."""
    panel = section.panel
    reach = panel.from_centre_mm / half_mm, min((panel.from_centre_mm + panel.span_mm) / half_mm, 1.0)
    count = max(round(WING_STRIPS * (asin(reach[1]) - asin(reach[0])) / (pi / 2.0)), 1)
    cuts = even(WING_ROWS)
    start = _edge(panel.place, (0.0, 0.0, 0.0), panel.root_chord_mm, cuts, lift_m)
    end = _edge(panel.place, (panel.tip_offset_mm, panel.span_mm, 0.0), panel.tip_chord_mm, cuts, lift_m)
    slopes = _slopes(_mean_line(section), cuts[:-1] + CONTROL_SHARE * np.diff(cuts))
    local = np.column_stack([-slopes, np.zeros(len(slopes)), np.ones(len(slopes))])
    normals = panel.place.turn(local / np.linalg.norm(local, axis=1)[:, None])
    return Sheet("wing", start, end, towards_tip(count, *reach), normals)


def _mean_line(section: Section) -> Array:
    """(n, 2) x and z, mm, of the section's mean line at the panel's root: of the bent plate, or midway of two skins."""
    upper = section.root[section.upper :]
    return upper * (1.0, 0.5) if section.is_folded else upper


def _slopes(line: Array, shares: Array) -> Array:
    """dz/dx of a mean line at shares of the chord: the facets' slopes at their middles, straight between."""
    x = (line[:, 0] - line[0, 0]) / (line[-1, 0] - line[0, 0])
    slopes = np.diff(line[:, 1]) / np.diff(line[:, 0])
    between: Array = np.interp(shares, (x[:-1] + x[1:]) / 2.0, slopes)
    return between


# --- tail ------------------------------------------------------------------------------------------------------


def _stabiliser(lines: TailLines, place: Place) -> list[Sheet]:
    """The right half: inside a split elevator's gap the stabiliser alone."""
    z = lines.thickness_mm / 2.0
    half, inner = lines.stabiliser.to_mm, lines.elevator.from_mm
    inner = inner if inner > LEAST_STRIP_MM else 0.0
    reach = inner / half
    count = max(round(TAIL_STRIPS * (1.0 - asin(reach) / (pi / 2.0))), 1)

    def chord(y_mm: float, moving: Surface | None) -> Edge:
        hinge = lines.elevator_pivot_mm if moving else lines.stabiliser.hinge_edge_mm
        front = lines.stabiliser.hinge_edge_mm - lines.stabiliser.chord_mm(y_mm)
        rear = moving.hinge_edge_mm + moving.chord_mm(y_mm) if moving else hinge
        return _edge(place, (front, y_mm, z), rear - front, _cuts(hinge - front, rear - front))

    moves = {"elevator": _moving_rows()}
    normal = np.tile(place.turn(UP), (FIXED_ROWS + MOVING_ROWS, 1))
    whole = [chord(y, lines.elevator) for y in (inner, half)]
    made = [Sheet("stabiliser", whole[0], whole[1], towards_tip(count, reach), normal, moves)]
    if inner:
        alone = [chord(y, None) for y in (0.0, inner)]
        made.insert(0, Sheet("stabiliser", alone[0], alone[1], even_strips(1), normal[:FIXED_ROWS]))
    return made


def _upright(lines: TailLines, place: Place) -> list[Sheet]:
    """Fin and rudder from the stabiliser's middle plane up: below the rudder's lower edge the fin alone."""
    fin, rudder = lines.fin, lines.rudder
    low, root = rudder.from_mm, lines.thickness_mm / 2.0

    def chord(z_mm: float, moving: bool) -> Edge:
        hinge = lines.rudder_pivot_mm if moving else fin.hinge_edge_mm
        front = fin.hinge_edge_mm - fin.chord_mm(z_mm)
        rear = rudder.hinge_edge_mm + rudder.chord_mm(z_mm) if moving else hinge
        return _edge(place, (front, 0.0, z_mm), rear - front, _cuts(hinge - front, rear - front))

    normal = np.tile(place.turn(LEFT), (FIXED_ROWS + MOVING_ROWS, 1))
    reach = (low - root) / (fin.to_mm - root)
    count = max(round(TAIL_STRIPS * (1.0 - asin(reach) / (pi / 2.0))), 1)
    moves = {"rudder": -_moving_rows()}
    made = [Sheet("fin", chord(low, True), chord(fin.to_mm, True), towards_tip(count, reach), normal, moves)]
    if low - root > LEAST_STRIP_MM:
        alone = Sheet("fin", chord(root, False), chord(low, False), even_strips(1), normal[:FIXED_ROWS])
        made.insert(0, alone)
    return made


def _moving_rows() -> Array:
    return np.repeat([0.0, 1.0], [FIXED_ROWS, MOVING_ROWS])


def _cuts(hinge_mm: float, chord_mm: float) -> Array:
    """Shares of the chord where panels begin and end, one of them at the hinge; the fixed rows alone without one."""
    share = hinge_mm / chord_mm
    fixed = even(FIXED_ROWS) * share
    return fixed if share == 1.0 else np.concatenate([fixed, share + (1.0 - share) * even(MOVING_ROWS)[1:]])


def _edge(place: Place, leading_mm: ArrayLike, chord_mm: float, cuts: Array, lift_m: Array | float = 0.0) -> Edge:
    """A chord laid along x at the height of its own quarter: the surface's incidence is in its normals."""
    aft = np.outer((0.0, 0.25, 1.0), (chord_mm, 0.0, 0.0))
    front, quarter, rear = place.apply(np.asarray(leading_mm) + aft) * M_PER_MM
    return Edge(np.array([front[0], quarter[1], quarter[2]]) + lift_m, float(rear[0] - front[0]), cuts)
