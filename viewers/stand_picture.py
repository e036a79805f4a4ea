"""One sheet on how an aeroplane stands: from the side, from ahead, along its tipping line, and what the checks say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from airframe.axes import Array
from airframe.checks.finding import Finding
from airframe.model import Aeroplane
from viewers import titles
from viewers.finding_tables import Card, cards
from viewers.labels import Taken
from viewers.palette import INK, INK_SOFT, LOOKS, PAPER_SHADE
from viewers.posture import Posture, posture
from viewers.scene import Scene
from viewers.sheets import Sheet, png
from viewers.staging import stage
from viewers.stand_marks import FAILS, PASSES, breaks
from viewers.stand_views import from_ahead, from_line, from_side
from viewers.studio import PictureError, Studio
from viewers.views import SIDE, Margins, View, extent_mm, framed

SIZE = (2546, 1800)
"""The proportions of an A4 sheet."""
WEIGHT = 1.3
SIDE_SHARE = 0.63
"""Of the sheet's width, for the side view; the checks are listed beside it."""
BESIDE_WHEELS_MM = 150.0
"""How much is shown outboard of the wheels; the wings are broken off there."""
LEAST_HALF_MM = 240.0
SUBJECTS = ("ground", "propeller")
"""Findings with these codes belong on the sheet."""
ROW = 27.0
"""Height of a line of the list."""
TINTS = {"fail": FAILS, "caution": LOOKS["plywood"].colour, "pass": PASSES, "info": INK_SOFT}


@dataclass(frozen=True, eq=False)
class _Panel:
    """One view in its place on the sheet."""

    view: View
    points: Array
    room: Margins
    box: tuple[int, int, int, int]


def stand(aeroplane: Aeroplane, findings: Sequence[Finding] = (), size: tuple[int, int] | None = None) -> bytes:
    """A PNG of how it stands, all views at one scale, with the findings on ground and propeller listed.

    Raises PictureError for an aeroplane that stands on no gear, and where the graphics library is missing.
    """
    stands = posture(aeroplane)
    if stands is None:
        message = f"{aeroplane.design.name} stands on no landing gear: there is no picture of how it stands"
        raise PictureError(message)
    with Studio(stage(aeroplane)) as studio:
        return standing_sheet(studio, stands, findings, size)


def standing_sheet(
    studio: Studio, stands: Posture, findings: Sequence[Finding] = (), size: tuple[int, int] | None = None
) -> bytes:
    """The same of a scene that is in a studio, and of how it stands."""
    width, height = size or SIZE
    sheet = Sheet(width, height, min(width / SIZE[0], height / SIZE[1]) * WEIGHT)
    scene, found = studio.scene, {finding.code: finding for finding in findings}
    panels = _panels(sheet, scene, stands)
    scale = min(_scale(panel) for panel in panels)
    for number, panel in enumerate(panels):
        frame = framed(panel.view, panel.points, panel.box, panel.room, scale)
        taken = sheet.place(studio, frame)
        _captioned(sheet, panel, taken)
        if number == 0:
            from_side(sheet.pen, frame, scene, stands, found, taken)
        else:
            breaks(sheet.pen, frame, scene)
            (from_ahead if number == 1 else from_line)(sheet.pen, frame, stands, taken)
    left, top, across, _ = sheet.field
    side = panels[0].box
    _list(sheet, cards(_on_subject(findings), stands.system), (left + side[2], top, left + across, top + side[3]))
    return png(sheet.finished(scene, "how it stands", scale))


def _on_subject(findings: Sequence[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.code.split(".")[0] in SUBJECTS]


def _panels(sheet: Sheet, scene: Scene, stands: Posture) -> tuple[_Panel, _Panel, _Panel]:
    """Side view over front view; the view along the tipping line beside that."""
    left, top, across, down = sheet.field
    w = sheet.weight
    wide, half, upper = round(across * SIDE_SHARE), across // 2, down // 2
    points = scene.points()
    outermost = max(abs(float(point[1])) for point in stands.main_contacts)
    near = points[np.abs(points[:, 1]) <= max(LEAST_HALF_MM, outermost + BESIDE_WHEELS_MM)]
    low = Margins(6.0 * w, 70.0 * w, 6.0 * w, 110.0 * w)
    return (
        _Panel(SIDE, points, Margins(110.0 * w, 66.0 * w, 50.0 * w, 130.0 * w), (left, top, wide, upper)),
        _Panel(stands.front, near, low, (left, top + upper, half, down - upper)),
        _Panel(stands.along, near, low, (left + half, top + upper, across - half, down - upper)),
    )


def _scale(panel: _Panel) -> float:
    """The largest at which the panel's points fit; from ahead only their height counts, wings may be broken off."""
    low, high = extent_mm(panel.view, panel.points)
    tall = (panel.box[3] - panel.room.top - panel.room.bottom) / float(high[1] - low[1])
    wide = (panel.box[2] - panel.room.left - panel.room.right) / float(high[0] - low[0])
    return min(tall, wide)


def _captioned(sheet: Sheet, panel: _Panel, taken: Taken) -> None:
    left, top, _, _ = panel.box
    w = sheet.weight
    title = "side view from the left, fuselage level" if panel.view is SIDE else panel.view.title
    box = sheet.pen.text((left + 18.0 * w, top + 22.0 * w), title, titles.SMALL, INK_SOFT, "lm")
    taken.add(box)


def _list(sheet: Sheet, listed: Sequence[Card], box: tuple[int, int, int, int]) -> None:
    """What the checks say, worst first: verdict, check, value, limit; as many as there is room for."""
    left, top, right, bottom = box
    pen, w = sheet.pen, sheet.weight
    if not listed:
        return
    room = int((bottom - top - 80.0 * w) / (ROW * w))
    shown = listed if len(listed) <= room else listed[: room - 1]
    pen.block(
        (left + 6.0 * w, top + 10.0 * w, right - 10.0 * w, top + (66.0 + ROW * (len(shown) + 1)) * w),
        PAPER_SHADE,
        radius=6.0 * w,
    )
    pen.text((left + 22.0 * w, top + 34.0 * w), "on the ground", titles.SMALL * 1.15, INK, "lm", bold=True)
    stops = (22.0, 108.0, 0.0, 0.0)
    value_at = left + (right - left) * 0.62
    for number, card in enumerate(shown):
        y = top + (68.0 + ROW * number) * w
        colour = TINTS[card.verdict]
        pen.text((left + stops[0] * w, y), card.word, titles.SMALL, colour, "lm", bold=True)
        pen.text((left + stops[1] * w, y), _subject(card.code), titles.SMALL, INK, "lm")
        pen.text((value_at, y), card.value, titles.SMALL, INK, "rm")
        pen.text((value_at + 14.0 * w, y), card.limit, titles.SMALL, INK_SOFT, "lm")
    if len(shown) < len(listed):
        y = top + (68.0 + ROW * len(shown)) * w
        pen.text((left + stops[1] * w, y), f"and {len(listed) - len(shown)} more", titles.SMALL, INK_SOFT, "lm")


def _subject(code: str) -> str:
    """A code in words: "ground.tail-strike" is "tail strike", "propeller.axial" keeps its subject."""
    subject, _, rest = code.partition(".")
    words = rest.replace("-", " ") or subject
    return words if subject == "ground" else f"{subject}, {words}"
