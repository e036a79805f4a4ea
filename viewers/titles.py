"""The strip along the foot of a drawing: legend, scale and title block, inside a ruled border."""

from __future__ import annotations

from airframe import units
from airframe.units import System
from viewers.lettering import Pen
from viewers.palette import BALANCE, INK, INK_SOFT, LOOKS, PAPER, PAPER_SHADE
from viewers.scene import Scene

BORDER = 18.0
"""Pixels (sheet 1200 high) from the edge of the paper to the ruled line."""
FOOT = 148.0
"""Height of the strip."""
BLOCK_WIDTH = 560.0
SMALL = 15.0
STEPS_MM = {"metric": (10.0, 20.0, 50.0, 100.0, 200.0, 500.0), "imperial": (12.7, 25.4, 50.8, 101.6, 203.2, 304.8)}


def border(pen: Pen, width: int, height: int) -> None:
    """The ruled line round the sheet, with centring marks."""
    edge = BORDER * pen.weight
    corners = [(edge, edge), (width - edge, edge), (width - edge, height - edge), (edge, height - edge), (edge, edge)]
    pen.line(corners, INK, 1.8)
    for start, end in (
        ((width / 2, 0), (width / 2, edge)),
        ((width / 2, height), (width / 2, height - edge)),
        ((0, height / 2), (edge, height / 2)),
        ((width, height / 2), (width - edge, height / 2)),
    ):
        pen.line([start, end], INK, 1.0)


def foot(pen: Pen, scene: Scene, title: str, scale: float | None, width: int, height: int) -> None:
    """Legend to the left, scale bar in the middle (only where the scale is true), title block to the right."""
    edge, tall, block = BORDER * pen.weight, FOOT * pen.weight, BLOCK_WIDTH * pen.weight
    top, right = height - edge - tall, width - edge
    pen.line([(edge, top), (right, top)], INK, 1.2)
    _title_block(pen, scene, title, (right - block, top, right, height - edge))
    if scale is not None:
        _scale_bar(pen, scene, scale, right - block - 30.0 * pen.weight, top)
    _legend(pen, scene, edge + 20.0 * pen.weight, top)


def _title_block(pen: Pen, scene: Scene, title: str, box: tuple[float, float, float, float]) -> None:
    left, top, right, bottom = box
    w = pen.weight
    pen.block(box, PAPER_SHADE)
    pen.line([(left, top), (left, bottom)], INK, 1.2)
    pen.line([(left, top), (right, top)], INK, 1.2)
    pen.text((left + 18 * w, top + 30 * w), scene.title, 27.0, INK, "lm", bold=True)
    pen.text((right - 18 * w, top + 31 * w), title, SMALL, INK_SOFT, "rm")
    pen.line([(left, top + 54 * w), (right, top + 54 * w)], INK, 0.8)
    rows = (("mass", scene.mass, INK), ("balance", scene.balance, BALANCE), ("", scene.balance_on_chord, BALANCE))
    for i, (label, value, colour) in enumerate(rows):
        y = top + (73 + 28 * i) * w
        pen.text((left + 18 * w, y), label, SMALL, INK_SOFT, "lm")
        pen.text((left + 100 * w, y), value, SMALL * 1.15, colour, "lm", bold=True)


def _scale_bar(pen: Pen, scene: Scene, scale: float, right: float, top: float) -> None:
    """A bar of a round length, 90 to 230 px, in four parts."""
    w = pen.weight
    length_mm = max((step for step in STEPS_MM[scene.system] if step * scale <= 230.0 * w), default=10.0)
    left, y, part = right - length_mm * scale, top + 76.0 * w, length_mm * scale / 4.0
    for i in range(4):
        box = (left + i * part, y, left + (i + 1) * part, y + 9.0 * w)
        pen.block(box, INK if i % 2 == 0 else PAPER, INK, 1.0)
    pen.text(((left + right) / 2.0, y - 15.0 * w), "scale", SMALL, INK_SOFT, "mm")
    pen.text((left, y + 24.0 * w), "0", SMALL, INK, "mm")
    pen.text((right, y + 24.0 * w), _round_length(length_mm, scene.system), SMALL, INK, "rm")


def _round_length(length_mm: float, system: System) -> str:
    """A length that is a round number of its unit, without decimals that say nothing: "200 mm", "12 in"."""
    return f"{length_mm / units.MM_PER_INCH:g} in" if system == "imperial" else f"{length_mm:g} mm"


def _legend(pen: Pen, scene: Scene, left: float, top: float) -> None:
    """A swatch and a word for each look that occurs, in columns of three."""
    w = pen.weight
    x, column = left, 0.0
    for i, look in enumerate(scene.legend):
        row = i % 3
        if row == 0 and i:
            x, column = x + column + 24.0 * w, 0.0
        y = top + (38.0 + 36.0 * row) * w
        tint = LOOKS[look]
        pen.block((x, y - 9.0 * w, x + 26.0 * w, y + 9.0 * w), tint.colour, INK, 1.0, radius=3.0 * w)
        pen.text((x + 36.0 * w, y), tint.words, SMALL, INK, "lm")
        column = max(column, 36.0 * w + pen.text_size(tint.words, SMALL)[0])
