"""What knife and sheet ask: facets between scores no narrower than the sheet is thick, parts no longer than it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import floor, inf

import numpy as np

from airframe import units
from airframe.axes import Array
from airframe.checks.changes import Change, settings
from airframe.checks.finding import PRACTICE, ROUNDING, Finding, Remedy, by_thickness
from airframe.checks.rounding import length_text, round_up
from airframe.drawing import Panel, Part
from airframe.layout import Layout
from airframe.model import Aeroplane

SHEET_SOURCE = "your own stock: [stock]"


def findings(aeroplane: Aeroplane) -> list[Finding]:
    """Scores and lengths: one finding for each part that is amiss, or one pass for the question."""
    panels = [(part, part.shape) for part in aeroplane.parts if isinstance(part.shape, Panel)]
    return [*_scores(aeroplane, panels), *_lengths(aeroplane, panels)]


Panels = list[tuple[Part, Panel]]


# --- scores -----------------------------------------------------------------------------------------------


def _scores(aeroplane: Aeroplane, panels: Panels) -> Iterator[Finding]:
    least = aeroplane.design.limits.making.facet_ratio
    worst, tightest = inf, ""
    for part, panel in panels:
        width = narrowest_facet_mm(panel)
        ratio = width / panel.thickness_mm
        if ratio < worst:
            worst, tightest = ratio, part.name
        if by_thickness(ratio, least) != "pass" and not part.name.endswith(" left"):
            seen = units.length(width, aeroplane.design.units)
            text = f"the {part.name} has two scores only {seen} apart: {ratio:.2f} of the sheet's thickness"
            yield Finding(
                f"making.score: {part.name}",
                by_thickness(ratio, least),
                ratio,
                "",
                (least, None),
                text,
                f"{PRACTICE}; limits.making.facet_ratio",
                tuple(_score_remedies(aeroplane.layout, part, ratio / least)),
                (part.name,),
            )
    if worst >= least - ROUNDING:
        text = "no part is scored twice"
        if tightest:
            text = f"scores are far enough apart; tightest on the {tightest}, {worst:.1f} times the sheet's thickness"
        value = None if worst == inf else worst
        yield Finding("making.score", "pass", value, "", (least, None), text, f"{PRACTICE}; limits.making.facet_ratio")


def narrowest_facet_mm(panel: Panel) -> float:
    """Smallest distance between two score lines, ends of either from the other; infinite with fewer than two."""
    lines = [np.array([score.start, score.end]) for score in panel.scores]
    return min((_apart_mm(a, b) for a, b in combinations(lines, 2)), default=inf)


def _apart_mm(a: Array, b: Array) -> float:
    """Between two segments that do not cross the nearest point is an end of one of them."""
    return min(*(_to_segment(p, b) for p in a), *(_to_segment(p, a) for p in b))


def _to_segment(point: Array, segment: Array) -> float:
    along = segment[1] - segment[0]
    share = float(np.clip((point - segment[0]) @ along / (along @ along), 0.0, 1.0))
    return float(np.linalg.norm(point - segment[0] - share * along))


def _score_remedies(layout: Layout, part: Part, share: float) -> Iterator[Remedy]:
    """Fewer scores: n scores leave n + 1 facets, which widen in proportion."""
    design = layout.design
    if part.name.startswith("wing skin"):
        path: tuple[str | int, ...] = ("wing", "scores")
        now, called = design.wing.scores, "the wing's skin"
    else:
        rows = [i for i, shell in enumerate(design.fuselage.shells) if part.name.startswith(shell.name)]
        if not rows:
            return
        path, now = (
            ("fuselage", "shells", rows[0], "scores_per_corner"),
            design.fuselage.shells[rows[0]].scores_per_corner,
        )
        called = f"each corner of the {part.name}"
    fewer = max(floor((now + 1) * share) - 1, 1)
    if fewer < now:
        yield Remedy(f"bend {called} with {fewer} scores", settings([Change(path, fewer)], design.units))


# --- lengths ----------------------------------------------------------------------------------------------


def _lengths(aeroplane: Aeroplane, panels: Panels) -> Iterator[Finding]:
    """Foam parts against what their sheets give inside the margins; plywood comes in pieces of any size."""
    design = aeroplane.design
    longest, has, name, is_amiss = 0.0, 0.0, "", False
    for part, panel in panels:
        if part.material.look != "foam":
            continue
        stock = design.stock.usable_mm(part.material.name)
        size = best_rectangle_mm(panel.outline.flattened(), stock)
        if size[0] > longest:
            longest, has, name = size[0], max(stock), part.name
        over = sheet_missing_mm(size, stock)
        if over > ROUNDING:
            is_amiss = True
            if not part.name.endswith(" left"):
                yield _too_long(aeroplane, part, size, stock)
    if not is_amiss:
        text = (
            f"every foam part is cut from one sheet; the longest is the {name}, {units.length(longest, design.units)}"
        )
        yield Finding("making.sheet", "pass", longest, "mm", (None, has), text, SHEET_SOURCE)


def _too_long(aeroplane: Aeroplane, part: Part, size: tuple[float, float], stock: tuple[float, float]) -> Finding:
    system = aeroplane.design.units
    long, wide = (length_text(round(value, 1), system) for value in size)
    room = " by ".join(units.length(side, system) for side in stock)
    text = f"the {part.name} is {long} by {wide} and does not come out of the {room} inside a sheet's margins"
    margins = 2.0 * aeroplane.design.stock.margin_mm
    needs = [
        Change(("stock", field), round_up(mm + margins, system))
        for field, mm, has in zip(("sheet_length_mm", "sheet_width_mm"), size, sorted(stock, reverse=True), strict=True)
        if mm > has
    ]
    least = " by ".join(length_text(round(value + margins, 1), system) for value in size)
    is_usual = all(sheet.material != part.material.name for sheet in aeroplane.design.stock.sheets)
    remedy = Remedy(f"use a sheet of at least {least}", settings(needs, system) if is_usual else ())
    return Finding(
        f"making.sheet: {part.name}",
        "fail",
        size[0],
        "mm",
        (None, max(stock)),
        text,
        SHEET_SOURCE,
        (remedy,),
        (part.name,),
    )


def best_rectangle_mm(corners: Array, stock: tuple[float, float]) -> tuple[float, float]:
    """Length and width of the rectangle round an outline that comes out of the sheet best, then the smallest.

    Tried as drawn, and with every edge of the outline's hull along a side: the smallest of all is among those.
    """
    import shapely

    hull = shapely.get_coordinates(shapely.MultiPoint(corners).convex_hull)
    edges = np.diff(hull, axis=0)
    sizes = []
    for along in [np.array([1.0, 0.0]), *(edges / np.linalg.norm(edges, axis=1)[:, None])]:
        turned = hull @ np.column_stack([along, (-along[1], along[0])])
        a, b = (float(v) for v in np.ptp(turned, axis=0))
        sizes.append((max(a, b), min(a, b)))
    return min(sizes, key=lambda size: (round(sheet_missing_mm(size, stock), 6), size[0] * size[1]))


def sheet_missing_mm(size: tuple[float, float], stock: tuple[float, float]) -> float:
    """By how much a rectangle (longer side first) is too large for a sheet laid either way; 0 where it fits."""
    long, wide = max(stock), min(stock)
    return max(size[0] - long, size[1] - wide, 0.0)
