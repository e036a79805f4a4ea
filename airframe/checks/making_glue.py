"""Whether everything built is held by glue, and by enough of it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.pairs import Pairs, is_solid
from airframe.drawing import Bead, Panel, Part
from airframe.layout import Layout
from airframe.parts.common import FUSELAGE, GEAR, GLUE, TAIL, WING

SOURCE = "our choice: glue over longest side, limits.making.glue_share"
STEP_MM = 3.0
"""Glue lines are followed in steps of about this length."""
NEAR_MM = 1.0
"""Glue this near the box that a part just fits in counts as its own."""
ONE_PIECE = (TAIL, FUSELAGE, GEAR)
"""Groups that hang together by glue; the wing is held on by rubber bands."""


def findings(pairs: Pairs) -> list[Finding]:
    """Parts that hang on nothing, and parts with too little glue: one finding each, or one pass for each question."""
    glued = Glued(pairs)
    return [*_loose(glued), *_lean(glued)]


class Glued:
    """Which built parts each joint's glue lies on, and how much of it.

    Glue counts for a part where its line lies in the box that the part just fits in, in its own frame, or within
    1 mm of that: exact for flat rectangular parts, generous for others.
    """

    def __init__(self, pairs: Pairs) -> None:
        self.layout = pairs.aeroplane.layout
        self.least = pairs.aeroplane.design.limits.making.glue_share
        parts = pairs.aeroplane.parts
        self.joints = [part for part in parts if part.group == GLUE and isinstance(part.shape, Bead)]
        self.parts = [part for part in parts if _is_glued(part)]
        boxes = [_own_box(pairs, part) for part in self.parts]
        self.longest_mm = np.array([float((high - low).max()) for low, high in boxes])
        self.length_mm = np.zeros((len(self.joints), len(self.parts)))
        """Of each joint's glue on each part."""
        for i, joint in enumerate(self.joints):
            middles, lengths = steps(joint)
            for j, (part, (low, high)) in enumerate(zip(self.parts, boxes, strict=True)):
                own = (middles - np.array(part.place.origin)) @ np.array(part.place.rotation)
                on_it = np.all((own >= low - NEAR_MM) & (own <= high + NEAR_MM), axis=1)
                self.length_mm[i, j] = lengths[on_it].sum()

    def shares(self) -> Array:
        """Length of glue on each part over its longest side; a control surface is held by its hinge alone."""
        hinges = np.array([joint.name.endswith("hinge") for joint in self.joints], dtype=bool)
        swings = np.array([part.name.split(" ")[0] in ("elevator", "rudder") for part in self.parts], dtype=bool)
        swings &= np.array(["horn" not in part.name for part in self.parts], dtype=bool)
        counts = ~swings[None, :] | hinges[:, None]
        shares: Array = (self.length_mm * counts).sum(axis=0) / self.longest_mm
        return shares

    def pieces(self) -> NDArray[np.int64]:
        """A number for each part, the same for parts that hang together."""
        number = np.arange(len(self.parts))
        for joint in self.length_mm > 0.0:
            if joint.any():
                number[np.isin(number, number[joint])] = number[joint].min()
        return number


def _is_glued(part: Part) -> bool:
    """What is built in: lids are taken off."""
    return part.group in (*ONE_PIECE, WING) and is_solid(part) and " lid" not in part.name


def _is_sheet(part: Part) -> bool:
    """Wires are bound, wheels turn: only sheet must be glued."""
    return isinstance(part.shape, Panel)


def _own_box(pairs: Pairs, part: Part) -> tuple[Array, Array]:
    corners = pairs.aeroplane.record(part).vertices.astype(np.float64)
    return corners.min(axis=0), corners.max(axis=0)


def steps(joint: Part) -> tuple[Array, Array]:
    """Middles (n, 3) of short steps along a joint's glue, in the aeroplane's frame, and their lengths (n,)."""
    assert isinstance(joint.shape, Bead)
    middles, lengths = [np.zeros((0, 3))], [np.zeros(0)]
    for path in joint.shape.paths:
        for a, b in pairwise(joint.place.apply(path)):
            length = float(np.linalg.norm(b - a))
            count = max(ceil(length / STEP_MM), 1)
            middles.append(a + ((np.arange(count) + 0.5) / count)[:, None] * (b - a))
            lengths.append(np.full(count, length / count))
    return np.vstack(middles), np.concatenate(lengths)


# --- hanging together -----------------------------------------------------------------------------------------


def _loose(glued: Glued) -> Iterator[Finding]:
    """What does not hang together with most of the fuselage."""
    pieces = glued.pieces()
    fuselage = [pieces[i] for i, part in enumerate(glued.parts) if part.group == FUSELAGE]
    numbers, counts = np.unique(fuselage, return_counts=True)
    main = numbers[counts.argmax()]
    meant = [i for i, part in enumerate(glued.parts) if part.group in ONE_PIECE and _is_sheet(part)]
    loose = [glued.parts[i].name for i in meant if pieces[i] != main]
    for name in loose:
        text = f"the {name} is glued to nothing that is glued to the fuselage"
        yield Finding(f"making.loose: {name}", "fail", None, "", (None, None), text, "geometry", (), (name,))
    if not loose:
        text = "fuselage, tail and gear hang together by glue"
        yield Finding("making.loose", "pass", None, "", (None, None), text, "geometry")


# --- enough ---------------------------------------------------------------------------------------------------


def _lean(glued: Glued) -> Iterator[Finding]:
    shares = [(float(share), part) for share, part in zip(glued.shares(), glued.parts, strict=True) if _is_sheet(part)]
    lean = [(share, part) for share, part in shares if share < glued.least - 1e-9]
    for share, part in lean:
        yield _too_little(glued, part, share)
    if not lean:
        least, part = min(shares, key=lambda one: one[0])
        name, value = part.name, 100.0 * least
        text = f"every part is held by enough glue; the {name} by least, {value:.0f} % of its longest side"
        yield Finding("making.glue", "pass", value, "%", (100.0 * glued.least, None), text, SOURCE, (), (name,))


def _too_little(glued: Glued, part: Part, share: float) -> Finding:
    value, limit = 100.0 * share, (100.0 * glued.least, None)
    text = f"the {part.name} is held by glue along {value:.0f} % of its longest side"
    verdict: Verdict = "fail" if share == 0.0 else "caution"
    remedies = tuple(_remedies(glued.layout, part, share, glued.least))
    return Finding(f"making.glue: {part.name}", verdict, value, "%", limit, text, SOURCE, remedies, (part.name,))


def _remedies(layout: Layout, part: Part, share: float, least: float) -> Iterator[Remedy]:
    """Longer strips on a hinge; no key makes another joint longer."""
    for name in ("elevator", "rudder"):
        if part.name in (name, f"{name} right", f"{name} left") and share > 0.0:
            length = getattr(layout.design.tail, name).hinge.strip_length_mm * least / share
            change = Change(("tail", name, "hinge", "strip_length_mm"), float(ceil(length)))
            text = f"make the {name}'s hinge strips {change.written(layout.design.units)} long"
            yield Remedy(text, settings([change], layout.design.units))
