"""Whether enough material is left beside the holes of every part."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import inf
from typing import TYPE_CHECKING

from airframe import units
from airframe.axes import Array
from airframe.checks.changes import Change, altered, settings
from airframe.checks.finding import PRACTICE, ROUNDING, Finding, Remedy, by_thickness
from airframe.checks.rounding import length_text, round_up
from airframe.drawing import Panel, Part, PartError
from airframe.layout import Layout
from airframe.model import Aeroplane
from airframe.parts import firewall, fuselage, tail
from airframe.schema.fuselage import Opening

if TYPE_CHECKING:
    import shapely

RESERVE_MM = 0.1
"""What a remedy leaves more than is asked for."""


def findings(aeroplane: Aeroplane) -> Iterator[Finding]:
    """One finding for each part with too little left beside a hole, or one pass."""
    panels = [(part, part.shape) for part in aeroplane.parts if isinstance(part.shape, Panel)]
    least, system = aeroplane.design.limits.making.edge_ratio, aeroplane.design.units
    worst, thinnest = inf, ""
    for part, panel in panels:
        if not panel.holes or part.group == "propulsion":
            continue
        left = narrowest_edge_mm(panel)
        ratio = left / panel.thickness_mm
        if ratio < worst:
            worst, thinnest = ratio, part.name
        if by_thickness(ratio, least) != "pass" and not part.name.endswith(" left"):
            thick = units.length(panel.thickness_mm, system)
            text = f"only {units.length(left, system)} of the {part.name} is left beside a hole; it is {thick} thick"
            yield Finding(
                f"making.edge: {part.name}",
                by_thickness(ratio, least),
                ratio,
                "",
                (least, None),
                text,
                f"{PRACTICE}; limits.making.edge_ratio",
                tuple(_remedies(aeroplane.layout, part, least * panel.thickness_mm, left)),
                (part.name,),
            )
    if worst >= least - ROUNDING:
        text = "no part has a hole"
        if thinnest:
            text = f"enough is left beside every hole; least on the {thinnest}, {worst:.1f} times its thickness"
        value = None if worst == inf else worst
        yield Finding("making.edge", "pass", value, "", (least, None), text, f"{PRACTICE}; limits.making.edge_ratio")


def narrowest_edge_mm(panel: Panel) -> float:
    """The least material left between a hole and the outline, or another hole; infinite without holes."""
    holes = [_ring(hole.flattened()) for hole in panel.holes]
    outline = _ring(panel.outline.flattened())
    beside = [hole.distance(outline) for hole in holes]
    between = [a.distance(b) for a, b in combinations(holes, 2)]
    return float(min([*beside, *between], default=inf))


def _ring(corners: Array) -> shapely.LinearRing:
    import shapely

    return shapely.LinearRing(corners)


# --- remedies -----------------------------------------------------------------------------------------------


Trial = tuple[str, list[Change]]


def _remedies(layout: Layout, part: Part, need_mm: float, left_mm: float) -> Iterator[Remedy]:
    """The first change of a hole's size or place that leaves enough, tried by drawing the part again."""
    system, step = layout.design.units, need_mm - left_mm + RESERVE_MM
    for text, changes in _trials(layout, part, need_mm, step):
        if _left_mm(Layout(altered(layout.design, *changes)), part.name) >= need_mm - ROUNDING:
            yield Remedy(text, settings(changes, system))
            return


def _left_mm(layout: Layout, name: str) -> float:
    """What is left beside a part's holes in another layout; 0 if it cannot be drawn."""
    try:
        drawn = [*fuselage.parts(layout), *firewall.parts(layout), *tail.parts(layout)]
    except PartError:
        return 0.0
    panels = [part.shape for part in drawn if part.name == name and isinstance(part.shape, Panel)]
    return min((narrowest_edge_mm(panel) for panel in panels), default=0.0)


def _trials(layout: Layout, part: Part, need_mm: float, step_mm: float) -> Iterator[Trial]:
    """Changes to try, with their words: the least first."""
    design, system = layout.design, layout.design.units
    for i, former in enumerate(design.fuselage.formers):
        if former.rim_mm is not None and part.name in (former.name, f"former {former.name}"):
            rim = Change(("fuselage", "formers", i, "rim_mm"), round_up(need_mm, system))
            yield f"leave a rim of {rim.written(system)} round {part.name}", [rim]
    if part.name.endswith("horn"):
        high = Change(("tail", "horns", "height_mm"), round_up(design.tail.horns.height_mm + step_mm, system))
        yield f"make the horns {high.written(system)} high", [high]
    if part.name == "firewall":
        yield from _smaller_holes(layout, step_mm)
    for i, opening in enumerate(design.fuselage.openings):
        yield from _smaller_opening(layout, i, opening, step_mm)
    if "side" in part.name and design.wing.mounting is not None:
        for which in ("front", "rear"):
            z = getattr(design.wing.mounting, which).water_line_mm
            for way in (-step_mm, step_mm):
                move = Change(("wing", "mounting", which, "water_line_mm"), round(z + way, 1))
                yield f"move the {which} dowel to water line {move.written(system)}", [move]


def _smaller_holes(layout: Layout, step_mm: float) -> Iterator[Trial]:
    plate, system = layout.design.fuselage.firewall, layout.design.units
    for i, hole in enumerate(plate.holes):
        path = ("fuselage", "firewall", "holes", i)
        for way in (step_mm, -step_mm):
            move = Change((*path, "water_line_mm"), round(hole.water_line_mm + way, 1))
            yield f"move the firewall's hole for the {hole.name} to water line {move.written(system)}", [move]
        if hole.diameter_mm > 2.0 * step_mm + 1.0:
            drill = Change((*path, "diameter_mm"), round(hole.diameter_mm - 2.0 * step_mm, 1))
            yield f"drill the firewall's hole for the {hole.name} {drill.written(system)}", [drill]
    if plate.shaft_hole_mm is not None and plate.shaft_hole_mm > 2.0 * step_mm + 1.0:
        drill = Change(("fuselage", "firewall", "shaft_hole_mm"), round(plate.shaft_hole_mm - 2.0 * step_mm, 1))
        yield f"drill the firewall's shaft hole {drill.written(system)}", [drill]


def _smaller_opening(layout: Layout, row: int, opening: Opening, step_mm: float) -> Iterator[Trial]:
    """One edge drawn in, or two opposite ones, or all."""
    edges = {"from_station_mm": 1.0, "to_station_mm": -1.0, "low_mm": 1.0, "high_mm": -1.0}
    sets = [[edge] for edge in edges] + [["low_mm", "high_mm"], ["from_station_mm", "to_station_mm"], list(edges)]
    for chosen in sets:
        changes = [
            Change(("fuselage", "openings", row, edge), round(getattr(opening, edge) + edges[edge] * step_mm, 1))
            for edge in chosen
        ]
        size = {edge: getattr(opening, edge) for edge in edges} | {str(one.path[-1]): one.value for one in changes}
        along, across = size["to_station_mm"] - size["from_station_mm"], size["high_mm"] - size["low_mm"]
        if min(along, across) > 0.0:
            by = f"{length_text(along, layout.design.units)} by {length_text(across, layout.design.units)}"
            yield f"make the {opening.name} {by}", changes
