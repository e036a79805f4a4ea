"""A drawing with every kind of curve, larger than a page, and ways to look at pages."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from airframe.drawing import circle, loop, rectangle
from viewers.paper.drawing import Drawing, Text, line, outline

DPI = 300
MM_PER_PIXEL = 25.4 / DPI
PLATE = loop([(20, 20), (520, 20), (520, 90), (480, 130), (20, 130)], [0.0, 0.0, 0.2, 0.0, 0.0])
"""500 mm long, with an arc."""


def sample() -> Drawing:
    hole, slot = circle(150, 75, 40), rectangle(300, 50, 400, 100, 12.0)
    curves = (
        outline("CUT", PLATE), outline("CUT", hole), outline("CUT", slot),
        line("SCORE", [(220, 20), (240, 130)]), line("BEVEL", [(20, 25), (520, 25)]),
        line("MARK", [(60, 20), (60, 130)], is_far=True), line("GRAIN", [(420, 60), (450, 60)]),
        outline("CUT", rectangle(20, 150, 320, 400)),
    )  # fmt: skip
    texts = (Text((450, 110), "plate <1> & 45°", 3.0), Text((100, 300), "second", 5.0, 0.5))
    return Drawing("sheet-1-foam", "sheet 1: foam", (0.0, -5.0, 540.0, 420.0), curves, texts)


@pytest.fixture(scope="session")
def drawing() -> Drawing:
    return sample()


def pages(data: bytes, dpi: int = DPI):
    """Every page as a boolean array, True where there is ink, row 0 at the BOTTOM, and its exact size in mm."""
    import pypdfium2

    document = pypdfium2.PdfDocument(data)
    for page in document:
        grey = page.render(scale=dpi / 72.0, grayscale=True).to_numpy()
        yield (
            np.asarray(grey).reshape(grey.shape[0], grey.shape[1])[::-1] < 160,
            np.array(page.get_size()) / 72.0 * 25.4,
        )


def distance_to_ink(ink, points_mm):
    """How far each point (n, 2; mm from the page's lower left corner) is from the nearest dark pixel (mm).

    Looks half a millimetre around; what is further is infinitely far.
    """
    reach = int(0.5 / MM_PER_PIXEL)
    steps = np.stack(np.meshgrid(*[np.arange(-reach, reach + 1)] * 2), axis=-1).reshape(-1, 2)
    at = np.floor(np.asarray(points_mm) / MM_PER_PIXEL).astype(int)
    around = np.clip(at[:, None] + steps, 0, (ink.shape[1] - 1, ink.shape[0] - 1))
    away = np.linalg.norm((around + 0.5) * MM_PER_PIXEL - np.asarray(points_mm)[:, None], axis=2)
    return np.where(ink[around[..., 1], around[..., 0]], away, np.inf).min(axis=1)


def along(points, step_mm: float = 0.5):
    """Points every so often along a polyline."""
    runs = []
    for a, b in pairwise(points):
        count = max(int(np.hypot(*np.subtract(b, a)) / step_mm), 1)
        runs.append(np.linspace(a, b, count, endpoint=False))
    return np.vstack(runs)
